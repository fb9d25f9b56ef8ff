// Package qr writes a text as a QR code, so that a printed page leads back to the
// page that it was printed from.
//
// It writes what an address needs and no more: model 2, bytes, error correction of
// level M (a seventh of the symbol may be dirty), versions 1 to 9. Numbers and tables
// are those of ISO/IEC 18004 (2015), from memory; a test reads every size back with
// an independent reader.
//
//	text ──▶ bits ──▶ blocks with their check bytes ──▶ interleaved ──▶ laid in zigzag
//	                                                                       │
//	               finder, timing and alignment patterns ──────────────────┤
//	               the mask that disturbs readers least ◀──────────────────┘
package qr
