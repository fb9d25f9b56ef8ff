package qr_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"tankleaf.example/internal/outside"
	"tankleaf.example/internal/qr"
)

// paint draws the path as a browser would, each module so many pixels wide: the path
// is nothing but runs of modules.
func paint(t *testing.T, c qr.Code, scale int) *image.Gray {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, c.Side*scale, c.Side*scale))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for run := range strings.SplitSeq(strings.TrimSuffix(c.Path, "z"), "z") {
		var x, y, width, back int
		if n, err := fmt.Sscanf(run, "M%d %dh%dv1h%d", &x, &y, &width, &back); n != 4 || err != nil || back != -width {
			t.Fatalf("no run: %q", run)
		}
		for px := x * scale; px < (x+width)*scale; px++ {
			for py := y * scale; py < (y+1)*scale; py++ {
				img.SetGray(px, py, color.Gray{})
			}
		}
	}
	return img
}

// TestDecoded reads the drawings back with a decoder that shares no code with them.
func TestDecoded(t *testing.T) {
	outside.Program(t, "zbarimg")
	for _, text := range []string{
		"https://spray.example.org/trial/hissing-lids.html",
		"https://a.example",
		"HTTPS://SPRAY.EXAMPLE.ORG/K7",
		"https://spray.example.org/together/captan--horticultural-oil.html?lang=es#jar",
		"https://spray.example.org/" + strings.Repeat("long-name/", 30),
		"0123456789",
	} {
		c, err := qr.Of(text)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := png.Encode(&b, paint(t, c, 4)); err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(t.TempDir(), "code.png")
		if err := os.WriteFile(name, b.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command("zbarimg", "--quiet", "--raw", name).Output()
		if err != nil || strings.TrimSuffix(string(out), "\n") != text {
			t.Errorf("%q is read as %q: %v", text, out, err)
		}
	}
}

// TestBorder holds that four modules on every side stay blank and that nothing lies
// outside.
func TestBorder(t *testing.T) {
	c, err := qr.Of("https://spray.example.org/")
	if err != nil {
		t.Fatal(err)
	}
	img := paint(t, c, 1)
	dark := 0
	for y := range c.Side {
		for x := range c.Side {
			if img.GrayAt(x, y).Y == 255 {
				continue
			}
			dark++
			if x < 4 || y < 4 || x >= c.Side-4 || y >= c.Side-4 {
				t.Fatalf("module %d, %d lies in the border", x, y)
			}
		}
	}
	if dark < 100 {
		t.Errorf("only %d dark modules", dark)
	}
}

func TestSameTwice(t *testing.T) {
	a, errA := qr.Of("https://spray.example.org/k")
	b, errB := qr.Of("https://spray.example.org/k")
	if errA != nil || errB != nil || a != b {
		t.Errorf("the same text is drawn as %v and %v", a, b)
	}
}

func TestRefused(t *testing.T) {
	for _, text := range []string{"", strings.Repeat("x", 4000)} {
		if _, err := qr.Of(text); err == nil {
			t.Errorf("%d bytes are drawn", len(text))
		}
	}
}
