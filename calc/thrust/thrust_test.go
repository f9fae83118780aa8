package thrust_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/thrust"
)

type value = measure.Value[quantity.Angle]

var (
	nan    = quantity.Length(math.NaN())
	nanDeg = quantity.Angle(math.NaN())
	even   = wheels(0.1, 0.1)
	base   = thrust.Wheelbases{Left: 2.59, Right: 2.6, Track: 1.5, Resolution: 0.001}
)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func read(a, step quantity.Angle) value { return must(measure.Read(a, step)) }

func degrees(v, u float64) value {
	return value{Value: quantity.Degrees(v), Standard: quantity.Degrees(u)}
}

func wheels(left, right float64) thrust.Wheels {
	return thrust.Wheels{Left: degrees(left, 0.01), Right: degrees(right, 0.02)}
}

func near[Q quantity.Quantity](a, b Q) bool { return math.Abs(float64(a-b)) <= 1e-12 }

func checkRefused[T comparable](t *testing.T, got T, err error) {
	t.Helper()
	var input *quantity.InputError
	var zero T
	if !errors.As(err, &input) || input.What == "" || input.Next == "" || got != zero {
		t.Errorf("got %v and error %v, want nothing and an input error", got, err)
	}
}

func TestRefused(t *testing.T) {
	th := must(thrust.FromRear(even))
	var none thrust.Thrust
	for _, bad := range []value{{}, degrees(0.1, 0), degrees(0.1, -1), degrees(math.NaN(), 1), degrees(0.1, math.Inf(1))} {
		for _, w := range []thrust.Wheels{{Left: bad, Right: even.Right}, {Left: even.Left, Right: bad}} {
			got, err := thrust.FromRear(w)
			checkRefused(t, got, err)
			front, err := th.Front(w)
			checkRefused(t, front, err)
			crooked, err := th.SteeringWheel(w, 0.001)
			checkRefused(t, crooked, err)
			steer, err := w.ISO()
			checkRefused(t, steer, err)
		}
	}
	for _, c := range []thrust.Convention{"", "positive"} {
		got, err := th.In(c)
		checkRefused(t, got, err)
		signed, err := thrust.Signed(0.001, c, 0.001)
		checkRefused(t, signed, err)
	}
	signed, err := thrust.Signed(0.001, thrust.PositiveRight, 0)
	checkRefused(t, signed, err)
	got, err := none.In(thrust.PositiveLeft)
	checkRefused(t, got, err)
	front, err := none.Front(even)
	checkRefused(t, front, err)
	offset, err := none.Offset(2.5, 0.001)
	checkRefused(t, offset, err)
	for _, b := range [][2]quantity.Length{{0, 0.001}, {nan, 0.001}, {2.5, 0}, {2.5, nan}, {2.5, 2.5}} {
		offset, err := th.Offset(b[0], b[1])
		checkRefused(t, offset, err)
	}
	for _, within := range []quantity.Angle{-0.001, nanDeg} {
		crooked, err := th.SteeringWheel(even, within)
		checkRefused(t, crooked, err)
	}
	angle, err := thrust.Crooked{}.Angle(15)
	checkRefused(t, angle, err)
	for _, ratio := range []quantity.Ratio{0, 0.9, quantity.Ratio(math.NaN())} {
		angle, err := must(th.SteeringWheel(even, 0.001)).Angle(ratio)
		checkRefused(t, angle, err)
	}
}

func TestISOSteeringWheel(t *testing.T) {
	for _, b := range []struct {
		size quantity.Angle
		side thrust.Side
	}{{-1, thrust.Left}, {nanDeg, thrust.Left}, {1, ""}, {1, "up"}, {0, "up"}} {
		got, err := thrust.ISOSteeringWheel(b.size, b.side)
		checkRefused(t, got, err)
	}
	if got, err := thrust.ISOSteeringWheel(0, ""); got != 0 || err != nil {
		t.Errorf("got %v and error %v, want straight", got, err)
	}
}

func TestHeading(t *testing.T) {
	for toe, want := range map[quantity.Angle][2]thrust.Side{0: {"", ""}, 0.01: {thrust.Right, thrust.Left}, -0.01: {thrust.Left, thrust.Right}} {
		left, err := thrust.Heading(thrust.Left, toe)
		right, err2 := thrust.Heading(thrust.Right, toe)
		if left != want[0] || right != want[1] || err != nil || err2 != nil {
			t.Errorf("%v: got %q and %q, want %v", toe, left, right, want)
		}
	}
	got, err := thrust.Heading("", 0.01)
	checkRefused(t, got, err)
	got, err = thrust.Heading(thrust.Left, nanDeg)
	checkRefused(t, got, err)
}

func TestQuestion(t *testing.T) {
	for a, asked := range map[float64]bool{0: false, 2: false, -2: false, 2.001: true, -2.001: true, math.NaN(): true} {
		if got := thrust.Question(quantity.Degrees(a)); (got != "") != asked {
			t.Errorf("%v°: got %q, want asked %t", a, got, asked)
		}
	}
	if got := thrust.Question(quantity.Degrees(-15)); !strings.Contains(got, "0.25°") {
		t.Errorf("got %q, want it to say what 15 minutes are", got)
	}
}

