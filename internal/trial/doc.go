// Package trial turns a question into a set of jars that answers it, and a set of
// jars into what a room full of people needs to pour and read them.
//
// It plans and counts. What may be measured is the business of the package jar, what
// is known of a mix that of compat, which runs tell most that of cause. It reads no
// file and prints no page.
//
// # Words
//
// A jar of a trial is one vessel with a role: carrier alone, one product alone, the
// whole mix, part of it, the mix in another order or water. Its code is neutral, so
// that whoever reads it does not know what to expect. A block is one of each jar;
// replicates are blocks. A set is all jars once, as one group of people pours it. A
// run is the place of a jar in the order of the day.
//
//	question ──▶ roles ──▶ jars ──▶ codes, blocks, order of runs   (seed)
//	   cause: from cause.Search     │
//	   others: what is compared     ├──▶ vessel, card of doses, stocks   (jar)
//	           and its controls     ├──▶ hazards, rule for opening       (compat)
//	                                └──▶ kit, record sheet, time         (routine)
//
// # Questions
//
//   - cause: which products make it react. At most N jars made in one day, chosen
//     together; or a plan in which each jar hangs on the one before.
//   - order: the office's order, the reverse, the orders of published sources, then
//     neighbors exchanged.
//   - water: the mix in each water, beside each water alone.
//   - substitute: the mix as it is, without one product, and with others in its
//     place.
//   - workshop: a demonstration: carrier, products alone, the mix, the mix with a
//     helper, in the wrong order and in little water, as far as jars reach.
//
// # Controls
//
// Carrier alone is in every trial: water foams and clouds too. The whole mix is in
// every trial: a complaint that does not come again in the office's jar has its
// cause in something that the office did not copy. Products alone are there where
// nothing else tells what they do by themselves.
//
// # Invariants
//
//   - A trial never has more jars than it was allowed, controls and replicates
//     counted.
//   - The same request and seed give the same trial, on every machine.
//   - Every dose of a trial can be measured within the bench's tolerance.
//   - A jar in which gas is possible or whose gas is not known is never shaken with a
//     fixed lid; the zero rule for opening is the most careful one.
//   - A mix that makes toxic gas or fire is never put into a jar.
//   - Totals of the kit are not less than the sum of the cards.
package trial
