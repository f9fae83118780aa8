// Package pwa holds the phone's app as built: every file with its type, its
// hash and its compressed form, for a server to serve.
package pwa

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"
)

//go:embed all:dist
var dist embed.FS

// Asset is one file of the app.
type Asset struct {
	Path   string // URL path from the root; the page itself is "/"
	Type   string // value of Content-Type
	Hash   string // SHA-256 of Body, lower-case hex; fit for a strong ETag
	Body   []byte
	Brotli []byte // Body compressed; nil where that gains nothing
}

// shell lists the paths that all answer with the page itself.
var shell = []string{"/", "/app", "/join"}

// Shell returns the paths that all answer with the asset "/".
func Shell() []string { return slices.Clone(shell) }

// Manifest is what the build writes down beside the files.
type Manifest struct {
	Version string  `json:"version"` // changes with any byte of any file
	Brotli  int     `json:"brotli"`  // compression level used
	Assets  []Entry `json:"assets"`
}

// Entry is one file in the manifest.
type Entry struct {
	Path string `json:"path"`
	File string `json:"file"` // name in dist
	Type string `json:"type"`
	Hash string `json:"hash"`
	Size int    `json:"size"`
}

// ManifestFile is the manifest's name in dist.
const ManifestFile = "assets.json"

// Read checks a built folder against its manifest and returns its files.
func Read(built fs.FS) ([]Asset, string, error) {
	text, err := fs.ReadFile(built, ManifestFile)
	if err != nil {
		return nil, "", fmt.Errorf("the phone's app is not built: run go run ./cmd/dev build (%w)", err)
	}
	var m Manifest
	if err := json.Unmarshal(text, &m); err != nil {
		return nil, "", fmt.Errorf("read %s: %w", ManifestFile, err)
	}
	assets := make([]Asset, 0, len(m.Assets))
	for _, e := range m.Assets {
		body, err := fs.ReadFile(built, e.File)
		if err != nil {
			return nil, "", fmt.Errorf("a file of the app is missing: run go run ./cmd/dev build (%w)", err)
		}
		sum := sha256.Sum256(body)
		if hex.EncodeToString(sum[:]) != e.Hash {
			return nil, "", fmt.Errorf("%s is not the file that was built: run go run ./cmd/dev build", e.File)
		}
		small, err := fs.ReadFile(built, e.File+".br")
		if err != nil {
			small = nil
		}
		assets = append(assets, Asset{Path: e.Path, Type: e.Type, Hash: e.Hash, Body: body, Brotli: small})
	}
	return assets, m.Version, nil
}

type files struct {
	assets  []Asset
	version string
	byPath  map[string]Asset
}

var load = sync.OnceValues(func() (files, error) {
	built, err := fs.Sub(dist, "dist")
	if err != nil {
		return files{}, err
	}
	assets, version, err := Read(built)
	if err != nil {
		return files{}, err
	}
	f := files{assets: assets, version: version, byPath: map[string]Asset{}}
	for _, a := range assets {
		f.byPath[a.Path] = a
	}
	return f, nil
})

// Assets returns every file of the app. It fails when the app was not built.
func Assets() ([]Asset, error) {
	f, err := load()
	return f.assets, err
}

// Version names the built app: it changes with any byte of any file.
func Version() (string, error) {
	f, err := load()
	return f.version, err
}

// Worker is the path of the script by which a browser finds a new version.
const Worker = "/sw.js"

// Lookup finds the file that answers a URL path, exactly as written: it
// neither cleans nor decodes. Each of Shell finds the page.
func Lookup(path string) (Asset, bool) {
	f, err := load()
	if err != nil {
		return Asset{}, false
	}
	if slices.Contains(shell, path) {
		path = "/"
	}
	a, ok := f.byPath[path]
	return a, ok
}

// VersionOf derives a version from the entries that a phone keeps.
func VersionOf(entries []Entry) string {
	var b bytes.Buffer
	for _, e := range entries {
		fmt.Fprintf(&b, "%s %s\n", e.Path, e.Hash)
	}
	sum := sha256.Sum256(b.Bytes())
	return strings.ToLower(hex.EncodeToString(sum[:8]))
}
