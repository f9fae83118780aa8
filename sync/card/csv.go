package card

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"strutcard/sync/event"
)

// cell is a field that is safe in a spreadsheet: a number, or a text that no
// program takes for a formula.
type cell string

// text guards what a person wrote: a spreadsheet runs a field that begins like a
// formula.
func text(s string) cell {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return cell("'" + s)
	}
	return cell(s)
}

// number writes an integer of small units as a decimal, exactly.
func number(v, per int64) cell {
	digits := len(strconv.FormatInt(per, 10)) - 1
	sign := ""
	if v < 0 {
		sign, v = "-", -v
	}
	whole, rest := strconv.FormatInt(v/per, 10), strconv.FormatInt(v%per, 10)
	if per == 1 || v%per == 0 {
		return cell(sign + whole)
	}
	rest = strings.Repeat("0", digits-len(rest)) + rest
	return cell(sign + whole + "." + strings.TrimRight(rest, "0"))
}

// known is a number, or nothing where 0 means that it is not known.
func known(v, per int64) cell {
	if v == 0 {
		return ""
	}
	return number(v, per)
}

func yes(b bool) cell {
	if b {
		return "yes"
	}
	return "no"
}

// WriteFasteners writes one line for each pass that was made, and one for each
// fastener without any, as RFC 4180 has it, in UTF-8.
func (c Card) WriteFasteners(to io.Writer) error {
	rows := [][]cell{{"fastener", "place", "corner", "thread", "count", "hardware", "asked_Nm", "tolerance_Nm", "asked_angle_deg", "source", "questioned",
		"state", "clear", "reason", "pass", "made_Nm", "made_angle_deg", "wrench_set_Nm", "wrench", "adapter", "made_count", "holds", "hurried", "at_utc", "device"}}
	for _, f := range c.Fasteners {
		head := []cell{text(string(f.ID)), text(f.Place), text(string(f.Corner)), text(f.Thread), number(f.Count, 1), text(f.Hardware),
			known(f.TorqueCNM, 100), known(f.TolCNM, 100), known(f.AngleMdeg, 1000), text(f.Source), text(f.Questioned),
			text(f.Phase), yes(f.Clear), text(f.Reason)}
		if len(f.Passes) == 0 {
			rows = append(rows, append(head, make([]cell, len(rows[0])-len(head))...))
		}
		for _, p := range f.Passes {
			rows = append(rows, append(head[:len(head):len(head)], text(string(p.Pass)), known(p.TorqueCNM, 100), known(p.AngleMdeg, 1000),
				known(p.SetCNM, 100), text(p.Wrench), text(p.Adapter), number(p.Count, 1), yes(p.Holds), yes(p.Hurried), text(p.At), text(c.DeviceName(p.By))))
		}
	}
	return write(to, rows)
}

// shownIn is the unit of a value in a table, and how many of the record's make one.
var shownIn = map[event.Unit]struct {
	name string
	per  int64
}{event.UM: {"mm", 1000}, event.Mdeg: {"deg", 1000}, event.G: {"kg", 1000}, event.Pa: {"kPa", 1000}}

// WriteReadings writes one line for each reading, with a column for the values
// of each unit, so that a column holds one kind of number.
func (c Card) WriteReadings(to io.Writer) error {
	units := []event.Unit{event.UM, event.Mdeg, event.G, event.Pa}
	head := []cell{"quantity", "place", "purpose"}
	for _, what := range []string{"value", "u95", "target", "tolerance"} {
		for _, u := range units {
			head = append(head, cell(what+"_"+shownIn[u].name))
		}
	}
	rows := [][]cell{append(head, "verdict", "stale", "method", "formula", "instrument", "load", "takes", "source_of_target", "at_utc", "device")}
	for _, r := range c.Readings {
		t, source := [2]cell{}, ""
		per := shownIn[r.Unit].per
		if r.Target != nil {
			t, source = [2]cell{number(r.Target.Value, per), number(r.Target.Tol, per)}, r.Target.Source
		}
		row := []cell{text(string(r.Quantity)), text(string(r.Place)), text(string(r.Purpose))}
		for _, v := range []cell{number(r.Value, per), known(r.U95, per), t[0], t[1]} {
			for _, u := range units {
				row = append(row, map[bool]cell{true: v}[u == r.Unit])
			}
		}
		rows = append(rows, append(row, text(r.Verdict), text(r.Stale), text(r.Method), text(r.Formula), text(r.Instrument), text(r.Load),
			number(int64(max(1, len(r.Takes))), 1), text(source), text(r.At), text(c.DeviceName(r.By))))
	}
	return write(to, rows)
}

func write(to io.Writer, rows [][]cell) error {
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

// DeviceName is what the shop calls a device, or the end of its id.
func (c Card) DeviceName(id event.DeviceID) string {
	for _, d := range c.Devices {
		if d.Device == id && d.Name != "" {
			return d.Name
		}
	}
	return "device …" + string(id[max(0, len(id)-6):])
}
