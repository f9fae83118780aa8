// Package e2e drives the real app in a real browser against the real server.
package e2e

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/playwright-community/playwright-go"
)

var (
	shots   = flag.Bool("shots", false, "keep pictures of the screens in e2e/shots")
	measure = flag.Bool("measure", false, "measure sizes and times")
)

var pw *playwright.Playwright

func TestMain(m *testing.M) {
	flag.Parse()
	code, err := runAll(m)
	if err != nil {
		fmt.Fprintln(os.Stderr, "browser tests:", err)
		code = 1
	}
	os.Exit(code)
}

// runAll starts the driver from the pinned npm package and Debian's browser:
// nothing is downloaded here.
func runAll(m *testing.M) (int, error) {
	driver, err := driverFolder()
	if err != nil {
		return 1, fmt.Errorf("%w; run: go run ./cmd/dev test", err)
	}
	node, err := exec.LookPath("node")
	if err != nil {
		return 1, err
	}
	if err := os.Setenv("PLAYWRIGHT_NODEJS_PATH", node); err != nil {
		return 1, err
	}
	pw, err = playwright.Run(&playwright.RunOptions{DriverDirectory: driver, SkipInstallBrowsers: true})
	if err != nil {
		return 1, fmt.Errorf("start driver: %w", err)
	}
	code := m.Run()
	return code, pw.Stop()
}

// driverFolder is the layout that playwright-go expects around the npm package.
func driverFolder() (string, error) {
	core, err := filepath.Abs("node_modules/playwright-core")
	if err != nil {
		return "", err
	}
	if _, err := os.Stat(filepath.Join(core, "cli.js")); err != nil {
		return "", fmt.Errorf("the browser tooling is not installed: %w", err)
	}
	folder := filepath.Join(filepath.Dir(core), ".driver")
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return "", err
	}
	link := filepath.Join(folder, "package")
	if err := os.Symlink(core, link); err != nil && !os.IsExist(err) {
		return "", err
	}
	return folder, nil
}
