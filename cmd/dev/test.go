package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
)

// browserFolder holds the pinned browser tooling.
const browserFolder = "e2e"

type testVerb struct {
	Only string `help:"Run only the browser tests that match this pattern."`
	Long bool   `help:"Race detector also where no goroutine is started."`
}

// Run installs what the tests need, then runs everything.
func (v *testVerb) Run() error {
	if v.Only != "" {
		return inOrder(part{"tools", installTools}, part{"browser tests", func() error { return browserTests("-run", v.Only, "-v") }})
	}
	return inOrder(
		part{"tools", installTools},
		part{"build", (&buildVerb{NoGenerate: true}).Run},
		part{"check", (&checkVerb{}).Run},
		part{"unit tests", v.unitTests},
		part{"shared packages under WASM", wasmTests},
		part{"browser tests", func() error { return browserTests() }},
	)
}

// installTools brings the browser and its driver, when they are not there yet.
func installTools() error {
	if _, err := os.Stat(filepath.Join(browserFolder, "node_modules", "playwright-core", "cli.js")); err != nil {
		cmd := exec.Command("npm", "ci", "--no-audit", "--no-fund")
		cmd.Dir, cmd.Stdout, cmd.Stderr = browserFolder, os.Stdout, os.Stderr
		if err := cmd.Run(); err != nil {
			return fmt.Errorf("npm ci in %s: %w", browserFolder, err)
		}
	}
	return installPrograms()
}

// programs are Debian's packages by the program that each brings: the browsers,
// the screen that one of them needs, the compiler of the race detector and of
// e2e/testdata/keep.c, and the units that the quantities are compared with.
var programs = map[string]string{"chromium": "chromium", "firefox-esr": "firefox-esr", "WebKitWebDriver": "webkit2gtk-driver",
	"Xvfb": "xvfb", "cc": "gcc", "units": "units"}

func installPrograms() error {
	var missing []string
	for program, name := range programs {
		if _, err := exec.LookPath(program); err != nil {
			missing = append(missing, name)
		}
	}
	switch {
	case len(missing) == 0:
		return nil
	case os.Geteuid() != 0:
		return fmt.Errorf("the tests need some of Debian's packages: sudo apt-get install %s", strings.Join(missing, " "))
	}
	return errors.Join(run(nil, "apt-get", "update"),
		run([]string{"DEBIAN_FRONTEND=noninteractive"}, "apt-get", append([]string{"install", "-y"}, missing...)...))
}

func (v *testVerb) unitTests() error {
	packages, err := hostPackages()
	if err != nil {
		return err
	}
	var raced, alone []string
	for _, p := range packages {
		if startsNone.MatchString(p) && !v.Long {
			alone = append(alone, p)
		} else {
			raced = append(raced, p)
		}
	}
	if len(alone) > 0 {
		if err := run(nil, "go", append([]string{"test", "-timeout", "15m"}, alone...)...); err != nil {
			return err
		}
	}
	return run(nil, "go", append([]string{"test", "-race", "-timeout", "15m"}, raced...)...)
}

// startsNone are the packages that start no goroutine, as a rule holds them to: the
// race detector makes them many times slower, and has nothing to find there.
var startsNone = regexp.MustCompile(`^strutcard/(calc|sync|templates)\b`)

// hostPackages is every package but the browser tests.
func hostPackages() ([]string, error) {
	out, err := exec.Command("go", "list", "./...").Output()
	if err != nil {
		return nil, fmt.Errorf("list packages: %w", err)
	}
	var packages []string
	for _, p := range strings.Fields(string(out)) {
		if p != "strutcard/e2e" {
			packages = append(packages, p)
		}
	}
	return packages, nil
}

func wasmTests() error {
	runner, err := wasmRunner()
	if err != nil {
		return err
	}
	return run(wasm, "go", append([]string{"test", "-timeout", "15m", "-exec", runner}, shared...)...)
}

func browserTests(more ...string) error {
	return run(nil, "go", append([]string{"test", "-count=1", "-timeout", "60m", "-parallel", "4", "./e2e"}, more...)...)
}
