package toe_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/toe"
)

func TestHubsRefused(t *testing.T) {
	refusals(t, square, toe.FromHubs, map[string]func(*toe.Hubs){
		"Place":      func(h *toe.Hubs) { h.At = "" },
		"Hub":        func(h *toe.Hubs) { h.Left.Rear = 0 },
		"HubNaN":     func(h *toe.Hubs) { h.Right.Front = nan },
		"HubSign":    func(h *toe.Hubs) { h.Right.Rear = -0.1 },
		"Spacing":    func(h *toe.Hubs) { h.Spacing.Front = 0 },
		"Apart":      func(h *toe.Hubs) { h.Apart = 0 },
		"Wheelbase":  func(h *toe.Hubs) { h.Wheelbase = inf },
		"NoBase":     func(h *toe.Hubs) { h.Wheelbase = 0 },
		"Resolution": func(h *toe.Hubs) { h.Resolution = 0 },
		"Tape":       func(h *toe.Hubs) { h.TapeResolution = -0.001 },
		"Coarse":     func(h *toe.Hubs) { h.TapeResolution = 2.6 },
	})
}

func TestStringsRefused(t *testing.T) {
	refusals(t, gaps, toe.FromStrings, map[string]func(*toe.Strings){
		"NoLines":    func(s *toe.Strings) { s.Lines = toe.Lines{} },
		"NotChecked": func(s *toe.Strings) { s.Lines = toe.Lines{At: toe.Outside} },
		"Lean":       func(s *toe.Strings) { s.Lines.Left.Value = nanDeg },
		"Touches":    func(s *toe.Strings) { s.Left.Rear = 0 },
		"GapNaN":     func(s *toe.Strings) { s.Right.Rear = nan },
		"Difference": func(s *toe.Strings) { s.Right.Rear = 0.6 },
		"Diameter":   func(s *toe.Strings) { s.Diameter = 0 },
		"Resolution": func(s *toe.Strings) { s.Resolution = 0 },
		"Runout":     func(s *toe.Strings) { s.Runout = 0.43 },
	})
}

// One wheel alone is what it is beside the other, and does not look at that one.
func TestOneWheel(t *testing.T) {
	leaning := with(gaps, func(s *toe.Strings) {
		s.Lines = lines(with(square, func(h *toe.Hubs) { h.Left.Front += 0.01; h.Spacing.Front += 0.02 }))
		s.Runout = 0.0005
	})
	left, right, _ := must(toe.FromStrings(leaning)).Wheels()
	for side, want := range map[toe.Side]measure.Value[quantity.Angle]{toe.Left: left, toe.Right: right} {
		alone := with(leaning, func(s *toe.Strings) {
			if side == toe.Left {
				s.Right = toe.Ends{}
			} else {
				s.Left = toe.Ends{}
			}
		})
		got := must(toe.FromString(alone, side))
		if !near(got.Value, want.Value, 1e-15) || !near(got.Standard, want.Standard, 1e-15) {
			t.Errorf("%s: got %v, want %v", side, got, want)
		}
	}
	for name, bad := range map[string]struct {
		s    toe.Strings
		side toe.Side
	}{
		"Side":    {gaps, ""},
		"Touches": {with(gaps, func(s *toe.Strings) { s.Left.Rear = 0 }), toe.Left},
		"NoLines": {with(gaps, func(s *toe.Strings) { s.Lines = toe.Lines{} }), toe.Right},
	} {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := toe.FromString(bad.s, bad.side)
			checkRefused(t, got, err)
		})
	}
	for a, asked := range map[quantity.Angle]bool{0: false, quantity.Degrees(2): false, quantity.Degrees(-2): false, quantity.Degrees(2.1): true, quantity.Degrees(-2.1): true, nanDeg: true} {
		if got := toe.QuestionWheel(a); (got != "") != asked {
			t.Errorf("%v: got %q, want asked %t", a, got, asked)
		}
	}
}

