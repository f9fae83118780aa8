package main

import (
	"bytes"
	"path/filepath"
)

// uncommented drops whole lines of comment from a script or a style: they are read
// here, not on a phone, and would cost a slow link seconds. A comment behind code
// stays.
func uncommented(name string, text []byte) []byte {
	if ext := filepath.Ext(name); ext != ".js" && ext != ".css" {
		return text
	}
	var out bytes.Buffer
	block := false
	for line := range bytes.Lines(text) {
		bare := bytes.TrimSpace(line)
		block = block || bytes.HasPrefix(bare, []byte("/*"))
		switch {
		case block:
			block = !bytes.HasSuffix(bare, []byte("*/"))
		case len(bare) == 0, bytes.HasPrefix(bare, []byte("//")):
		default:
			out.Write(line)
		}
	}
	return out.Bytes()
}
