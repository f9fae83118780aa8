package toe

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaAcross names the toe from two distances across the car in the record.
const FormulaAcross = "toe-across/1"

// Method is how the two distances across the car were taken.
type Method string

const (
	// SameMarks: marks behind, measured; rolled forward half a turn of the wheel;
	// the same marks measured in front.
	SameMarks Method = "same marks"
	// TwoPlaces: front and rear of the wheels as they stand.
	TwoPlaces Method = "two places"
)

// Across is the distance between the two wheels of an axle at the front and at
// the rear of them, at the height of the wheel centres, between rims or between
// tyres.
type Across struct {
	Method      Method
	Front, Rear quantity.Length
	Diameter    quantity.Length // along the wheel between the two places
	Resolution  quantity.Length // of the tape that read front and rear
	// DiameterResolution is that of what read the diameter; zero when it was the
	// same tape.
	DiameterResolution quantity.Length
	// Runout is that of the worse rim, from the lowest to the highest reading over
	// one turn, at the same diameter; zero when nobody measured it. With the same
	// marks it cancels, and it is not used.
	Runout quantity.Length
}

// Difference is rear minus front: above zero is toe-in.
func (a Across) Difference() quantity.Length { return a.Rear - a.Front }

// FromAcross computes the total toe, toe-in positive:
//
//	∂/∂rear = −∂/∂front = 1/√(diameter²−difference²)    ∂/∂diameter = −difference/(diameter·√(…))
//
// It fails when a number is missing or impossible, or the method is not said.
func FromAcross(a Across) (Both, error) {
	if err := a.check(); err != nil {
		return Both{}, err
	}
	value, perGap := arc(a.Difference(), a.Diameter)
	one := measure.Contribution[quantity.Angle](perGap, measure.Resolution(a.Resolution))
	parts := []quantity.Angle{one, one, diameterPart(a.Difference(), a.Diameter, perGap, resolution(a.DiameterResolution, a.Resolution))}
	state := RunoutCancelled
	if a.Method == TwoPlaces {
		state = runoutState(a.Runout)
		parts = append(parts, wobble(perGap, a.Runout), wobble(perGap, a.Runout)) // one each wheel
	}
	return FromTotal(measure.Value[quantity.Angle]{Value: value, Standard: measure.Combine(parts...)}, state)
}

// arc is the angle of a difference over a diameter, and how it changes with the
// difference.
func arc(difference, diameter quantity.Length) (quantity.Angle, measure.Sensitivity) {
	d, g := diameter.Metres(), difference.Metres()
	return quantity.Radians(math.Asin(g / d)), measure.Sensitivity(1 / math.Sqrt((d-g)*(d+g)))
}

func diameterPart(difference, diameter quantity.Length, perGap measure.Sensitivity, res quantity.Length) quantity.Angle {
	return measure.Contribution[quantity.Angle](perGap*measure.Sensitivity(difference/diameter), measure.Resolution(res))
}

// wobble is what a run-out adds for one wheel that may stand anywhere: an
// amplitude R of a sine has the standard deviation R/√2.
func wobble(perGap measure.Sensitivity, runout quantity.Length) quantity.Angle {
	return measure.Contribution[quantity.Angle](perGap, quantity.Length(runout.Metres()/math.Sqrt2))
}

func runoutState(runout quantity.Length) Runout {
	if runout > 0 {
		return RunoutCounted
	}
	return RunoutMissing
}

func resolution(own, other quantity.Length) quantity.Length {
	if own == 0 {
		return other
	}
	return own
}

func (a Across) check() error {
	if err := finite(a.Front, a.Rear, a.Diameter, a.Resolution, a.DiameterResolution, a.Runout); err != nil {
		return err
	}
	if err := checkWheel(a.Diameter, a.Resolution, a.DiameterResolution, a.Runout); err != nil {
		return err
	}
	switch {
	case a.Method != SameMarks && a.Method != TwoPlaces:
		return quantity.Inputf("Choose the same marks rolled half a turn, or two places on a standing wheel.", "It is not said how front and rear were measured.")
	case a.Front <= 0 || a.Rear <= 0:
		return quantity.Inputf("Measure across the car between the wheels at the front of them, and again at the rear.", "The front or the rear distance is missing or not above zero.")
	case math.Abs(float64(a.Difference())) >= float64(a.Diameter):
		return tooLong()
	}
	return nil
}

func finite(lengths ...quantity.Length) error {
	for _, l := range lengths {
		if !quantity.Finite(l) {
			return quantity.Inputf("Enter the distances again.", "One of the lengths is not a number.")
		}
	}
	return nil
}

// checkWheel is for what all methods share.
func checkWheel(diameter, res, diameterRes, runout quantity.Length) error {
	if err := checkDiameter(diameter); err != nil {
		return err
	}
	switch {
	case res <= 0 || diameterRes < 0:
		return quantity.Inputf("Enter the distance between two marks, such as 1 mm or 0.5 mm.", "The smallest mark of the tape is missing or not above zero.")
	case res >= diameter || diameterRes >= diameter:
		return quantity.Inputf("Check the unit of the marks.", "The marks of the tape are further apart than the wheel is large.")
	}
	_, err := RunoutShare(runout, diameter)
	return err
}

// Arithmetic is the sum in one line, for the record and the screen.
func (a Across) Arithmetic(u quantity.LengthUnit) string {
	b, err := FromAcross(a)
	if err != nil {
		return ""
	}
	return lang.F("total toe = asin((rear %s − front %s) / %s) = %s", quantity.LengthFigure(a.Rear, u), quantity.LengthFigure(a.Front, u), quantity.FormatLength(a.Diameter, u), b.Angles().Words(quantity.Degree))
}
