package tilt

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaFlip names the calibration by turning in the record.
const FormulaFlip = "phone-flip/1"

// Cover says whether the phone is in its case, which moves its edges.
type Cover string

const (
	Bare    Cover = "bare"
	Covered Cover = "covered"
)

// Setup is what a calibration belongs to. Phone is any name that tells one phone
// from another.
type Setup struct {
	Phone string
	Cover Cover
}

func (s Setup) check() error {
	if s.Phone == "" {
		return quantity.Inputf("Give it a name, such as the owner's.", "It is not said which phone is used.")
	}
	if s.Cover != Bare && s.Cover != Covered {
		return quantity.Inputf("Choose bare or in its case, and leave it so.", "It is not said whether the phone is in its case.")
	}
	return nil
}

// Flip is two placements on the same place of the same surface, the second after
// half a turn of the phone about the plumb line. Side faces the mark (a wall, or
// an arrow on the floor) in the first, and the side across the phone in the
// second. Up is up in both.
type Flip struct {
	First, Second Recording
	Side, Up      Side
	Setup         Setup
	AtMS          int64 // the wall clock at calibrating
}

// Flipped is what a Flip gives: the phone's own offset, ready to be kept, and the
// surface without it. Surface is the rise of the direction towards the mark: a
// floor that climbs to it is positive, and so is a wall whose face looks down.
type Flipped struct {
	First, Second quantity.Angle // the rise shown for Side
	Surface       measure.Value[quantity.Angle]
	Calibration   Calibration
}

// Calibration is the offset of one phone in one posture: what it shows for the
// rise of Side with Up up, less what is true.
type Calibration struct {
	Offset   measure.Value[quantity.Angle]
	Side, Up Side
	Setup    Setup
	AtMS     int64
}

const (
	hourMS int64 = 60 * 60 * 1000
	// CalibrationLastsMS is how long a calibration is used: a day's work. Common
	// practice, no source.
	CalibrationLastsMS = 24 * hourMS
	largestOffset      = 10.0 // degrees; beyond it, it is not the sensor
)

// Calibrate separates the phone's offset from the lean of the surface:
//
//	first = surface + offset      offset  = (first + second) / 2
//	second = −surface + offset    surface = (first − second) / 2
//
// The gain is the same in both placements, so for the surface it is added once
// more. It fails when a placement fails, or the offset is beyond 10°.
func Calibrate(f Flip) (Flipped, error) {
	if err := f.Setup.check(); err != nil {
		return Flipped{}, err
	}
	if f.AtMS <= 0 {
		return Flipped{}, quantity.Inputf("Set the clock of the phone.", "The time of the calibration is missing.")
	}
	first, err := shown(f.First, f.Side, f.Up)
	if err != nil {
		return Flipped{}, err
	}
	second, err := shown(f.Second, f.Side, f.Up)
	if err != nil {
		return Flipped{}, err
	}
	u := measure.Combine(first.Parts.combined()/2, second.Parts.combined()/2)
	out := Flipped{First: first.Shown, Second: second.Shown, Calibration: Calibration{Side: f.Side, Up: f.Up, Setup: f.Setup, AtMS: f.AtMS}}
	out.Calibration.Offset = measure.Value[quantity.Angle]{Value: (first.Shown + second.Shown) / 2, Standard: u}
	surface := (first.Shown - second.Shown) / 2
	out.Surface = measure.Value[quantity.Angle]{Value: surface, Standard: measure.Combine(u, gained(surface))}
	if math.Abs(out.Calibration.Offset.Value.Degrees()) > largestOffset {
		return Flipped{}, quantity.Inputf("Check that the phone was turned half a turn about the plumb line, on the same place, with the same side up.", "The two placements give an offset of %v, more than any phone has.", out.Calibration.Offset.Value)
	}
	return out, nil
}

// Stale reports whether the calibration is too old to use at nowMS, or younger
// than the clock allows.
func (c Calibration) Stale(nowMS int64) bool {
	return nowMS < c.AtMS || nowMS-c.AtMS > CalibrationLastsMS
}

// fit gives the offset for a side, with what it may have drifted, or says why
// the calibration is not for this placement.
func (c Calibration) fit(p Placement, side, up Side) (measure.Value[quantity.Angle], error) {
	if err := p.Setup.check(); err != nil {
		return measure.Value[quantity.Angle]{}, err
	}
	if problem := c.misfit(p, side, up); problem != "" {
		return measure.Value[quantity.Angle]{}, quantity.Inputf("Calibrate again the way you measure, or measure without it and accept the wide uncertainty.", "%s", problem)
	}
	out := measure.Value[quantity.Angle]{Value: c.Offset.Value, Standard: measure.Combine(c.Offset.Standard, drifted)}
	if side == c.Side.Other() {
		out.Value = -out.Value
	}
	return out, nil
}

func (c Calibration) misfit(p Placement, side, up Side) string {
	switch o := c.Offset; {
	case !quantity.Finite(o.Value) || math.Abs(o.Value.Degrees()) > largestOffset || !quantity.Finite(o.Standard) || o.Standard <= 0:
		return lang.T("The calibration has no offset with an uncertainty.")
	case side != c.Side && side != c.Side.Other() || up != c.Up:
		return lang.T("The calibration is for the phone in another posture.")
	case p.Setup.Phone != c.Setup.Phone:
		return lang.T("The calibration is that of another phone.")
	case p.Setup.Cover != c.Setup.Cover:
		return lang.T("The phone's case was put on or taken off since the calibration.")
	case p.NowMS < c.AtMS:
		return lang.T("The calibration is dated after this measurement, so one of the clocks is wrong.")
	case c.Stale(p.NowMS):
		return lang.T("The calibration is more than a day old.")
	}
	return ""
}
