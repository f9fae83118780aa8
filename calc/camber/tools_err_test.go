package camber_test

import (
	"math"
	"strings"
	"testing"

	"strutcard/calc/camber"
	"strutcard/calc/quantity"
)

var nan = quantity.Angle(math.NaN())

// refuse changes a good input in one place and wants an error and nothing else.
func refuse[In any, Out comparable](t *testing.T, good In, do func(In) (Out, error), bad map[string]func(*In)) {
	t.Helper()
	if _, err := do(good); err != nil {
		t.Fatalf("got error %v for the good input, want none", err)
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			in := good
			change(&in)
			got, err := do(in)
			var zero Out
			if got != zero {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
}

func TestPerDivision(t *testing.T) {
	type in = camber.Shim
	refuse(t, shim, camber.PerDivision, map[string]func(*in){
		"NoShim":       func(s *in) { s.Thickness = 0 },
		"ShimNaN":      func(s *in) { s.Thickness = quantity.Length(nan) },
		"NoBase":       func(s *in) { s.Base = 0 },
		"Thick":        func(s *in) { s.Thickness = s.Base / 4 },
		"Unmoved":      func(s *in) { s.Divisions = 0 },
		"Moved":        func(s *in) { s.Divisions = quantity.Turns(nan) },
		"NoMarks":      func(s *in) { s.Resolution = 0 },
		"NoBaseMarks":  func(s *in) { s.BaseResolution = 0 },
		"NoDivision":   func(s *in) { s.DivisionResolution = 0 },
		"DivisionBack": func(s *in) { s.DivisionResolution = -1 },
	})
}

func TestFromBubble(t *testing.T) {
	type in = camber.Bubble
	good := in{Divisions: 2, Resolution: 0.25, PerDivision: known(0.477, 0.03), At: camber.Top}
	refuse(t, good, camber.FromBubble, map[string]func(*in){
		"Below":        func(b *in) { b.Divisions = -2 },
		"NaN":          func(b *in) { b.Divisions = quantity.Turns(nan) },
		"NoResolution": func(b *in) { b.Resolution = 0 },
		"NoScale":      func(b *in) { b.PerDivision = value{} },
		"ScaleBack":    func(b *in) { b.PerDivision.Value = -b.PerDivision.Value },
		"ScaleExact":   func(b *in) { b.PerDivision.Standard = 0 },
		"NoEnd":        func(b *in) { b.At = "" },
		"UnknownEnd":   func(b *in) { b.Divisions, b.At = 0, "left" },
	})
	good.Divisions, good.At = 0, ""
	got, err := camber.FromBubble(good)
	if err != nil || got.Value != 0 || !(got.Standard > 0) {
		t.Errorf("got %v and error %v, want an upright wheel with an uncertainty", got, err)
	}
}

func TestFromGauge(t *testing.T) {
	type in = camber.Gauge
	good := in{Display: quantity.Degrees(1.4), Resolution: quantity.Degrees(0.1), Rising: camber.In, Zero: camber.Absolute, Offset: known(0.2, 0.03)}
	refuse(t, good, camber.FromGauge, map[string]func(*in){
		"NaN":          func(g *in) { g.Display = nan },
		"Level":        func(g *in) { g.Display = quantity.Degrees(88.6) },
		"NoResolution": func(g *in) { g.Resolution = 0 },
		"Rising":       func(g *in) { g.Rising = "" },
		"Zero":         func(g *in) { g.Zero = "relative" },
		"NoOffset":     func(g *in) { g.Offset = value{} },
		"OffsetExact":  func(g *in) { g.Offset.Standard = 0 },
		"OffsetTwice":  func(g *in) { g.Zero = camber.OnFloor },
	})
	good.Zero, good.Offset, good.Display = camber.OnFloor, value{}, 0
	got, err := camber.FromGauge(good)
	step := good.Resolution.Degrees() / math.Sqrt(12)
	if err != nil || math.Signbit(float64(got.Value)) || math.Abs(got.Standard.Degrees()-step*math.Sqrt2) > 1e-12 || camber.LeanOf(got.Value) != "" {
		t.Errorf("got %v and error %v, want zero without a sign, and the step twice", got, err)
	}
}

func TestReverse(t *testing.T) {
	type in = [3]quantity.Angle
	do := func(i in) (camber.Reversal, error) { return camber.Reverse(i[0], i[1], i[2]) }
	refuse(t, in{0.01, -0.003, 0.002}, do, map[string]func(*in){
		"First":      func(i *in) { i[0] = nan },
		"Turned":     func(i *in) { i[1] = nan },
		"Plumb":      func(i *in) { i[0] = 1.5 },
		"PlumbBack":  func(i *in) { i[1] = -1.5 },
		"Resolution": func(i *in) { i[2] = 0 },
	})
	r, _ := do(in{-0.01, 0.003, 0.002})
	got, err := r.CrossSlope(camber.Left)
	if err != nil || math.Abs(float64(got.Slope.Value-0.0065)) > 1e-15 || got.Low != camber.Left || got.Slope.Standard != r.Slope.Standard {
		t.Errorf("got %v and error %v, want the size of the slope", got, err)
	}
	got, err = r.CrossSlope("")
	if got != (camber.CrossSlope{}) {
		t.Errorf("got %v beside an error, want nothing", got)
	}
	checkInput(t, err)
}

func TestFromDrop(t *testing.T) {
	type in = camber.Drop
	refuse(t, fall, camber.FromDrop, map[string]func(*in){
		"NoTrack":      func(d *in) { d.Track = 0 },
		"Below":        func(d *in) { d.Drop = -0.012 },
		"NaN":          func(d *in) { d.Drop = quantity.Length(nan) },
		"Steep":        func(d *in) { d.Drop = d.Track / 4 },
		"NoMarks":      func(d *in) { d.Resolution = 0 },
		"NoTrackMarks": func(d *in) { d.TrackResolution = 0 },
		"Low":          func(d *in) { d.Low = "front" },
		"NoSide":       func(d *in) { d.Low = "" },
	})
	flat := fall
	flat.Drop, flat.Low = 0, ""
	if got, err := camber.FromDrop(flat); err != nil || got.Slope.Value != 0 || !(got.Slope.Standard > 0) {
		t.Errorf("got %v and error %v, want a level floor with an uncertainty and no side", got, err)
	}
}

func TestLevel(t *testing.T) {
	type in = camber.Axle
	good := in{Left: known(-2.1, 0.03), Right: known(-1.2, 0.04), Zero: camber.Absolute, Floor: floor(0.5, camber.Right)}
	refuse(t, good, camber.Level, map[string]func(*in){
		"Twice":      func(a *in) { a.Zero = camber.OnFloor },
		"Zero":       func(a *in) { a.Zero = "" },
		"Left":       func(a *in) { a.Left = value{} },
		"Right":      func(a *in) { a.Right.Standard = 0 },
		"Floor":      func(a *in) { a.Floor = camber.CrossSlope{} },
		"FloorBelow": func(a *in) { a.Floor.Slope.Value = -a.Floor.Slope.Value },
		"Low":        func(a *in) { a.Floor.Low = "" },
	})
	twice := good
	twice.Zero = camber.OnFloor
	if _, err := camber.Level(twice); err == nil || !strings.Contains(err.Error(), "already") {
		t.Errorf("got error %v, want to hear that the slope is out already", err)
	}
	got, _ := camber.Level(good)
	for name, test := range map[string][2]float64{
		"left": {got.Left.Standard.Degrees(), math.Hypot(0.03, 0.03)}, "right": {got.Right.Standard.Degrees(), 0.05},
		"mean": {got.Mean.Standard.Degrees(), 0.035}, "cross": {got.Cross.Standard.Degrees(), math.Hypot(0.05, 0.06)},
		"to the left": {got.ToLeft.Degrees(), 0.5}, "to the right": {got.ToRight.Degrees(), -0.5}, "cross itself": {got.Cross.Value.Degrees(), 0.1},
	} {
		if math.Abs(test[0]-test[1]) > 1e-12 {
			t.Errorf("%s: got %v, want %v", name, test[0], test[1])
		}
	}
}

func TestPairs(t *testing.T) {
	type pair = [2]value
	good := pair{known(-1, 0.02), known(-2, 0.06)}
	bad := map[string]func(*pair){"First": func(p *pair) { p[0] = value{} }, "Second": func(p *pair) { p[1].Standard = 0 }, "NaN": func(p *pair) { p[1].Value = nan }}
	t.Run("HalfTurn", func(t *testing.T) {
		refuse(t, good, func(p pair) (camber.HalfTurned, error) { return camber.HalfTurn(p[0], p[1]) }, bad)
		got, _ := camber.HalfTurn(good[0], good[1])
		if math.Abs(got.Camber.Standard.Degrees()-0.04) > 1e-12 || got.Runout.Standard != got.Camber.Standard {
			t.Errorf("got %v, want half of both uncertainties added", got)
		}
	})
	t.Run("Cross", func(t *testing.T) {
		refuse(t, good, func(p pair) (value, error) { return camber.Cross(p[0], p[1]) }, bad)
		if got, _ := camber.Cross(good[0], good[1]); math.Abs(got.Standard.Degrees()-math.Hypot(0.02, 0.06)) > 1e-12 {
			t.Errorf("got %v, want both uncertainties combined", got)
		}
	})
	t.Run("TurnRound", func(t *testing.T) {
		around := func(side camber.Side) func(p pair) (camber.CrossSlope, error) {
			return func(p pair) (camber.CrossSlope, error) {
				got, f, err := camber.TurnRound(camber.BothWays{There: p[0], Back: p[1], Side: side})
				if err != nil && got != (value{}) {
					t.Errorf("got %v beside an error, want nothing", got)
				}
				return f, err
			}
		}
		refuse(t, good, around(camber.Left), bad)
		_, err := around("")(good)
		checkInput(t, err)
		f, err := around(camber.Left)(pair{good[0], good[0]})
		if err != nil || f.Slope.Value != 0 || f.Low != "" {
			t.Errorf("got %v and error %v, want no slope and no side", f, err)
		}
	})
}

func TestISOErr(t *testing.T) {
	for name, c := range map[string]quantity.Angle{"NaN": nan, "Side": 0.01} {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := camber.ISOInclination(c, map[string]camber.Side{"NaN": camber.Left}[name])
			if got != 0 {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
}

func TestSlopeQuestion(t *testing.T) {
	for f, want := range map[camber.CrossSlope]string{floor(0.5, camber.Left): "", floor(2, camber.Right): "", floor(2.01, camber.Right): "nearer to level", floor(1, ""): "not known", {}: "not known"} {
		checkAsked(t, f, camber.SlopeQuestion(f), want)
	}
	for share, want := range map[float64]string{0.2: "", -0.2: "", 0.27: "bent", -0.27: "bent", math.Inf(1): "not a number"} {
		checkAsked(t, share, camber.RunoutQuestion(quantity.Degrees(share)), want)
	}
}

func checkAsked(t *testing.T, of any, got, want string) {
	t.Helper()
	if (got == "") != (want == "") || !strings.Contains(got, want) {
		t.Errorf("%v: got %q, want %q in it", of, got, want)
	}
}

func TestSpecQuestion(t *testing.T) {
	tests := []struct {
		target, minus, plus float64
		want                string
	}{
		{-1, 0.5, 0.5, ""}, {-1, 1, 1, ""}, {0, 6, 6, ""}, {0, 30, 30, "wider"}, {-1, 0.5, 1.1, "wider"}, {-1, 1.1, 0.5, "wider"},
		{110, 30, 30, "110 may stand for 1°10′"}, {-110, 30, 30, "1°10′"}, {175, 30, 30, "beyond"}, {10.5, 1, 1, "beyond"},
		{1, -1, 1, "sign"}, {1, 1, -1, "sign"}, {math.NaN(), 1, 1, "not a number"}, {1, math.NaN(), 1, "not a number"}, {1, 1, math.Inf(1), "not a number"},
	}
	for _, test := range tests {
		got := camber.SpecQuestion(quantity.Degrees(test.target), quantity.Degrees(test.minus), quantity.Degrees(test.plus))
		checkAsked(t, test, got, test.want)
		if test.want == "beyond" && strings.Contains(got, "stand for") {
			t.Errorf("%v: got %q, want no other reading of it", test, got)
		}
	}
}
