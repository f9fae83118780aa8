package adjust

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaCollar names this calculation in the record.
const FormulaCollar = "adjust-collar/1"

// Thread is how far a collar or a rod moves on its thread, as measured: Travel
// over a counted number of turns. Several turns read better than one.
type Thread struct {
	Travel     quantity.Length
	Turns      quantity.Turns
	Resolution quantity.Length // between two marks of what read the travel
}

// PerTurn is the travel of one turn.
func (t Thread) PerTurn() (measure.Value[quantity.Length], error) {
	if err := first(positive(lang.T("The travel of the thread"), t.Travel), marks(t.Resolution)); err != nil {
		return measure.Value[length]{}, err
	}
	if !quantity.Finite(t.Turns) || t.Turns <= 0 {
		return measure.Value[length]{}, quantity.Inputf("Turn it a few full turns and measure how far it went.", "The number of turns is missing or not above zero.")
	}
	n := length(t.Turns)
	return measure.Value[length]{Value: t.Travel / n, Standard: measure.Resolution(t.Resolution) / n}, nil
}

// Collar is a spring seat on a thread whose height sets the height of the car,
// on a damper of fixed length. SpringPerWheel is how far the spring moves for a
// movement of one at the wheel, below 1 in nearly every car; some call its
// inverse or its square by the same name, so ask for the two movements, not for
// a ratio by name.
type Collar struct {
	Thread         Thread
	SpringPerWheel measure.Value[quantity.Ratio]
}

// AtWheel is how far the car rises over its wheel, at the arch, when the collar
// is turned up by turns (down: below zero).
//
//	rise = turns · per turn / SpringPerWheel
func (c Collar) AtWheel(turns quantity.Turns) (measure.Value[quantity.Length], error) {
	per, err := c.perTurn()
	if err != nil {
		return measure.Value[length]{}, err
	}
	if !quantity.Finite(turns) {
		return measure.Value[length]{}, quantity.Inputf("Enter the turns again.", "The number of turns is not a number.")
	}
	n := length(turns)
	return measure.Value[length]{Value: n * per.Value, Standard: length(math.Abs(float64(n))) * per.Standard}, nil
}

// TurnsFor is the inverse of AtWheel, not rounded: Learned.Next rounds.
func (c Collar) TurnsFor(rise quantity.Length) (quantity.Turns, error) {
	per, err := c.perTurn()
	if err != nil {
		return 0, err
	}
	if !quantity.Finite(rise) {
		return 0, quantity.Inputf("Enter the height again.", "The change of height is not a number.")
	}
	return quantity.Turns(rise / per.Value), nil
}

// perTurn is the rise at the wheel of one turn.
func (c Collar) perTurn() (measure.Value[length], error) {
	thread, err := c.Thread.PerTurn()
	if err != nil {
		return thread, err
	}
	r := c.SpringPerWheel
	if !quantity.Finite(r.Value) || !quantity.Finite(r.Standard) || r.Value <= 0 || r.Standard < 0 {
		return measure.Value[length]{}, quantity.Inputf("Measure both movements, or turn the collar once and read the height at the arch.", "It is missing how far the spring moves when the wheel moves.")
	}
	ratio := length(r.Value)
	return measure.Value[length]{Value: thread.Value / ratio, Standard: measure.Combine(thread.Standard/ratio,
		measure.Contribution[length](measure.Sensitivity(float64(thread.Value/ratio/ratio)), r.Standard))}, nil
}

// QuestionSpringPerWheel is a sentence to put to the person about a ratio that
// may be the wrong way up, or "" when there is nothing to ask. The limit is
// common practice, no source.
func QuestionSpringPerWheel(r quantity.Ratio) string {
	if r > 1.1 {
		return lang.T("The spring would move further than the wheel. Check whether the two movements are the wrong way round.")
	}
	return ""
}
