package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

type benchVerb struct{}

// Run measures in one go, so that figures of one run can be compared.
func (v *benchVerb) Run() error {
	return inOrder(
		part{"tools", installTools},
		part{"yardstick", installPeer},
		part{"build", (&buildVerb{NoGenerate: true}).Run},
		part{"fold, on this machine", func() error { return benchmark(nil, "./sync/job") }},
		part{"fold, under WASM", wasmFold},
		part{"ingest against raw inserts, and the queue", func() error { return benchmark(nil, "./server/sqlite", "-count=5") }},
		part{"1,000 phones at once", func() error {
			return run(nil, "go", "test", "-count=1", "-timeout", "60m", "-run", "TestMeasure", "-v", "./server", "-args", "-load")
		}},
		part{"replication against PouchDB", func() error { return browserTests("-run", "TestMeasurePeer", "-v", "-args", "-measure") }},
		part{"browser", func() error { return browserTests("-run", "TestMeasure$", "-v", "-args", "-measure") }},
	)
}

func benchmark(env []string, folder string, more ...string) error {
	return run(env, "go", append([]string{"test", "-run", "^$", "-bench", ".", "-benchmem", "-timeout", "30m", folder}, more...)...)
}

func wasmFold() error {
	runner, err := wasmRunner()
	if err != nil {
		return err
	}
	return benchmark(wasm, "./sync/job", "-exec", runner)
}

// installPeer brings what replication is compared with. Nothing of it ships.
func installPeer() error {
	folder := filepath.Join(browserFolder, "peer")
	if _, err := os.Stat(filepath.Join(folder, "node_modules")); err == nil {
		return nil
	}
	cmd := exec.Command("npm", "ci", "--no-audit", "--no-fund")
	cmd.Dir, cmd.Stdout, cmd.Stderr = folder, os.Stdout, os.Stderr
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("npm ci in %s: %w", folder, err)
	}
	return nil
}

type shotsVerb struct{}

// Run drives the app through a job and keeps pictures of it.
func (v *shotsVerb) Run() error {
	return inOrder(
		part{"tools", installTools},
		part{"pictures", func() error { return browserTests("-run", "TestPictures", "-v", "-args", "-shots") }},
	)
}
