package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"github.com/andybalholm/brotli"

	"strutcard/pwa"
)

// What is needed offline may weigh this much when it is downloaded, in bytes: the
// app in English, and the catalogue of each other language beside it.
const (
	shellBudget     = 1_700_000
	catalogueBudget = 130_000
)

const (
	distFolder   = "pwa/dist"
	staticFolder = "pwa/static"
	worker       = "sw.js"
	page         = "index.html"
)

// kinds gives each file's media type by its extension. A file of another kind
// stops the build: a wrong type would only show on a phone.
var kinds = map[string]string{
	".html":        "text/html; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".css":         "text/css; charset=utf-8",
	".wasm":        "application/wasm",
	".svg":         "image/svg+xml",
	".png":         "image/png",
	".txt":         "text/plain; charset=utf-8",
	".webmanifest": "application/manifest+json",
}

type buildVerb struct {
	Fast       bool `help:"Compress less: for trying things, not for release."`
	NoGenerate bool `help:"Leave generated files as they are."`
}

// Run builds into memory first, so that a failed build leaves the last one whole.
func (v *buildVerb) Run() error {
	if !v.NoGenerate {
		if err := generate(); err != nil {
			return err
		}
	}
	files, err := collect(!v.Fast)
	if err != nil {
		return err
	}
	level := brotli.BestCompression
	if v.Fast {
		level = 5
	}
	manifest, err := finish(files, level)
	if err != nil {
		return err
	}
	small, err := compress(files, manifest, level)
	if err != nil {
		return err
	}
	if err := writeDist(files, small); err != nil {
		return err
	}
	return report(manifest, files, small)
}

// collect gathers every file of the app by name; small leaves out what only a
// developer reads.
func collect(small bool) (map[string][]byte, error) {
	files := map[string][]byte{}
	entries, err := os.ReadDir(staticFolder)
	if err != nil {
		return nil, fmt.Errorf("read static files: %w", err)
	}
	for _, e := range entries {
		if filepath.Ext(e.Name()) == ".js" && !slices.Contains(classic, e.Name()) {
			continue // a module, or a part of one
		}
		text, err := os.ReadFile(filepath.Join(staticFolder, e.Name()))
		if err != nil {
			return nil, fmt.Errorf("read static files: %w", err)
		}
		files[e.Name()] = text
	}
	if files["app.wasm"], err = buildWASM(small); err != nil {
		return nil, err
	}
	if err := tell(files, "compile.js", fmt.Appendf(nil, "%q", hex.EncodeToString(hash(files["app.wasm"])))); err != nil {
		return nil, err
	}
	if err := addWords(files); err != nil {
		return nil, err
	}
	if files[howFile], err = howPage(); err != nil {
		return nil, err
	}
	// The loader and the program must come from the same Go release.
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, fmt.Errorf("find GOROOT: %w", err)
	}
	loader := filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js")
	for _, name := range []string{"app.css", "compile.js", guard} { // the worker has to be told the list first
		if files[name], err = minified(name, files[name]); err != nil {
			return nil, err
		}
	}
	return files, errors.Join(bundle(files, loader), inline(files), addIcons(files))
}

// sizeFlags make the program smaller to download: no HTTP/2, which only servers
// of templates pull in, and no inlining, which repeats code. Measured on
// 2026-11-25: 1,713 kB before; 1,660 kB without inlining in our own packages;
// 1,571 kB without any. The same tree gives the same program on any machine: no path
// of it and no number of the build stands in there, or each build would be an update.
var sizeFlags = []string{"-trimpath", "-buildvcs=false", "-tags", "nethttpomithttp2", "-gcflags=all=-l", "-ldflags", "-s -w -buildid="}

