package camber

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// These name the calculations in the record.
const (
	FormulaDrop        = "floor-drop/1"
	FormulaLevelled    = "camber-floor/1"
	FormulaTurnedRound = "camber-turned-round/1"
)

// Side of the car, as seen from the driver's seat. The zero Side says nothing.
type Side string

const (
	Left  Side = "left"
	Right Side = "right"
)

// CrossSlope is the slope of the floor from one tyre of an axle to the other: a
// size, and the side that is low. Low may be empty only when the size is zero.
type CrossSlope struct {
	Slope measure.Value[quantity.Angle]
	Low   Side
}

// Drop is how much lower the floor is under one tyre of an axle than under the
// other, measured down from a level straightedge. Track is the level distance
// between the middles of the two tyres.
type Drop struct {
	Drop, Track                 quantity.Length
	Low                         Side
	Resolution, TrackResolution quantity.Length
}

// FromDrop computes the slope, atan(drop/track).
func FromDrop(d Drop) (CrossSlope, error) {
	switch {
	case !positive(d.Track):
		return CrossSlope{}, quantity.Inputf("Measure from the middle of one tyre to the middle of the other.", "The distance between the tyres is missing or not above zero.")
	case !quantity.Finite(d.Drop) || d.Drop < 0:
		return CrossSlope{}, quantity.Inputf("Enter the difference in height as a size, and say which side is low.", "The difference in height is missing or below zero.")
	case d.Drop >= d.Track/4:
		return CrossSlope{}, quantity.Inputf("Check that both are in the same unit and in the right field.", "The difference in height is too large for the distance.")
	case !positive(d.Resolution) || !positive(d.TrackResolution):
		return CrossSlope{}, quantity.Inputf("Enter the smallest mark of what measured the difference in height and the distance.", "A smallest mark is missing or not above zero.")
	}
	drop, track := d.Drop.Metres(), d.Track.Metres()
	perDrop := track / (track*track + drop*drop)
	out := CrossSlope{Low: d.Low, Slope: angle{Value: quantity.Radians(math.Atan2(drop, track)), Standard: measure.Combine(
		measure.Contribution[quantity.Angle](measure.Sensitivity(perDrop), measure.Resolution(d.Resolution)),
		measure.Contribution[quantity.Angle](measure.Sensitivity(perDrop*drop/track), measure.Resolution(d.TrackResolution)),
	)}}
	if err := out.check(); err != nil {
		return CrossSlope{}, err
	}
	return out, nil
}

// CrossSlope is the slope that was found by Reverse across the car, from tyre to
// tyre. The low side is said in words, as the sign of the display does not tell.
func (r Reversal) CrossSlope(low Side) (CrossSlope, error) {
	out := CrossSlope{Slope: angle{Value: quantity.Angle(math.Abs(float64(r.Slope.Value))), Standard: r.Slope.Standard}, Low: low}
	if err := out.check(); err != nil {
		return CrossSlope{}, err
	}
	return out, nil
}

func (c CrossSlope) check() error {
	switch {
	case c.Slope.Value < 0:
		return quantity.Inputf("Enter it without a sign, and say which side is low.", "The slope of the floor is below zero.")
	case !usable(c.Slope):
		return quantity.Inputf("Measure it under this axle, from tyre to tyre.", "The slope of the floor is missing or has no uncertainty.")
	case c.Low != Left && c.Low != Right && (c.Low != "" || c.Slope.Value > 0):
		return quantity.Inputf("Choose left or right, as seen from the driver's seat.", "It is not said which side of the floor is low.")
	}
	return nil
}

// Axle is both wheels of one axle and the floor under it.
type Axle struct {
	Left, Right measure.Value[quantity.Angle]
	Zero        Zero // Absolute; a relative reading has no floor left to correct
	Floor       CrossSlope
}

// Levelled is what the cambers are on a level floor. Mean and Cross (left minus
// right) are given here because the correction is the same on both sides: the
// mean is free of it, the cross has it twice.
type Levelled struct {
	Left, Right, Mean, Cross measure.Value[quantity.Angle]
	ToLeft, ToRight          quantity.Angle // what was added to each reading
}

