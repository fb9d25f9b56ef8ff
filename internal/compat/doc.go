// Package compat judges mixes: from what an office states and has seen to what
// may share a tank, with the reasons and the doubts.
//
// It holds outcomes (readings to reactions by the book's criteria), verdicts for
// mixes of any size ([Judge.Mix]) and the conflicts in them ([Answer.Conflicts]), the
// matrix of classes ([Judge.ClassMatrix]), what a change of one product would do and
// what may take its place ([Judge.WhatIf]), the causes behind the
// records of an investigation ([Judge.Investigate]), what is untested and worth a
// jar ([Judge.Gaps]), and joint action by Colby's formula ([Judge.Joints]). It
// reads no file, writes no words (doubts are codes with arguments) and knows
// nothing of pages.
//
// # How a mix is judged
//
//	    statements   notices      readings
//	         │           │            │ criteria (Outcome)
//	         │           │            ▼
//	         │           │      observations of one set of products (JarSet)
//	         ▼           ▼            ▼
//	┌─ 1 matched to distinct items    subsets that reacted, ───┐
//	│    through their classes        clean supersets          │
//	│                                 symptom by symptom       │
//	│  5 gates: holds, fails (off), not known (conditional);   │
//	│    jars in another order                                 │
//	│  6 mends in the mix soften their statement               │
//	│  2 hazard or prohibition: never, and firm                │
//	└──────────────────────┬───────────────────────────────────┘
//	                       ▼
//	  3 clean jars against each caution about a class:
//	    three independent and as demanding relax it,
//	    fewer add a doubt, none touches a hazard
//	                       ▼
//	  4 worst of all symptoms ── or, nothing asking for caution:
//	    every needed symptom looked for in vain in this mix or a larger ─▶ clean
//	    a source says so of these very items ─▶ clean
//	    else ─▶ unknown
//	                       ▼
//	  7 findings in order, each with the part it played; doubts;
//	    pairs about which nothing is known
//
// The numbers are those of the rules, by which comments and tests call them:
//
//  1. Gather: statements and notices whose members can be matched to distinct
//     items, reactions in subsets, clean supersets. What a larger mix held that
//     hides a symptom (a defoamer, foam) or mends it takes that symptom out of it.
//     One product's nuisance by itself is a doubt about its mixes, not a verdict.
//  2. Prohibitions and hazards are never, whatever else is known. What a rule of
//     law or label requires is no evidence: it makes steps of a mix, or a part of
//     it, that is known to be clean.
//  3. Product-level evidence relaxes a statement on a class when three
//     independent clean jars answer it under its own conditions; otherwise the
//     more cautious evidence wins and the disagreement is shown.
//  4. Symptoms are judged one by one, then combined.
//  5. Conditions gate statements. One that is not known is taken to hold, except
//     for a statement that nothing happens. The order of addition gates jars as
//     well: of a mix whose order is known, jars in another order say nothing when
//     three independent ones in this order stayed clean and every one that reacted
//     is known to have gone in otherwise. Fewer leave the more cautious side
//     standing, whatever a statement says of the order; and a hazard seen in one
//     order is expected in all.
//  6. A mend named by a source softens its statement, and only that one.
//  7. The answer lists what decided and what did not, down to source and record.
//
// # Invariants
//
//   - Adding evidence of a reaction never softens a verdict.
//   - Adding an item never softens one, unless a sourced mend names its class, and
//     never a hazard or a prohibition.
//   - Class inference is never clean on its own: a statement that nothing happens
//     proves it only of the very items it names.
//   - No number of clean jars cancels a hazard, and the absence of one symptom
//     clears no other.
//   - Every verdict but unknown has a deciding finding with a source or record.
//   - The order of files, records and items changes nothing.
//   - What was not recorded is not none. A book without needed criteria makes
//     nothing clean.
//
// # Causes
//
// A [Case] takes the records that looked for one symptom as runs over their
// products and leaves the inference to package cause. A clean field report rules
// nothing out, nor does a jar with something in it that hides the symptom or that a
// source names as its mend, nor one under circumstances that records of the same
// mix show to matter. Products that act alike in each other's place stand for one
// when the next jar is sought; an established cause is lifted to classes over every
// record of the book, and only as far as other members were seen to react.
//
// # Cost
//
// Products of one set of classes (a signature) share one judgement until
// something is known of the very products. See [Judge.Pair].
package compat
