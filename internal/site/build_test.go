package site_test

import (
	"testing"

	"tankleaf.example/internal/site"
)

func TestAddress(t *testing.T) {
	for _, c := range []struct{ in, want, why string }{
		{"https://mixes.example.org/", "https://mixes.example.org/", "as it should be"},
		{"https://mixes.example.org", "https://mixes.example.org/", "a host alone"},
		{"http://127.0.0.1:8080/tank/mixes", "http://127.0.0.1:8080/tank/mixes/", "the last slash is missing"},
		{"mixes.example.org", "", "no scheme"},
		{"ftp://mixes.example.org/", "", "no web"},
		{"https:///mixes", "", "no host"},
		{"https://u:p@mixes.example.org/", "", "a password would be published"},
		{"https://mixes.example.org/?a=b", "", "a query cannot have pages below it"},
		{"https://mixes.example.org/#a", "", "nor can an anchor"},
	} {
		got, err := site.Address(c.in)
		if got != c.want || (err == nil) != (c.want != "") {
			t.Errorf("%s: %q gives %q, %v; want %q", c.why, c.in, got, err, c.want)
		}
	}
}
