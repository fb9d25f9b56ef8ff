package qr_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"tankleaf.example/internal/qr"
)

// bitmap writes a symbol as a portable bitmap, 8 dots a module, with its quiet zone.
func bitmap(c *qr.Code) []byte {
	const dots, quiet = 8, 4
	n := (c.Size + 2*quiet) * dots
	var out bytes.Buffer
	fmt.Fprintf(&out, "P1\n%d %d\n", n, n)
	for y := range n {
		for x := range n {
			mx, my := x/dots-quiet, y/dots-quiet
			bit := byte('0')
			if mx >= 0 && my >= 0 && mx < c.Size && my < c.Size && c.Dark(mx, my) {
				bit = '1'
			}
			out.WriteByte(bit)
		}
		out.WriteByte('\n')
	}
	return out.Bytes()
}

// TestReadBack reads symbols of every size back with another program.
func TestReadBack(t *testing.T) {
	reader, err := exec.LookPath("zbarimg")
	if err != nil && os.Getenv("CI") == "true" {
		t.Fatal("zbarimg is not installed")
	} else if err != nil {
		t.Skip("zbarimg is not installed")
	}
	const address = "https://example.org/tank/packet/"
	for _, n := range []int{1, 14, 15, 26, 27, 42, 62, 84, 106, 122, 152, 153, qr.Longest} {
		text := (address + strings.Repeat("petal-fall-workshop/", 9))[:n]
		c, ok := qr.Encode(text)
		if !ok {
			t.Errorf("no symbol for %d bytes", n)
			continue
		}
		file := filepath.Join(t.TempDir(), "code.pbm")
		if err := os.WriteFile(file, bitmap(c), 0o644); err != nil {
			t.Fatal(err)
		}
		got, err := exec.Command(reader, "--raw", "-q", file).Output()
		if err != nil || strings.TrimSuffix(string(got), "\n") != text {
			t.Errorf("%d bytes, %d modules: read %q, error %v", n, c.Size, got, err)
		}
	}
}

// TestSmallestSymbol: a symbol is as small as its text allows.
func TestSmallestSymbol(t *testing.T) {
	for _, c := range []struct{ bytes, size int }{{1, 21}, {14, 21}, {15, 25}, {26, 25}, {27, 29}, {42, 29}, {43, 33}, {62, 33}, {63, 37},
		{84, 37}, {85, 41}, {106, 41}, {107, 45}, {122, 45}, {123, 49}, {152, 49}, {153, 53}, {180, 53}} {
		code, ok := qr.Encode(strings.Repeat("a", c.bytes))
		if !ok || code.Size != c.size {
			t.Errorf("%d bytes: %v, want %d modules", c.bytes, code, c.size)
		}
	}
	for _, text := range []string{"", strings.Repeat("a", qr.Longest+1)} {
		if _, ok := qr.Encode(text); ok {
			t.Errorf("a symbol for %d bytes", len(text))
		}
	}
}

// TestFinders: the three corners that readers look for, and the timing between them.
func TestFinders(t *testing.T) {
	c, _ := qr.Encode("https://example.org/")
	want := []string{"#######.", "#.....#.", "#.###.#.", "#.###.#.", "#.###.#.", "#.....#.", "#######.", "........"}
	for y, row := range want {
		for x := range row {
			dark := row[x] == '#'
			if c.Dark(x, y) != dark || c.Dark(c.Size-1-x, y) != dark || c.Dark(x, c.Size-1-y) != dark {
				t.Fatalf("finder differs at %d, %d", x, y)
			}
		}
	}
	for i := 8; i < c.Size-8; i++ {
		if c.Dark(i, 6) != (i%2 == 0) || c.Dark(6, i) != (i%2 == 0) {
			t.Errorf("timing differs at %d", i)
		}
	}
}

func FuzzEncode(f *testing.F) {
	f.Add("https://example.org/")
	f.Fuzz(func(t *testing.T, text string) {
		c, ok := qr.Encode(text)
		if ok != (len(text) > 0 && len(text) <= qr.Longest) {
			t.Errorf("%d bytes: %v", len(text), ok)
		}
		if ok && !c.Dark(0, 0) {
			t.Error("no finder")
		}
	})
}
