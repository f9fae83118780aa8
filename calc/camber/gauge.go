package camber

import (
	"math"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaGauge and FormulaReversal name these calculations in the record.
const (
	FormulaGauge    = "camber-gauge/1"
	FormulaReversal = "gauge-reversal/1"
)

// Zero says what a reading is measured against. The zero Zero says nothing.
type Zero string

const (
	// Absolute is against true plumb: a spirit level, or a gauge whose offset
	// was found by Reverse since it was switched on. The floor is still in it.
	Absolute Zero = "absolute"
	// OnFloor is relative: the gauge was set to zero lying across the car on the
	// floor under this axle. Floor and offset are out of it already.
	OnFloor Zero = "on the floor"
)

// Lean is where the top of a wheel leans. The zero Lean says nothing.
type Lean string

const (
	In  Lean = "in"  // towards the car: negative camber
	Out Lean = "out" // away from it: positive camber
)

// LeanOf says a camber in words; an upright wheel has none.
func LeanOf(camber quantity.Angle) Lean {
	switch {
	case camber > 0:
		return Out
	case camber < 0:
		return In
	}
	return ""
}

// Leaning gives a lean in words its sign: negative in, positive out. To may be
// empty only for a wheel that stands upright.
func Leaning(size quantity.Angle, to Lean) (quantity.Angle, error) {
	switch {
	case !quantity.Finite(size) || size < 0:
		return 0, quantity.Inputf("Enter it without a sign, and say whether the top leans in or out.", "The camber is missing or below zero.")
	case size == 0 && (to == "" || to == In):
		return 0, nil
	case to == In:
		return -size, nil
	case to == Out:
		return size, nil
	}
	return 0, quantity.Inputf("Choose in, towards the car, or out, away from it.", "It is not said where the top of the wheel leans.")
}

// Gauge is a digital angle gauge held against the rim. Display is as it shows,
// from plumb: of a gauge that shows near 90°, the difference from 90°.
type Gauge struct {
	Display    quantity.Angle
	Resolution quantity.Angle // the smallest step of the display
	// Rising is where the top of the wheel leans further when the display rises.
	// Tilting the gauge by hand shows it.
	Rising Lean
	Zero   Zero
	Offset measure.Value[quantity.Angle] // from Reverse, in the sign of the display; Absolute only
}

// mostDisplay parts a lean from one that was measured against the level.
const mostDisplay = 45 // degrees

// FromGauge computes the camber, negative when the top leans in. A relative
// reading carries its step twice: zero was set with the same display. It fails
// when it is not said what zero was, and without an offset where there is one.
func FromGauge(g Gauge) (measure.Value[quantity.Angle], error) {
	if err := g.check(); err != nil {
		return angle{}, err
	}
	step := measure.Resolution(g.Resolution)
	out := angle{Value: g.Display - g.Offset.Value, Standard: measure.Combine(step, g.Offset.Standard)}
	if g.Zero == OnFloor {
		out.Standard = measure.Combine(step, step)
	}
	if g.Rising == In {
		out.Value = 0 - out.Value // never a zero with a sign
	}
	return out, nil
}

func (g Gauge) check() error {
	switch {
	case !quantity.Finite(g.Display):
		return quantity.Inputf("Read the gauge again.", "The reading is not a number.")
	case math.Abs(g.Display.Degrees()) > mostDisplay:
		return quantity.Inputf("Enter the difference from 90°.", "The reading is against the level, not against plumb.")
	case !positive(g.Resolution):
		return quantity.Inputf("Enter the smallest step of the display, such as 0.1°.", "The step of the display is missing or not above zero.")
	case g.Rising != In && g.Rising != Out:
		return quantity.Inputf("Tilt the gauge by hand and choose in or out.", "It is not said where the top leans when the display rises.")
	case g.Zero != Absolute && g.Zero != OnFloor:
		return quantity.Inputf("Choose absolute, or set to zero on the floor across the car.", "It is not said what the gauge's zero was.")
	case g.Zero == Absolute && !usable(g.Offset):
		return quantity.Inputf("Read it on one spot, turn it end for end on the same spot, and enter both readings.", "The gauge's own offset is not known, and such a gauge loses its zero when it is switched off.")
	case g.Zero == OnFloor && g.Offset != (angle{}):
		return quantity.Inputf("Leave the offset out, or choose absolute.", "A gauge that was set to zero on the floor has no offset left.")
	}
	return nil
}

// Reversal parts the slope of a place from the gauge's own offset. Both are in
// the sign of the display, the slope as in the first position.
type Reversal struct {
	Slope, Offset measure.Value[quantity.Angle]
}

// Reverse reads the same spot twice, the gauge turned end for end in between:
//
//	slope = (first − turned)/2    offset = (first + turned)/2
//
// Each keeps the uncertainty of one reading: two readings by the same display
// are not taken as better than one.
func Reverse(first, turned, resolution quantity.Angle) (Reversal, error) {
	switch {
	case !quantity.Finite(first) || !quantity.Finite(turned):
		return Reversal{}, quantity.Inputf("Read the gauge again, in both positions.", "One of the two readings is not a number.")
	case math.Abs(first.Degrees()) > mostDisplay || math.Abs(turned.Degrees()) > mostDisplay:
		return Reversal{}, quantity.Inputf("Lay the gauge on the floor or the bench and read both positions there.", "One of the two readings is more than 45°.")
	case !positive(resolution):
		return Reversal{}, quantity.Inputf("Enter the smallest step of the display, such as 0.1°.", "The step of the display is missing or not above zero.")
	}
	u := measure.Resolution(resolution)
	return Reversal{Slope: angle{Value: (first - turned) / 2, Standard: u}, Offset: angle{Value: (first + turned) / 2, Standard: u}}, nil
}
