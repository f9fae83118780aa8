package thrust

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaSetback names the set-back in the record.
const FormulaSetback = "thrust-set-back/1"

// Wheelbases is the distance from front to rear hub centre on each side, and the
// track between the hubs it was measured at.
type Wheelbases struct {
	Left, Right, Track quantity.Length
	Resolution         quantity.Length // of the tape
}

// Setback is how much shorter the wheelbase is on one side, and the angle that
// makes over the track. Short is the side where front and rear wheel are nearer
// together; empty for none. Which axle stands askew is not said.
type Setback struct {
	By    measure.Value[quantity.Length]
	Angle measure.Value[quantity.Angle]
	Short Side
}

// FromWheelbases computes the set-back:
//
//	∂angle/∂set-back = track/(track²+set-back²)    ∂angle/∂track = −set-back/(track²+set-back²)
func FromWheelbases(w Wheelbases) (Setback, error) {
	for _, l := range []quantity.Length{w.Left, w.Right} {
		if err := checkBase(l, w.Resolution); err != nil {
			return Setback{}, err
		}
	}
	if !quantity.Finite(w.Track) || w.Track <= w.Resolution {
		return Setback{}, quantity.Inputf("Measure across the car between the two places at the hubs.", "The track is missing or not above zero.")
	}
	out := Setback{}
	switch {
	case w.Left < w.Right:
		out.Short = Left
	case w.Right < w.Left:
		out.Short = Right
	}
	by, track := math.Abs(float64(w.Left-w.Right)), w.Track.Metres()
	read, square := measure.Resolution(w.Resolution), track*track+by*by
	out.By = measure.Value[quantity.Length]{Value: quantity.Length(by), Standard: measure.Combine(read, read)}
	out.Angle = measure.Value[quantity.Angle]{Value: quantity.Radians(math.Atan(by / track)), Standard: measure.Combine(
		measure.Contribution[quantity.Angle](measure.Sensitivity(track/square), out.By.Standard),
		measure.Contribution[quantity.Angle](measure.Sensitivity(by/square), read),
	)}
	return out, nil
}

// QuestionSetback is a sentence to put to the person about a set-back that is
// not believable, or "".
func QuestionSetback(s Setback) string {
	if !known(s.Angle) {
		return lang.T("There is no set-back yet. Measure the wheelbase on both sides.")
	}
	if s.Angle.Value.Degrees() > questioned+1e-9 {
		return lang.F("The wheelbases differ by %s. Check that both were measured to the same places with the steering wheel straight.", quantity.FormatLength(s.By.Value, quantity.Millimetre))
	}
	return ""
}
