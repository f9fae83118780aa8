package lift

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Raising is one end being raised on level ground while the other stays down.
type Raising struct {
	End          End // the one that goes up
	Wheelbase    quantity.Length
	Raise        quantity.Length // of the wheel centres of that end
	WheelRadius  quantity.Length // wheel centre above the ground, of the end that stays down
	Resolution   quantity.Length // of the tape for the three
	CentreHeight measure.Value[quantity.Length]
}

// Transfer is what the raise moves.
type Transfer struct {
	Raised, Grounded measure.Value[quantity.Mass] // loads of the two ends when raised
	Extra            measure.Value[quantity.Mass] // that came onto the end that stays down
	Angle            quantity.Angle               // of the car, from level
	Travel           quantity.Length              // by which the raised axle comes nearer, so something has to roll
}

// raisedKernel: R = near − (near+far)·(h − r)·tan(asin(H/L))/L.
func raisedKernel(x ...float64) float64 {
	near, far, base, raise, height, radius := x[0], x[1], x[2], x[3], x[4], x[5]
	return near - (near+far)*(height-radius)*tilt(raise, base)/base
}

// tilt is the tangent of the angle of a car with one end raised.
func tilt(raise, base float64) float64 { return math.Tan(math.Asin(raise / base)) }

// MovedLoad is the load that moves to the other axle when one is raised. It
// needs the height of the centre of gravity: CentreHeight measures it.
func MovedLoad(a Axles, r Raising) (Transfer, error) {
	if err := r.check(a); err != nil {
		return Transfer{}, err
	}
	if err := checkHeight(r.CentreHeight); err != nil {
		return Transfer{}, err
	}
	if r.CentreHeight.Value <= r.WheelRadius {
		return Transfer{}, quantity.Inputf("Check both heights and their unit.", "The centre of gravity is not above the wheel centres.")
	}
	in := []reading{readingOf(a.of(r.End)), readingOf(a.of(r.End.other())), read(r.Wheelbase, r.Resolution), read(r.Raise, r.Resolution), readingOf(r.CentreHeight), read(r.WheelRadius, r.Resolution)}
	angle := math.Asin(float64(r.Raise / r.Wheelbase))
	return Transfer{
		Raised:   measured[quantity.Mass](raisedKernel, in...),
		Grounded: measured[quantity.Mass](func(x ...float64) float64 { return x[0] + x[1] - raisedKernel(x...) }, in...),
		Extra:    measured[quantity.Mass](func(x ...float64) float64 { return x[0] - raisedKernel(x...) }, in...),
		Angle:    quantity.Radians(angle),
		Travel:   r.Wheelbase * quantity.Length(1-math.Cos(angle)),
	}, nil
}

// CentreHeight is the height of the centre of gravity from the load left on
// the raised end:
//
//	h = r + (near − R)/(near + far) · L / tan(asin(H/L))
//
// The difference is small, so a coarse scale leaves a wide uncertainty.
func CentreHeight(a Axles, r Raising, left, resolution quantity.Mass) (measure.Value[quantity.Length], error) {
	if err := r.check(a); err != nil {
		return measure.Value[quantity.Length]{}, err
	}
	if !quantity.Finite(left) || !quantity.Finite(resolution) || left <= 0 || resolution <= 0 {
		return measure.Value[quantity.Length]{}, quantity.Inputf("Read the scale under the raised wheels, and enter its smallest step.", "The load left on the raised end, or the step of the scale, is missing.")
	}
	f := func(x ...float64) float64 {
		return x[4] + (x[0]-x[5])/(x[0]+x[1])*x[2]/tilt(x[3], x[2])
	}
	out := measured[quantity.Length](f, readingOf(a.of(r.End)), readingOf(a.of(r.End.other())), read(r.Wheelbase, r.Resolution), read(r.Raise, r.Resolution), read(r.WheelRadius, r.Resolution), read(left, resolution))
	if out.Value <= r.WheelRadius || !exactly(float64(out.Value)).within(possibleHeight) {
		return measure.Value[quantity.Length]{}, quantity.Inputf("Weigh again with the suspension held stiff, and raise further.", "A centre of gravity at %s is not that of a road car.", out.Value)
	}
	return out, nil
}

func (r Raising) check(a Axles) error {
	if err := checkPair(a, r.End, Support{Place: AtAxle, Resolution: r.Resolution}, r.Wheelbase, r.Resolution); err != nil {
		return err
	}
	if err := length(lang.T("the raise"), r.Raise, r.Resolution, possibleRaise); err != nil {
		return err
	}
	return length(lang.T("the height of the wheel centre"), r.WheelRadius, r.Resolution, possibleRadius)
}

func checkHeight(h measure.Value[quantity.Length]) error {
	switch {
	case !quantity.Finite(h.Value) || !quantity.Finite(h.Standard) || h.Value == 0:
		return quantity.Inputf("Measure it, or plan with the range of all cars.", "The height of the centre of gravity is not known.")
	case h.Standard <= 0:
		return quantity.Inputf("Say how well it is known.", "The height of the centre of gravity has no uncertainty.")
	case !spanOf(h).within(possibleHeight):
		return quantity.Inputf("Check the height and its unit.", "A centre of gravity at %s ± %s is not that of a road car.", h.Value, h.Expanded())
	}
	return nil
}

// Base is the foot of a stand: from under the middle of the post to the nearest
// edge that it would tip over, and from the ground to where the car rests.
type Base struct {
	HalfWidth, Height quantity.Length
	Resolution        quantity.Length // of the tape
}

func (b Base) check() error {
	if err := checkTape(b.Resolution); err != nil {
		return err
	}
	for _, l := range []quantity.Length{b.HalfWidth, b.Height} {
		if !quantity.Finite(l) || l < quantity.Millimetres(30) || l > quantity.Metres(1) || l <= b.Resolution {
			return quantity.Inputf("Measure the foot and the set height of the stand.", "A size of the stand is missing or not that of an axle stand.")
		}
	}
	return nil
}

// TipShare is the sideways push that tips a stand, as a share of the load on it:
// half width over height. The load has to be on the middle of the saddle.
func TipShare(b Base) (measure.Value[quantity.Ratio], error) {
	if err := b.check(); err != nil {
		return measure.Value[quantity.Ratio]{}, err
	}
	f := func(x ...float64) float64 { return x[0] / x[1] }
	return measured[quantity.Ratio](f, read(b.HalfWidth, b.Resolution), read(b.Height, b.Resolution)), nil
}

// TipAngle is the lean at which something with that share falls over: atan. It
// serves for a stand, and for a car with half its track over the height of its
// centre of gravity.
func TipAngle(share quantity.Ratio) quantity.Angle {
	return quantity.Radians(math.Atan(float64(share)))
}
