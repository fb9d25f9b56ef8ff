// Package search finds documents: it analyzes text, builds an index at build
// time, writes it as static files that a page can load from anywhere, and
// answers queries from these files. It is the only door to bleve, which runs
// the analysis and keeps the postings while an index is built.
//
// Words: a form is a word as it is indexed (folded to one spelling; a compound
// has several); a stem is what the inflections of a word share; an occurrence
// is a form in a document with its weight; a part is one file's worth of index;
// a card is what a list of results shows of a document.
//
//	documents ─▶ bleve: tokens, forms, postings ─▶ Export: parts, as scripts
//	                                                  │
//	              Find (here)  ◀── the same steps ──▶ │ ◀── find.ts (in a page)
//
// # Two engines, one answer
//
// Find answers here, for the command line and tests; templates/client/search
// answers in a page. Both read the exported files, and their steps have the
// same names in files of the same names. Tables and constants of the client are
// written from this package's; forms, stems and edits are held together by
// testdata/vectors/query.json; order, scores to the last bit and corrections by
// a test on the demo office's text.
//
// # Ranking
//
// The score is BM25 on weighted frequencies (see score.go). Before the score
// comes how much of the query a document has:
//
//  1. more of its words before fewer;
//  2. of those with all: all in title or names as written; all there, so or in
//     the plural; all there; all as written; then the rest;
//  3. of those with all in title or names: more of them as written before fewer;
//  4. the score; then the number of the document.
//
// A test compares the first ten places with a plain BM25 that reads bleve's
// own postings and field lengths. bleve's own scores are not used: its average
// length depends on how segments were merged, and changes from run to run.
//
// # What a word may stand for
//
//   - itself and its inflections;
//   - while it is being typed, the longer words it begins; where those are very
//     many, the titles and names that hold one (see wideBytes);
//   - its synonyms and what it is a known misspelling of, phrases too, from
//     data given to Export;
//   - when no document has all words, a word one letter away: for each word that is
//     nowhere first one in the titles of the eight best documents so far, then the
//     six likeliest of all (see typo.go); then so for every word. The answer says
//     so. Never for a code or a number.
//
// What is written is always looked up. Of the rest a query reads so many parts and
// no more (see inflectedParts), in the order of the list, so that no answer costs a
// reader far more than another.
//
// # Phrases
//
// An index of positions would be two thirds larger. Words in quotes are meant
// as written and are all required; of the best 24 documents that have them, the
// ones whose title, summary or body holds the words in that order are kept. If
// none does, the answer is all of them, and says that it is loose. A phrase
// that stands only in a document further down is missed.
//
// # Files
//
// root.js is read first. Documents are numbered by kind and then by length, so
// that a kind is a range and the length of every document, which BM25 needs,
// takes a few hundred bytes. See shard.go for the files, cut.go for where one ends,
// bits.go for how lists are written. The same documents give the same bytes.
package search
