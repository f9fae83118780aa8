package adjust

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

type (
	angle  = quantity.Angle
	length = quantity.Length
)

// Way is a direction on the car, the same words on both sides of it.
type Way string

const (
	In       Way = "in"       // towards the middle of the car
	Out      Way = "out"      // away from it
	Forward  Way = "forward"  // towards the front
	Rearward Way = "rearward" // towards the rear
)

// Move is a move in a straight line. Its size is never negative; To may be
// empty only when it is zero.
type Move struct {
	By         quantity.Length
	To         Way
	Resolution quantity.Length // between two marks of what it is measured with
}

// largest is the change of an angle beyond which the answer would be to a
// mistyped question. Common practice, no source.
const largest = 15 // degrees

// along is a size with its sign, positive towards plus.
func along(size length, to, plus, minus Way) (float64, error) {
	switch {
	case !quantity.Finite(size) || size < 0:
		return 0, quantity.Inputf("Enter it as a size, and say in words which way.", "A distance is below zero or not a number.")
	case to == plus:
		return float64(size), nil
	case to == minus:
		return -float64(size), nil
	case to == "" && size == 0:
		return 0, nil
	}
	return 0, quantity.Inputf(choose(plus), "It is not said which way, or the way does not belong to this adjuster.")
}

// choose asks for a way; plus is named first.
func choose(plus Way) string {
	switch plus {
	case In:
		return lang.T("Choose in or out.")
	case Out:
		return lang.T("Choose out or in.")
	}
	return lang.T("Choose rearward or forward.")
}

// way is the inverse of along.
func way(v float64, plus, minus Way) (length, Way) {
	switch {
	case v > 0:
		return length(v), plus
	case v < 0:
		return length(-v), minus
	}
	return 0, ""
}

// positive refuses what is missing; subject begins the sentence.
func positive(subject string, l length) error {
	if !quantity.Finite(l) || l <= 0 {
		return quantity.Inputf("Measure it on the car and enter it.", "%s is missing or not above zero.", subject)
	}
	return nil
}

func marks(res length) error {
	if !quantity.Finite(res) || res <= 0 {
		return quantity.Inputf("Enter the distance between two marks, such as 1 mm or 0.5 mm.", "The smallest mark of a ruler is missing or not above zero.")
	}
	return nil
}

func checkChange(change angle) error {
	if !quantity.Finite(change) || math.Abs(change.Degrees()) > largest {
		return quantity.Inputf("Check the target and its unit: minutes are not degrees.", "The change of angle is not a number, or far beyond what an adjuster does.")
	}
	return nil
}

func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// turn is what the standard uncertainty of a length adds to an angle.
func turn(perMetre float64, res length) angle {
	return measure.Contribution[angle](measure.Sensitivity(perMetre), measure.Resolution(res))
}
