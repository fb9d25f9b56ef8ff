// Package site builds the site from an office's folder and puts it where readers
// find it.
//
// A build has two phases. It first reads everything: data, sheets, catalogues,
// templates; any problem that stops publication ends it there, with all problems
// in one list. Only then does it write:
//
//	out/                      what readers see: the whole old site
//	.out.tankleaf-next/       staged beside it, file by file, audited as it goes
//	        │ exchange in one step
//	        ▼
//	out/                      the whole new site
//	.out.tankleaf-next/       the old one, then removed
//
// Invariants:
//   - at every instant out/ is one whole site, or absent before the first build;
//   - a folder without our marker file is never replaced or removed, unless it
//     is empty;
//   - a page that fails the audit (no caution block, a dead link, an inline
//     script) stops the build before anything is put in place;
//   - what a killed build left behind is cleared by the next one;
//   - two builds into one folder follow one another: the second waits.
//
// Beside the pages a build writes what lets a browser keep a copy for when there is
// no signal; see copies.go.
//
// On systems that cannot exchange two folders in one step the old site is moved
// aside first, and out/ is absent for the moment between two renames.
package site
