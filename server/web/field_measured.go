package web

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	infield "strutcard/sync/field"
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
	"strutcard/templates"
)

// torquesPart is how final passes came out against their spec.
func torquesPart(r infield.Result) templates.FieldPart {
	p := templates.FieldPart{Title: lang.T("Final torque against spec")}
	t := templates.FieldTable{Name: lang.T("Final torque against spec"), Words: lang.T("Every entry of a final pass, also of those loosened later. Positive is tighter."),
		Head: []string{lang.T("Fastener"), lang.T("Asked"), lang.T("Entries"), lang.T("Jobs"), lang.T("Median off"), lang.T("Middle half"), lang.T("All"), lang.T("Above tolerance"), lang.T("Below tolerance")}}
	plot := templates.Plot{Title: lang.T("Percent off the spec; the shaded part is inside its tolerance. Fasteners of which any entry is off.")}
	even := 0
	most := int64(0)
	for _, f := range r.Torques {
		values := f.Off.Values
		if len(values)+f.NoSpec == 0 {
			continue
		}
		name := lang.T(f.Fastener.Place) + ", " + lang.T(f.Fastener.Corner.Words())
		t.Rows = append(t.Rows, slices.Concat([]string{name, askedTorque(f.Fastener), entries(f)}, spread(f.Off, offWords), []string{fmt.Sprint(f.Above), fmt.Sprint(f.Below)}))
		if len(values) == 0 || values[0] == 0 && values[len(values)-1] == 0 {
			even++
			continue
		}
		band := tolerance(f.Fastener)
		most = max(most, -values[0], values[len(values)-1], int64(band))
		plot.Rows = append(plot.Rows, templates.PlotRow{Name: name, Words: offSummary(f), Band: &templates.Span{From: -band, To: band}, Lanes: []templates.Lane{offLane(f)}})
	}
	if len(t.Rows) == 0 {
		p.Empty = lang.T("No final pass is entered yet.")
		return p
	}
	p.Words = []string{lang.T("The app proposes the torque and what to set on the wrench, so an entry is seldom off: this shows other numbers that were set or looked up, not how true a wrench or a hand is.")}
	if len(plot.Rows) == 0 {
		p.Words = append(p.Words, lang.T("Every entry is as its spec asks."))
	} else {
		plot.Axis = offAxis(most)
		p.Plots = []templates.Plot{plot}
		p.Words = append(p.Words, lang.F("Not drawn: fasteners of which no entry is off, %d.", even))
	}
	p.Tables = []templates.FieldTable{t}
	return p
}

func offSummary(f infield.Torque) string {
	words := tooFew(f.Off)
	if sum, ok := f.Off.Spread(); ok {
		words = lang.F("median %s; %s", offWords(sum.Median), jobsWords(f.Off.Jobs))
	}
	if f.Above+f.Below == 0 {
		return lang.F("%s; all inside", words)
	}
	return lang.F("%s; %d outside", words, f.Above+f.Below)
}

// offLane also marks each entry that lies outside.
func offLane(f infield.Torque) templates.Lane {
	out, values := lane(f.Off, false), f.Off.Values
	if out.Box != nil {
		for _, v := range slices.Compact(slices.Concat(values[:f.Below], values[len(values)-f.Above:])) {
			out.Points = append(out.Points, float64(v))
		}
	}
	return out
}

func askedTorque(f *sheet.Fastener) string {
	final := f.Final()
	switch {
	case final.TorqueCNM == 0:
		return lang.T("not in the sheet")
	case final.TolCNM == 0:
		return guide.Torque(final.TorqueCNM)
	}
	return guide.Torque(final.TorqueCNM) + " ± " + guide.Torque(final.TolCNM)
}

func entries(f infield.Torque) string {
	if f.NoSpec > 0 {
		return lang.F("%d, and %d with nothing to compare", len(f.Off.Values), f.NoSpec)
	}
	return fmt.Sprint(len(f.Off.Values))
}

// tolerance is the half-width of a fastener's spec in hundredths of a percent.
func tolerance(f *sheet.Fastener) float64 {
	final := f.Final()
	if final.TorqueCNM == 0 {
		return 1000
	}
	return float64(infield.Tolerance(final.TorqueCNM, final.TolCNM)) * 10_000 / float64(final.TorqueCNM)
}

func offWords(v int64) string {
	sign := map[bool]string{true: "+", false: "−"}[v > 0]
	if v == 0 {
		sign = ""
	}
	return sign + lang.Number(fmt.Sprintf("%.1f", math.Abs(float64(v))/100)) + " %"
}

// widest is how far the scale of the torque reaches, in hundredths of a percent: one
// slip of the key must not press the others together.
const widest = 4000

