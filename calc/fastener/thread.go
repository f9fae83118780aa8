package fastener

import (
	"math"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Thread is a metric or an inch thread. Parse makes one; the zero Thread is
// refused by every function.
type Thread struct {
	name            string
	diameter, pitch quantity.Length
	inch, usual     bool
}

// coarse are the pitches in millimetres of the coarse metric threads, by
// diameter (ISO 261).
var coarse = map[int]float64{5: 0.8, 6: 1, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2, 16: 2, 18: 2.5, 20: 2.5}

// fine are the usual finer pitches (ISO 261 selection, from memory).
var fine = map[int][]float64{8: {1}, 10: {1, 1.25}, 12: {1.25, 1.5}, 14: {1.5}, 16: {1.5}, 18: {1.5, 2}, 20: {1.5, 2}}

const finest = 0.5 // millimetres; finer is not found on a car's suspension

// Parse reads a thread as it is written on a drawing: "M12" (coarse),
// "M12x1.25", "1/2-20" or "1/2 UNF". It fails for what is not in the range of
// the package.
func Parse(name string) (Thread, error) {
	s := strings.ToLower(strings.ReplaceAll(name, " ", ""))
	after, metric := strings.CutPrefix(s, "m")
	t, ok := parseMetric(after)
	if !metric {
		t, ok = parseInch(s)
	}
	if !ok {
		return Thread{}, quantity.Inputf("Write it like M12, M12x1.25, 1/2-20 or 1/2 UNF. Metric threads from M5 to M20 and inch threads from 1/4 to 3/4 are known here.", "The thread is not one that is known here.")
	}
	return t, nil
}

func parseMetric(s string) (Thread, bool) {
	size, fineText, hasPitch := strings.Cut(strings.ReplaceAll(strings.ReplaceAll(s, "×", "x"), ",", "."), "x")
	d, err := strconv.Atoi(size)
	pitch, there := coarse[d]
	if err != nil || !there {
		return Thread{}, false
	}
	t := Thread{name: "M" + size, diameter: quantity.Millimetres(float64(d)), pitch: quantity.Millimetres(pitch), usual: true}
	if !hasPitch {
		return t, true
	}
	p, err := strconv.ParseFloat(fineText, 64)
	if err != nil || !(p >= finest && p <= pitch) {
		return Thread{}, false
	}
	t.name, t.pitch, t.usual = t.name+"x"+fineText, quantity.Millimetres(p), p == pitch
	for _, usual := range fine[d] {
		t.usual = t.usual || p == usual
	}
	return t, true
}

// inchSize is a diameter with its threads per inch.
type inchSize struct{ inches, unc, unf float64 }

// inches are the UNC and UNF threads (ASME B1.1).
var inches = map[string]inchSize{
	"1/4": {0.25, 20, 28}, "5/16": {0.3125, 18, 24}, "3/8": {0.375, 16, 24}, "7/16": {0.4375, 14, 20},
	"1/2": {0.5, 13, 20}, "9/16": {0.5625, 12, 18}, "5/8": {0.625, 11, 18}, "3/4": {0.75, 10, 16},
}

var inchMarks = strings.NewReplacer("\"", "", "″", "", "”", "", "in", "")

// parseInch wants the threads per inch or the series: 1/2 alone can be either.
func parseInch(s string) (Thread, bool) {
	s = inchMarks.Replace(s)
	rest, unc := strings.CutSuffix(s, "unc")
	rest, unf := strings.CutSuffix(rest, "unf")
	if unc && unf {
		return Thread{}, false
	}
	size, perInch, hasPerInch := strings.Cut(strings.TrimSuffix(rest, "-"), "-")
	known, there := inches[size]
	n := known.unf
	if unc {
		n = known.unc
	}
	if hasPerInch {
		typed, err := strconv.ParseFloat(perInch, 64)
		if err != nil || (typed != known.unc || unf) && (typed != known.unf || unc) {
			return Thread{}, false
		}
		n = typed
	}
	if !there || !hasPerInch && !unc && !unf {
		return Thread{}, false
	}
	name := size + "-" + strconv.FormatFloat(n, 'f', 0, 64)
	return Thread{name: name, diameter: quantity.Inches(known.inches), pitch: quantity.Inches(1 / n), inch: true, usual: true}, true
}

// Known reports whether Question can judge this thread.
func Known(name string) bool { _, err := Parse(name); return err == nil }

// QuestionThread is a sentence about a pitch that is hardly ever used with its
// diameter, or "".
func QuestionThread(t Thread) string {
	if t.diameter == 0 || t.usual {
		return ""
	}
	return lang.F("%s is an unusual thread. Lay a thread gauge or a bolt that you know against it: pitches that are close look alike for the first turns.", t.name)
}

// Name is the thread in one spelling, such as M12x1.25 or 1/2-20.
func (t Thread) Name() string              { return t.name }
func (t Thread) Diameter() quantity.Length { return t.diameter }

// Pitch is the length that one turn advances.
func (t Thread) Pitch() quantity.Length { return t.pitch }

// PitchDiameter is d₂ = d − 0.649519·P, from the 60° profile.
func (t Thread) PitchDiameter() quantity.Length { return t.diameter - 0.649519*t.pitch }

// StressDiameter is that of a plain rod as strong as the thread. Metric: the
// mean of d₂ and d₃ (ISO 898-1). Inch: ASME B1.1, whose root is deeper.
func (t Thread) StressDiameter() quantity.Length {
	if t.inch {
		return t.diameter - 0.974279*t.pitch
	}
	return t.diameter - 0.938194*t.pitch
}

// StressArea is the nominal one, not rounded; tables print three figures.
func (t Thread) StressArea() quantity.Area {
	d := t.StressDiameter().Metres()
	return quantity.Area(math.Pi / 4 * d * d)
}

func (t Thread) check() error {
	if t.diameter <= 0 {
		return quantity.Inputf("Read it off the drawing or measure it, and write it like M12x1.25.", "The thread is not given.")
	}
	return nil
}
