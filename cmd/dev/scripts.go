package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// modules are the scripts that a page asks for by name. Each is built with all that
// it imports, so that the app comes with few requests and the copy of the record can
// be saved when any other file is gone.
var modules = []string{"boot.js", "clip.js", "copy.js", "edit.js", "how.js", "picture.js"}

// classic are the scripts that are no modules and stand alone.
var classic = []string{"compile.js", guard, worker}

// later are the modules that a script asks for only when they are needed.
var later = []string{"./picture.js"}

// bundle builds the modules; loader is the file that starts a program of this Go.
func bundle(files map[string][]byte, loader string) error {
	options := api.BuildOptions{
		Bundle: true, External: later, Format: api.FormatESModule, Outdir: ".", Charset: api.CharsetUTF8, LegalComments: api.LegalCommentsNone,
		MinifyWhitespace: true, MinifyIdentifiers: true, MinifySyntax: true, Plugins: []api.Plugin{loading(loader)},
	}
	for _, name := range modules {
		options.EntryPoints = append(options.EntryPoints, filepath.Join(staticFolder, name))
	}
	out := api.Build(options)
	if len(out.Errors) > 0 {
		return problem(out.Errors[0])
	}
	for _, file := range out.OutputFiles {
		files[filepath.Base(file.Path)] = file.Contents
	}
	return nil
}

// loading finds Go's loader, which stands in no folder of ours.
func loading(loader string) api.Plugin {
	return api.Plugin{Name: "loader", Setup: func(build api.PluginBuild) {
		build.OnResolve(api.OnResolveOptions{Filter: `/wasm_exec\.js$`}, func(api.OnResolveArgs) (api.OnResolveResult, error) {
			return api.OnResolveResult{Path: loader}, nil
		})
	}}
}

// minified respells a script or a style without what is only read here: comments,
// spaces and long names would cost a slow link seconds.
func minified(name string, text []byte) ([]byte, error) {
	loader := api.LoaderJS
	if strings.HasSuffix(name, ".css") {
		loader = api.LoaderCSS
	}
	out := api.Transform(string(text), api.TransformOptions{
		Sourcefile: name, Loader: loader, Charset: api.CharsetUTF8, LegalComments: api.LegalCommentsNone,
		MinifyWhitespace: true, MinifyIdentifiers: true, MinifySyntax: true,
	})
	if len(out.Errors) > 0 {
		return nil, problem(out.Errors[0])
	}
	return out.Code, nil
}

// enclosed puts a script into a block, so that no beginning of it is a script, and
// declares a name behind it, so that it is none twice: nobody compares the worker's own
// file with a hash, and one that was spoilt on its way must not become a worker.
func enclosed(script []byte) []byte {
	body, _ := bytes.CutPrefix(bytes.TrimSpace(script), []byte(`"use strict";`)) // of a whole script only
	return fmt.Appendf(nil, "{%s}let whole;\n", body)
}

func problem(m api.Message) error {
	if m.Location == nil {
		return fmt.Errorf("%s", m.Text)
	}
	return fmt.Errorf("%s:%d: %s", m.Location.File, m.Location.Line, m.Text)
}

// inline puts the page's guard into the page itself: it shows the last screen, and it
// has the words for when the app cannot start, so no second file may be needed for it.
func inline(files map[string][]byte) error {
	tag := []byte(`<script src="/` + guard + `"></script>`)
	if bytes.Count(files[page], tag) != 1 || bytes.Contains(files[guard], []byte("</script")) {
		return fmt.Errorf("%s cannot take in %s", page, guard)
	}
	script := append(append([]byte("<script>"), bytes.TrimSpace(files[guard])...), "</script>"...)
	files[page] = bytes.Replace(files[page], tag, script, 1)
	delete(files, guard)
	return nil
}
