package ride

import (
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

type length = measure.Value[quantity.Length]

const (
	leastHeight, mostHeight quantity.Length = 0.05, 0.9
	leastBase, mostBase     quantity.Length = 1, 6
	mostTravel              quantity.Length = 0.6 // of a damper or a bump stop
	leastTurns, mostTurns   quantity.Turns  = 0.05, 100
	finest                  quantity.Length = 1e-7 // no ruler is finer
)

// check refuses a measured length outside its range or without uncertainty.
func check(l length, least, most quantity.Length, noun string) error {
	if !(l.Value >= least && l.Value <= most) { // also true for NaN
		return quantity.Inputf("Measure it again and check the unit.", "The %s is missing, or of a size that no car has.", noun)
	}
	if !(l.Standard >= finest && l.Standard <= most) {
		return quantity.Inputf("Enter the distance between two marks of the tape, such as 1 mm.", "It is not known how well the %s was measured.", noun)
	}
	return nil
}

func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// weighted is the sum of c·v over its terms, with their uncertainties combined.
func weighted(terms ...term) length {
	var out length
	var parts []quantity.Length
	for _, t := range terms {
		out.Value += quantity.Length(t.c) * t.of.Value
		parts = append(parts, measure.Contribution[quantity.Length](t.c, t.of.Standard))
	}
	out.Standard = measure.Combine(parts...)
	return out
}

type term struct {
	c  measure.Sensitivity
	of length
}
