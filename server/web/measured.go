package web

import (
	"strings"

	"strutcard/sync/event"
	"strutcard/sync/guide"
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
			row := templates.PlotRow{Name: at.Words()}
			found, set := firstRead(g, q, at, event.Before), firstRead(g, q, at, event.Final, event.Setting)
			if found == nil && set == nil {
				continue
			}
			row.Words = "as found " + readingOr(found) + "; as set " + readingOr(set)
			row.Lanes = []templates.Lane{point(found, true), point(set, false)}
			if found != nil && set != nil {
				row.Joins = []templates.Span{{From: row.Lanes[0].Points[0], To: row.Lanes[1].Points[0]}}
			}
			for _, r := range []*event.ReadingTaken{found, set} {
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

func titleOf(q event.Quantity) string { return strings.ToUpper(q.Words()[:1]) + q.Words()[1:] }

// firstRead is the reading for the first of some purposes that there is one of; nil
// for none.
func firstRead(g guide.Guide, q event.Quantity, at event.Place, purposes ...event.Purpose) *event.ReadingTaken {
	for _, purpose := range purposes {
		if r := g.State.Reading(q, at, purpose); r != nil {
			return &r.ReadingTaken
		}
	}
	return nil
}

func readingOr(r *event.ReadingTaken) string {
	if r == nil {
		return "not read"
	}
	return units.Metric.Reading(r)
}

func point(r *event.ReadingTaken, hollow bool) templates.Lane {
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
