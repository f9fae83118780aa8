package web

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"strutcard/calc/lang"
	infield "strutcard/sync/field"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// fieldView puts what was counted in words and drawings; all is how many jobs there
// are, of which those heard from last are counted.
func fieldView(sh *sheet.Sheet, r infield.Result, all int) templates.FieldPage {
	v := templates.FieldPage{Jobs: r.Jobs.All}
	v.Facts = []string{lang.F("%s on this version: %d finished, %d not.", jobsWords(r.Jobs.All), r.Jobs.Finished, r.Jobs.Open())}
	if all > r.Jobs.All {
		v.Facts = append(v.Facts, lang.F("There are %d. Counted are the %d heard from last.", all, r.Jobs.All))
	}
	v.Facts = append(v.Facts, lang.T("Everything here is of entries in the record. What was done and not entered is not in it, and the times are those of the phones' own clocks."))
	if r.Jobs.All < infield.Few {
		v.Small = lang.F("Small numbers: %s. With fewer than %d, values stand one by one, and nothing can be compared.", jobsWords(r.Jobs.All), infield.Few)
	}
	v.Parts = []templates.FieldPart{stopsPart(r), timesPart(r), stepsPart(r), torquesPart(r)}
	if waits := waitsPart(r); len(waits.Tables) > 0 {
		v.Parts = append(v.Parts, waits)
	}
	v.Parts = append(v.Parts, readingsPart(sh, r))
	return v
}

// tooFew says how few jobs there are, or "".
func tooFew(s infield.Sample) string {
	if s.Small() {
		return lang.F("%d of %d jobs: too few to compare", s.Jobs, infield.Few)
	}
	return ""
}

// spread fills four columns: how many jobs, the median, the middle half, and the
// least and the most; or one by one, where they are few.
func spread(s infield.Sample, word func(int64) string) []string {
	if sum, ok := s.Spread(); ok {
		return []string{fmt.Sprint(s.Jobs), word(sum.Median), lang.F("%s to %s", word(sum.Q1), word(sum.Q3)), lang.F("%s to %s", word(sum.Least), word(sum.Most))}
	}
	if len(s.Values) == 0 {
		return []string{"0", "–", "–", "–"}
	}
	return []string{lang.F("%d of %d", s.Jobs, infield.Few), lang.T("too few"), "–", each(s, word)}
}

// manyValues is how many values are named one by one.
const manyValues = 12

func each(s infield.Sample, word func(int64) string) string {
	var out []string
	for _, v := range s.Values[:min(len(s.Values), manyValues)] {
		out = append(out, word(v))
	}
	if more := len(s.Values) - manyValues; more > 0 {
		out = append(out, lang.F("and %d more", more))
	}
	return strings.Join(out, ", ")
}

// lane draws a sample: a box, or a mark for each value.
func lane(s infield.Sample, hollow bool) templates.Lane {
	if sum, ok := s.Spread(); ok {
		return templates.Lane{Hollow: hollow, Box: &templates.Box{Least: float64(sum.Least), Q1: float64(sum.Q1), Median: float64(sum.Median), Q3: float64(sum.Q3), Most: float64(sum.Most)}}
	}
	out := templates.Lane{Hollow: hollow}
	for _, v := range s.Values {
		out.Points = append(out.Points, float64(v))
	}
	return out
}

// lasted writes a time as people say it.
func lasted(ms int64) string {
	d := time.Duration(ms) * time.Millisecond
	switch minutes := int64(d.Round(time.Minute) / time.Minute); {
	case d < time.Minute-500*time.Millisecond:
		return fmt.Sprintf("%.0f s", d.Seconds())
	case minutes < 60:
		return lang.F("%d min", minutes)
	case minutes < 48*60:
		return lang.F("%d h %02d min", minutes/60, minutes%60)
	default:
		hours := int64(d.Round(time.Hour) / time.Hour)
		return lang.F("%d days %d h", hours/24, hours%24)
	}
}

// stopsPart is where the jobs that are not finished stand.
func stopsPart(r infield.Result) templates.FieldPart {
	p := templates.FieldPart{Title: lang.T("Where jobs stop")}
	if r.Jobs.Open() == 0 {
		p.Empty = lang.T("Every job is finished.")
		return p
	}
	plot := templates.Plot{Title: lang.T("Jobs not finished, by the step where they stand"), Axis: countAxis(r.Jobs.Open())}
	row := func(name string, n int) {
		if n > 0 {
			plot.Rows = append(plot.Rows, templates.PlotRow{Name: name, Words: lang.F("%d of %d", n, r.Jobs.Open()), Lanes: []templates.Lane{{Bar: &templates.Span{To: float64(n)}}}})
		}
	}
	for _, s := range r.Steps {
		row(lang.T(s.Step.Title), s.Stopped)
	}
	row(lang.T("between two steps"), r.Jobs.Between)
	p.Words = []string{lang.T("They may still be in work, or left: the record does not tell.")}
	p.Plots = []templates.Plot{plot}
	return p
}

// countAxis is from none to all, with whole numbers at its lines.
func countAxis(all int) templates.Axis {
	a := templates.Axis{High: float64(all), HasHeavy: true}
	by := max(1, int(math.Ceil(float64(all)/5)))
	for n := 0; n <= all; n += by {
		a.Ticks = append(a.Ticks, templates.Tick{Value: float64(n), Words: fmt.Sprint(n)})
	}
	return a
}

