package tilt

import (
	"math"

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
		return "The camber is not a number. Measure again."
	case math.Abs(camber.Degrees()) > believable:
		return "A camber of " + camber.String() + " is far beyond what a road car is set to. Is the phone's edge on the rim at the top and at the bottom?"
	case math.Abs(r.Across.Degrees()) > squarely:
		return "The phone leans along the car by " + quantity.Angle(math.Abs(float64(r.Across))).String() + ". Can you hold its edge straight up and down the wheel?"
	case sees == In && camber > 0 || sees == Out && camber < 0:
		return "You see the top leaning " + string(sees) + ", and the phone shows " + camber.String() + ", too little to be sure. Which is right?"
	}
	return ""
}

// QuestionFlip is a sentence to put to the person after calibrating, or "". On a
// level surface a phone that was not turned shows the same as one that was.
func QuestionFlip(f Flipped) string {
	offset := f.Calibration.Offset.Value
	switch {
	case !quantity.Finite(offset) || !quantity.Finite(f.Surface.Value):
		return "The calibration is not a number. Measure again."
	case math.Abs(offset.Degrees()) > suspicious:
		return "The phone is off by " + offset.String() + ", which is much. Does a button, the camera or the case keep its edge away from the surface?"
	case f.Surface.Low() <= 0 && f.Surface.High() >= 0:
		return "Both placements show the same. Was the phone turned half a turn in between? If so the surface is upright or level; one that leans by a degree or more proves the turn."
	}
	return ""
}

// QuestionCalibration is a sentence to put to the person before an older
// calibration is used, or "".
func QuestionCalibration(c Calibration, nowMS int64) string {
	switch {
	case nowMS < c.AtMS:
		return "The calibration is dated in the future. Is the clock right?"
	case c.Stale(nowMS):
		return "The calibration is more than a day old. Calibrate again: it takes two placements."
	case nowMS-c.AtMS > hourMS:
		return "The calibration is more than an hour old. Is it the same phone, with or without its case as then, about as warm, and not dropped since?"
	}
	return ""
}
