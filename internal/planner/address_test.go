package planner_test

import (
	"bufio"
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode/utf8"

	"tankleaf.example/internal/client"
	"tankleaf.example/internal/mix"
	"tankleaf.example/internal/outside"
)

// addressReader answers each line, an address as JSON, with what the client reads in
// it, and with what it reads in the address that it would write of that.
const addressReader = `
import { fromAddress, toAddress } from "./state.mjs";
import { createInterface } from "node:readline";
for await (const line of createInterface({ input: process.stdin })) {
	let out;
	try {
		const first = fromAddress(JSON.parse(line), false);
		const address = toAddress(first.state);
		out = { ...first, address, again: fromAddress("#" + address, false) };
	} catch (e) {
		out = { threw: String(e) };
	}
	console.log(JSON.stringify(out));
}
`

type readAddress struct {
	Threw   string    `json:"threw"`
	State   planState `json:"state"`
	Lost    []string  `json:"lost"`
	Address string    `json:"address"`
	Again   struct {
		State planState `json:"state"`
		Lost  []string  `json:"lost"`
	} `json:"again"`
}

type planState struct {
	Lines []struct {
		ID   string `json:"id"`
		Rate string `json:"rate"`
	} `json:"lines"`
	Texts     map[string]string `json:"texts"`
	Choices   map[string]string `json:"choices"`
	Ordered   bool              `json:"ordered"`
	Metric    bool              `json:"metric"`
	Published string            `json:"published"`
}

// startReader runs a module of the client in Node beside a driver, which answers each
// line, an address as JSON, and returns how to ask it.
func startReader(f *testing.F, module, driver string) func(t *testing.T, hash string, answer any) {
	f.Helper()
	node := outside.Program(f, "node")
	dir := f.TempDir()
	bundle(f, client.Module, module, filepath.Join(dir, "state.mjs"))
	script := filepath.Join(dir, "driver.mjs")
	if err := os.WriteFile(script, []byte(driver), 0o600); err != nil {
		f.Fatal(err)
	}
	cmd := exec.Command(node, script)
	cmd.Stderr = os.Stderr
	in, err := cmd.StdinPipe()
	if err != nil {
		f.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { _ = in.Close(); _ = cmd.Wait() })
	answers := bufio.NewReader(out)
	var one sync.Mutex
	return func(t *testing.T, hash string, answer any) {
		t.Helper()
		one.Lock()
		defer one.Unlock()
		line, err := json.Marshal(hash)
		if err == nil {
			_, err = in.Write(append(line, '\n'))
		}
		if err == nil {
			line, err = answers.ReadBytes('\n')
		}
		if err != nil && err != io.EOF {
			t.Fatal(err)
		}
		if err := json.Unmarshal(line, answer); err != nil {
			t.Fatalf("%q: %s: %v", hash, line, err)
		}
	}
}

// countLost wants no part of an address lost twice, and none that is nothing.
func countLost(t *testing.T, hash string, lost []string) {
	t.Helper()
	if parts := strings.Count(hash, "&") + 1; len(lost) > parts || slices.Contains(lost, "") {
		t.Fatalf("%q: %d of %d parts lost: %q", hash, len(lost), parts, lost)
	}
}

// FuzzAddress reads anything as the address of a shared mix: nothing is thrown,
// only products that could be and no more than a plan holds come in, no part gets
// lost uncounted, and what is read can be shared again without a change.
func FuzzAddress(f *testing.F) {
	for _, hash := range []string{"", "#", "v=1", "v=1&p=foamwren&p=larkstile:4+oz%2Fac&spray=15+gal/ac&units=us", "v=2&p=a", "p=a&p=a", "p=A", "p=",
		"p=a:%", "p=%E0%A4%A", "area=%00", "area=%E2%80%AE1", "__proto__=x", "constructor=y&texts=z", "=&=&=", "&&&", "p=a=b",
		"d=2026-01-01&ordered=1&units=metric", "hardness=" + strings.Repeat("9", 500), strings.Repeat("p=x&", 40), "p=<script>", "crop=%F0%9F%98%80"} {
		f.Add(hash)
	}
	read := startReader(f, "planner/state.ts", addressReader)
	f.Fuzz(func(t *testing.T, hash string) {
		if !utf8.ValidString(hash) {
			return
		}
		var r readAddress
		read(t, hash, &r)
		if r.Threw != "" {
			t.Fatalf("%q throws %s", hash, r.Threw)
		}
		if len(r.State.Lines) > 12 {
			t.Fatalf("%q: %d products", hash, len(r.State.Lines))
		}
		for _, l := range r.State.Lines {
			if !mix.ValidID(l.ID) && len(l.ID) <= 64 {
				t.Fatalf("%q: product %q", hash, l.ID)
			}
		}
		countLost(t, hash, r.Lost)
		if len(r.State.Texts) != 12 || len(r.State.Choices) != 4 {
			t.Fatalf("%q makes fields of its own: %v %v", hash, r.State.Texts, r.State.Choices)
		}
		if r.Address == "" {
			return // nothing is planned
		}
		first, _ := json.Marshal(r.State)
		again, _ := json.Marshal(r.Again.State)
		if string(first) != string(again) || len(r.Again.Lost) > 0 {
			t.Fatalf("%q is shared as %q\nread  %s\nagain %s, lost %q", hash, r.Address, first, again, r.Again.Lost)
		}
	})
}
