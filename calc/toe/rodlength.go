package toe

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaRodLengths names the difference of the rod lengths in the record.
const FormulaRodLengths = "toe-rod-lengths/1"

// RodLengths is the length of the two rods, or the thread that shows, measured
// at the same places left and right.
type RodLengths struct{ Left, Right, Resolution quantity.Length }

// Difference is left less right after the advised turns, with its uncertainty.
// The threads of both ends of a sleeve count together.
func (l RodLengths) Difference(a Advice, r Rod) (measure.Value[quantity.Length], error) {
	if err := finite(l.Left, l.Right, l.Resolution); err != nil {
		return measure.Value[quantity.Length]{}, err
	}
	if err := r.check(); err != nil {
		return measure.Value[quantity.Length]{}, err
	}
	switch {
	case l.Left <= 0 || l.Right <= 0:
		return measure.Value[quantity.Length]{}, quantity.Inputf("Measure both, at the same places left and right, before anything is turned.", "The length of a rod is missing or not above zero.")
	case l.Resolution <= 0:
		return measure.Value[quantity.Length]{}, quantity.Inputf("Enter the distance between two marks, such as 1 mm.", "The smallest mark of the rule is missing or not above zero.")
	}
	one := measure.Resolution(l.Resolution)
	turning := measure.Contribution[quantity.Length](measure.Sensitivity(r.gain()), measure.Resolution(eighth))
	return measure.Value[quantity.Length]{
		Value:    l.Left - l.Right + grows(a.Left, r) - grows(a.Right, r),
		Standard: measure.Combine(one, one, turning, turning),
	}, nil
}

func grows(t Turn, r Rod) quantity.Length {
	by := quantity.Length(t.Eighths*eighth) * r.gain()
	if t.Rod == Shorter {
		return -by
	}
	return by
}

// QuestionRods is a sentence to put to the person about rods that will differ
// by more than the manual's limit, or by more than can be told, or "".
func QuestionRods(difference measure.Value[quantity.Length], limit quantity.Length) string {
	if !quantity.Finite(limit) || limit <= 0 {
		return lang.T("How far the two rods may differ in length is not known. Look it up in the manual; without it, a crooked steering wheel cannot be put straight at the rods for certain.")
	}
	band := measure.Band[quantity.Length]{Minus: limit, Plus: limit}
	said := quantity.FormatLength(quantity.Length(math.Abs(float64(difference.Value))), quantity.Millimetre)
	switch band.Judge(difference) {
	case measure.NotMet:
		return lang.F("The rods will differ by %s, more than the manual allows. Check the steering wheel on its column, the rack in its middle, and the parts for bends, before turning further.", said)
	case measure.TooClose:
		return lang.F("The rods will differ by %s, too close to the manual's limit to tell. Measure them with a finer rule.", said)
	}
	return ""
}

// mostTurns is where a correction is likelier a slip. Common practice, no source.
const mostTurns quantity.Turns = 5

// QuestionAdvice is a sentence to put to the person about turns that are not
// believable, or "".
func QuestionAdvice(a Advice) string {
	for _, t := range []Turn{a.Left, a.Right} {
		if !quantity.Finite(t.Exact) || t.Exact > mostTurns {
			return lang.F("That is %s turns of one rod. Check pitch, arm and their units, and that enough thread stays in the rod end.", t.Exact.String())
		}
	}
	return ""
}
