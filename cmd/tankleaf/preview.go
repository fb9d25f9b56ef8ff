package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"tankleaf.example/internal/diag"
	"tankleaf.example/internal/preview"
)

var previewCommand = &command{
	name: "preview",
	args: "[-C DIR] [--addr 127.0.0.1:0]",
	does: "serve the site to this machine while it is written",
	long: `
Builds the site, serves it to browsers on this machine, and builds it again when a
file changes; the page reloads by itself. While there are problems the last good
build is served on, with the problems above each page. Nothing is published. The
address must be a loopback one; port 0 takes any that is free. Ends with Ctrl-C.

  tankleaf preview
  tankleaf preview -C valley-office --addr localhost:8080
`,
	run: runPreview,
}

// pollEvery is how often the files of the office are looked at.
const pollEvery = 400 * time.Millisecond

func runPreview(c *call) error {
	addr := c.flags.String("addr", "127.0.0.1:0", "")
	if err := c.want(0, 0); err != nil {
		return err
	}
	if c.json {
		return usagef("leave --json out", "preview prints no JSON")
	}
	if info, err := os.Stat(filepath.Join(c.dir, "data")); err != nil || !info.IsDir() {
		return c.noOffice()
	}
	l, err := preview.Listen(*addr)
	if err != nil {
		return usagef("write it as in 127.0.0.1:8080", "%v", err)
	}
	s, err := preview.New(c.dir)
	if err != nil {
		return errors.Join(err, l.Close())
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	fmt.Fprintf(c.out, "http://%s/\n", l.Addr())
	watching := make(chan struct{})
	go func() {
		defer close(watching)
		s.Watch(ctx, pollEvery, c.built)
	}()
	err = s.Serve(ctx, l)
	stop()
	<-watching
	return errors.Join(err, s.Close())
}

// built tells the person at the terminal how a build of the preview went.
func (c *call) built(problems diag.List, err error) {
	if err != nil {
		c.complain(err.Error(), "")
		return
	}
	if c.report(problems) == nil {
		fmt.Fprintf(c.err, "built %s\n", time.Now().Format(time.TimeOnly))
	}
}
