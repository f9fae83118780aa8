// Package table writes tables for a spreadsheet, as RFC 4180 has it, in UTF-8.
package table

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"strutcard/sync/event"
)

// Cell is a field that is safe in a spreadsheet: a number, or a text that no
// program takes for a formula.
type Cell string

// Text guards what a person wrote: a spreadsheet runs a field that begins like a
// formula.
func Text(s string) Cell {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return Cell("'" + s)
	}
	return Cell(s)
}

// Number writes an integer of small units as a decimal, exactly; per is how many
// of them make one, a power of ten.
func Number(v, per int64) Cell {
	digits := len(strconv.FormatInt(per, 10)) - 1
	sign := ""
	if v < 0 {
		sign, v = "-", -v
	}
	whole, rest := strconv.FormatInt(v/per, 10), strconv.FormatInt(v%per, 10)
	if per == 1 || v%per == 0 {
		return Cell(sign + whole)
	}
	rest = strings.Repeat("0", digits-len(rest)) + rest
	return Cell(sign + whole + "." + strings.TrimRight(rest, "0"))
}

// Known is a number, or nothing where 0 means that it is not known.
func Known(v, per int64) Cell {
	if v == 0 {
		return ""
	}
	return Number(v, per)
}

// Yes is a yes or a no.
func Yes(b bool) Cell {
	if b {
		return "yes"
	}
	return "no"
}

// Write writes the rows; the first is the heading.
func Write(to io.Writer, rows [][]Cell) error {
	w := csv.NewWriter(to)
	w.UseCRLF = true
	for _, row := range rows {
		fields := make([]string, len(row))
		for i, c := range row {
			fields[i] = string(c)
		}
		if err := w.Write(fields); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

// Unit is the unit of a reading in a table, and how many of the record's make one.
func Unit(u event.Unit) (name string, per int64) {
	shown := map[event.Unit]string{event.UM: "mm", event.Mdeg: "deg", event.G: "kg", event.Pa: "kPa"}
	return shown[u], 1000
}