// timesPart is how long each step took.
func timesPart(r infield.Result) templates.FieldPart {
	p := templates.FieldPart{Title: lang.T("Time at each step")}
	plot := templates.Plot{Title: lang.T("The first time that a job did the step. The lines are not evenly spaced in time.")}
	var least, most int64
	for _, s := range r.Steps {
		if len(s.Time.Values) == 0 {
			continue
		}
		words := tooFew(s.Time)
		if sum, ok := s.Time.Spread(); ok {
			words = lang.F("median %s; %s", lasted(sum.Median), jobsWords(s.Time.Jobs))
		}
		plot.Rows = append(plot.Rows, templates.PlotRow{Name: lang.T(s.Step.Title), Words: words, Lanes: []templates.Lane{lane(s.Time, false)}})
		if values := s.Time.Values; most == 0 || values[0] < least {
			least = values[0]
		}
		most = max(most, s.Time.Values[len(s.Time.Values)-1])
	}
	if len(plot.Rows) == 0 {
		p.Empty = lang.T("No time of a step is known yet.")
		return p
	}
	plot.Axis = timeAxis(least, most)
	p.Words = []string{lang.T("From going to a step to calling it done, by the phone that called it done. Parked time is not in it. A time with an unannounced break, more than four hours between two entries, a clock set back or no start in it is left out and counted below."),
		lang.T("A box is the middle half of the jobs, the heavy line their median, the thin one reaches to the shortest and the longest. With fewer than five jobs there is a mark for each.")}
	p.Plots = []templates.Plot{plot}
	return p
}

// timeLines are the lines of the time's scale.
var timeLines = []struct {
	at    time.Duration
	words string
}{{time.Second, "1 s"}, {10 * time.Second, "10 s"}, {time.Minute, "1 min"}, {10 * time.Minute, "10 min"}, {time.Hour, "1 h"}, {10 * time.Hour, "10 h"}, {100 * time.Hour, "100 h"}}

func timeAxis(least, most int64) templates.Axis {
	a := templates.Axis{Log: true}
	for i, line := range timeLines {
		at := line.at.Milliseconds()
		last := i+1 == len(timeLines)
		if !last && timeLines[i+1].at.Milliseconds() <= least {
			continue
		}
		a.Ticks = append(a.Ticks, templates.Tick{Value: float64(at), Words: line.words})
		if at >= most && len(a.Ticks) > 1 {
			break
		}
	}
	a.Low, a.High = a.Ticks[0].Value, max(a.Ticks[len(a.Ticks)-1].Value, float64(most))
	return a
}

// stepsPart is every count of every step.
func stepsPart(r infield.Result) templates.FieldPart {
	t := templates.FieldTable{Name: lang.T("Each step in numbers"), Words: lang.F("Jobs in which a step is done or skipped, of %d. Opened again counts each time after it was done. Findings are those at the step, in finished jobs.", r.Jobs.All),
		Head: []string{lang.T("Step"), lang.T("Jobs timed"), lang.T("Median time"), lang.T("Middle half"), lang.T("Shortest to longest"), lang.T("Time left out"), lang.T("Done"), lang.T("Skipped"), lang.T("Opened again"), lang.T("Stop here"), lang.T("Findings")}}
	for _, s := range r.Steps {
		t.Rows = append(t.Rows, slices.Concat([]string{lang.T(s.Step.Title)}, spread(s.Time, lasted),
			[]string{leftOut(s.LeftOut), fmt.Sprint(s.Done), fmt.Sprint(s.Skipped), again(s), fmt.Sprint(s.Stopped), fmt.Sprint(s.Findings)}))
	}
	return templates.FieldPart{Title: lang.T("Each step in numbers"), Tables: []templates.FieldTable{t}}
}

func leftOut(l infield.LeftOut) string {
	var out []string
	for _, c := range []struct {
		n     int
		words string
	}{{l.Break, lang.T("break")}, {l.LongRest, lang.T("long rest")}, {l.Clock, lang.T("clock")}, {l.NoStart, lang.T("no start")}} {
		if c.n > 0 {
			out = append(out, fmt.Sprintf("%d %s", c.n, c.words))
		}
	}
	if len(out) == 0 {
		return "0"
	}
	return strings.Join(out, ", ")
}

func again(s infield.Step) string {
	switch {
	case s.AgainInstaller+s.AgainReviewer == 0:
		return "0"
	case s.AgainReviewer == 0:
		return lang.F("%d by the installer", s.AgainInstaller)
	case s.AgainInstaller == 0:
		return lang.F("%d by a reviewer", s.AgainReviewer)
	}
	return lang.F("%d by the installer, %d by a reviewer", s.AgainInstaller, s.AgainReviewer)
}

// waitsPart is how long work waited at hold points.
func waitsPart(r infield.Result) templates.FieldPart {
	t := templates.FieldTable{Name: lang.T("Waiting at hold points"), Words: lang.T("From the step's end to its release, by the clocks of the devices that said so."),
		Head: []string{lang.T("Hold point"), lang.T("Jobs"), lang.T("Median wait"), lang.T("Middle half"), lang.T("Shortest to longest"), lang.T("Released by the installer alone"), lang.T("Not released"), lang.T("Left out: clocks do not fit")}}
	for _, s := range r.Steps {
		if s.Waiting+s.WaitLeftOut+len(s.Wait.Values) > 0 {
			t.Rows = append(t.Rows, slices.Concat([]string{lang.T(s.Step.Title)}, spread(s.Wait, lasted), []string{fmt.Sprint(s.Alone), fmt.Sprint(s.Waiting), fmt.Sprint(s.WaitLeftOut)}))
		}
	}
	p := templates.FieldPart{Title: lang.T("Waiting at hold points")}
	if len(t.Rows) > 0 {
		p.Tables = []templates.FieldTable{t}
	}
	return p
}
