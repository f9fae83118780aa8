package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// shared is what runs on the phone too, and so is tested there too.
var shared = []string{"./calc/...", "./sync/..."}

// phone is everything that is built for the browser.
var phone = append([]string{"./pwa/client/...", "./pwa/browser/...", "./templates/...", "./cmd/phone"}, shared...)

var wasm = []string{"GOOS=js", "GOARCH=wasm"}

type checkVerb struct{}

// Run does every check that needs no browser and runs no test.
func (v *checkVerb) Run() error {
	return inOrder(
		part{"generated files are as committed", generatedIsCommitted},
		part{"gofmt", formatted},
		part{"go vet", func() error { return run(nil, "go", "vet", "./...") }},
		part{"go vet for js/wasm", func() error { return run(wasm, "go", append([]string{"vet"}, phone...)...) }},
		part{"staticcheck", func() error { return run(nil, "go", "tool", "staticcheck", "./...") }},
		part{"scripts parse", scriptsParse},
		part{"known vulnerabilities", vulnerabilities},
	)
}

// part is one piece of work with its name for the terminal.
type part struct {
	name string
	do   func() error
}

func inOrder(parts ...part) error {
	for _, p := range parts {
		fmt.Println("==", p.name)
		if err := p.do(); err != nil {
			return fmt.Errorf("%s: %w", p.name, err)
		}
	}
	return nil
}

// generatedIsCommitted generates again and asks git whether anything changed.
func generatedIsCommitted() error {
	before, err := generated()
	if err != nil {
		return err
	}
	if err := generate(); err != nil {
		return err
	}
	after, err := generated()
	if err != nil {
		return err
	}
	for name, body := range after {
		if !bytes.Equal(before[name], body) {
			return fmt.Errorf("%s was not up to date: commit what was just generated", name)
		}
	}
	return nil
}

func generated() (map[string][]byte, error) {
	names, err := filepath.Glob("templates/*_templ.go")
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	for _, name := range append(names, schemaFile) {
		if files[name], err = os.ReadFile(name); err != nil {
			return nil, err
		}
	}
	return files, nil
}

func formatted() error {
	var out bytes.Buffer
	cmd := exec.Command("gofmt", "-l", "calc", "cmd", "e2e", "pwa", "server", "sync", "templates")
	cmd.Stdout, cmd.Stderr = &out, os.Stderr
	if err := cmd.Run(); err != nil {
		return err
	}
	if out.Len() > 0 {
		return fmt.Errorf("not formatted:\n%s", out.String())
	}
	return nil
}

func scriptsParse() error {
	names, err := filepath.Glob("pwa/static/*.js")
	if err != nil {
		return err
	}
	desk, err := filepath.Glob("server/web/static/*.js")
	if err != nil {
		return err
	}
	for _, name := range append(names, desk...) {
		if err := run(nil, "node", "--check", name); err != nil {
			return err
		}
	}
	return nil
}

// wasmRunner is Go's own script that runs a js/wasm test in Node.
func wasmRunner() (string, error) {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", fmt.Errorf("find Go's folder: %w", err)
	}
	return filepath.Join(strings.TrimSpace(string(out)), "lib", "wasm", "go_js_wasm_exec"), nil
}
