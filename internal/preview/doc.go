// Package preview serves an office's site while it is written: the last build
// without problems, with what is wrong since shown above each page.
//
//	office folder ──poll──▶ site.Read ─▶ site.Build ─▶ private folder
//	                            │                           │
//	                            ▼                           ▼
//	                        problems ───────────▶ page with problems on top ─▶ 127.0.0.1
//
// A change of any file below data/, content/ or templates/ builds anew; what is
// served is exchanged in one step, as a publication is. A script of the preview
// reloads the page when that happened. Published folders are never written.
//
// # Who may ask
//
// The preview is for the person at this machine:
//   - it listens on a loopback address and on no other;
//   - it answers requests alone whose Host is that address or localhost, so that
//     no page of another site can read it through a name of its own;
//   - it knows GET and HEAD, and paths of published files: nothing that climbs,
//     nothing hidden, no link that leads outside;
//   - headers, time and connections are bounded, see the constants.
package preview