func TestParallel(t *testing.T) {
	within := quantity.Degrees(0.05)
	off := func(by quantity.Length) toe.Lines {
		return lines(with(square, func(h *toe.Hubs) { h.Left.Front += by; h.Right.Front -= by }))
	}
	for by, want := range map[quantity.Length]measure.Verdict{0: measure.Met, 0.0023: measure.TooClose, 0.01: measure.NotMet, -0.01: measure.NotMet} {
		if got := off(by).Parallel(within); got != want {
			t.Errorf("%v: got %s, want %s", by, got, want)
		}
	}
	oneSide := lines(with(square, func(h *toe.Hubs) { // the right string alone leans
		h.Spacing.Front += 0.02 * 4 / 2.6
		h.Right.Front += 0.02
	}))
	if !near(oneSide.Left.Value, 0, 1e-9) || oneSide.Right.Value >= 0 || oneSide.Parallel(within) != measure.NotMet {
		t.Errorf("got %v, want only the right string off", oneSide)
	}
	rightOnly := with(off(0), func(l *toe.Lines) { l.Right.Value = quantity.Degrees(-2) })
	if got, want := toe.QuestionLines(rightOnly), "The string on the right leans 2.00° out"; !strings.HasPrefix(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	for l, asked := range map[toe.Lines]bool{off(0): false, off(0.04): false, off(0.06): true, off(-0.06): true, {}: true} {
		if got := toe.QuestionLines(l); (got != "") != asked {
			t.Errorf("got %q, want asked %t", got, asked)
		}
	}
}

// A string set parallel by different hub distances front and rear shows the
// difference of the tracks and no lean.
func TestTracks(t *testing.T) {
	for place, sign := range map[toe.Place]quantity.Length{toe.Outside: 1, toe.Inside: -1} {
		l := lines(with(square, func(h *toe.Hubs) {
			h.At = place
			h.Left.Rear += sign * 0.015
			h.Right.Rear += sign * 0.015
		}))
		if l.Left.Value != 0 || l.Right.Value != 0 || !near(l.Wider, 0.030, 1e-12) {
			t.Errorf("%s: got %v, want parallel strings and a front track 30 mm wider", place, l)
		}
	}
}

// plan is a car seen from above with two strings: x forward, y to the left, the
// middle of the rear axle at the origin. The oracle: distances square to the
// strings are computed from the coordinates.
type plan struct {
	heading, left, right      float64 // of the car to the x axis and the wheels' toe, radians
	base, front, rear         float64 // wheelbase and tracks
	diameter, offset, stretch float64 // rim, rim plane outward of the hub, spacing tape's distance
	leftAt, leftTo            float64 // left string: y at x = 0, slope
	rightAt, rightTo          float64
	place                     toe.Place
}

func drawPlan(t *rapid.T, place toe.Place) plan {
	f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	return plan{
		heading: f("heading", -0.01, 0.01), left: f("left toe", -0.03, 0.03), right: f("right toe", -0.03, 0.03),
		base: f("wheelbase", 2, 3.2), front: f("front track", 1.3, 1.7), rear: f("rear track", 1.3, 1.7),
		diameter: f("diameter", 0.33, 0.7), stretch: f("apart", 3, 6), offset: 0.02,
		leftAt: f("left string", 0, 0.05), leftTo: f("left slope", -0.01, 0.01), rightAt: f("right string", 0, 0.05), rightTo: f("right slope", -0.01, 0.01),
		place: place,
	}
}

// point of the car at x along and y to the left of its centre line.
func (p plan) point(x, y float64) (float64, float64) {
	s, c := math.Sincos(p.heading)
	return x*c - y*s, x*s + y*c
}

func (p plan) stringAt(side toe.Side) (at, to float64) {
	far := 1.1
	if p.place == toe.Inside {
		far = 0.3
	}
	if side == toe.Left {
		return far + p.leftAt, p.leftTo
	}
	return -far - p.rightAt, p.rightTo
}

func (p plan) gap(side toe.Side, x, y float64) quantity.Length {
	at, to := p.stringAt(side)
	px, py := p.point(x, y)
	return quantity.Length(math.Abs(at+to*px-py) / math.Hypot(1, to))
}

func (p plan) hubs(side toe.Side) toe.Ends {
	sign := map[toe.Side]float64{toe.Left: 1, toe.Right: -1}[side]
	return toe.Ends{Front: p.gap(side, p.base, sign*p.front/2), Rear: p.gap(side, 0, sign*p.rear/2)}
}

// rim is the gaps at the front wheel.
func (p plan) rim(side toe.Side) toe.Ends {
	sign, in := 1.0, p.left
	if side == toe.Right {
		sign, in = -1, p.right
	}
	s, c := math.Sincos(in)
	edge := func(d float64) quantity.Length {
		return p.gap(side, p.base+d*c+p.offset*s, sign*(p.front/2+p.offset*c-d*s))
	}
	return toe.Ends{Front: edge(p.diameter / 2), Rear: edge(-p.diameter / 2)}
}

func (p plan) measured() (toe.Both, error) {
	spacing := func(x float64) quantity.Length {
		l, lt := p.stringAt(toe.Left)
		r, rt := p.stringAt(toe.Right)
		return quantity.Length(l + lt*x - r - rt*x)
	}
	l, err := toe.FromHubs(toe.Hubs{
		At: p.place, Left: p.hubs(toe.Left), Right: p.hubs(toe.Right), Spacing: toe.Ends{Front: spacing(p.stretch - 1), Rear: spacing(-1)},
		Apart: quantity.Length(p.stretch), Wheelbase: quantity.Length(p.base), Resolution: 0.001,
	})
	if err != nil {
		return toe.Both{}, err
	}
	return toe.FromStrings(toe.Strings{Lines: l, Left: p.rim(toe.Left), Right: p.rim(toe.Right), Diameter: quantity.Length(p.diameter), Resolution: 0.0005})
}

// String outside and string inside of the same car give the toe it has, however
// the strings lean and whatever the tracks.
func TestStringsAgainstPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, toe.Outside)
		for _, place := range []toe.Place{toe.Outside, toe.Inside} {
			p.place = place
			got, err := p.measured()
			left, right, ok := got.Wheels()
			const within = 5e-5 // rad, 0.003°: distances square to a leaning string, second order
			if err != nil || !ok || math.Abs(left.Value.Radians()-p.left) > within || math.Abs(right.Value.Radians()-p.right) > within {
				t.Fatalf("%s: got %v, %v and error %v, want %v, %v", place, left.Value.Radians(), right.Value.Radians(), err, p.left, p.right)
			}
		}
	})
}

