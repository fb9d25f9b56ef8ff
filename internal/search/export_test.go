package search

// Tokens and Stem give the tests of package search_test what is not exported.

// Tokens returns the forms of every token of a text.
func Tokens(text string) [][]string {
	var out [][]string
	for _, t := range tokenRegexp.FindAllString(text, -1) {
		if f := forms(t); len(f) > 0 {
			out = append(out, f)
		}
	}
	return out
}

// Stem returns the stem of a form.
func Stem(lang, form string) string { return stem(lang, form) }
