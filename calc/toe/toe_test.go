package toe_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/toe"
)

var (
	nan    = quantity.Length(math.NaN())
	inf    = quantity.Length(math.Inf(1))
	nanDeg = quantity.Angle(math.NaN())

	marks  = toe.Across{Method: toe.SameMarks, Front: 1.500, Rear: 1.502, Diameter: 0.6, Resolution: 0.001}
	square = toe.Hubs{At: toe.Outside, Left: toe.Ends{Front: 0.1, Rear: 0.1}, Right: toe.Ends{Front: 0.1, Rear: 0.1}, Spacing: toe.Ends{Front: 1.8, Rear: 1.8}, Apart: 4, Wheelbase: 2.6, Resolution: 0.0005}
	gaps   = toe.Strings{Lines: lines(square), Left: toe.Ends{Front: 0.051, Rear: 0.050}, Right: toe.Ends{Front: 0.050, Rear: 0.051}, Diameter: 0.43, Resolution: 0.0005}
	rod    = toe.Rod{Thread: toe.OneThread, Joint: toe.Behind, Pitch: 0.0015, Arm: 0.150, Resolution: 0.001}
	pair   = toe.Spec{Length: 0.003, LengthStep: 0.001, Angle: quantity.Minutes(15), AngleStep: quantity.Minutes(1)}
	sits   = toe.Wheel{Turned: toe.TurnedLeft, By: quantity.Degrees(10), Resolution: quantity.Degrees(5), Ratio: 15}
	third  = must(toe.FromAngle(quantity.Degrees(0.3), toe.In, toe.Total))
	total  = must(toe.FromTotal(value(0.1, 0.02), toe.RunoutCancelled))
	wheels = must(toe.FromWheels(value(0.3, 0.02), value(-0.2, 0.03), toe.RunoutCounted))
)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func lines(h toe.Hubs) toe.Lines { return must(toe.FromHubs(h)) }

func value(v, u float64) measure.Value[quantity.Angle] {
	return measure.Value[quantity.Angle]{Value: quantity.Degrees(v), Standard: quantity.Degrees(u)}
}

func with[T any](good T, change func(*T)) T { change(&good); return good }

func near[Q quantity.Quantity](a, b Q, within float64) bool {
	return math.Abs(float64(a-b)) <= within
}

// checkRefused wants nothing beside an input error with two sentences.
func checkRefused[T comparable](t *testing.T, got T, err error) {
	t.Helper()
	var input *quantity.InputError
	var zero T
	if !errors.As(err, &input) || input.What == "" || input.Next == "" || got != zero {
		t.Errorf("got %v and error %v, want nothing and an input error", got, err)
	}
}

// refusals breaks one good input in each way and wants it refused, having seen
// that the good one is taken.
func refusals[In any, Out comparable](t *testing.T, good In, f func(In) (Out, error), bad map[string]func(*In)) {
	t.Helper()
	if _, err := f(good); err != nil {
		t.Fatalf("the good input is refused: %v", err)
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := f(with(good, change))
			checkRefused(t, got, err)
		})
	}
}