// Left and right of the same readings changed over.
func TestStringsMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) quantity.Length {
			return quantity.Length(rapid.Float64Range(0.04, 0.06).Draw(t, name))
		}
		h, s := square, gaps
		h.At = rapid.SampledFrom([]toe.Place{toe.Outside, toe.Inside}).Draw(t, "place")
		h.Left, h.Right = toe.Ends{Front: draw("lf"), Rear: draw("lr")}, toe.Ends{Front: draw("rf"), Rear: draw("rr")}
		h.Spacing.Front += draw("spacing")
		s.Left, s.Right = toe.Ends{Front: draw("glf"), Rear: draw("glr")}, toe.Ends{Front: draw("grf"), Rear: draw("grr")}
		s.Lines = lines(h)
		one := must(toe.FromStrings(s))
		h.Left, h.Right = h.Right, h.Left
		s.Left, s.Right, s.Lines = s.Right, s.Left, lines(h)
		other := must(toe.FromStrings(s))
		left, right, _ := one.Wheels()
		mirroredLeft, mirroredRight, _ := other.Wheels()
		if !near(left.Value, mirroredRight.Value, 1e-12) || !near(right.Value, mirroredLeft.Value, 1e-12) || !near(one.Total.Value, other.Total.Value, 1e-12) || !near(one.Total.Standard, other.Total.Standard, 1e-12) {
			t.Errorf("got %v and %v, want them changed over", one, other)
		}
		if one.Runout != toe.RunoutMissing {
			t.Errorf("got run-out %s, want it missing", one.Runout)
		}
		s.Runout = 0.0007
		wider := must(toe.FromStrings(s))
		l, _, _ := wider.Wheels()
		if !(wider.Total.Standard > other.Total.Standard) || !(l.Standard > mirroredLeft.Standard) || wider.Total.Value != other.Total.Value || wider.Runout != toe.RunoutCounted {
			t.Errorf("got %v, want run-out to widen %v", wider, other)
		}
	})
}
