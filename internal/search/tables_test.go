package search

import (
	"flag"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write goldens")

const tablesFile = "../../templates/client/search/tables.ts"

// TestTablesUpToDate keeps the tables and constants of the two sides the same.
func TestTablesUpToDate(t *testing.T) {
	want := tables()
	if *update {
		if err := os.WriteFile(tablesFile, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(tablesFile)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("%s is not what this package has; run go test -run UpToDate -update", tablesFile)
	}
}

// tables writes what the client has to know as TypeScript.
func tables() string {
	var b strings.Builder
	b.WriteString("// Written by the tests of the Go package search from its own tables; not edited.\n\n")
	for _, c := range []struct {
		name  string
		value any
	}{
		{"TOKEN", scriptPattern(tokenPattern)},
		{"JOINTS", ".,'/_-‐‑"},
		{"FOLDS", folds},
		{"MAX_FORM", maxForm},
		{"DIGITS", digits}, {"LAST_DIGITS", lastDigits}, {"MORE_DIGITS", moreDigits},
		{"BIT_CHARS", bitChars}, {"KEY_LETTERS", keyLetters}, {"WIDE_MARK", wideMark},
		{"HEAD_WEIGHT", headWeight}, {"K1", k1}, {"B", b25},
		{"WEIGHT_PLURAL", weightPlural}, {"WEIGHT_VARIANT", weightVariant},
		{"WEIGHT_COMPLETION", weightCompletion}, {"WEIGHT_TYPO", weightTypo}, {"WEIGHT_SAME", weightSame},
		{"MIN_TYPO", minTypo}, {"MAX_TYPO", maxTypo}, {"TYPO_TITLES", typoTitles}, {"TYPO_READINGS", typoReadings},
		{"RANGE_PARTS", rangeParts}, {"INFLECTED_PARTS", inflectedParts}, {"COMPLETED_PARTS", completedParts}, {"CORRECTED_PARTS", correctedParts},
		{"SHORT_PREFIX", shortPrefix}, {"PHRASE_DEPTH", phraseDepth},
	} {
		fmt.Fprintf(&b, "export const %s = %s;\n", c.name, literal(c.value))
	}
	return b.String()
}

// scriptPattern writes the code points of a pattern as JavaScript does.
func scriptPattern(p string) string {
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(p, `\x{`)
		b.WriteString(before)
		if !found {
			return b.String()
		}
		hex, after, _ := strings.Cut(rest, "}")
		n, err := strconv.ParseUint(hex, 16, 16)
		if err != nil {
			panic(err)
		}
		fmt.Fprintf(&b, `\u%04x`, n)
		p = after
	}
}