func TestAnglesRefused(t *testing.T) {
	type given struct {
		size, diameter quantity.Length
		d              toe.Direction
		s              toe.Scope
	}
	refusals(t, given{0.003, 0.6, toe.In, toe.Total}, func(g given) (toe.Angles, error) { return toe.FromLength(g.size, g.diameter, g.d, g.s) }, map[string]func(*given){
		"Sign":        func(g *given) { g.size = -0.003 },
		"NaN":         func(g *given) { g.size = nan },
		"Direction":   func(g *given) { g.d = "" },
		"Unknown":     func(g *given) { g.d = "inwards" },
		"ZeroUnknown": func(g *given) { g.size, g.d = 0, "inwards" },
		"Scope":       func(g *given) { g.s = "" },
		"Diameter":    func(g *given) { g.diameter = 0 },
		"DiameterInf": func(g *given) { g.diameter = inf },
		"Long":        func(g *given) { g.size = 0.6 },
		"Longer":      func(g *given) { g.size = 0.7 },
		"Steep":       func(g *given) { g.size = 0.3 },
	})
	t.Run("ErrWheelSteep", func(t *testing.T) {
		got, err := toe.FromAngle(quantity.Degrees(8), toe.In, toe.PerWheel)
		checkRefused(t, got, err)
	})
	t.Run("ErrAt", func(t *testing.T) {
		for _, a := range []toe.Angles{{PerWheel: 1, Total: 2}, {PerWheel: 0.01, Total: 0.01}, {Total: nanDeg, PerWheel: nanDeg}} {
			got, err := a.At(0.6)
			checkRefused(t, got, err)
		}
		got, err := third.At(0)
		checkRefused(t, got, err)
	})
}

func TestWords(t *testing.T) {
	straight, _ := toe.FromAngle(0, "", toe.Total)
	out, _ := toe.FromAngle(quantity.Minutes(7), toe.Out, toe.PerWheel)
	bare, _ := toe.FromTotal(value(0.1, 0.02), toe.RunoutMissing)
	for name, test := range map[string]struct{ got, want string }{
		"in":           {third.Words(quantity.Degree), "0.30° in total, 0.15° in per wheel"},
		"out":          {out.Words(quantity.DegreeMinute), "0°14′ out total, 0°07′ out per wheel"},
		"straight":     {straight.Words(quantity.Degree), "0.00° total, 0.00° per wheel"},
		"total alone":  {total.Words(quantity.Degree), "0.10° in ± 0.04° total, 0.05° in per wheel if both have the same"},
		"each wheel":   {wheels.Words(quantity.Degree), "0.10° in ± 0.07° total, 0.30° in ± 0.04° left, 0.20° out ± 0.06° right"},
		"arithmetic":   {marks.Arithmetic(quantity.Millimetre), "total toe = asin((rear 1502 − front 1500) / 600 mm) = 0.19° in total, 0.10° in per wheel"},
		"lengths":      {must(out.At(0.5)).Words(quantity.Millimetre), "2.04 mm out total, 1.02 mm out per wheel, at a diameter of 500 mm"},
		"no length":    {must(straight.At(0.5)).Words(quantity.Inch), "0 in total, 0 in per wheel, at a diameter of 19.685 in"},
		"no sum":       {toe.Across{}.Arithmetic(quantity.Millimetre), ""},
		"outside":      {toe.TellGap(toe.Outside), "String outside: a bigger gap at the front is toe-in."},
		"inside":       {toe.TellGap(toe.Inside), "String inside: a bigger gap at the rear is toe-in."},
		"no place":     {toe.TellGap(""), ""},
		"no run-out":   {toe.QuestionRunout(total), ""},
		"after camber": {toe.AfterCamber[strings.LastIndex(toe.AfterCamber, "Set"):], "Set camber first, then read toe again."},
	} {
		if test.got != test.want {
			t.Errorf("%s: got %q, want %q", name, test.got, test.want)
		}
	}
	if toe.QuestionRunout(bare) == "" {
		t.Error("got no question, want the missing run-out named")
	}
}

