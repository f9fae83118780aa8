package adjust_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"strutcard/calc/adjust"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

var (
	sideAxis = adjust.Axis{Height: mm(600), Offset: mm(120), UpperLies: adjust.In, Resolution: mm(1)}
	backAxis = adjust.Axis{Height: mm(600), Offset: mm(60), UpperLies: adjust.Rearward, Resolution: mm(1)}
	inwards  = adjust.Move{By: mm(5), To: adjust.In, Resolution: mm(0.5)}
	foot     = adjust.Foot{Spacing: mm(55), Slotted: adjust.UpperBolt, ToTop: mm(450), ToBallJoint: mm(150), Resolution: mm(1)}
	cam      = adjust.Eccentric{Throw: mm(4), PerTurn: 48, Resolution: mm(0.1), Reading: 0.5}
	arm      = adjust.SteeringArm{Reach: mm(140), Joint: adjust.Rearward, Height: mm(60), Lies: adjust.Above, Resolution: mm(2)}
	spring   = adjust.Collar{Thread: adjust.Thread{Travel: mm(20), Turns: 10, Resolution: mm(0.5)}, SpringPerWheel: measure.Value[quantity.Ratio]{Value: 0.6, Standard: 0.01}}
	wishbone = adjust.Arm{Spacing: mm(300), Length: mm(250), FrontShare: 0.5, Resolution: mm(1)}
)

// A rigid knuckle is rotated about the lower joint by gonum, on either side of
// the car, until its upper joint lies where the move brings it.
func TestSidewaysAgainstRotation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, y := rapid.Float64Range(0.2, 0.8).Draw(t, "h"), rapid.Float64Range(-0.1, 0.19).Draw(t, "y")
		dx := rapid.Float64Range(-0.03, 0.03).Draw(t, "dx")
		got, err := axisOf(h, y, adjust.In, adjust.Out).Sideways(adjust.Upper, moveOf(dx, adjust.In, adjust.Out))
		if err != nil {
			t.Fatal(err)
		}
		for _, out := range []float64{1, -1} { // the left wheel's outside is +y, the right one's −y
			before, after := r3.Vec{Y: -out * y, Z: h}, r3.Vec{Y: -out * (y + dx), Z: h}
			turned := math.Atan2(r3.Cross(before, after).X, r3.Dot(before, after))
			wheel := r3.NewRotation(turned, r3.Vec{X: 1}).Rotate(r3.Vec{Z: 1}) // was upright
			if want := math.Atan2(out*wheel.Y, wheel.Z); math.Abs(float64(got.Camber.Value)-want) > 1e-9 {
				t.Errorf("side %v: got %v, want %v", out, got.Camber.Value, want)
			}
		}
	})
}

func axisOf(h, y float64, plus, minus adjust.Way) adjust.Axis {
	a := adjust.Axis{Height: quantity.Metres(h), Offset: quantity.Metres(math.Abs(y)), UpperLies: plus, Resolution: mm(1)}
	if y < 0 {
		a.UpperLies = minus
	}
	return a
}

func moveOf(dx float64, plus, minus adjust.Way) adjust.Move {
	m := adjust.Move{By: quantity.Metres(math.Abs(dx)), To: plus, Resolution: mm(0.5)}
	if dx < 0 {
		m.To = minus
	}
	return m
}

func TestAxisProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := axisOf(rapid.Float64Range(0.2, 0.8).Draw(t, "h"), rapid.Float64Range(-0.1, 0.1).Draw(t, "y"), adjust.In, adjust.Out)
		back := a
		back.UpperLies = map[adjust.Way]adjust.Way{adjust.In: adjust.Rearward, adjust.Out: adjust.Forward}[a.UpperLies]
		joint := rapid.SampledFrom([]adjust.Joint{adjust.Upper, adjust.Lower}).Draw(t, "joint")
		change := deg(rapid.Float64Range(-5, 5).Draw(t, "change"))
		by, to, err := a.SidewaysFor(joint, change)
		if err != nil {
			t.Fatal(err)
		}
		got, err := a.Sideways(joint, adjust.Move{By: by, To: to, Resolution: mm(0.5)})
		if err != nil || math.Abs(float64(got.Camber.Value-change)) > 1e-9 || !(got.Camber.Standard > 0) {
			t.Errorf("got %v and error %v, want %v back", got, err, change)
		}
		by, to, err = back.LengthwiseFor(joint, change)
		caster, err2 := back.Lengthwise(joint, adjust.Move{By: by, To: to, Resolution: mm(0.5)})
		if err != nil || err2 != nil || math.Abs(float64(caster.Value-change)) > 1e-9 {
			t.Errorf("got %v and errors %v, %v, want %v back", caster, err, err2, change)
		}
		further, _ := a.Sideways(adjust.Upper, adjust.Move{By: mm(8), To: adjust.In, Resolution: mm(0.5)})
		less, _ := a.Sideways(adjust.Upper, adjust.Move{By: mm(7), To: adjust.In, Resolution: mm(0.5)})
		if !(further.Camber.Value < less.Camber.Value && less.Camber.Value < 0) {
			t.Errorf("got %v for 8 mm and %v for 7 mm in, want the further the more negative", further.Camber, less.Camber)
		}
	})
}

// The uncertainty is checked against differences of the result itself.
func TestUncertaintyBySlopes(t *testing.T) {
	u := func(res float64) float64 { return res / 1000 / math.Sqrt(12) }
	slope := func(f func(d quantity.Length) angle) float64 {
		return float64(f(1e-7)-f(-1e-7)) / 2e-7
	}
	t.Run("Axis", func(t *testing.T) {
		wide, far := sideAxis, inwards // so that every part counts
		wide.Offset, far.By = mm(300), mm(60)
		got, _ := wide.Sideways(adjust.Upper, far)
		with := func(h, y, m quantity.Length) angle {
			a, b := wide, far
			a.Height, a.Offset, b.By = a.Height+h, a.Offset+y, b.By+m
			v, _ := a.Sideways(adjust.Upper, b)
			return v.Camber.Value
		}
		want := root(u(1)*slope(func(d quantity.Length) angle { return with(d, 0, 0) }), u(1)*slope(func(d quantity.Length) angle { return with(0, d, 0) }), u(0.5)*slope(func(d quantity.Length) angle { return with(0, 0, d) }))
		close(t, float64(got.Camber.Standard), want)
	})
	t.Run("Foot", func(t *testing.T) {
		got, _ := foot.Change(inwards)
		with := func(s, top, ball, m quantity.Length) angle {
			f, b := foot, inwards
			f.Spacing, f.ToTop, f.ToBallJoint, b.By = f.Spacing+s, f.ToTop+top, f.ToBallJoint+ball, b.By+m
			v, _ := f.Change(b)
			return v.Wheel.Value
		}
		want := root(u(1)*slope(func(d quantity.Length) angle { return with(d, 0, 0, 0) }), u(1)*slope(func(d quantity.Length) angle { return with(0, d, 0, 0) }),
			u(1)*slope(func(d quantity.Length) angle { return with(0, 0, d, 0) }), u(0.5)*slope(func(d quantity.Length) angle { return with(0, 0, 0, d) }))
		close(t, float64(got.Wheel.Standard), want)
	})
	t.Run("Steering arm", func(t *testing.T) {
		got, _ := arm.ToeFor(reading(-1, 0.05))
		with := func(r, h quantity.Length, c angle) angle {
			s := arm
			s.Reach, s.Height = s.Reach+r, s.Height+h
			v, _ := s.ToeFor(measure.Value[angle]{Value: deg(-1) + c, Standard: deg(0.05)})
			return v.Value
		}
		want := root(u(2)*slope(func(d quantity.Length) angle { return with(d, 0, 0) }), u(2)*slope(func(d quantity.Length) angle { return with(0, d, 0) }), float64(deg(0.05))*slope(func(d quantity.Length) angle { return with(0, 0, angle(d)) }))
		close(t, float64(got.Standard), want)
	})
	t.Run("Collar", func(t *testing.T) {
		got, _ := spring.AtWheel(5)
		close(t, float64(got.Standard), root(5*u(0.5)/10/0.6, 0.010*0.01/0.36))
	})
	t.Run("Eccentric", func(t *testing.T) {
		got, _ := cam.Push(2, 8)
		per := func(n float64) float64 {
			return 0.004 * math.Cos(2*math.Pi*n/48) * 2 * math.Pi / 48 * 0.5 / math.Sqrt(12)
		}
		close(t, float64(got.Standard), root(per(2), per(8), u(0.1)*(math.Sin(math.Pi/3)-math.Sin(math.Pi/12))))
	})
}