func buildWASM(small bool) ([]byte, error) {
	folder := slimFolder
	if err := errors.Join(os.RemoveAll(folder), os.Mkdir(folder, 0o700)); err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	out := filepath.Join(folder, "app.wasm")
	env := []string{"GOOS=js", "GOARCH=wasm", "GOEXPERIMENT=nogreenteagc"} // the older collector is smaller, and one thread gains nothing from the newer
	modfile, err := slimmed(folder)
	if err != nil {
		return nil, err
	}
	overlay, err := overlaid(folder)
	if err != nil {
		return nil, err
	}
	args := append(append([]string{"build", "-modfile", modfile, "-overlay", overlay}, sizeFlags...), "-o", out, "./cmd/phone")
	if err := run(env, "go", args...); err != nil {
		return nil, err
	}
	program, err := os.ReadFile(out)
	if err != nil || !small {
		return program, err
	}
	for _, without := range []func([]byte) ([]byte, error){nameless, lineless} {
		if program, err = without(program); err != nil {
			return nil, err
		}
	}
	if err := os.WriteFile(out, program, 0o600); err != nil {
		return nil, err
	}
	return program, run(nil, "node", "-e", validate, out)
}

// validate asks an engine whether it would run the program, which was changed
// after the compiler wrote it.
const validate = `if (!WebAssembly.validate(require("fs").readFileSync(process.argv[1]))) { console.error("the program is not valid WebAssembly"); process.exit(1); }`

// finish writes the list of files into the service worker, so that the worker's
// own bytes change with any of them, and adds the manifest for the server.
func finish(files map[string][]byte, level int) (pwa.Manifest, error) {
	m := pwa.Manifest{Brotli: level}
	for _, name := range names(files) {
		if name == worker {
			continue
		}
		e, err := entry(name, files[name])
		if err != nil {
			return m, err
		}
		m.Assets = append(m.Assets, e)
	}
	m.Version = pwa.VersionOf(m.Assets)
	kept := slices.DeleteFunc(slices.Clone(m.Assets), isBitmap) // the home screen fetched those already
	list, err := json.Marshal(map[string]any{"version": m.Version, "shell": pwa.Shell(), "assets": kept})
	if err != nil {
		return m, err
	}
	if err := tell(files, worker, list); err != nil {
		return m, err
	}
	if files[worker], err = minified(worker, files[worker]); err != nil {
		return m, err
	}
	files[worker] = enclosed(files[worker])
	e, err := entry(worker, files[worker])
	if err != nil {
		return m, err
	}
	m.Assets = append(m.Assets, e)
	files[pwa.ManifestFile], err = json.MarshalIndent(m, "", "\t")
	return m, err
}

// tell writes what a script must know of the build into its line for that.
func tell(files map[string][]byte, name string, value []byte) error {
	const before, after = "const built = ", "; // cmd/dev writes this line"
	placeholder := []byte(before + "null" + after)
	if bytes.Count(files[name], placeholder) != 1 {
		return fmt.Errorf("%s has no single line %q", name, placeholder)
	}
	files[name] = bytes.Replace(files[name], placeholder, []byte(before+string(value)+after), 1)
	return nil
}

func isBitmap(e pwa.Entry) bool { return e.Type == "image/png" }

func entry(name string, body []byte) (pwa.Entry, error) {
	kind, ok := kinds[filepath.Ext(name)]
	if !ok {
		return pwa.Entry{}, fmt.Errorf("%s: no media type for this kind of file", name)
	}
	path := "/" + name
	if name == page {
		path = "/"
	}
	return pwa.Entry{Path: path, File: name, Type: kind, Hash: hex.EncodeToString(hash(body)), Size: len(body)}, nil
}

func hash(body []byte) []byte {
	sum := sha256.Sum256(body)
	return sum[:]
}

// widest is the largest window of RFC 7932, 16 MiB: the whole program is in it.
const widest = 24