// The two conventions are each other's opposite, a mirrored car points to the
// other side, and toe-out instead of toe-in changes the side as well.
func TestThrustProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string) float64 { return rapid.Float64Range(-2, 2).Draw(t, name) }
		rear := wheels(f("left"), f("right"))
		th := must(thrust.FromRear(rear))
		toRight, toLeft := must(th.In(thrust.PositiveRight)), must(th.In(thrust.PositiveLeft))
		size, side := th.Points()
		if toRight.Value != -toLeft.Value || toRight.Standard != toLeft.Standard || size.Value < 0 || !near(size.Value, quantity.Angle(math.Abs(float64(toRight.Value)))) || (side == thrust.Right) != (toRight.Value > 0) {
			t.Errorf("got %v, %v and %v to the %s", toRight, toLeft, size, side)
		}
		if iso := must(rear.ISO()); !near(iso.Mean.Value, toLeft.Value) || !near(iso.Mean.Value, (iso.Left.Value+iso.Right.Value)/2) || iso.Mean.Standard != toLeft.Standard {
			t.Errorf("got %v, want the mean of both, %v to the left", iso, toLeft)
		}
		mirrored := must(must(thrust.FromRear(thrust.Wheels{Left: rear.Right, Right: rear.Left})).In(thrust.PositiveRight))
		out := must(must(thrust.FromRear(wheels(-rear.Left.Value.Degrees(), -rear.Right.Value.Degrees()))).In(thrust.PositiveRight))
		if !near(mirrored.Value, -toRight.Value) || !near(out.Value, -toRight.Value) {
			t.Errorf("got %v mirrored and %v out, want the opposite of %v", mirrored, out, toRight)
		}
		for _, c := range []thrust.Convention{thrust.PositiveRight, thrust.PositiveLeft} {
			back := must(thrust.Signed(must(th.In(c)).Value, c, 0.001))
			if got := must(back.In(thrust.PositiveRight)); got.Value != toRight.Value {
				t.Errorf("%s: got %v back, want %v", c, got, toRight)
			}
		}
		more := must(must(thrust.FromRear(wheels(rear.Left.Value.Degrees()+0.1, rear.Right.Value.Degrees()))).In(thrust.PositiveRight))
		rear.Left.Standard *= 2
		wider := must(must(thrust.FromRear(rear)).In(thrust.PositiveRight))
		if !(more.Value > toRight.Value) || !(wider.Standard > toRight.Standard) {
			t.Errorf("got %v for more toe-in on the left and %v read coarser, from %v", more, wider, toRight)
		}
	})
}

func TestFrontProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string) float64 { return rapid.Float64Range(-1, 1).Draw(t, name) }
		th := must(thrust.FromRear(wheels(f("rear left"), f("rear right"))))
		front := wheels(f("left"), f("right"))
		got := must(th.Front(front))
		if !near(got.Left.Value+got.Right.Value, got.Total.Value) || !near(got.Total.Value, front.Left.Value+front.Right.Value) || got.Total.Standard != measure.Combine(front.Left.Standard, front.Right.Standard) {
			t.Errorf("got %v, want the total of %v", got, front)
		}
		if !(got.Left.Standard > front.Left.Standard) || !(got.Right.Standard > front.Right.Standard) {
			t.Errorf("got %v, want more uncertainty than %v", got, front)
		}
	})
}

// The oracle: a car that drives straight along its thrust line, in coordinates.
// The car points along x, y is to the left, the rear axle is at the origin and
// drives in the mean direction of its wheels; the front wheels have to point
// that way too.
func TestSteeringAgainstPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string) float64 { return rapid.Float64Range(-1, 1).Draw(t, name) }
		rearLeft, rearRight, left, right := f("rear left"), f("rear right"), f("left"), f("right")
		course := (-rearLeft + rearRight) / 2 * math.Pi / 180 // positive to the left: a left wheel toed in points right
		points := (-left + right) / 2 * math.Pi / 180         // of the front wheels, with the steering wheel straight
		steer := course - points                              // to the left, what the driver has to add
		th := must(thrust.FromRear(wheels(rearLeft, rearRight)))
		c := must(th.SteeringWheel(wheels(left, right), quantity.Degrees(0.1)))
		wheel := must(c.Angle(16))
		signed := must(thrust.ISOSteeringWheel(wheel.Value, c.Road.Side))
		if math.Abs(signed.Radians()-16*steer) > 1e-12 || !near(wheel.Standard, 16*c.Road.By.Standard) {
			t.Errorf("got %v, want %v to the left", signed.Radians(), 16*steer)
		}
		add := func(s thrust.Share) float64 { return must(thrust.ISOSteeringWheel(s.By.Value, s.Side)).Radians() }
		if math.Abs(add(c.Thrust)+add(c.Front)-add(c.Road)) > 1e-12 {
			t.Errorf("got %v, want thrust and front to add up", c)
		}
		half := measure.Combine(quantity.Degrees(0.01), quantity.Degrees(0.02)) / 2 // of either axle
		if !near(c.Road.By.Standard, measure.Combine(half, half)) || !near(c.Thrust.By.Standard, half) || !near(c.Front.By.Standard, half) {
			t.Errorf("got %v, want the uncertainty of both axles in the sum", c)
		}
		o := must(th.Offset(2.6, 0.001))
		s, co := math.Sincos(course)
		ahead := 2.6 * -s / co // of the front axle centre from the line the rear draws, along the axle, to the left
		want := map[bool]thrust.Side{true: thrust.Right, false: thrust.Left}[ahead > 0]
		if math.Abs(o.By.Value.Metres()-math.Abs(ahead)) > 1e-12 || ahead != 0 && o.Rear != want {
			t.Errorf("got %v, want the front %v m to the left of the rear", o, ahead)
		}
	})
}

