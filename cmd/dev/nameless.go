package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// nameless blanks the names of functions and of their files in the phone's
// program: only a stack trace on a developer's console reads them, and they are
// a fortieth of the download. The quick build keeps them. The runtime finds its
// own functions by number.
func nameless(program []byte) ([]byte, error) {
	spans, err := payloads(program)
	if err != nil {
		return nil, err
	}
	out := bytes.Clone(program)
	for what, known := range map[string]string{"functions": "\x00runtime.gcenable\x00", "files": "\x00runtime/proc.go\x00"} {
		found := 0
		for _, s := range spans {
			data := out[s.from:s.to:s.to]
			if at := bytes.Index(data, []byte(known)); at >= 0 {
				blank(data, at)
				found++
			}
		}
		if found != 1 {
			return nil, fmt.Errorf("the table of %s stands in %d places, not one: look at runtime/symtab.go, or build without it", what, found)
		}
	}
	return out, nil
}

// blank clears the table of names with NULs between them around one of the NULs.
// A segment is written without the zeros at its ends.
func blank(data []byte, at int) {
	from, to := at, at+1
	for from > 0 {
		end := bytes.LastIndexByte(data[:from], 0)
		if !nameLike(data[end+1 : from]) {
			break
		}
		from = max(end, 0)
	}
	for to < len(data) {
		n := bytes.IndexByte(data[to:], 0)
		if n < 0 {
			n = len(data) - to
		}
		if !nameLike(data[to : to+n]) {
			break
		}
		to = min(to+n+1, len(data))
	}
	clear(data[from:to])
}

// longestName is more than the longest name of a generic function.
const longestName = 2000

// nameLike reports whether bytes may be one entry of a table of names.
func nameLike(b []byte) bool {
	return len(b) > 0 && len(b) < longestName && bytes.IndexFunc(b, func(r rune) bool { return r < ' ' || r == 127 }) < 0
}

// span is the place of some bytes in the program.
type span struct{ from, to int }

// payloads finds the contents of the data segments of a WebAssembly program
// (core specification 2.0, 5.5.14): the headers between them are code to the
// browser, and one changed bit of them stops the program.
func payloads(program []byte) ([]span, error) {
	const header, dataSection = 8, 11
	for at := header; at < len(program); {
		id := program[at]
		size, body, err := number(program, at+1)
		if err != nil {
			return nil, err
		}
		if id == dataSection {
			return segments(program, body)
		}
		at = body + size
	}
	return nil, errors.New("the program has no data")
}

func segments(program []byte, at int) ([]span, error) {
	count, at, err := number(program, at)
	if err != nil {
		return nil, err
	}
	var out []span
	for range count {
		const active, constant, end = 0x00, 0x41, 0x0b
		if at+2 > len(program) || program[at] != active || program[at+1] != constant {
			return nil, errors.New("a data segment is not where a constant says")
		}
		for at += 2; at < len(program) && program[at]&0x80 != 0; at++ {
		}
		if at++; at >= len(program) || program[at] != end {
			return nil, errors.New("the place of a data segment does not end")
		}
		size, body, err := number(program, at+1)
		if err != nil {
			return nil, err
		}
		if at = body + size; at > len(program) {
			return nil, errors.New("a data segment reaches beyond the program")
		}
		out = append(out, span{body, at})
	}
	return out, nil
}

// number reads an unsigned LEB128 number and returns where it ends.
func number(program []byte, at int) (value, end int, err error) {
	v, n := binary.Uvarint(program[min(at, len(program)):])
	if n <= 0 || v > uint64(len(program)) && v > 1<<31 {
		return 0, 0, errors.New("a number in the program cannot be read")
	}
	return int(v), at + n, nil
}
