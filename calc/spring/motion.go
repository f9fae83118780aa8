package spring

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Per names what a motion ratio divides by what. The zero Per says nothing.
type Per string

const (
	SpringPerWheel        Per = "spring travel per wheel travel"          // mostly 1 or less
	WheelPerSpring        Per = "wheel travel per spring travel"          // mostly 1 or more
	SpringPerWheelSquared Per = "spring travel per wheel travel, squared" // wheel rate over spring rate
)

// Taken says along which line the spring's travel was taken for the ratio.
type Taken string

const (
	AlongSpring Taken = "along the spring" // its inclination is in the ratio already
	AtMount     Taken = "at the mount"     // on the mount's own path: the inclination is still to come
)

// Motion is the lever between spring and wheel.
type Motion struct {
	Ratio quantity.Ratio
	Per   Per
	// Inclined is the angle between the spring and the path of its mount, as a
	// size. It counts only for a ratio taken AtMount; when it is not zero, Taken
	// has to be said.
	Inclined quantity.Angle
	Taken    Taken
}

// A spring that moves less than a twentieth, or more than twenty times, as far
// as its wheel is on no car.
const leastRatio, mostRatio = 0.05, 20

// As gives the lever in another convention, with the inclination in it.
func (m Motion) As(per Per) (quantity.Ratio, error) {
	r, err := m.springPerWheel()
	if err != nil {
		return 0, err
	}
	switch per {
	case SpringPerWheel:
		return quantity.Ratio(r), nil
	case WheelPerSpring:
		return quantity.Ratio(1 / r), nil
	case SpringPerWheelSquared:
		return quantity.Ratio(r * r), nil
	}
	return 0, noPer()
}

func (m Motion) springPerWheel() (float64, error) {
	r := float64(m.Ratio)
	if !quantity.Finite(m.Ratio) || r <= 0 {
		return 0, quantity.Inputf("Enter it as a plain number above zero.", "The motion ratio is missing or not above zero.")
	}
	switch m.Per {
	case SpringPerWheel:
	case WheelPerSpring:
		r = 1 / r
	case SpringPerWheelSquared:
		r = math.Sqrt(r)
	default:
		return 0, noPer()
	}
	if !(m.Inclined >= 0 && m.Inclined.Degrees() <= 80) {
		return 0, quantity.Inputf("Enter it as a size, 0° for a spring in line with its mount's path.", "The inclination of the spring is below zero or nearly square to the path.")
	}
	if m.Inclined > 0 {
		switch m.Taken {
		case AlongSpring:
		case AtMount:
			r *= math.Cos(m.Inclined.Radians())
		default:
			return 0, quantity.Inputf("Choose along the spring, or at the mount: in the first case the angle is in the ratio already.", "It is not said how the spring's travel was taken.")
		}
	}
	if r < leastRatio || r > mostRatio {
		return 0, quantity.Inputf("Check the number, and which travel is divided by which.", "The motion ratio is of a size that no car has.")
	}
	return r, nil
}

func noPer() error {
	return quantity.Inputf("Choose which travel is divided by which, or whether it is the square: all three go by the name of motion ratio.", "It is not said which motion ratio is meant.")
}

// QuestionMotion is a sentence to put to the person about a lever that looks
// turned round, or "" when there is nothing to ask. On most cars the spring
// moves no further than the wheel (common practice, no source); on a few it does.
func QuestionMotion(m Motion) string {
	r, err := m.springPerWheel()
	switch {
	case err != nil:
		return lang.F("The motion ratio cannot be used yet. %s", err.Error())
	case r > 1.05:
		return lang.T("By this ratio the spring moves further than the wheel. Check whether the source divides wheel travel by spring travel.")
	case r < 0.3:
		return lang.T("By this ratio the spring moves less than a third as far as the wheel. Check whether the source gives the square of the ratio.")
	}
	return ""
}
