package toe

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaLines names the lean of the strings in the record.
const FormulaLines = "toe-string-lean/1"

// Place is where the strings run.
type Place string

const (
	Outside Place = "outside" // the wheel is between string and car
	Inside  Place = "inside"  // the string is between wheel and the middle of the car
)

// Ends is a distance at the front and at the rear.
type Ends struct{ Front, Rear quantity.Length }

// Hubs is what shows how the strings run to the car. Left and Right are the
// distances from string to hub centre at the front and the rear axle, at the
// same part of the hub left and right.
type Hubs struct {
	At          Place
	Left, Right Ends
	// Spacing is the distance between the two strings at two places, Apart from
	// each other along the car.
	Spacing          Ends
	Apart, Wheelbase quantity.Length
	Resolution       quantity.Length // of the rule at the hubs
	TapeResolution   quantity.Length // of the tape for the rest; zero when it was the same
}

// Lines is how the strings run: each string's own toe, toe-in positive, that is
// closing in on the centre line of the car towards the front. Closing is that of
// the two together, in which how the car stands between them cancels. Wider is
// the front track less the rear track, between the places measured at the hubs.
type Lines struct {
	At                   Place
	Left, Right, Closing measure.Value[quantity.Angle]
	Wider                quantity.Length
}

// FromHubs computes how the strings run.
func FromHubs(h Hubs) (Lines, error) {
	if err := h.check(); err != nil {
		return Lines{}, err
	}
	sign := 1.0
	if h.At == Inside {
		sign = -1
	}
	base, apart := h.Wheelbase.Metres(), h.Apart.Metres()
	turn := sign * float64((h.Left.Front-h.Right.Front)-(h.Left.Rear-h.Right.Rear)) / (2 * base)
	spread := float64(h.Spacing.Front-h.Spacing.Rear) / (2 * apart)
	uTurn, uSpread := h.standard(turn, spread)
	lean := func(slope float64) measure.Value[quantity.Angle] {
		return measure.Value[quantity.Angle]{Value: quantity.Radians(math.Atan(slope)), Standard: measure.Combine(uTurn, uSpread)}
	}
	hubs := quantity.Length(sign) * ((h.Left.Front + h.Right.Front) - (h.Left.Rear + h.Right.Rear))
	out := Lines{At: h.At, Left: lean(-turn - spread), Right: lean(turn - spread), Wider: quantity.Length(2*spread*base) - hubs}
	out.Closing = measure.Value[quantity.Angle]{Value: out.Left.Value + out.Right.Value, Standard: 2 * uSpread}
	return out, nil
}

// standard gives the uncertainties of turn and spread. It takes atan with slope
// 1: strings lean by a degree or two, and one is the most the slope can be.
func (h Hubs) standard(turn, spread float64) (uTurn, uSpread quantity.Angle) {
	base, apart := h.Wheelbase.Metres(), h.Apart.Metres()
	hub := measure.Contribution[quantity.Angle](measure.Sensitivity(1/(2*base)), measure.Resolution(h.Resolution))
	tape := measure.Resolution(resolution(h.TapeResolution, h.Resolution))
	spacing := measure.Contribution[quantity.Angle](measure.Sensitivity(1/(2*apart)), tape)
	uTurn = measure.Combine(hub, hub, hub, hub, measure.Contribution[quantity.Angle](measure.Sensitivity(turn/base), tape))
	uSpread = measure.Combine(spacing, spacing, measure.Contribution[quantity.Angle](measure.Sensitivity(spread/apart), tape))
	return uTurn, uSpread
}

func (h Hubs) check() error {
	if err := finite(h.Left.Front, h.Left.Rear, h.Right.Front, h.Right.Rear, h.Spacing.Front, h.Spacing.Rear, h.Apart, h.Wheelbase, h.Resolution, h.TapeResolution); err != nil {
		return err
	}
	switch {
	case h.At != Outside && h.At != Inside:
		return noPlace()
	case h.Left.Front <= 0 || h.Left.Rear <= 0 || h.Right.Front <= 0 || h.Right.Rear <= 0:
		return quantity.Inputf("Measure from the string to the centre of all four hubs.", "A distance from string to hub is missing or not above zero.")
	case h.Spacing.Front <= 0 || h.Spacing.Rear <= 0:
		return quantity.Inputf("Measure between the two strings ahead of the car and behind it.", "The distance between the strings is missing or not above zero.")
	case h.Apart <= 0 || h.Wheelbase <= 0:
		return quantity.Inputf("Measure along the car: between the two places where the spacing was taken, and from front to rear hub.", "The wheelbase, or the distance between the two places, is missing or not above zero.")
	case h.Resolution <= 0 || h.TapeResolution < 0:
		return quantity.Inputf("Enter the distance between two marks, such as 1 mm or 0.5 mm.", "The smallest mark of the rule is missing or not above zero.")
	case max(h.Resolution, h.TapeResolution) >= min(h.Wheelbase, h.Apart):
		return quantity.Inputf("Check the unit of the marks.", "The marks of the rule are further apart than the wheels are.")
	}
	return nil
}

func noPlace() error {
	return quantity.Inputf("Choose outside or inside: which gap means toe-in follows from it.", "It is not said whether the strings run outside or inside the wheels.")
}

func (l Lines) known() bool {
	for _, v := range []measure.Value[quantity.Angle]{l.Left, l.Right, l.Closing} {
		if !quantity.Finite(v.Value) || !quantity.Finite(v.Standard) || v.Standard <= 0 {
			return false
		}
	}
	return true
}

// Parallel judges whether both strings run parallel to the car, each within a
// size that the caller states.
func (l Lines) Parallel(within quantity.Angle) measure.Verdict {
	band := measure.Band[quantity.Angle]{Minus: within, Plus: within}
	left, right := band.Judge(l.Left), band.Judge(l.Right)
	switch {
	case left == measure.NotMet || right == measure.NotMet:
		return measure.NotMet
	case left == measure.Met && right == measure.Met:
		return measure.Met
	}
	return measure.TooClose
}

// QuestionLines is a sentence to put to the person about strings that run so
// far from parallel that a slip is likelier, or "".
func QuestionLines(l Lines) string {
	if !l.known() {
		return lang.T("It is not known how the strings run to the car. Measure from the strings to all four hubs, and between the strings.")
	}
	left, right := math.Abs(l.Left.Value.Degrees()), math.Abs(l.Right.Value.Degrees())
	switch {
	case max(left, right) <= questioned/2:
		return ""
	case right > left:
		return lang.F("The string on the right leans %s to the car. Measure the hubs and the spacing again, or move the string.", say(l.Right.Value, quantity.Degree))
	}
	return lang.F("The string on the left leans %s to the car. Measure the hubs and the spacing again, or move the string.", say(l.Left.Value, quantity.Degree))
}
