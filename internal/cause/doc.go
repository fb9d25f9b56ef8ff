// Package cause finds the smallest sets of elements that explain which runs
// reacted and survive the runs that did not, and proposes what to run next.
//
// It is pure inference. An element is a number from 0 to 63 and means nothing
// here; callers number whatever they mix, and ask about one outcome at a time.
//
// # Words
//
// A run is a set of elements that were together, and whether the outcome was
// seen. A reaction is monotone: a set that holds a reacting set reacts, and so
// the inside of a clean run is clean. A cause is a set that reacts while none
// of its proper subsets does. The causes contain no one another, and they say
// everything: a set reacts if it holds one. A possible cause of a reacting run
// is a subset of it that lies inside no clean run and holds no smaller
// reacting run; these are just the sets that are a cause in some monotone
// reaction that agrees with all runs. An explanation is a list of causes that
// hold at once and account for every reaction.
//
// The subsets form a lattice. A reacting run decides everything above it, a
// clean run everything below it; possible causes are what lies between:
//
//	      {0 1 2}            reacted
//	     ╱   │   ╲
//	{0 1}  {0 2}  {1 2}      {0 1} and {0 2} were clean, so {1 2} or
//	  │  ╲╱    ╲╱  │         {0 1 2} is the cause, and {1 2} is the
//	  │  ╱╲    ╱╲  │         next run: if it reacts it is established,
//	 {0}    {1}   {2}        for all below it is clean already
//	     ╲   │   ╱
//	        { }
//
// # What there is
//
//   - [Explain] lists the possible causes of every reacting run: established,
//     narrowed or contradicted. It assumes monotony and nothing else.
//   - [NewSearch] weighs explanations within [Limits] and, with [Rates], by the
//     chance of misread runs. [Search.Next] proposes a run, [Search.Plan] the
//     tree of all that may follow, [Search.Fixed] runs to be made together,
//     and [Walk] follows a plan.
//   - [Cover] counts what no run has decided.
//   - [Generalize] lifts an established cause to groups of elements.
//   - [Matched] counts which circumstances made a difference.
//
// With 12 elements and 60 runs, Explain and a search with its next run take 1
// to 4 ms (BenchmarkSearch12Elements60Runs, one core of a server of 2026).
//
// # The prior, and when a plan ends
//
// A search holds all explanations by up to two causes of up to three elements,
// by [Limits]. One cause is three times as likely as two, however many
// explanations there are of each; among as many causes all are equally likely.
//
// A plan without rates seeks one cause first: each run is the one whose result
// comes nearest to an even chance among explanations by one cause. The one left
// is run by itself, and is then established. It is not taken for the only one:
// the plan goes on to rule a second cause out, and turns to explanations by two
// causes when those by one are gone. It ends when one explanation is left and
// every cause of it was run by itself. That each of them is a cause does not
// hang on the limits; that there is no other does, and Cover tells what is open
// beyond them. When no explanation is left inside the limits, they widen by
// themselves; see [Search]. That leave-one-out runs, pairs and single elements
// appear in plans is a consequence; nothing names them.
//
// The runs that it takes from when the whole set is known to react, over all
// planted causes of up to three elements and over all two of them at once
// (TestPlanFigures computes this):
//
//	         told there is one      open to two
//	                                       one planted    two planted
//	elements log2 N   mean worst   log2 N   mean worst     mean worst
//	    2     1.58   1.67     2     2.00   2.00     2     2.00     2
//	    3     2.81   2.86     3     4.00   3.57     5     4.78     5
//	    4     3.81   3.93     5     6.11   5.14     7     7.05     8
//	    5     4.64   4.84     6     7.94   6.44     9     9.14    11
//	    6     5.36   5.63     7     9.47   7.46    10    10.91    14
//	    7     5.98   6.29     8    10.78   8.37    11    11.93    15
//	    8     6.52   6.85     8    11.92   9.07    11    13.24    17
//	    9     7.01   7.35     9    12.93   9.58    12    14.27    18
//	   10     7.45   7.79     9    13.83  10.17    12    15.28    19
//
// N counts the explanations possible at the start; no plan can take fewer than
// log2 N runs in the mean over them. Open to two, one planted cause is
// established as early as when told that there is one; the runs after that
// rule out a second. Running every other subset of 10 elements would take 1022.
// The worst case is at most log2 N, rounded up, plus 2 when told that there is
// one, and plus 5 when open to two: computed for up to 12 elements. With more,
// no run is made twice, so a plan ends.
//
// # Misread runs
//
// Given how often a reaction is missed and a clean run taken for one, every
// explanation keeps a probability, and the next run is the one whose reading
// is expected to tell most, a repeat if that is the one. Readings of the same
// set are taken to be independent. With 5 % missed and 2 % false, plans among 8
// and 10 elements end on the planted causes in 97 % of walks or more, with at
// most 1.5 times the runs (TestMisread). Explain takes runs at their word
// always; only runs in conflict with each other exclude nothing there.
//
// # Invariants
//
//   - Every reacting run without a conflict holds a possible cause.
//   - No possible cause lies inside a clean run that is in no conflict.
//   - An established cause reacted, and no proper subset of it would do.
//   - The order of runs, and repeats without rates, change nothing.
//   - A further run that agrees never adds a possible cause to a reacting run
//     that holds no smaller one.
//   - Runs in conflict change nothing for the other runs and make no call
//     fail.
//   - Without rates no step repeats a run, and no sum is rounded.
//   - A plan ends, and names the true cause, if there is one in the limits.
//
// # What it does not do
//
// It does not know what an element is, what a run costs, whether it is safe to
// make, or why an outcome did not appear: a member that hides an outcome breaks
// monotony, and callers must leave such runs out or ask about them apart. It
// does not weigh how alike two elements are, beyond Generalize. It searches
// among 16 elements at most; a wider union of reacting runs is searched one run
// at a time.
//
// # Where the ideas come from
//
// Pooling to find what reacts: Dorfman, "The Detection of Defective Members of
// Large Populations", Annals of Mathematical Statistics 14 (1943). Choosing
// each test by the information of its result: Lindley, "On a Measure of the
// Information Provided by an Experiment", Annals of Mathematical Statistics 27
// (1956). Causes of several elements are the complex model of group testing,
// and learning a monotone Boolean function by asking for values: Angluin,
// "Queries and Concept Learning", Machine Learning 2 (1988). All cited from
// memory, for the idea; no number here is taken from them.
package cause
