//go:build !js

package main

import (
	"fmt"
	"os"
)

// main on the host only says what this program is, so that "go build ./..." works.
func main() {
	fmt.Fprintln(os.Stderr, "phone runs in a browser. Build it with: go run ./cmd/dev build")
	os.Exit(2)
}