func root(parts ...float64) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += p * p
	}
	return math.Sqrt(sum)
}

func close(t *testing.T, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-4*want) {
		t.Errorf("got an uncertainty of %v, want %v", got, want)
	}
}

// The knuckle swings about the ball joint by what the clevis opens less what
// the strut leans the other way; the four points are placed one by one.
func TestFootAgainstLinkage(t *testing.T) {
	for _, c := range []struct{ top, ball float64 }{{0.45, 0.15}, {0.50, 0.20}, {0.40, 0.12}} {
		f := foot
		f.ToTop, f.ToBallJoint = quantity.Metres(c.top), quantity.Metres(c.ball)
		swing := deg(1.2).Radians()
		pivot := r2.Rotate(r2.Vec{Y: c.ball}, swing, r2.Vec{})
		strut := r2.Sub(r2.Vec{Y: c.ball + c.top}, pivot)
		opened := swing + math.Abs(math.Atan2(strut.X, strut.Y))
		m := adjust.Move{By: f.Spacing * quantity.Length(math.Tan(opened)), To: adjust.Out, Resolution: mm(0.5)}
		got, err := f.Change(m)
		if err != nil || math.Abs(float64(got.Wheel.Value)-swing) > 0.005*swing || math.Abs(float64(got.Clevis.Value)-opened) > 1e-9 {
			t.Errorf("got %+v and error %v, want %v of %v at the wheel", got, err, swing, opened)
		}
	}
}

func TestFoot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := foot
		f.Slotted = rapid.SampledFrom([]adjust.Bolt{adjust.UpperBolt, adjust.LowerBolt}).Draw(t, "bolt")
		plain := f
		plain.ToTop, plain.ToBallJoint = 0, 0
		change := deg(rapid.Float64Range(-3, 3).Draw(t, "change"))
		by, to, err := f.MoveFor(change)
		got, err2 := f.Change(adjust.Move{By: by, To: to, Resolution: mm(0.5)})
		if err != nil || err2 != nil || math.Abs(float64(got.Wheel.Value-change)) > 1e-9 {
			t.Errorf("got %v and errors %v, %v, want %v back", got, err, err2, change)
		}
		most, err := plain.Change(adjust.Move{By: by, To: to, Resolution: mm(0.5)})
		if err != nil || most.Wheel.Value != 0 || most.Share != 0 || math.Abs(float64(most.Clevis.Value)) < math.Abs(float64(change)) {
			t.Errorf("got %v and error %v, want the clevis alone, as the most it can be", most, err)
		}
	})
	t.Run("OKTenTimes", func(t *testing.T) {
		one := adjust.Move{By: mm(1), To: adjust.In, Resolution: mm(0.5)}
		top, _ := sideAxis.Sideways(adjust.Upper, one)
		low, _ := foot.Change(one)
		if ratio := float64(low.Clevis.Value / top.Camber.Value); ratio < 9 || ratio > 13 {
			t.Errorf("got the foot %.1f times as sensitive, want about 10", ratio)
		}
	})
}

