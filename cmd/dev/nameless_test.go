package main

import (
	"bytes"
	"encoding/binary"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// module is a WebAssembly program that holds data and does nothing. Each segment
// stands at a place whose last byte of seven bits is a lone sign: it is zero.
func module(segments ...string) []byte {
	data := binary.AppendUvarint(nil, uint64(len(segments)))
	for i, s := range segments {
		data = append(data, 0x00, 0x41, 0xa0+byte(i), 0xe4, 0xc1, 0x00, 0x0b)
		data = append(binary.AppendUvarint(data, uint64(len(s))), s...)
	}
	out := []byte("\x00asm\x01\x00\x00\x00\x05\x04\x01\x00\x80\x02") // one memory of 256 pages
	out = append(out, 11)
	return append(binary.AppendUvarint(out, uint64(len(data))), data...)
}

const (
	someNames = "\x00go:buildid\x00runtime.gcenable\x00strutcard/sync/job.Fold\x00"
	someFiles = "\x00runtime/proc.go\x00strutcard/sync/job/fold.go\x00"
)

func TestNameless(t *testing.T) {
	// A segment is written without its last zeros: right after the name stands a header.
	program := module("code\x01"+someNames, strings.TrimSuffix(someFiles, "\x00"), "\x02words that stay\x00")
	got, err := nameless(program)
	if err != nil {
		t.Fatal(err)
	}
	for _, gone := range []string{"Fold", "fold.go", "buildid"} {
		if bytes.Contains(got, []byte(gone)) {
			t.Errorf("%s is left", gone)
		}
	}
	before, err := payloads(program)
	if err != nil {
		t.Fatal(err)
	}
	after, err := payloads(got)
	if err != nil || len(after) != 3 || after[2] != before[2] {
		t.Fatalf("segments = %v, %v, want %v", after, err, before)
	}
	if text := string(got[after[2].from:after[2].to]); text != "\x02words that stay\x00" {
		t.Errorf("more than names is gone: %q", text)
	}
	valid(t, program)
	valid(t, got)
}

// valid asks the engine that the tests run in anyway.
func valid(t *testing.T, program []byte) {
	t.Helper()
	name := filepath.Join(t.TempDir(), "program.wasm")
	if err := os.WriteFile(name, program, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("node", "-e", validate, name).CombinedOutput(); err != nil {
		t.Errorf("no browser would run this: %v %s", err, out)
	}
}

func TestErrNameless(t *testing.T) {
	whole := module(someNames, someFiles)
	tests := map[string][]byte{
		"no table":        module(strings.ReplaceAll(someNames, "gcenable", "gcdisable"), someFiles),
		"two tables":      module(someNames, someNames, someFiles),
		"no data":         whole[:14],
		"cut off":         whole[:len(whole)-5],
		"not a program":   []byte("<html>the network wants a sign-in</html>"),
		"another segment": bytes.Replace(whole, []byte{0x00, 0x41, 0xa0}, []byte{0x02, 0x41, 0xa0}, 1),
	}
	for name, program := range tests {
		t.Run(name, func(t *testing.T) {
			if _, err := nameless(program); err == nil {
				t.Error("it is taken as done")
			}
		})
	}
}
