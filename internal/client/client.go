// Package client bundles the scripts and style sheets that pages load. It is
// the only door to esbuild.
//
// The sources are TypeScript modules and CSS in a file system, usually the one
// embedded in package templates. The result is one classic script: a page that
// is opened from a folder can load neither modules nor parts of them. esbuild
// strips types and checks none; the tests of this package run the compiler.
package client

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// Bundle joins the module or style sheet at entry with all that it imports,
// and minifies it. A script comes out as one function that is called at once,
// for browsers of 2022 and later. A warning of esbuild is an error.
func Bundle(sources fs.FS, entry string) ([]byte, error) {
	return build(sources, entry, api.BuildOptions{
		Format: api.FormatIIFE, Platform: api.PlatformBrowser,
		MinifySyntax: true, MinifyWhitespace: true, MinifyIdentifiers: true,
	})
}

// Module joins a module with all that it imports into one module for Node, to
// be tested or measured there.
func Module(sources fs.FS, entry string) ([]byte, error) {
	return build(sources, entry, api.BuildOptions{Format: api.FormatESModule, Platform: api.PlatformNode})
}

func build(sources fs.FS, entry string, o api.BuildOptions) ([]byte, error) {
	if _, err := fs.Stat(sources, entry); err != nil {
		return nil, fmt.Errorf("bundle %s: %w", entry, err)
	}
	o.EntryPoints = []string{entry}
	o.Bundle, o.Write, o.LogLevel = true, false, api.LogLevelSilent
	o.Target, o.Charset = api.ES2022, api.CharsetUTF8
	o.LegalComments = api.LegalCommentsNone
	o.Plugins = []api.Plugin{from(sources, o.Platform == api.PlatformNode)}
	o.Outdir = "/" // nothing is written there
	r := api.Build(o)
	var errs []error
	for _, m := range append(r.Errors, r.Warnings...) {
		errs = append(errs, errors.New(position(m)))
	}
	if len(errs) > 0 {
		return nil, fmt.Errorf("bundle %s: %w", entry, errors.Join(errs...))
	}
	if len(r.OutputFiles) != 1 {
		return nil, fmt.Errorf("bundle %s: %d files came out, not one", entry, len(r.OutputFiles))
	}
	return r.OutputFiles[0].Contents, nil
}

// position writes a message of esbuild as path:line:col: text, columns counted
// from 1 in bytes.
func position(m api.Message) string {
	if m.Location == nil {
		return m.Text
	}
	name := strings.TrimPrefix(m.Location.File, namespace+":")
	return fmt.Sprintf("%s:%d:%d: %s", name, m.Location.Line, m.Location.Column+1, m.Text)
}

const namespace = "client"

// loaders says how a file is read, by the end of its name.
var loaders = map[string]api.Loader{".ts": api.LoaderTS, ".js": api.LoaderJS, ".css": api.LoaderCSS}

// from lets esbuild read modules from a file system. An import is relative and
// may leave out ".ts"; external allows those of a runtime's own modules too.
func from(sources fs.FS, external bool) api.Plugin {
	return api.Plugin{Name: namespace, Setup: func(b api.PluginBuild) {
		b.OnResolve(api.OnResolveOptions{Filter: ".*"}, func(a api.OnResolveArgs) (api.OnResolveResult, error) {
			if a.Kind != api.ResolveEntryPoint && !strings.HasPrefix(a.Path, ".") {
				if !external {
					return api.OnResolveResult{}, fmt.Errorf("import %q is not relative: nothing comes from outside", a.Path)
				}
				return api.OnResolveResult{Path: a.Path, External: true}, nil
			}
			name := path.Join(path.Dir(a.Importer), a.Path)
			if a.Kind == api.ResolveEntryPoint {
				name = a.Path
			}
			if loaders[path.Ext(name)] == api.LoaderNone {
				name += ".ts"
			}
			return api.OnResolveResult{Path: name, Namespace: namespace}, nil
		})
		b.OnLoad(api.OnLoadOptions{Filter: ".*", Namespace: namespace}, func(a api.OnLoadArgs) (api.OnLoadResult, error) {
			text, err := fs.ReadFile(sources, a.Path)
			if err != nil {
				return api.OnLoadResult{}, err
			}
			contents := string(text)
			return api.OnLoadResult{Contents: &contents, Loader: loaders[path.Ext(a.Path)]}, nil
		})
	}}
}