func TestWords(t *testing.T) {
	crooked := func(rear, front thrust.Wheels, within float64) string {
		return must(must(thrust.FromRear(rear)).SteeringWheel(front, quantity.Degrees(within))).Words()
	}
	tests := map[string]struct{ got, want string }{
		"thrust":   {crooked(wheels(0.4, 0), even, 0.1), "Driving straight, the steering wheel sits turned to the right. The rear axle pushes towards the right (0.20° ± 0.02°)."},
		"front":    {crooked(even, wheels(0.4, 0), 0.1), "Driving straight, the steering wheel sits turned to the left. With the steering wheel straight, the front wheels point to the right of the car (0.20° ± 0.02°)."},
		"straight": {crooked(even, even, 0.1), "The steering wheel sits straight."},
		"cancel":   {crooked(wheels(0.4, 0), wheels(0.4, 0), 0.1), "The steering wheel sits straight. The rear axle pushes towards the right (0.20° ± 0.02°). With the steering wheel straight, the front wheels point to the right of the car (0.20° ± 0.02°)."},
		"close":    {crooked(wheels(0.2, 0), even, 0.1), "Whether the steering wheel sits straight is too close to tell from these readings."},
		"nothing":  {thrust.Crooked{}.Words(), "Whether the steering wheel sits straight is too close to tell from these readings."},
	}
	for name, test := range tests {
		if test.got != test.want {
			t.Errorf("%s: got %q, want %q", name, test.got, test.want)
		}
	}
}

func TestSetback(t *testing.T) {
	for name, change := range map[string]func(*thrust.Wheelbases){
		"Left":       func(w *thrust.Wheelbases) { w.Left = 0 },
		"RightNaN":   func(w *thrust.Wheelbases) { w.Right = nan },
		"Track":      func(w *thrust.Wheelbases) { w.Track = 0 },
		"TrackNaN":   func(w *thrust.Wheelbases) { w.Track = nan },
		"Resolution": func(w *thrust.Wheelbases) { w.Resolution = 0 },
		"Coarse":     func(w *thrust.Wheelbases) { w.Resolution = 1.5 },
	} {
		t.Run("Err"+name, func(t *testing.T) {
			w := base
			change(&w)
			got, err := thrust.FromWheelbases(w)
			checkRefused(t, got, err)
		})
	}
	got := must(thrust.FromWheelbases(base))
	other := must(thrust.FromWheelbases(thrust.Wheelbases{Left: base.Right, Right: base.Left, Track: base.Track, Resolution: base.Resolution}))
	coarse := must(thrust.FromWheelbases(thrust.Wheelbases{Left: base.Left, Right: base.Right, Track: base.Track, Resolution: 0.002}))
	if other.Short != thrust.Right || other.By != got.By || other.Angle != got.Angle || !near(coarse.By.Standard, 2*got.By.Standard) || !near(coarse.Angle.Standard, 2*got.Angle.Standard) {
		t.Errorf("got %v, %v mirrored and %v read coarser", got, other, coarse)
	}
	// central differences of atan(set-back / track)
	d := func(by, track float64) float64 { return math.Atan(by / track) }
	const h = 1e-6
	perBy, perTrack := (d(0.01+h, 1.5)-d(0.01-h, 1.5))/(2*h), (d(0.01, 1.5+h)-d(0.01, 1.5-h))/(2*h)
	if want := 0.001 / math.Sqrt(12) * math.Hypot(math.Sqrt2*perBy, perTrack); math.Abs(got.Angle.Standard.Radians()-want) > 1e-9 {
		t.Errorf("got %v, want %v", got.Angle.Standard.Radians(), want)
	}
	square := must(thrust.FromWheelbases(thrust.Wheelbases{Left: 2.6, Right: 2.6, Track: 1.5, Resolution: 0.001}))
	if square.Short != "" || square.By.Value != 0 || !(square.By.Standard > 0) {
		t.Errorf("got %v, want square axles with an uncertainty", square)
	}
	far := must(thrust.FromWheelbases(thrust.Wheelbases{Left: 2.54, Right: 2.6, Track: 1.5, Resolution: 0.001}))
	for s, asked := range map[thrust.Setback]bool{got: false, square: false, far: true, {}: true} {
		if question := thrust.QuestionSetback(s); (question != "") != asked {
			t.Errorf("got %q, want asked %t", question, asked)
		}
	}
}
