package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
)

// lineless takes the tables of files and lines out of the phone's program: like
// the names, only a stack trace reads them. What the runtime itself walks by, the
// depth of each stack and what on it points, stays. The layout is that of
// runtime/symtab.go and runtime2.go in Go 1.26.
func lineless(program []byte) ([]byte, error) {
	out := bytes.Clone(program)
	m, err := memoryOf(out)
	if err != nil {
		return nil, err
	}
	t, err := m.tableOf()
	if err != nil {
		return nil, err
	}
	used := make([]bool, len(t.values))
	for i := range t.functions {
		f := t.at(i)
		if f+functionSize > len(m.image) {
			return nil, errors.New("a function's record reaches beyond the data")
		}
		for _, field := range []int{fileField, lineField, unitField, startField} {
			binary.LittleEndian.PutUint32(m.image[f+field:], 0) // 0: no table
		}
		kept := []uint32{binary.LittleEndian.Uint32(m.image[f+stackField:])}
		for n := range int(binary.LittleEndian.Uint32(m.image[f+countField:])) {
			kept = append(kept, binary.LittleEndian.Uint32(m.image[f+functionSize+4*n:]))
		}
		for _, from := range kept {
			if err := t.use(used, int(from)); err != nil {
				return nil, err
			}
		}
	}
	for i := range t.values {
		if !used[i] {
			t.values[i] = 0
		}
	}
	m.writeBack(out)
	return out, nil
}

// Offsets in the record of a function (runtime2.go, _func), in bytes.
const (
	stackField   = 16
	fileField    = 20
	lineField    = 24
	countField   = 28 // of the tables that follow the record
	unitField    = 32
	startField   = 36
	functionSize = 44
)

// memory is what the program's data segments put into memory.
type memory struct {
	image []byte
	parts []segment
}

// segment is a data segment: where it stands in the program, and where in memory.
type segment struct {
	span
	at int
}

func memoryOf(program []byte) (memory, error) {
	spans, err := payloads(program)
	if err != nil {
		return memory{}, err
	}
	var m memory
	for _, s := range spans {
		at, err := placeOf(program, s)
		if err != nil {
			return memory{}, err
		}
		if end := at + s.to - s.from; end > len(m.image) {
			m.image = append(m.image, make([]byte, end-len(m.image))...)
		}
		copy(m.image[at:], program[s.from:s.to])
		m.parts = append(m.parts, segment{s, at})
	}
	return m, nil
}

func (m memory) writeBack(program []byte) {
	for _, p := range m.parts {
		copy(program[p.from:p.to], m.image[p.at:])
	}
}

// table is the program's table of functions.
type table struct {
	image     []byte
	start     int // of the records
	functions int
	values    []byte // by which records say what holds at which instruction
}

// tableOf finds the header of the table (symtab.go, pcHeader).
func (m memory) tableOf() (table, error) {
	header := []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8}
	at := bytes.Index(m.image, header)
	if at < 0 || bytes.Contains(m.image[at+1:], header) || at+72 > len(m.image) {
		return table{}, errors.New("the table of functions does not stand in one place: look at runtime/symtab.go, or build without it")
	}
	word := func(n int) int { return int(binary.LittleEndian.Uint64(m.image[at+8*n:])) }
	functions, values, records := word(1), at+word(7), at+word(8)
	if functions < 1 || values < at || records <= values || records+8*functions+4 > len(m.image) {
		return table{}, fmt.Errorf("the table of %d functions does not fit the data", functions)
	}
	return table{image: m.image, start: records, functions: functions, values: m.image[values:records]}, nil
}

// at is where the record of a function stands.
func (t table) at(i int) int {
	return t.start + int(binary.LittleEndian.Uint32(t.image[t.start+8*i+4:]))
}

// use marks one list of values: pairs of numbers, ended by a zero that is not the
// first (symtab.go, pcvalue). Where there is none its place is 0.
func (t table) use(used []bool, from int) error {
	if from == 0 {
		return nil
	}
	for at, first := from, true; ; first = false {
		if at >= len(t.values) {
			return errors.New("a list of values has no end")
		}
		value, n := binary.Uvarint(t.values[at:])
		used[at] = true
		if value == 0 && !first {
			return nil
		}
		_, more := binary.Uvarint(t.values[min(at+n, len(t.values)):])
		if n <= 0 || more <= 0 || at+n+more > len(t.values) {
			return errors.New("a list of values cannot be read")
		}
		for i := range n + more {
			used[at+i] = true
		}
		at += n + more
	}
}

// placeOf reads the place of a segment in memory: the constant before its length.
func placeOf(program []byte, s span) (int, error) {
	const constant, end = 0x41, 0x0b
	for back := 3; back < 16 && s.from-back >= 0; back++ {
		if program[s.from-back] != constant || program[s.from-back-1] != 0 {
			continue
		}
		place, n := signed(program[s.from-back+1:])
		after := s.from - back + 1 + n
		if n == 0 || program[after] != end || place < 0 {
			continue
		}
		if size, body, err := number(program, after+1); err == nil && body == s.from && size == s.to-s.from {
			return place, nil
		}
	}
	return 0, errors.New("the place of a data segment cannot be read")
}

// signed reads a signed LEB128 number of 32 bits.
func signed(b []byte) (value, n int) {
	var v int64
	for n < len(b) && n < 5 {
		c := b[n]
		v |= int64(c&0x7f) << (7 * n)
		n++
		if c&0x80 == 0 {
			if c&0x40 != 0 {
				v |= -1 << (7 * n)
			}
			return int(v), n
		}
	}
	return 0, 0
}
