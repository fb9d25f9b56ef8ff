//go:build !unix

package site

// lock does nothing where folders cannot be locked: two builds at once then end
// in an error of one of them, not in a mixed site.
func lock(string) (unlock func(), err error) { return func() {}, nil }
