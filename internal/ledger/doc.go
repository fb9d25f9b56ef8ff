// Package ledger keeps what publications tell readers from one to the next, so
// that no advice changes in silence.
//
//	last publication            this one
//	data/advice.json ──┐   ┌── Of(judge)
//	                   ▼   ▼
//	                  Compare ──▶ shifts: pair, from, to, softer?
//	                                  │
//	data/changes.json ──▶ Next ◀──────┤
//	                        │         ▼
//	                        ▼     Explain ◀── data/reviews.yaml
//	                 data/changes.json     unexplained: what a review must name
//
// Words: the advice of a publication is what it says of every mix that its pages
// speak of; a shift is a mix of which it says something else than the one before;
// a review is a record by which an office answers for a softer verdict.
//
// # What is compared
//
//   - every pair that has a page, every item by itself, and every mix of three or
//     more that a statement, a notice or an observation names;
//   - every product beside each class and product that anything is said of with
//     it: a product that leaves a class loses that class's verdicts, and no
//     statement has changed;
//   - the verdict and the hazards. A hazard that is no longer named is a softening
//     even when the verdict stays.
//
// A product's shift that one of its classes shares is told once, by the class. An
// item that is no longer in the book is told as withdrawn; its mixes are not.
//
// # Softer
//
// Clean is softer than no evidence, no evidence is softer than steps, and so up
// to never: to forget a statement is as soft as to lift it.
//
// # Invariants
//
//   - The same book published again adds nothing: what is published does not
//     depend on how often it was built.
//   - Two publications of one day are one: what is told is the way from the day
//     before to the last of them.
//   - The order of records changes nothing.
package ledger