// Level takes the floor out of the readings of one axle. Right side low makes
// the left wheel read too negative and the right wheel too positive: the slope
// is added on the left and taken off on the right.
func Level(a Axle) (Levelled, error) {
	switch {
	case a.Zero == OnFloor:
		return Levelled{}, quantity.Inputf("Use the readings as they are.", "The gauge was set to zero on this floor, so that the slope is out of the readings already.")
	case a.Zero != Absolute:
		return Levelled{}, quantity.Inputf("Choose absolute, or set to zero on the floor across the car.", "It is not said what the readings are measured against.")
	case !usable(a.Left) || !usable(a.Right):
		return Levelled{}, noPair()
	}
	if err := a.Floor.check(); err != nil {
		return Levelled{}, err
	}
	add, u := a.Floor.Slope.Value, a.Floor.Slope.Standard
	if a.Floor.Low == Left {
		add = -add
	}
	left, right := a.Left.Value+add, a.Right.Value-add
	return Levelled{
		Left:   angle{Value: left, Standard: measure.Combine(a.Left.Standard, u)},
		Right:  angle{Value: right, Standard: measure.Combine(a.Right.Standard, u)},
		Mean:   angle{Value: (left + right) / 2, Standard: (a.Left.Standard + a.Right.Standard) / 2},
		Cross:  angle{Value: left - right, Standard: measure.Combine(a.Left.Standard, a.Right.Standard, 2*u)},
		ToLeft: add, ToRight: 0 - add,
	}, nil
}

// Wheel is one wheel and the floor under its axle.
type Wheel struct {
	Camber measure.Value[quantity.Angle]
	Side   Side // may be empty only on a floor without a slope
	Zero   Zero // Absolute, as in Axle
	Floor  CrossSlope
}

// LevelWheel takes the floor out of the reading of one wheel, as Level does for
// both of an axle.
func LevelWheel(w Wheel) (measure.Value[quantity.Angle], error) {
	if !usable(w.Camber) {
		return angle{}, quantity.Inputf("Measure it, and enter the marks of what reads it.", "The camber is missing or has no uncertainty.")
	}
	both, err := Level(Axle{Left: w.Camber, Right: w.Camber, Zero: w.Zero, Floor: w.Floor})
	switch {
	case err != nil:
		return angle{}, err
	case w.Side == Right:
		return both.Right, nil
	case w.Side == Left, w.Side == "" && w.Floor.Slope.Value == 0:
		return both.Left, nil
	}
	return angle{}, noSide()
}

// BothWays is one wheel read on the same marks on the floor with the car facing
// one way, There, and the other way, Back.
type BothWays struct {
	There, Back measure.Value[quantity.Angle]
	Side        Side
}

// TurnRound parts the camber, the mean of both ways, from the floor, half their
// difference. The low side is as seen when the car faced the first way. The
// gauge's own offset is not taken out by it.
func TurnRound(b BothWays) (camber measure.Value[quantity.Angle], floor CrossSlope, err error) {
	switch {
	case !usable(b.There) || !usable(b.Back):
		return angle{}, CrossSlope{}, noPair()
	case b.Side != Left && b.Side != Right:
		return angle{}, CrossSlope{}, noSide()
	}
	camber, floor.Slope = halves(b.There, b.Back)
	other := map[Side]Side{Left: Right, Right: Left}
	switch slope := floor.Slope.Value; {
	case slope < 0: // reads more negative the first way: the other side is low
		floor.Low, floor.Slope.Value = other[b.Side], -slope
	case slope > 0:
		floor.Low = b.Side
	}
	return camber, floor, nil
}

// mostSlope is common practice for a place to measure on, no source.
const mostSlope = 2 // degrees

// SlopeQuestion is a sentence about a floor that slopes too much to measure on,
// or "" when there is nothing to ask.
func SlopeQuestion(c CrossSlope) string {
	switch {
	case c.check() != nil:
		return lang.T("The slope of the floor is not known. Measure it again, and say which side is low.")
	case c.Slope.Value > quantity.Degrees(mostSlope):
		return lang.F("The floor slopes by %s across the car. Is there a place that is nearer to level?", quantity.FormatAngle(c.Slope.Value, quantity.Degree))
	}
	return ""
}
