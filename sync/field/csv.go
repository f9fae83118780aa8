package field

import (
	"io"

	"strutcard/sync/table"
)

// Units of the tables: how many of a figure's unit make one of the table's.
const (
	perSecond  = 1000
	perPercent = 100
)

// spreadHead is the heading of a sample's columns.
func spreadHead(name, unit string) []table.Cell {
	var out []table.Cell
	for _, what := range []string{"jobs", "values", "least_" + unit, "q1_" + unit, "median_" + unit, "q3_" + unit, "most_" + unit, "too_few", "each_" + unit} {
		out = append(out, table.Cell(name+"_"+what))
	}
	return out
}

// spreadCells is a sample in a row: summed up, or one by one where it is too small.
func spreadCells(s Sample, per int64) []table.Cell {
	out := []table.Cell{table.Number(int64(s.Jobs), 1), table.Number(int64(len(s.Values)), 1)}
	spread, ok := s.Spread()
	if ok {
		for _, v := range []int64{spread.Least, spread.Q1, spread.Median, spread.Q3, spread.Most} {
			out = append(out, table.Number(v, per))
		}
		return append(out, table.Yes(false), "")
	}
	each := ""
	for i, v := range s.Values {
		if i > 0 {
			each += "; "
		}
		each += string(table.Number(v, per))
	}
	if len(s.Values) > 1 {
		each = string(table.Text(each)) // a lone number is one, also below zero
	}
	return append(out, "", "", "", "", "", table.Yes(true), table.Cell(each))
}

// WriteSteps writes one line for each step. The unit ends the name of a column.
func (r Result) WriteSteps(to io.Writer) error {
	head := append([]table.Cell{"step", "title", "jobs_all", "jobs_finished", "jobs_done", "jobs_skipped", "jobs_stopped_here"}, spreadHead("time", "s")...)
	head = append(head, "time_left_out_break", "time_left_out_long_rest", "time_left_out_clock", "time_left_out_no_start",
		"opened_again_by_installer", "opened_again_by_reviewer", "findings_in_finished_jobs")
	head = append(append(head, spreadHead("wait", "s")...), "wait_released_by_installer_alone", "wait_not_released", "wait_left_out_clock")
	rows := [][]table.Cell{head}
	for _, s := range r.Steps {
		row := append([]table.Cell{table.Text(string(s.Step.ID)), table.Text(s.Step.Title)}, counts(r.Jobs.All, r.Jobs.Finished, s.Done, s.Skipped, s.Stopped)...)
		row = append(row, spreadCells(s.Time, perSecond)...)
		row = append(row, counts(s.LeftOut.Break, s.LeftOut.LongRest, s.LeftOut.Clock, s.LeftOut.NoStart, s.AgainInstaller, s.AgainReviewer, s.Findings)...)
		row = append(row, spreadCells(s.Wait, perSecond)...)
		rows = append(rows, append(row, counts(s.Alone, s.Waiting, s.WaitLeftOut)...))
	}
	return table.Write(to, rows)
}

func counts(ns ...int) []table.Cell {
	var out []table.Cell
	for _, n := range ns {
		out = append(out, table.Number(int64(n), 1))
	}
	return out
}

// WriteFasteners writes one line for each fastener with a final pass.
func (r Result) WriteFasteners(to io.Writer) error {
	head := append([]table.Cell{"fastener", "place", "corner", "asked_Nm", "tolerance_Nm"}, spreadHead("off", "percent")...)
	rows := [][]table.Cell{append(head, "entries_above_tolerance", "entries_below_tolerance", "entries_without_spec")}
	for _, t := range r.Torques {
		final := t.Fastener.Final()
		row := []table.Cell{table.Text(string(t.Fastener.ID)), table.Text(t.Fastener.Place), table.Text(string(t.Fastener.Corner)),
			table.Known(final.TorqueCNM, 100), table.Known(final.TolCNM, 100)}
		row = append(row, spreadCells(t.Off, perPercent)...)
		rows = append(rows, append(row, counts(t.Above, t.Below, t.NoSpec)...))
	}
	return table.Write(to, rows)
}

// WriteReadings writes two lines for each quantity and place: as found and as set. The
// unit stands beside each, since a column holds more than one kind of number.
func (r Result) WriteReadings(to io.Writer) error {
	head := append([]table.Cell{"quantity", "place", "when", "unit"}, spreadHead("value", "in_unit")...)
	rows := [][]table.Cell{append(head, "jobs_stale")}
	for _, reading := range r.Readings {
		unit, per := table.Unit(reading.Quantity.Unit())
		for _, at := range []struct {
			when   string
			values Sample
			stale  int
		}{{"as found", reading.Found, 0}, {"as set", reading.Set, reading.Stale}} {
			row := append([]table.Cell{table.Text(string(reading.Quantity)), table.Text(string(reading.Place)), table.Cell(at.when), table.Cell(unit)}, spreadCells(at.values, per)...)
			rows = append(rows, append(row, counts(at.stale)...))
		}
	}
	return table.Write(to, rows)
}
