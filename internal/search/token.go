package search

import (
	"regexp"
	"strings"
	"unicode/utf8"
)

// maxForm is the longest form kept, in characters; longer runs are addresses
// and serial numbers that nobody types.
const maxForm = 40

var tokenRegexp = regexp.MustCompile(tokenPattern)

// forms returns what one token of text is indexed as, the whole first. A plain
// word has one form. A compound has its joined form and its parts:
//
//	Glyphosate     glyphosate
//	tank-mixes     tankmixes tank mixes
//	S-metolachlor  smetolachlor metolachlor     one-letter parts are dropped
//	2,4-D          2,4d 2,4                     a mark between digits stays:
//	1.5            1.5                          1.5 L is not 15 L
//	28-0-0         28-0-0 28                    no letter: kept as written
//	grower's       grower
func forms(token string) []string {
	runes := []rune(trimPossessive(fold(token)))
	var parts []string
	var part, joined strings.Builder
	letters := false
	for i, r := range runes {
		if !isJoint(r) || betweenDigits(runes, i) {
			part.WriteRune(r)
			joined.WriteRune(r)
			letters = letters || !isJoint(r) && !isDigit(r)
			continue
		}
		if r != '\'' {
			parts = append(parts, part.String())
			part.Reset()
		}
	}
	if len(parts) == 0 {
		return short(joined.String())
	}
	parts = append(parts, part.String())
	whole := joined.String()
	if !letters {
		whole = strings.Join(parts, "-")
	}
	return append(short(whole), longParts(parts)...)
}

// longParts returns the parts of two characters or more.
func longParts(parts []string) []string {
	var out []string
	for _, p := range parts {
		if utf8.RuneCountInString(p) > 1 {
			out = append(out, short(p)...)
		}
	}
	return out
}

// short returns the form alone, or nothing when it is empty or too long.
func short(form string) []string {
	if n := utf8.RuneCountInString(form); n == 0 || n > maxForm {
		return nil
	}
	return []string{form}
}

// trimPossessive writes every apostrophe as ' and drops a final 's.
func trimPossessive(s string) string {
	return strings.TrimSuffix(strings.ReplaceAll(s, "’", "'"), "'s")
}

// betweenDigits reports whether the mark at i is a point or comma between two
// digits, and so part of a number.
func betweenDigits(runes []rune, i int) bool {
	if runes[i] != '.' && runes[i] != ',' {
		return false
	}
	return i > 0 && i+1 < len(runes) && isDigit(runes[i-1]) && isDigit(runes[i+1])
}

func isDigit(r rune) bool { return '0' <= r && r <= '9' }

func isJoint(r rune) bool { return strings.ContainsRune(".,'/_-‐‑", r) }