func TestBoth(t *testing.T) {
	t.Run("OKWheels", func(t *testing.T) {
		left, right, ok := wheels.Wheels()
		want := measure.Combine(left.Standard, right.Standard)
		if !ok || left != value(0.3, 0.02) || right != value(-0.2, 0.03) || wheels.Total.Standard != want || wheels.Half.Standard != want/2 || wheels.Half.Value != wheels.Total.Value/2 {
			t.Errorf("got %v", wheels)
		}
	})
	t.Run("OKHalfTurn", func(t *testing.T) {
		other := must(toe.FromWheels(value(0.1, 0.05), value(-0.1, 0.01), toe.RunoutMissing))
		got, share, err := toe.HalfTurn(wheels, other)
		left, right, _ := got.Wheels()
		if err != nil || got.Runout != toe.RunoutCancelled || !near(left.Value, quantity.Degrees(0.2), 1e-12) || left.Standard != quantity.Degrees(0.05) ||
			!near(right.Value, quantity.Degrees(-0.15), 1e-12) || right.Standard != quantity.Degrees(0.03) || !near(got.Total.Value, left.Value+right.Value, 1e-12) {
			t.Errorf("got %v and error %v", got, err)
		}
		if !near(share.Left, quantity.Degrees(0.1), 1e-12) || !near(share.Right, quantity.Degrees(0.05), 1e-12) || !near(share.Total, quantity.Degrees(0.05), 1e-12) {
			t.Errorf("got shares %v", share)
		}
	})
	t.Run("ErrHalfTurn", func(t *testing.T) {
		for _, pair := range [][2]toe.Both{{wheels, total}, {total, {}}, {{}, total}} {
			got, _, err := toe.HalfTurn(pair[0], pair[1])
			checkRefused(t, got, err)
		}
	})
	t.Run("ErrBoth", func(t *testing.T) {
		good := value(0.1, 0.02)
		for _, bad := range []measure.Value[quantity.Angle]{value(0.1, 0), value(0.1, -1), value(math.NaN(), 1), value(1, math.Inf(1))} {
			got, err := toe.FromTotal(bad, toe.RunoutMissing)
			checkRefused(t, got, err)
			got, err = toe.FromWheels(good, bad, toe.RunoutMissing)
			checkRefused(t, got, err)
			got, err = toe.FromWheels(bad, good, toe.RunoutMissing)
			checkRefused(t, got, err)
		}
		got, err := toe.FromTotal(good, "")
		checkRefused(t, got, err)
		if changed := with(total, func(b *toe.Both) { b.Half.Value *= 2 }); toe.Question(changed) == "" {
			t.Error("got no question about a half that is not half the total")
		}
		angles, err := toe.FromAngle(0.01, "", toe.Total)
		checkRefused(t, angles, err)
		got, err = toe.FromWheels(good, good, "none")
		checkRefused(t, got, err)
		read, err := toe.Read(1, "", 1)
		checkRefused(t, read, err)
		read, err = toe.Read(1, toe.In, 0)
		checkRefused(t, read, err)
	})
	t.Run("ErrRunout", func(t *testing.T) {
		for _, b := range [][2]quantity.Length{{-0.001, 0.4}, {0.4, 0.4}, {nan, 0.4}, {0.001, 0}} {
			got, err := toe.RunoutShare(b[0], b[1])
			checkRefused(t, got, err)
		}
	})
}

func TestQuestion(t *testing.T) {
	tests := map[string]struct {
		b     toe.Both
		asked bool
	}{
		"small":     {total, false},
		"limit":     {must(toe.FromTotal(value(2, 0.1), toe.RunoutMissing)), false},
		"large":     {must(toe.FromTotal(value(2.001, 0.1), toe.RunoutMissing)), true},
		"large out": {must(toe.FromTotal(value(-2.001, 0.1), toe.RunoutMissing)), true},
		"same way":  {must(toe.FromWheels(value(3, 0.1), value(-3, 0.1), toe.RunoutMissing)), true},
		"none":      {toe.Both{}, true},
	}
	for name, test := range tests {
		if got := toe.Question(test.b); (got != "") != test.asked {
			t.Errorf("%s: got %q, want asked %t", name, got, test.asked)
		}
	}
	for name, tolerance := range map[string]quantity.Angle{"below zero": -0.001, "NaN": nanDeg} {
		if toe.QuestionSpec(third, tolerance) == "" {
			t.Errorf("%s: got no question about the tolerance", name)
		}
	}
	if toe.QuestionSpec(toe.Angles{PerWheel: 1, Total: 1}, 0) == "" {
		t.Error("got no question about a toe that is none")
	}
	if got := toe.QuestionSpec(must(toe.FromAngle(quantity.Degrees(15), toe.Out, toe.Total)), 0); !strings.Contains(got, "0.25°") {
		t.Errorf("got %q, want it to say what 15 minutes are", got)
	}
}

