package toe

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaStrings names the toe from strings in the record.
const FormulaStrings = "toe-strings/1"

// Strings is the gaps from the string to the rim edge at the front and the rear
// of each wheel of one axle, square to the string, at the height of the wheel
// centre. The strings run as Lines says.
type Strings struct {
	Lines       Lines
	Left, Right Ends
	Diameter    quantity.Length
	Resolution  quantity.Length // of the rule that read the gaps
	// DiameterResolution is that of what read the diameter; zero when it was the
	// same rule.
	DiameterResolution quantity.Length
	Runout             quantity.Length // as in Across
}

// FromStrings computes the toe of each wheel, toe-in positive. What the two wheels
// share, the diameter and the lean of the strings, counts once in the total.
func FromStrings(s Strings) (Both, error) {
	if err := s.check(); err != nil {
		return Both{}, err
	}
	left, leftParts := s.wheel(s.Left, s.Lines.Left)
	right, rightParts := s.wheel(s.Right, s.Lines.Right)
	total := measure.Value[quantity.Angle]{
		Value:    left.Value + right.Value,
		Standard: measure.Combine(leftParts.own, rightParts.own, leftParts.diameter+rightParts.diameter, s.Lines.Closing.Standard),
	}
	return Both{Total: total, Half: half(total), Split: Measured, Runout: runoutState(s.Runout), left: left, right: right}, nil
}

// FromString computes the toe of one wheel alone, as FromStrings does. The gaps of
// the other wheel are not used and may be missing.
func FromString(s Strings, side Side) (measure.Value[quantity.Angle], error) {
	ends, lean := s.Left, s.Lines.Left
	switch side {
	case Left:
	case Right:
		ends, lean = s.Right, s.Lines.Right
	default:
		return measure.Value[quantity.Angle]{}, quantity.Inputf("Choose left or right, as the driver sits. Strings that lean add to one wheel and take from the other.", "It is not said which wheel it is.")
	}
	s.Left, s.Right = ends, ends
	if err := s.check(); err != nil {
		return measure.Value[quantity.Angle]{}, err
	}
	v, _ := s.wheel(ends, lean)
	return v, nil
}

// Difference is what counts as toe-in between the two gaps of a wheel for the
// place of the string: above zero is toe-in, but for the lean of the string.
func (s Strings) Difference(e Ends) quantity.Length {
	if s.Lines.At == Inside {
		return e.Rear - e.Front
	}
	return e.Front - e.Rear
}

// parts of the uncertainty of one wheel: what is its own, and the signed share
// of the diameter.
type parts struct{ own, diameter quantity.Angle }

func (s Strings) wheel(e Ends, lean measure.Value[quantity.Angle]) (measure.Value[quantity.Angle], parts) {
	difference := s.Difference(e)
	value, perGap := arc(difference, s.Diameter)
	one := measure.Contribution[quantity.Angle](perGap, measure.Resolution(s.Resolution))
	p := parts{
		own:      measure.Combine(one, one, wobble(perGap, s.Runout)),
		diameter: diameterPart(difference, s.Diameter, perGap, resolution(s.DiameterResolution, s.Resolution)),
	}
	if difference < 0 {
		p.diameter = -p.diameter
	}
	return measure.Value[quantity.Angle]{Value: value + lean.Value, Standard: measure.Combine(p.own, p.diameter, lean.Standard)}, p
}

func (s Strings) check() error {
	if err := finite(s.Left.Front, s.Left.Rear, s.Right.Front, s.Right.Rear, s.Diameter, s.Resolution, s.DiameterResolution, s.Runout); err != nil {
		return err
	}
	if err := checkWheel(s.Diameter, s.Resolution, s.DiameterResolution, s.Runout); err != nil {
		return err
	}
	switch {
	case s.Lines.At != Outside && s.Lines.At != Inside:
		return noPlace()
	case !s.Lines.known():
		return quantity.Inputf("Measure from the strings to all four hubs, and between the strings.", "It is not known how the strings run to the car.")
	case s.Left.Front <= 0 || s.Left.Rear <= 0 || s.Right.Front <= 0 || s.Right.Rear <= 0:
		return quantity.Inputf("Measure from the string to the rim edge at the front and at the rear of both wheels. If the string touches, move it out.", "A gap is missing or not above zero.")
	case math.Abs(float64(s.Difference(s.Left))) >= float64(s.Diameter) || math.Abs(float64(s.Difference(s.Right))) >= float64(s.Diameter):
		return tooLong()
	}
	return nil
}

// TellGap says in words which gap means toe-in for the place of the strings.
func TellGap(p Place) string {
	switch p {
	case Outside:
		return lang.T("String outside: a bigger gap at the front is toe-in.")
	case Inside:
		return lang.T("String inside: a bigger gap at the rear is toe-in.")
	}
	return ""
}
