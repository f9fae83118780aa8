package main

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the test program stand in for the real one.
func TestMain(m *testing.M) {
	if os.Getenv("STRUTCARD_AS_PROGRAM") != "" {
		main()
		return
	}
	testscript.Main(m, map[string]func(){"strutcard": main})
}

// start runs the program until it printed a line that fits, and returns all that
// it printed so far.
func start(t *testing.T, until string, args ...string) (cmd *exec.Cmd, scratch, said string) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	scratch = t.TempDir()
	cmd = exec.Command(self, args...)
	cmd.Env = append(os.Environ(), "STRUTCARD_AS_PROGRAM=1", "TMPDIR="+scratch)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	timer := time.AfterFunc(20*time.Second, func() { _ = cmd.Process.Kill() })
	t.Cleanup(func() { timer.Stop(); _ = cmd.Process.Kill() })
	lines, fits := bufio.NewScanner(out), regexp.MustCompile(until)
	for lines.Scan() {
		said += lines.Text() + "\n"
		if fits.MatchString(lines.Text()) {
			return cmd, scratch, said
		}
	}
	t.Fatalf("never said %q, only %q", until, said)
	return nil, "", ""
}

func TestDemo(t *testing.T) {
	cmd, scratch, said := start(t, "Password:", "demo", "--addr", "127.0.0.1:0")
	if !regexp.MustCompile(`http://localhost:\d+/join#\S{22}`).MatchString(said) || !strings.Contains(said, "invented") {
		t.Errorf("it said %q", said)
	}
	began := time.Now()
	if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Wait(); err != nil {
		t.Errorf("after SIGTERM: %v", err)
	}
	if took := time.Since(began); took > 6*time.Second {
		t.Errorf("stopped after %v, want at most 6 s", took)
	}
	if left, err := filepath.Glob(filepath.Join(scratch, "*")); err != nil || len(left) > 0 {
		t.Errorf("the scratch folder is still there: %v, %v", left, err)
	}
}

func TestServePrintsSetUpLinkAtFirst(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "data")
	cmd, _, said := start(t, `/setup#\S{22}$`, "serve", "--addr", "127.0.0.1:0", "--data", dir, "--quiet")
	if !strings.Contains(said, "Serving at http://localhost:") {
		t.Errorf("it said %q", said)
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Wait(); err != nil {
		t.Errorf("after interrupt: %v", err)
	}
	if info, err := os.Stat(dir); err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("data folder: %v, %v, want it for its owner only", info, err)
	}
}
