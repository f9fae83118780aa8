// Command dev builds and checks the project: go run ./cmd/dev <verb>.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/alecthomas/kong"
)

// verbs is the command line; each verb has a Run method in its own file.
type verbs struct {
	Build buildVerb `cmd:"" help:"Build the phone's app into pwa/dist."`
	Up    upVerb    `cmd:"" help:"Build, then serve an invented demo shop from a scratch folder."`
	Check checkVerb `cmd:"" help:"Generated files, gofmt, vet, staticcheck, scripts, known vulnerabilities."`
	Test  testVerb  `cmd:"" help:"Install what the tests need, then run everything."`
	Bench benchVerb `cmd:"" help:"Measure sizes, cold open and tap-to-disk in a real browser."`
	Shots shotsVerb `cmd:"" help:"Take pictures of the screens into e2e/shots."`
	Words wordsVerb `cmd:"" help:"List the texts that the German catalogue lacks."`
}

func main() {
	var cli verbs
	ctx := kong.Parse(&cli, kong.Name("dev"), kong.Description("Builds and checks strutcard."))
	ctx.FatalIfErrorf(enterRoot())
	ctx.FatalIfErrorf(ctx.Run())
}

// enterRoot makes the module's root the working folder.
func enterRoot() error {
	out, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return fmt.Errorf("find the module: %w", err)
	}
	file := strings.TrimSpace(string(out))
	if filepath.Base(file) != "go.mod" {
		return fmt.Errorf("run this inside the project: no go.mod above %q", file)
	}
	return os.Chdir(filepath.Dir(file))
}

// run carries out a command with its output on the terminal.
func run(env []string, name string, args ...string) error {
	cmd := exec.Command(name, args...)
	cmd.Stdout, cmd.Stderr = os.Stdout, os.Stderr
	cmd.Env = append(os.Environ(), env...)
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return nil
}
