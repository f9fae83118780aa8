package pwa_test

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"strings"
	"testing"
	"testing/fstest"

	"strutcard/pwa"
)

// built makes a folder as the build writes it.
func built(t *testing.T, bodies map[string]string) fstest.MapFS {
	t.Helper()
	folder := fstest.MapFS{}
	var m pwa.Manifest
	for file, body := range bodies {
		sum := sha256.Sum256([]byte(body))
		m.Assets = append(m.Assets, pwa.Entry{Path: "/" + file, File: file, Type: "text/css", Hash: hex.EncodeToString(sum[:]), Size: len(body)})
		folder[file] = &fstest.MapFile{Data: []byte(body)}
	}
	m.Version = pwa.VersionOf(m.Assets)
	text, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	folder[pwa.ManifestFile] = &fstest.MapFile{Data: text}
	return folder
}

func TestRead(t *testing.T) {
	t.Run("OK", func(t *testing.T) {
		folder := built(t, map[string]string{"a.css": "a{}"})
		folder["a.css.br"] = &fstest.MapFile{Data: []byte("small")}
		assets, version, err := pwa.Read(folder)
		if err != nil {
			t.Fatal(err)
		}
		if len(assets) != 1 || version == "" {
			t.Fatalf("got %d assets, version %q", len(assets), version)
		}
		if a := assets[0]; a.Path != "/a.css" || a.Type != "text/css" || string(a.Body) != "a{}" || string(a.Brotli) != "small" {
			t.Errorf("asset = %+v", a)
		}
	})
	for name, spoil := range map[string]func(fstest.MapFS){
		"ErrNotBuilt": func(f fstest.MapFS) { delete(f, pwa.ManifestFile) },
		"ErrMissing":  func(f fstest.MapFS) { delete(f, "a.css") },
		"ErrChanged":  func(f fstest.MapFS) { f["a.css"] = &fstest.MapFile{Data: []byte("b{}")} },
	} {
		t.Run(name, func(t *testing.T) {
			folder := built(t, map[string]string{"a.css": "a{}"})
			spoil(folder)
			if _, _, err := pwa.Read(folder); err == nil || !strings.Contains(err.Error(), "go run ./cmd/dev build") {
				t.Errorf("err = %v, want one that says how to build", err)
			}
		})
	}
}

func TestVersionOf(t *testing.T) {
	base := []pwa.Entry{{Path: "/a", Hash: "1"}, {Path: "/b", Hash: "2"}}
	changed := []pwa.Entry{{Path: "/a", Hash: "1"}, {Path: "/b", Hash: "3"}}
	moved := []pwa.Entry{{Path: "/a", Hash: "1"}, {Path: "/c", Hash: "2"}}
	if pwa.VersionOf(base) == pwa.VersionOf(changed) || pwa.VersionOf(base) == pwa.VersionOf(moved) {
		t.Error("two different apps have one version")
	}
}

// Whichever state this checkout is in, what Lookup says fits what Assets says.
func TestLookup(t *testing.T) {
	assets, err := pwa.Assets()
	if err != nil {
		if _, ok := pwa.Lookup("/"); ok {
			t.Errorf("Lookup finds a page although %v", err)
		}
		if !strings.Contains(err.Error(), "go run ./cmd/dev build") {
			t.Errorf("err = %v, want one that says how to build", err)
		}
		return
	}
	for _, want := range assets {
		if got, ok := pwa.Lookup(want.Path); !ok || got.Hash != want.Hash {
			t.Errorf("Lookup(%q) = %v, %v", want.Path, got.Hash, ok)
		}
	}
	page, _ := pwa.Lookup("/")
	for _, path := range pwa.Shell() {
		if got, ok := pwa.Lookup(path); !ok || got.Hash != page.Hash {
			t.Errorf("Lookup(%q) is not the page", path)
		}
	}
	for _, path := range []string{"", "app.css", "/../app.css", "/%61pp.css", "/assets.json", "/.gitkeep", "/APP.CSS", "/app.css.br"} {
		if a, ok := pwa.Lookup(path); ok {
			t.Errorf("Lookup(%q) finds %s", path, a.Path)
		}
	}
}
