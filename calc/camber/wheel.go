package camber

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// These name the calculations in the record.
const (
	FormulaHalfTurn = "camber-half-turn/1"
	FormulaCross    = "camber-cross/1"
	FormulaISO      = "camber-iso-inclination/1"
)

// HalfTurned is what two readings of a wheel give, rolled on by half a turn in
// between. Runout is the share that the wheel's wobble had in the first.
type HalfTurned struct {
	Camber, Runout measure.Value[quantity.Angle]
}

// HalfTurn takes the run-out of the rim out of two readings: the mean is the
// camber, half of first minus second is the run-out's share. It fails when one
// of them is missing.
func HalfTurn(first, second measure.Value[quantity.Angle]) (HalfTurned, error) {
	if !usable(first) || !usable(second) {
		return HalfTurned{}, noPair()
	}
	mean, half := halves(first, second)
	return HalfTurned{Camber: mean, Runout: half}, nil
}

// halves is the mean, and half of first minus second. Both readings come from
// the same instrument, whose errors may be the same or opposite: half of each
// uncertainty is added, so that two readings are never better than one.
func halves(first, second angle) (mean, half angle) {
	u := (first.Standard + second.Standard) / 2
	return angle{Value: (first.Value + second.Value) / 2, Standard: u}, angle{Value: (first.Value - second.Value) / 2, Standard: u}
}

func noPair() error {
	return quantity.Inputf("Take both, and enter the marks of what reads them.", "One of the two readings is missing or has no uncertainty.")
}

// mostRunout is 2.0 mm across a 431.8 mm rim, the service limit of a maker's
// workshop manual.
const mostRunout = 0.2654 // degrees

// RunoutQuestion is a sentence about a wheel that wobbles more than a manual
// allows, or "" when there is nothing to ask.
func RunoutQuestion(share quantity.Angle) string {
	switch {
	case !quantity.Finite(share):
		return lang.T("The run-out is not a number. Read both positions again.")
	case math.Abs(share.Degrees()) > mostRunout:
		return lang.T("The two readings differ by more than a wheel within its limits makes them. Is the rim bent, or is there dirt between wheel and hub?")
	}
	return ""
}

// Cross is the cross-camber: left minus right. Of two readings that were
// corrected for the same floor, Level gives it with the right uncertainty.
func Cross(left, right measure.Value[quantity.Angle]) (measure.Value[quantity.Angle], error) {
	if !usable(left) || !usable(right) {
		return angle{}, noPair()
	}
	return angle{Value: left.Value - right.Value, Standard: measure.Combine(left.Standard, right.Standard)}, nil
}

// CrossLevelled is Cross of two readings that were corrected one by one for the
// same floor. Its slope was added on one side and taken off on the other, so
// that what the slope can be wrong by is in the difference twice.
func CrossLevelled(left, right measure.Value[quantity.Angle], floor CrossSlope) (measure.Value[quantity.Angle], error) {
	out, err := Cross(left, right)
	if err == nil {
		err = floor.check()
	}
	if err != nil {
		return angle{}, err
	}
	u := floor.Slope.Standard // once in each reading already
	out.Standard = measure.Combine(out.Standard, u, u)
	return out, nil
}

// ISOInclination turns a camber into the inclination angle of ISO 8855, and
// back: about the forward axis, not mirrored, positive with the top to the
// right. Left wheel minus camber, right wheel plus camber.
func ISOInclination(camber quantity.Angle, side Side) (quantity.Angle, error) {
	switch {
	case !quantity.Finite(camber):
		return 0, quantity.Inputf("Measure again.", "The camber is not a number.")
	case side == Left:
		return 0 - camber, nil
	case side == Right:
		return camber, nil
	}
	return 0, noSide()
}

func noSide() error {
	return quantity.Inputf("Choose left or right, as seen from the driver's seat.", "It is not said on which side the wheel is.")
}

const (
	mostSpec           = 6.0  // degrees, a choice of the project
	slack              = 1e-9 // degrees; a limit that is reached counts as reached
	hundred, sixtieths = 100, 60
)

// SpecQuestion is a sentence about a camber from a page or a manual that may
// have lost its degree and minute marks, or "" when there is nothing to ask.
// Minus and plus are the tolerances below and above, as sizes. A target of zero
// has no tolerance that is wider than it, short of the limit for a camber.
func SpecQuestion(target, minus, plus quantity.Angle) string {
	wide, size := max(minus, plus).Degrees(), math.Abs(target.Degrees())
	switch {
	case !quantity.Finite(target) || !quantity.Finite(minus) || !quantity.Finite(plus) || minus < 0 || plus < 0:
		return lang.T("The target or its tolerance is not a number, or the tolerance has a sign. What does the source say?")
	case size > mostSpec+slack:
		return lang.F("A camber of %s is beyond what a road car is set to.", quantity.FormatAngle(target, quantity.Degree)) + lostMarks(size) + " " + lang.T("On which page does it stand?")
	case wide > mostSpec+slack || target != 0 && wide > size+slack:
		return lang.T("The tolerance is wider than the value itself, which is right only for a camber near zero. Were minutes taken for degrees? On which page does it stand?")
	}
	return ""
}

// lostMarks reads 110 as 1°10′, where the number lets it.
func lostMarks(size float64) string {
	whole := math.Round(size)
	degrees, minutes := math.Floor(whole/hundred), math.Mod(whole, hundred)
	if math.Abs(size-whole) > slack || degrees == 0 || minutes >= sixtieths {
		return ""
	}
	return " " + lang.F("If its marks were lost, %.0f may stand for %.0f°%02.0f′.", whole, degrees, minutes)
}
