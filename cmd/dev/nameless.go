package main

import (
	"bytes"
	"fmt"
)

// nameless blanks the names of functions and of their files in the phone's
// program: only a stack trace on a developer's console reads them, and they are
// a fortieth of the download. The quick build keeps them. The runtime finds its
// own functions by number.
func nameless(program []byte) ([]byte, error) {
	out := bytes.Clone(program)
	for what, known := range map[string]string{"functions": "\x00runtime.gcenable\x00", "files": "\x00runtime/proc.go\x00"} {
		at := bytes.Index(out, []byte(known))
		if at < 0 || bytes.Count(out, []byte(known)) > 1 {
			return nil, fmt.Errorf("the table of %s is not where it was: look at runtime/symtab.go, or build without it", what)
		}
		from, to := at, at+1
		for end := bytes.LastIndexByte(out[:from], 0); nameLike(out[end+1 : from]); end = bytes.LastIndexByte(out[:from], 0) {
			from = end
		}
		for end := to + bytes.IndexByte(out[to:], 0); nameLike(out[to:end]); end = to + bytes.IndexByte(out[to:], 0) {
			to = end + 1
		}
		clear(out[from:to])
	}
	return out, nil
}

// longestName is more than the longest name of a generic function.
const longestName = 2000

// nameLike reports whether bytes may be one entry of a table of names.
func nameLike(b []byte) bool {
	return len(b) > 0 && len(b) < longestName && bytes.IndexFunc(b, func(r rune) bool { return r < ' ' || r == 127 }) < 0
}
