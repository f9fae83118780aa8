package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// walker is a program that has the runtime walk its stacks: it grows one, collects
// garbage beneath it, recovers from a panic through deferred calls, and leaves
// goroutines waiting.
const walker = `package main

import (
	"fmt"
	"runtime"
	"strings"
)

type node struct {
	next *node
	text string
}

func grow(n int, head *node) int {
	var room [64]int
	room[n%64] = n
	if n == 0 {
		runtime.GC()
		return len(head.text)
	}
	return grow(n-1, &node{head, strings.Repeat("x", n)}) + room[n%64]
}

func fails(n int) (said string) {
	defer func() {
		if r := recover(); r != nil {
			said = fmt.Sprint(r)
		}
	}()
	if n > 0 {
		return fails(n - 1)
	}
	var none *node
	return none.text
}

func main() {
	done := make(chan int)
	for i := range 20 {
		go func() { done <- grow(500+i, &node{}) }()
	}
	sum := 0
	for range 20 {
		runtime.GC()
		sum += <-done
	}
	fmt.Println(sum, fails(3))
}
`

// TestLineless: a program without its lines does what it did with them.
func TestLineless(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "main.go"), []byte(walker), 0o600); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(folder, "walker.wasm")
	if err := run([]string{"GOOS=js", "GOARCH=wasm"}, "go", "build", "-o", file, filepath.Join(folder, "main.go")); err != nil {
		t.Fatal(err)
	}
	program, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	want := outputOf(t, file)
	if !strings.Contains(want, "nil pointer") {
		t.Fatalf("the program says %q", want)
	}
	small, err := lineless(program)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, small, 0o600); err != nil {
		t.Fatal(err)
	}
	if got := outputOf(t, file); got != want {
		t.Errorf("without its lines the program says %q, want %q", got, want)
	}
	differ := 0
	for i := range program {
		if program[i] != small[i] {
			differ++
		}
	}
	if len(small) != len(program) || differ < 10_000 {
		t.Errorf("%d of %d bytes differ from %d: the lines are not gone", differ, len(small), len(program))
	}
}

func outputOf(t *testing.T, program string) string {
	t.Helper()
	runner, err := wasmRunner()
	if err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(runner, program).CombinedOutput()
	if err != nil {
		t.Fatalf("run: %v\n%s", err, out)
	}
	return string(out)
}

func TestErrLineless(t *testing.T) {
	header := "\xf1\xff\xff\xff\x00\x00\x01\x08"
	for name, program := range map[string][]byte{
		"no table":      module("words"),
		"two tables":    module(header + strings.Repeat("\x01", 80) + header),
		"cut off":       module(header),
		"beyond":        module(header + strings.Repeat("\x7f", 80)),
		"not a program": bytes.Repeat([]byte("x"), 100),
	} {
		if _, err := lineless(program); err == nil {
			t.Errorf("%s: it is taken as done", name)
		}
	}
}