func TestEccentric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to := turns(rapid.Float64Range(-12, 12).Draw(t, "from")), turns(rapid.Float64Range(-12, 12).Draw(t, "to"))
		got, err := cam.Push(from, to)
		if err != nil || !(got.Standard > 0) {
			t.Fatal(got, err)
		}
		tip := func(n turns) float64 { return r2.Rotate(r2.Vec{Y: 4}, -2*math.Pi*float64(n)/48, r2.Vec{}).X }
		if want := tip(to) - tip(from); math.Abs(got.Value.Millimetres()-want) > 1e-9 {
			t.Errorf("got %v, want %v mm by rotation", got.Value, want)
		}
		back, err := cam.To(from, got.Value)
		if pushed, err2 := cam.Push(from, back); err != nil || err2 != nil || math.Abs(float64(pushed.Value-got.Value)) > 1e-12 {
			t.Errorf("got graduation %v and errors %v, %v, want one that pushes %v", back, err, err2, got.Value)
		}
		if mirrored, _ := cam.Push(-from, -to); mirrored.Value != -got.Value {
			t.Errorf("got %v mirrored, want %v", mirrored.Value, -got.Value)
		}
		if (to > from) != (got.Value > 0) && math.Abs(float64(to-from)) > 1e-6 {
			t.Errorf("got %v from %v to %v, want it to grow with the count", got.Value, from, to)
		}
	})
	t.Run("OKToTheEnd", func(t *testing.T) {
		push, _ := cam.Push(-0.0640869140625, -12) // a share of −1 − 2⁻⁵²
		if got, err := cam.To(-0.0640869140625, push.Value); err != nil || math.Abs(float64(got+12)) > 1e-6 {
			t.Errorf("got %v and error %v, want the very end", got, err)
		}
	})
	t.Run("OKUneven", func(t *testing.T) {
		middle, _ := cam.Push(0, 1)
		end, _ := cam.Push(11, 12)
		if end.Value > middle.Value/10 {
			t.Errorf("got %v at the end and %v in the middle, want much less at the end", end.Value, middle.Value)
		}
	})
}

// An arm of which the pivots are moved is turned by gonum and put back on them.
func TestShimsAgainstRotation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := wishbone
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		a.FrontShare = quantity.Ratio(share)
		f, r := rapid.Float64Range(-0.01, 0.01).Draw(t, "front"), rapid.Float64Range(-0.01, 0.01).Draw(t, "rear")
		front, rear := moveOf(f, adjust.Out, adjust.In), moveOf(r, adjust.Out, adjust.In)
		got, err := a.Shift(adjust.Shims{Front: front.By, FrontTo: front.To, Rear: rear.By, RearTo: rear.To, Resolution: mm(0.5)})
		if err != nil || !(got.Out.Standard > 0 && got.Rear.Standard > 0) {
			t.Fatal(got, err)
		}
		// x forward, y out; the line of the pivots crosses x = 0 beside the ball joint
		foot := r2.Vec{Y: r + (f-r)*share}
		ball := r2.Add(foot, r2.Rotate(r2.Vec{Y: 0.25}, math.Atan2(f-r, 0.3), r2.Vec{}))
		if math.Abs(float64(got.Out.Value)-(ball.Y-0.25)) > 1e-12 || math.Abs(float64(got.Rear.Value)+ball.X) > 1e-12 {
			t.Errorf("got %+v, want %v", got, ball)
		}
		if (got.RearWay == adjust.Rearward) != (got.Rear.Value > 0) || (got.OutWay == adjust.Out) != (got.Out.Value > 0) {
			t.Errorf("got %+v, want words that agree with the signs", got)
		}
	})
	t.Run("OKUncertainty", func(t *testing.T) {
		s := adjust.Shims{Front: mm(3), FrontTo: adjust.Out, Rear: mm(1), RearTo: adjust.Out, Resolution: mm(0.5)}
		got, _ := wishbone.Shift(s)
		slope := func(change func(*adjust.Arm, *adjust.Shims, quantity.Length)) (out, rear float64) {
			for _, d := range []float64{1e-7, -1e-7} {
				a, s := wishbone, s
				change(&a, &s, quantity.Length(d))
				v, _ := a.Shift(s)
				out, rear = out+float64(v.Out.Value)/2/d, rear+float64(v.Rear.Value)/2/d
			}
			return out, rear
		}
		of, rf := slope(func(_ *adjust.Arm, s *adjust.Shims, d quantity.Length) { s.Front += d })
		or, rr := slope(func(_ *adjust.Arm, s *adjust.Shims, d quantity.Length) { s.Rear += d })
		ol, rl := slope(func(a *adjust.Arm, _ *adjust.Shims, d quantity.Length) { a.Length += d })
		ob, rb := slope(func(a *adjust.Arm, _ *adjust.Shims, d quantity.Length) { a.Spacing += d })
		u := 0.001 / math.Sqrt(12)
		close(t, float64(got.Out.Standard), root(of*u/2, or*u/2, ol*u, ob*u, 0.002/0.3*u)) // the last: where the ball joint stands
		close(t, float64(got.Rear.Standard), root(rf*u/2, rr*u/2, rl*u, rb*u))
	})
}