func offAxis(most int64) templates.Axis {
	by := nice(float64(min(most, widest)) / 2)
	a := templates.Axis{Low: -2 * by, High: 2 * by, HasHeavy: true}
	for n := -2.0; n <= 2; n++ {
		a.Ticks = append(a.Ticks, templates.Tick{Value: n * by, Words: strings.Replace(offWords(int64(n*by)), lang.Number(".0"), "", 1)})
	}
	return a
}

// nice is 1, 2 or 5 times a power of ten, and no less than v.
func nice(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(max(v, 1))))
	for _, n := range []float64{1, 2, 5} {
		if n*power >= v {
			return n * power
		}
	}
	return 10 * power
}

// readingsPart is what was measured before and after the work.
func readingsPart(sh *sheet.Sheet, r infield.Result) templates.FieldPart {
	p := templates.FieldPart{Title: lang.T("Before and after")}
	if len(r.Readings) == 0 {
		p.Empty = lang.T("No reading is entered yet.")
		return p
	}
	p.Words = []string{lang.T("Rings are as found, full marks are as set; a thin line joins the two of one job. The shaded part is what the sheet asks for. Left and right are as the driver sees them.")}
	t := templates.FieldTable{Name: lang.T("Readings before and after"), Words: lang.T("As set is the last reading that nothing made stale."), Head: []string{lang.T("Reading"), lang.T("Jobs"), lang.T("Median"), lang.T("Middle half"), lang.T("All"), lang.T("Left out as stale")}}
	for _, q := range event.Quantities() {
		plot := templates.Plot{Title: titleOf(q)}
		var values []int64
		for _, reading := range r.Readings {
			if reading.Quantity != q {
				continue
			}
			word := func(v int64) string { return units.Metric.Value(q, v) }
			name := guide.ReadingWords(q, reading.Place)
			t.Rows = append(t.Rows, slices.Concat([]string{lang.F("%s, as found", name)}, spread(reading.Found, word), []string{"–"}),
				slices.Concat([]string{lang.F("%s, as set", name)}, spread(reading.Set, word), []string{fmt.Sprint(reading.Stale)}))
			drawn := readingRow(reading, word)
			values = slices.Concat(values, reading.Found.Values, reading.Set.Values)
			values = append(values, bandOf(&drawn, sh, q, reading.Place)...)
			plot.Rows = append(plot.Rows, drawn)
		}
		if len(values) > 0 {
			plot.Axis = readingAxis(q, values)
			p.Plots = append(p.Plots, plot)
		}
	}
	p.Tables = []templates.FieldTable{t}
	return p
}

func readingRow(r infield.Reading, word func(int64) string) templates.PlotRow {
	row := templates.PlotRow{Name: placeWords(r.Place), Lanes: []templates.Lane{lane(r.Found, true), lane(r.Set, false)},
		Words: lang.F("as found %s; as set %s", briefly(r.Found, word), briefly(r.Set, word))}
	if r.Found.Small() || r.Set.Small() {
		row.Words += "; " + lang.T("too few to compare")
	}
	if len(r.Pairs) < infield.Few {
		for _, pair := range r.Pairs {
			row.Joins = append(row.Joins, templates.Span{From: float64(pair.Found), To: float64(pair.Set)})
		}
	}
	return row
}

// briefly is a sample in few words.
func briefly(s infield.Sample, word func(int64) string) string {
	if sum, ok := s.Spread(); ok {
		return lang.F("median %s (%s)", word(sum.Median), jobsWords(s.Jobs))
	}
	if s.Jobs == 0 {
		return lang.T("none")
	}
	return lang.F("%s (%d of %d jobs)", each(s, word), s.Jobs, infield.Few)
}

// readingAxis holds all values, with some air.
func readingAxis(q event.Quantity, values []int64) templates.Axis {
	low, high := float64(values[0]), float64(values[0])
	for _, v := range values {
		low, high = min(low, float64(v)), max(high, float64(v))
	}
	by := nice(max(high-low, 4*finest[q.Unit()]) / 4)
	a := templates.Axis{Low: by * math.Floor(low/by), High: by * math.Ceil(high/by)}
	if a.Low == a.High {
		a.Low, a.High = a.Low-by, a.High+by
	}
	for v := a.Low; v <= a.High+by/2; v += by {
		a.Ticks = append(a.Ticks, templates.Tick{Value: v, Words: units.Metric.Value(q, int64(math.Round(v)))})
	}
	return a
}

// finest is the least step of a scale that its words can tell apart.
var finest = map[event.Unit]float64{event.UM: 1000, event.Mdeg: 10, event.G: 1000, event.Pa: 1000}
