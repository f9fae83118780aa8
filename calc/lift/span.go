package lift

import (
	"math"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Range is from the least to the most a quantity can be with what is known. It
// is a limit, not a standard uncertainty: leaving a fact out never narrows it.
type Range[Q measure.Quantity] struct {
	Low, High Q
}

// span is a Range of numbers in base units.
type span struct{ lo, hi float64 }

func exactly(v float64) span { return span{v, v} }

func spanOf[Q measure.Quantity](v measure.Value[Q]) span {
	return span{float64(v.Low()), float64(v.High())}
}

func (s span) within(o span) bool { return s.lo >= o.lo && s.hi <= o.hi }

func (s span) clamp(o span) span {
	return span{min(max(s.lo, o.lo), o.hi), min(max(s.hi, o.lo), o.hi)}
}

// peak is the larger of two loads that come one after the other.
func (s span) peak(o span) span { return span{max(s.lo, o.lo), max(s.hi, o.hi)} }

func rangeOf[Q measure.Quantity](s span) Range[Q] { return Range[Q]{Q(s.lo), Q(s.hi)} }

// kernel is one equation as plain numbers, in base units. Each is monotonic in
// every input while the others stand still, so its extremes over a box of
// inputs are at corners of the box.
type kernel func(x ...float64) float64

// over is the least and the most of f when each input lies anywhere in its span.
func (f kernel) over(box ...span) span {
	out := span{math.Inf(1), math.Inf(-1)}
	x := make([]float64, len(box))
	for corner := range 1 << len(box) {
		for i, s := range box {
			x[i] = s.lo
			if corner&(1<<i) != 0 {
				x[i] = s.hi
			}
		}
		v := f(x...)
		out = span{min(out.lo, v), max(out.hi, v)}
	}
	return out
}

// reading is an input with its standard uncertainty.
type reading struct{ value, standard float64 }

func readingOf[Q measure.Quantity](v measure.Value[Q]) reading {
	return reading{float64(v.Value), float64(v.Standard)}
}

// read is one reading of a scale with a mark every res.
func read[Q measure.Quantity](v, res Q) reading {
	return reading{float64(v), float64(measure.Resolution(res))}
}

// measured is f at the readings, with its standard uncertainty: each input is
// moved by its own, half the change of the result is its contribution
// (JCGM 100:2008, 5.1.3, note 2, from memory).
func measured[Q measure.Quantity](f kernel, in ...reading) measure.Value[Q] {
	x := make([]float64, len(in))
	for i, r := range in {
		x[i] = r.value
	}
	out := measure.Value[Q]{Value: Q(f(x...))}
	for i, r := range in {
		x[i] = r.value + r.standard
		up := f(x...)
		x[i] = r.value - r.standard
		down := f(x...)
		x[i] = r.value
		out.Standard = measure.Combine(out.Standard, Q(math.Abs(up-down)/2))
	}
	return out
}

// possible are the spans that a fact of a road car lies in. A value that is not
// wholly inside is refused, so the span also bounds the fact while it is not
// known. From memory and common practice: wide on purpose.
var (
	possibleMass   = span{300, 5000}   // kg
	possibleShare  = span{0.25, 0.8}   // front share; while unknown it is 0 to 1
	possibleBase   = span{1.5, 5}      // wheelbase, m
	possibleHeight = span{0.25, 1.2}   // centre of gravity above the ground, m
	possibleRadius = span{0.2, 0.5}    // wheel centre above the ground, m
	possibleRaise  = span{0, 0.8}      // m
	possiblePlace  = span{-1.3, 1.2}   // of stands from their axle, between the axles positive, m
	possibleSlope  = span{-0.25, 0.25} // rise over level run
	possibleRating = span{100, 20000}  // of one stand or one jack, kg
)

// checkTape wants the marks of a tape above zero and below what it measures.
func checkTape(resolution quantity.Length) error {
	if !quantity.Finite(resolution) || resolution <= 0 || resolution > quantity.Millimetres(50) {
		return quantity.Inputf("Enter the distance between two marks, such as 1 mm or 10 mm.", "The smallest mark of the tape is missing, not above zero or wider than 50 mm.")
	}
	return nil
}

// length checks a measured length against what is possible.
func length(what string, v, resolution quantity.Length, possible span) error {
	if err := checkTape(resolution); err != nil {
		return err
	}
	s := spanOf(measure.Value[quantity.Length]{Value: v, Standard: measure.Resolution(resolution)})
	if !quantity.Finite(v) || !s.within(possible) {
		return quantity.Inputf("Measure again and check the unit.", "For %s, %s is not possible on a road car.", what, v)
	}
	return nil
}
