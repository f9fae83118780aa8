package ride

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Names of these calculations in the record. Each changes when a result does.
const (
	FormulaAim  = "headlamp-pitch/1"
	FormulaDrop = "headlamp-drop/1"
)

// AimNote stands beside every figure about headlamps.
const AimNote = "This is a change, not a setting. Mark the cut-off on a wall before the work, at a noted distance and load, and bring it back to the mark. A shop or the inspection decides whether the aim is right."

// PitchChange is how much the car, and its headlamps with it, was tilted by a
// change of heights: positive nose down, which lowers the beam.
func PitchChange(before, after Heights, wheelbase measure.Value[quantity.Length]) (measure.Value[quantity.Angle], error) {
	if err := first(before.check(), after.check(), check(wheelbase, leastBase, mostBase, lang.T("wheelbase"))); err != nil {
		return measure.Value[quantity.Angle]{}, err
	}
	return over(weighted(term{1, after.rake()}, term{-1, before.rake()}), wheelbase), nil
}

// Beam says in words what a change of pitch does to the beam.
func Beam(change measure.Value[quantity.Angle]) string {
	switch NoseOf(change) {
	case NoseDown:
		return lang.T("The nose went down: the beam is lower and reaches less far.") + " " + lang.T(AimNote)
	case NoseUp:
		return lang.T("The nose went up: the beam is higher and dazzles others.") + " " + lang.T(AimNote)
	}
	return lang.T("The tilt did not change by more than the tape can tell.") + " " + lang.T(AimNote)
}

// BeamShift is how much lower a change of pitch puts the beam on a wall at a
// distance, against the height of the lamp, which changed as well. Positive is
// lower.
func BeamShift(change measure.Value[quantity.Angle], distance measure.Value[quantity.Length]) (measure.Value[quantity.Length], error) {
	if !(math.Abs(change.Value.Degrees()) <= 15) || !(change.Standard > 0) {
		return length{}, quantity.Inputf("Compute it from the heights before and after.", "The change of pitch is not known, or of a size that no car has.")
	}
	if err := check(distance, 0.5, 100, lang.T("distance to the wall")); err != nil {
		return length{}, err
	}
	tan, cos := math.Tan(change.Value.Radians()), math.Cos(change.Value.Radians())
	return length{
		Value: distance.Value * quantity.Length(tan),
		Standard: measure.Combine(
			measure.Contribution[quantity.Length](measure.Sensitivity(distance.Value.Metres()/(cos*cos)), change.Standard),
			measure.Contribution[quantity.Length](measure.Sensitivity(tan), distance.Standard),
		),
	}, nil
}

// DropAngle is the angle below level of a beam that falls by drop over distance.
func DropAngle(drop, distance quantity.Length) (quantity.Angle, error) {
	switch {
	case !(distance >= 0.5 && distance <= 100):
		return 0, quantity.Inputf("Measure it on the floor, from the lamp to the wall.", "The distance to the wall is missing or not believable.")
	case !(drop >= 0 && drop < distance):
		return 0, quantity.Inputf("Enter it as a size, in the unit of its field.", "The drop is below zero or not believable.")
	}
	return quantity.Radians(math.Atan(float64(drop / distance))), nil
}

// Drop is what a page tells people to set, with the angle that it comes to.
type Drop struct {
	Drop, Distance quantity.Length
	Angle          quantity.Angle
	Source         string
}

// PublishedDrops are shown side by side because they contradict each other by a
// factor of five. None is used here.
func PublishedDrops() []Drop {
	const one, other = "a how-to page on headlamp aiming", "another how-to page on headlamp aiming"
	rows := []Drop{
		{Drop: quantity.Inches(2), Distance: feet(25), Source: one},
		{Drop: quantity.Inches(2), Distance: feet(15), Source: other},
		{Drop: quantity.Inches(4), Distance: feet(10), Source: other},
	}
	for i := range rows {
		rows[i].Angle, _ = DropAngle(rows[i].Drop, rows[i].Distance) // rows of ours: it cannot fail
	}
	return rows
}

func feet(v float64) quantity.Length { return quantity.Inches(12 * v) }
