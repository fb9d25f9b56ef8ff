// Package qr draws the address of a page as a QR code (ISO/IEC 18004): one path for
// an SVG, so that a printed page leads back to the one on the screen. It is the only
// door to the QR library and knows nothing of pages.
package qr

import (
	"fmt"
	"strings"

	qrcode "github.com/piglig/go-qr"
)

// quiet is the blank border that readers need, in modules: 4, by ISO/IEC 18004 (from
// memory).
const quiet = 4

// Code is a drawn QR code. The unit is the module; the border is inside Side, so that
// an SVG with viewBox "0 0 Side Side" can be placed anywhere.
type Code struct {
	Side int
	Path string // dark modules, to be filled
}

// Of draws a text. Texts beyond what the largest code holds, some 2,300 bytes, give
// an error. Medium error correction stands a crease or a stain of an eighth of the
// code. The same text gives the same drawing.
func Of(text string) (Code, error) {
	if text == "" {
		return Code{}, fmt.Errorf("draw QR code: no text")
	}
	q, err := qrcode.EncodeText(text, qrcode.Medium)
	if err != nil {
		return Code{}, fmt.Errorf("draw QR code of %d bytes: %w", len(text), err)
	}
	size := q.Size()
	var b strings.Builder
	for y := range size {
		for x := 0; x < size; {
			run := 0
			for x+run < size && q.Module(x+run, y) {
				run++
			}
			if run > 0 {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", x+quiet, y+quiet, run, run)
			}
			x += max(run, 1)
		}
	}
	return Code{Side: size + 2*quiet, Path: b.String()}, nil
}
