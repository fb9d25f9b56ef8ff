// Package outside brings the programs beside Go that tests ask for a second
// opinion: a browser, Node.js, readers of PDF and of drawn codes, GNU units. It is
// for tests alone.
//
// What a test needs and the machine lacks skips the test, since a person may have
// Go alone; with CI=true, where `make setup` has installed everything, it fails.
package outside
