package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

func tooling[T any](t *testing.T, name string) (v T) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("../../e2e", name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return v
}

// TestPins holds the browser tooling together: the npm package is the very one
// that the Go package drives, and each is pinned by its hash.
func TestPins(t *testing.T) {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/playwright-community/playwright-go").Output()
	if err != nil {
		t.Fatalf("find the Go package: %v", err)
	}
	source, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(out)), "run.go"))
	if err != nil {
		t.Fatal(err)
	}
	wants := regexp.MustCompile(`playwrightCliVersion = "([^"]+)"`).FindSubmatch(source)
	if wants == nil {
		t.Fatal("the Go package no longer says which driver it wants: look how it does, and mend this test")
	}
	asked := tooling[struct {
		Dev map[string]string `json:"devDependencies"`
	}](t, "package.json")
	locked := tooling[struct {
		Packages map[string]struct{ Version, Integrity string }
	}](t, "package-lock.json")
	if got := asked.Dev["playwright-core"]; got != string(wants[1]) {
		t.Errorf("package.json asks for playwright-core %q, and the Go package drives %s alone", got, wants[1])
	}
	for name, version := range asked.Dev {
		got := locked.Packages["node_modules/"+name]
		if got.Version != version || !strings.HasPrefix(got.Integrity, "sha512-") {
			t.Errorf("%s: asked for %q, locked at %q with the hash %q", name, version, got.Version, got.Integrity)
		}
	}
}
