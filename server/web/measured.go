package web

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
	"strutcard/templates"
)

// measuredPlots draw what one job measured, before and after, against what the sheet
// asks for. A quantity that was never read is left out.
func measuredPlots(g guide.Guide) []templates.Plot {
	var plots []templates.Plot
	for _, q := range event.Quantities() {
		plot := templates.Plot{Title: titleOf(q)}
		var values []int64
		for _, at := range q.Places() {
			row := templates.PlotRow{Name: placeWords(at)}
			found, set := firstRead(g, q, at, event.Before), firstRead(g, q, at, event.Final, event.Setting)
			if found == nil && set == nil {
				continue
			}
			row.Words = lang.F("as found %s; as set %s", readingOr(found), readingOr(set))
			row.Lanes = []templates.Lane{point(found, true), point(set, false)}
			if found != nil && set != nil {
				row.Joins = []templates.Span{{From: row.Lanes[0].Points[0], To: row.Lanes[1].Points[0]}}
			}
			for _, r := range []*job.Reading{found, set} {
				if r != nil {
					value, _ := r.Amount()
					values = append(values, value)
				}
			}
			values = append(values, bandOf(&row, g.Sheet, q, at)...)
			plot.Rows = append(plot.Rows, row)
		}
		if len(plot.Rows) > 0 {
			plot.Axis = readingAxis(q, values)
			plots = append(plots, plot)
		}
	}
	return plots
}

func titleOf(q event.Quantity) string { return sentence(lang.T(q.Words())) }

// firstRead is the reading for the first of some purposes that there is one of; nil
// for none.
func firstRead(g guide.Guide, q event.Quantity, at event.Place, purposes ...event.Purpose) *job.Reading {
	for _, purpose := range purposes {
		if r := g.State.Reading(q, at, purpose); r != nil {
			return r
		}
	}
	return nil
}

func readingOr(r *job.Reading) string {
	switch {
	case r == nil:
		return lang.T("not read")
	case r.Stale != "":
		return lang.F("%s, which no longer holds", units.Metric.Reading(&r.ReadingTaken))
	}
	return units.Metric.Reading(&r.ReadingTaken)
}

func point(r *job.Reading, hollow bool) templates.Lane {
	l := templates.Lane{Hollow: hollow}
	if r != nil {
		value, _ := r.Amount()
		l.Points = []float64{float64(value)}
	}
	return l
}

// bandOf shades what the sheet asks for at a place, and returns its ends.
func bandOf(row *templates.PlotRow, sh *sheet.Sheet, q event.Quantity, at event.Place) []int64 {
	target := sh.Target(q, at.Axle())
	if target == nil {
		return nil
	}
	value, tol := target.Amount()
	row.Band = &templates.Span{From: float64(value - tol), To: float64(value + tol)}
	return []int64{value - tol, value + tol}
}
