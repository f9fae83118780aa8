package main

import (
	"os"
	"path/filepath"
	"syscall"
)

type upVerb struct {
	Addr string `default:"127.0.0.1:8080" help:"Address to listen on."`
}

// Run builds the app and becomes the demo server.
func (v *upVerb) Run() error {
	if err := (&buildVerb{Fast: true}).Run(); err != nil {
		return err
	}
	binary := filepath.Join(os.TempDir(), "strutcard-demo")
	if err := run(nil, "go", "build", "-o", binary, "./cmd/strutcard"); err != nil {
		return err
	}
	return syscall.Exec(binary, []string{binary, "demo", "--addr", v.Addr}, os.Environ())
}
