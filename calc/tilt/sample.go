package tilt

import (
	"math"
	"strconv"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Sample is one reading of the phone: the three components of
// accelerationIncludingGravity, and the time since the recording began. The axes
// belong to the phone and do not turn with the picture on the screen. A
// component that the browser leaves out is not a number here, and is refused.
type Sample struct {
	X, Y, Z quantity.Acceleration
	AtMS    int64
}

// Convention is the sign that a browser gives to gravity.
type Convention string

const (
	// W3C is the sign of the specification: with the screen up, z is +9.8.
	W3C Convention = "w3c"
	// Opposite has all three signs reversed: with the screen up, z is −9.8.
	Opposite Convention = "opposite"
)

// Side is one of the six sides of the phone, named as a person sees them who
// holds it upright and looks at the screen. It also stands for the direction
// that points out of that side.
type Side string

const (
	Top       Side = "top"
	Bottom    Side = "bottom"
	LeftEdge  Side = "left"
	RightEdge Side = "right"
	Screen    Side = "screen"
	Back      Side = "back"
)

// Words is the side as people read it.
func (s Side) Words() string {
	switch s {
	case Top:
		return lang.T("the top end")
	case Bottom:
		return lang.T("the bottom end")
	case LeftEdge:
		return lang.T("the left long edge")
	case RightEdge:
		return lang.T("the right long edge")
	case Screen:
		return lang.T("the screen")
	case Back:
		return lang.T("the back")
	}
	return ""
}

// Other is the side across the phone, or "" when s is none.
func (s Side) Other() Side {
	return map[Side]Side{Top: Bottom, Bottom: Top, LeftEdge: RightEdge, RightEdge: LeftEdge, Screen: Back, Back: Screen}[s]
}

// axis is the component that belongs to a side, and its sign: x to the right,
// y to the top end, z out of the screen.
func (s Side) axis() (index int, sign float64) {
	switch s {
	case RightEdge:
		return 0, 1
	case LeftEdge:
		return 0, -1
	case Top:
		return 1, 1
	case Bottom:
		return 1, -1
	case Screen:
		return 2, 1
	case Back:
		return 2, -1
	}
	return -1, 0
}

// across is the side whose axis is neither of the two.
func across(a, b Side) Side {
	i, _ := a.axis()
	j, _ := b.axis()
	return [...]Side{RightEdge, Top, Screen}[3-i-j]
}

func (s Sample) axes() [3]quantity.Acceleration {
	return [3]quantity.Acceleration{s.X, s.Y, s.Z}
}

func (s Sample) magnitude() float64 {
	return math.Hypot(math.Hypot(float64(s.X), float64(s.Y)), float64(s.Z))
}

// Recording is what was recorded in one placement, all of it: nothing is
// dropped here, and nothing may be dropped before.
type Recording struct {
	Samples    []Sample
	Convention Convention
	// Resolution is the step of the sensor's values as the browser gives them.
	// StepSeen reads it from the samples.
	Resolution quantity.Acceleration
}

const (
	// CoarsestStep is the finest step that the specification lets a browser give.
	CoarsestStep quantity.Acceleration = 0.1
	// FinestStep is the finest that is believed here, whatever the digits say.
	// Common practice, no source.
	FinestStep quantity.Acceleration = 0.01

	largestStep = 1.0  // m/s²; a step like this is a wrong unit
	rounding    = 1e-4 // m/s²; below it two values are the same, but for float noise
)

// StepSeen is the smallest step from one sample to the next on any axis. Values
// that never change do not show their step: they give CoarsestStep.
func StepSeen(samples []Sample) quantity.Acceleration {
	step := math.Inf(1)
	for i := 1; i < len(samples); i++ {
		before, now := samples[i-1].axes(), samples[i].axes()
		for axis := range now {
			if d := math.Abs(float64(now[axis] - before[axis])); d > rounding {
				step = min(step, d)
			}
		}
	}
	if math.IsInf(step, 1) {
		return CoarsestStep
	}
	return max(quantity.Acceleration(step), FinestStep)
}

// check judges what is said beside the samples.
func (r Recording) check() error {
	seen := StepSeen(r.Samples)
	switch {
	case r.Convention != W3C && r.Convention != Opposite:
		return quantity.Inputf("Lay the phone on its back, screen up: that shows which sign its browser uses.", "It is not known which sign this phone gives to gravity.")
	case !quantity.Finite(r.Resolution) || r.Resolution <= 0:
		return quantity.Inputf("Use the step that the samples show.", "The step of the sensor's values is missing or not above zero.")
	case r.Resolution >= largestStep:
		return quantity.Inputf("Check its unit: it is in m/s², and 0.1 at most in a browser that follows the specification.", "The step of the sensor's values is too coarse to measure with.")
	case float64(r.Resolution) < float64(seen)-rounding:
		return quantity.Inputf("Use the step that the samples show.", "The sensor's values come in steps of %s m/s², coarser than the %s m/s² said.", decimals(seen, 3), decimals(r.Resolution, 3))
	}
	return nil
}

// series is the component along the direction out of a side, in the sign of W3C.
func (r Recording) series(s Side) []quantity.Acceleration {
	i, sign := s.axis()
	if r.Convention == Opposite {
		sign = -sign
	}
	out := make([]quantity.Acceleration, len(r.Samples))
	for n, sample := range r.Samples {
		out[n] = quantity.Acceleration(sign) * sample.axes()[i]
	}
	return out
}

// DetectConvention finds the sign from a placement that the person states: the
// side that is up. For "on its back, screen up" that is Screen. It fails when
// the phone is not still, or does not lie as said within 30°.
func DetectConvention(samples []Sample, up Side) (Convention, error) {
	i, sign := up.axis()
	if i < 0 {
		return "", unknownSide()
	}
	still, err := Check(samples)
	if err != nil {
		return "", err
	}
	if err := still.refusal(); err != nil {
		return "", err
	}
	share := 0.0
	for _, s := range samples {
		share += sign * float64(s.axes()[i]) / s.magnitude() / float64(len(samples))
	}
	switch limit := math.Cos(math.Pi / 6); {
	case share > limit:
		return W3C, nil
	case share < -limit:
		return Opposite, nil
	}
	return "", quantity.Inputf("Place it as shown on something flat, and let go of it.", "The phone does not lie with %s up.", up.Words())
}

// decimals writes an acceleration for reading.
func decimals(a quantity.Acceleration, n int) string {
	return lang.Number(strconv.FormatFloat(float64(a), 'f', n, 64))
}

func unknownSide() error {
	return quantity.Inputf("Choose the top or bottom end, the left or right long edge, the screen or the back.", "It is not said which side of the phone is meant.")
}