func TestAcrossRefused(t *testing.T) {
	refusals(t, marks, toe.FromAcross, map[string]func(*toe.Across){
		"Method":             func(a *toe.Across) { a.Method = "" },
		"Front":              func(a *toe.Across) { a.Front = 0 },
		"Rear":               func(a *toe.Across) { a.Rear = -1.5 },
		"RearNaN":            func(a *toe.Across) { a.Rear = nan },
		"FrontInf":           func(a *toe.Across) { a.Front = inf },
		"Diameter":           func(a *toe.Across) { a.Diameter = 0 },
		"Difference":         func(a *toe.Across) { a.Rear = 2.1 },
		"Resolution":         func(a *toe.Across) { a.Resolution = 0 },
		"DiameterResolution": func(a *toe.Across) { a.DiameterResolution = -0.001 },
		"Coarse":             func(a *toe.Across) { a.Resolution = 0.6 },
		"CoarseDiameter":     func(a *toe.Across) { a.DiameterResolution = 0.6 },
		"Runout":             func(a *toe.Across) { a.Runout = -0.001 },
		"RunoutNaN":          func(a *toe.Across) { a.Runout = nan },
	})
}

func TestImpliedRefused(t *testing.T) {
	refusals(t, pair, toe.ImpliedDiameter, map[string]func(*toe.Spec){
		"LengthNaN":  func(s *toe.Spec) { s.Length = nan },
		"LengthStep": func(s *toe.Spec) { s.LengthStep = 0 },
		"AngleStep":  func(s *toe.Spec) { s.AngleStep = 0 },
		"NoLength":   func(s *toe.Spec) { s.Length = 0.0005 },
		"NoAngle":    func(s *toe.Spec) { s.Angle = 0 },
		"Angle":      func(s *toe.Spec) { s.Angle = quantity.Degrees(16) },
	})
	i := must(toe.ImpliedDiameter(pair))
	for _, b := range [][2]quantity.Length{{0, 0.7}, {0.4, 0}, {0.7, 0.4}, {nan, 0.7}, {0.4, inf}} {
		got, err := i.Fits(b[0], b[1])
		checkRefused(t, got, err)
		if toe.QuestionSpecPair(i, b[0], b[1]) == "" {
			t.Errorf("%v: got no question without the diameters", b)
		}
	}
}

func TestFits(t *testing.T) {
	exact := toe.Implied{Diameter: 0.600, Low: 0.590, High: 0.610}
	tests := map[string]struct {
		rim, tyre quantity.Length
		want      toe.On
		says      string // in the question
	}{
		"tyre":          {0.400, 0.620, toe.OnTyre, ""},
		"rim":           {0.580, 0.760, toe.OnRim, ""},
		"either":        {0.590, 0.620, toe.Either, ""},
		"double":        {0.450, 1.200, toe.Neither, "twice that"},
		"double either": {1.180, 1.220, toe.Neither, "rim or the tyre is twice"},
		"half":          {0.300, 0.500, toe.Neither, "half of that"},
		"nothing":       {0.400, 0.500, toe.Neither, "Compare"},
	}
	for name, test := range tests {
		got, err := exact.Fits(test.rim, test.tyre)
		question := toe.QuestionSpecPair(exact, test.rim, test.tyre)
		if err != nil || got != test.want || !strings.Contains(question, test.says) || (question == "") != (test.says == "") {
			t.Errorf("%s: got %s, error %v and question %q, want %s and %q", name, got, err, question, test.want, test.says)
		}
	}
}
