package site

import (
	"os"
	"path/filepath"
	"testing"
)

// TestSwapInTwo holds the way of systems that cannot exchange two folders.
func TestSwapInTwo(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	for _, body := range []string{"one", "two", "three"} {
		next := stagingName(out)
		if err := os.Mkdir(next, 0o755); err != nil {
			t.Fatal(err)
		}
		for name, text := range map[string]string{Marker: "", "index.html": body} {
			if err := os.WriteFile(filepath.Join(next, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if err := swapInTwo(next, out); err != nil {
			t.Fatal(err)
		}
		got, err := os.ReadFile(filepath.Join(out, "index.html"))
		if err != nil || string(got) != body {
			t.Errorf("got %q, %v, want %q", got, err, body)
		}
		if left, _ := os.ReadDir(parent); len(left) != 1 {
			t.Errorf("left beside the site: %v", left)
		}
	}
}

// TestSwapInTwoBringsTheOldBack is about a new site that cannot be moved in.
func TestSwapInTwoBringsTheOldBack(t *testing.T) {
	parent := t.TempDir()
	out := filepath.Join(parent, "public")
	if err := os.Mkdir(out, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{Marker, "index.html"} {
		if err := os.WriteFile(filepath.Join(out, name), []byte(name), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := swapInTwo(filepath.Join(parent, "nothing"), out); err == nil {
		t.Error("moved in a folder that is not there")
	}
	if got, err := os.ReadFile(filepath.Join(out, "index.html")); err != nil || string(got) != "index.html" {
		t.Errorf("the old site is gone: %q, %v", got, err)
	}
}
