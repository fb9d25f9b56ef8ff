package planner_test

import (
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"
)

// calcKeys are the keys that the driver's calculators have.
var calcKeys = []string{"load-rate", "load-area", "gas-material"}

// calcReader answers each line as addressReader does, for calculators.
const calcReader = `
import { fromAddress, toAddress } from "./state.mjs";
import { createInterface } from "node:readline";
const keys = { fields: ["load-rate", "load-area", "gas-material"], calculators: ["load", "gas"], metric: false };
for await (const line of createInterface({ input: process.stdin })) {
	let out;
	try {
		const first = fromAddress(JSON.parse(line), keys);
		const address = toAddress(first.state, keys);
		out = { ...first, address, again: fromAddress("#" + address, keys) };
	} catch (e) {
		out = { threw: String(e) };
	}
	console.log(JSON.stringify(out));
}
`

type calcState struct {
	Texts  map[string]string `json:"texts"`
	Metric bool              `json:"metric"`
	At     string            `json:"at"`
}

type readCalc struct {
	Threw   string    `json:"threw"`
	State   calcState `json:"state"`
	Lost    []string  `json:"lost"`
	Address string    `json:"address"`
	Again   struct {
		State calcState `json:"state"`
		Lost  []string  `json:"lost"`
	} `json:"again"`
}

// unescaped is what a value of an address stands for: a plus is a space, a percent
// sign without two digits is itself. No text: ok is false.
func unescaped(s string) (text string, ok bool) {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		n, err := uint64(0), error(nil)
		if s[i] == '%' && i+2 < len(s) {
			n, err = strconv.ParseUint(s[i+1:i+3], 16, 8)
		}
		switch {
		case s[i] == '%' && i+2 < len(s) && err == nil && s[i+1] != '+':
			b.WriteByte(byte(n))
			i += 2
		case s[i] == '+':
			b.WriteByte(' ')
		default:
			b.WriteByte(s[i])
		}
	}
	return b.String(), utf8.ValidString(b.String()) && len(utf16.Encode([]rune(b.String()))) <= 2000
}

// textsIn is what the fields of an address hold, by a plain reading of it: of a key
// that comes twice the first.
func textsIn(hash string) map[string]string {
	texts := map[string]string{}
	came := map[string]bool{}
	for _, piece := range strings.Split(strings.TrimPrefix(hash, "#"), "&") {
		key, value, found := strings.Cut(piece, "=")
		text, ok := unescaped(value)
		if !found || !ok || came[key] || !slices.Contains(calcKeys, key) {
			continue
		}
		came[key] = true
		if text != "" {
			texts[key] = text
		}
	}
	return texts
}

// FuzzCalculatorAddress reads anything as an address of calculators: nothing is
// thrown, each field holds the text that stands in the address to the letter, no part
// gets lost uncounted, and what is read can be shared again without a change.
func FuzzCalculatorAddress(f *testing.F) {
	for _, hash := range []string{"", "#", "gas", "v=1&at=load&load-rate=1.5+pt/ac&load-area=80%20ac&units=us", "load-rate=0.25+%+v/v", "load-rate=1&load-rate=2",
		"load-rate=&load-rate=2", "units=metric", "units=ells", "at=nobody&at=gas", "load-rate=%E0%A4%A", "load-rate=%00%0A1", "__proto__=x&constructor=y&texts=z",
		"=&=&=", "&&&", "load-area=-5+ac&load-rate=1,5+L/ha", "v=2&d=1&p=a", "load-area=" + strings.Repeat("9", 2001), "gas-material=%F0%9F%98%80", "load-rate=a=b", "load-rate=%2B1%2",
		"load-rate=%+1"} {
		f.Add(hash)
	}
	read := startReader(f, "calculators/state.ts", calcReader)
	f.Fuzz(func(t *testing.T, hash string) {
		if !utf8.ValidString(hash) {
			return
		}
		var r readCalc
		read(t, hash, &r)
		if r.Threw != "" {
			t.Fatalf("%q throws %s", hash, r.Threw)
		}
		if want := textsIn(hash); !maps.Equal(r.State.Texts, want) {
			t.Fatalf("%q fills in %q, want %q", hash, r.State.Texts, want)
		}
		countLost(t, hash, r.Lost)
		if len(r.State.Texts) == 0 && !r.State.Metric {
			return // nothing is entered: the address is at most the way to a calculator
		}
		if !maps.Equal(r.Again.State.Texts, r.State.Texts) || r.Again.State.Metric != r.State.Metric || r.Again.State.At != r.State.At || len(r.Again.Lost) > 0 {
			t.Fatalf("%q is shared as %q\nread  %v\nagain %v, lost %q", hash, r.Address, r.State, r.Again.State, r.Again.Lost)
		}
	})
}
