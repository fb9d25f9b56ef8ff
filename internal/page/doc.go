// Package page turns what an office states, and what follows from it, into the
// files of the site: everything that a reader sees.
//
// # Words
//
//   - edition: the whole site in one language. The office's own language lies at
//     the top, each other one in a folder named by its code, with the same paths.
//   - leaf: one page while it is made up: it numbers the sources and collects the
//     hazards that the page mentions, in the order of mention.
//   - frame: what stands around every page: names, navigation, cautions, sources.
//   - band: the answer across the first screen. ledger: the evidence under it.
//
// # How a page comes about
//
//	Book, Judge, Sheets ──▶ values (structs of text, links and marks) ──▶ templates
//
// Values hold no HTML, except prose that the package sheet has rendered and
// listings it has highlighted; templates hold no rules. Every word of ours comes
// from the package message; every word of the office says which language it is
// in when that is not the page's.
//
// # Invariants
//
//   - Every page carries the general caution and one block for each hazard that
//     it mentions, outside anything that can be folded away.
//   - Every mark of a verdict carries data-verdict. Unknown has a mark, a tone and
//     words of its own, stands apart in every list, and never counts as fine.
//   - All links are relative and stay inside the site, except addresses of
//     sources; no page asks another host for anything.
//   - The same inputs give the same bytes. Files come in order of their paths, one
//     at a time: the site is never in memory as a whole.
package page