// The knuckle is leaned by gonum about the joint that stays, then steered about
// the leaned axis until the tie rod's joint is back at its distance from the car.
func TestToeAgainstLinkage(t *testing.T) {
	for _, joint := range []adjust.Way{adjust.Rearward, adjust.Forward} {
		for _, lies := range []adjust.Level{adjust.Above, adjust.Below} {
			for _, sai := range []float64{0, 15} {
				s := arm
				s.Joint, s.Lies = joint, lies
				got, err := s.ToeFor(reading(-1.5, 0.05))
				if want := steered(s, deg(-1.5), deg(sai)); err != nil || math.Abs(float64(got.Value)-want) > 0.1*math.Abs(want) {
					t.Errorf("%s %s, %v°: got %v and error %v, want about %v°", joint, lies, sai, got.Value, err, angle(want).Degrees())
				}
			}
		}
	}
}

// steered is the toe of a left wheel: x forward, y out, z up.
func steered(s adjust.SteeringArm, camber, sai angle) float64 {
	joint := r3.Vec{X: -float64(s.Reach), Z: float64(s.Height)}
	if s.Joint == adjust.Forward {
		joint.X = -joint.X
	}
	if s.Lies == adjust.Below {
		joint.Z = -joint.Z
	}
	lean := r3.NewRotation(-camber.Radians(), r3.Vec{X: 1})
	axis := lean.Rotate(r3.Vec{Y: -math.Sin(sai.Radians()), Z: math.Cos(sai.Radians())})
	leaned, wheel := lean.Rotate(joint), lean.Rotate(r3.Vec{Y: 1})
	off := func(turn float64) float64 { return r3.NewRotation(turn, axis).Rotate(leaned).Y }
	low, high := -0.3, 0.3
	for range 80 {
		middle := (low + high) / 2
		if (off(middle) > 0) == (off(high) > 0) {
			high = middle
		} else {
			low = middle
		}
	}
	wheel = r3.NewRotation(low, axis).Rotate(wheel)
	return math.Atan2(wheel.X, wheel.Y)
}

func TestCollar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := turns(rapid.Float64Range(-8, 8).Draw(t, "turns"))
		rise, err := spring.AtWheel(n)
		back, err2 := spring.TurnsFor(rise.Value)
		if err != nil || err2 != nil || math.Abs(float64(back-n)) > 1e-9 {
			t.Errorf("got %v, %v and errors %v, %v, want %v turns back", rise, back, err, err2, n)
		}
	})
	for r, asked := range map[quantity.Ratio]bool{0.6: false, 1: false, 1.67: true} {
		if got := adjust.QuestionSpringPerWheel(r); (got != "") != asked {
			t.Errorf("%v: got %q, want asked %t", r, got, asked)
		}
	}
}