// compress returns the files that gain from it, by name. The slow level takes
// many seconds for the program, so an unchanged file keeps its compressed form.
func compress(files map[string][]byte, m pwa.Manifest, level int) (map[string][]byte, error) {
	last := lastBuild(level)
	small := map[string][]byte{}
	for _, e := range m.Assets {
		if isBitmap(e) {
			continue
		}
		if body, err := os.ReadFile(filepath.Join(distFolder, e.File+".br")); err == nil && last[e.File] == e.Hash {
			small[e.File] = body
			continue
		}
		var b bytes.Buffer
		w := brotli.NewWriterOptions(&b, brotli.WriterOptions{Quality: level, LGWin: widest})
		if _, err := w.Write(files[e.File]); err != nil {
			return nil, fmt.Errorf("compress %s: %w", e.File, err)
		}
		if err := w.Close(); err != nil {
			return nil, fmt.Errorf("compress %s: %w", e.File, err)
		}
		if b.Len() < e.Size {
			small[e.File] = b.Bytes()
		}
	}
	return small, nil
}

// lastBuild returns the hashes of the files in dist, if they were compressed
// at this level. Without a usable manifest there are none.
func lastBuild(level int) map[string]string {
	var m pwa.Manifest
	text, err := os.ReadFile(filepath.Join(distFolder, pwa.ManifestFile))
	if err != nil || json.Unmarshal(text, &m) != nil || m.Brotli != level {
		return nil
	}
	hashes := map[string]string{}
	for _, e := range m.Assets {
		hashes[e.File] = e.Hash
	}
	return hashes
}

// writeDist replaces the built files. The manifest goes first and comes last:
// a build cut off in between counts as not built.
func writeDist(files, small map[string][]byte) error {
	manifest := filepath.Join(distFolder, pwa.ManifestFile)
	if err := os.Remove(manifest); err != nil && !os.IsNotExist(err) {
		return err
	}
	keep := map[string][]byte{}
	for name, body := range files {
		keep[name] = body
	}
	for name, body := range small {
		keep[name+".br"] = body
	}
	delete(keep, pwa.ManifestFile)
	if err := removeOthers(keep); err != nil {
		return err
	}
	for name, body := range keep {
		if err := os.WriteFile(filepath.Join(distFolder, name), body, 0o644); err != nil {
			return err
		}
	}
	return os.WriteFile(manifest, files[pwa.ManifestFile], 0o644)
}

func removeOthers(keep map[string][]byte) error {
	return filepath.WalkDir(distFolder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == ".gitkeep" {
			return err
		}
		if _, ok := keep[d.Name()]; ok {
			return nil
		}
		return os.Remove(path)
	})
}

func report(m pwa.Manifest, files, small map[string][]byte) error {
	var raw, total int
	var heavy error
	best := m.Brotli == brotli.BestCompression
	for _, e := range m.Assets {
		sent := e.Size
		if body, ok := small[e.File]; ok {
			sent = len(body)
		}
		fmt.Printf("%-24s %9d  %9d\n", e.File, e.Size, sent)
		switch {
		case isCatalogue(e):
			if sent > catalogueBudget && best {
				heavy = fmt.Errorf("the catalogue %s weighs %d bytes to download, more than the %d it may", e.File, sent, catalogueBudget)
			}
		case !isBitmap(e):
			raw += e.Size
			total += sent
		}
	}
	limit := fmt.Sprintf("(budget %d)", shellBudget)
	if !best {
		limit = "(compressed in haste, no size to go by)"
	}
	fmt.Printf("%-24s %9d  %9d  %s\nversion %s\n", "needed offline", raw, total, limit, m.Version)
	if total > shellBudget && best {
		return fmt.Errorf("the app weighs %d bytes to download, more than the %d it may", total, shellBudget)
	}
	return heavy
}

func isCatalogue(e pwa.Entry) bool { return filepath.Ext(e.File) == ".txt" }

func names(files map[string][]byte) []string {
	var list []string
	for name := range files {
		list = append(list, name)
	}
	slices.Sort(list)
	return list
}
