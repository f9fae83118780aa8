package tilt

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Where a person is asked. Common practice, no source.
const (
	believable = 15.0 // degrees of camber, as in package camber
	squarely   = 3.0  // degrees that the phone may lean along the car
	suspicious = 3.0  // degrees of offset
)

// QuestionCamber is a sentence to put to the person about a camber, or "".
func QuestionCamber(r Rise, sees Lean) string {
	camber := r.Angle.Value
	switch {
	case !quantity.Finite(camber) || !quantity.Finite(r.Across):
		return lang.T("The camber is not a number. Measure again.")
	case math.Abs(camber.Degrees()) > believable:
		return lang.F("A camber of %s is far beyond what a road car is set to. Is the phone's edge on the rim at the top and at the bottom?", camber.String())
	case math.Abs(r.Across.Degrees()) > squarely:
		return lang.F("The phone leans along the car by %s. Can you hold its edge straight up and down the wheel?", quantity.Angle(math.Abs(float64(r.Across))).String())
	case sees == In && camber > 0:
		return lang.F("You see the top leaning in, and the phone shows %s, too little to be sure. Which is right?", camber.String())
	case sees == Out && camber < 0:
		return lang.F("You see the top leaning out, and the phone shows %s, too little to be sure. Which is right?", camber.String())
	}
	return ""
}

// QuestionFlip is a sentence to put to the person after calibrating, or "". On a
// level surface a phone that was not turned shows the same as one that was.
func QuestionFlip(f Flipped) string {
	offset := f.Calibration.Offset.Value
	switch {
	case !quantity.Finite(offset) || !quantity.Finite(f.Surface.Value):
		return lang.T("The calibration is not a number. Measure again.")
	case math.Abs(offset.Degrees()) > suspicious:
		return lang.F("The phone is off by %s, which is much. Does a button, the camera or the case keep its edge away from the surface?", offset.String())
	case f.Surface.Low() <= 0 && f.Surface.High() >= 0:
		return lang.T("Both placements show the same. Was the phone turned half a turn in between? If so the surface is upright or level; one that leans by a degree or more proves the turn.")
	}
	return ""
}

// QuestionCalibration is a sentence to put to the person before an older
// calibration is used, or "".
func QuestionCalibration(c Calibration, nowMS int64) string {
	switch {
	case nowMS < c.AtMS:
		return lang.T("The calibration is dated in the future. Is the clock right?")
	case c.Stale(nowMS):
		return lang.T("The calibration is more than a day old. Calibrate again: it takes two placements.")
	case nowMS-c.AtMS > hourMS:
		return lang.T("The calibration is more than an hour old. Is it the same phone, with or without its case as then, about as warm, and not dropped since?")
	}
	return ""
}
