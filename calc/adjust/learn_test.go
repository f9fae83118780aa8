package adjust_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/adjust"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

func learn(t *testing.T, trials ...trial) learned {
	t.Helper()
	got, err := adjust.Learn(camber, trials)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func next(t *testing.T, l learned, d float64) adjust.Advice[turns, angle] {
	t.Helper()
	got, err := l.Next(deg(d))
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func TestLearn(t *testing.T) {
	t.Run("OKTwo", func(t *testing.T) {
		got := learn(t, at(0, -1), at(4, -0.2))
		if math.Abs(got.Line.At(5).Value.Degrees()-0) > 1e-12 || got.From != 0 || got.To != 4 || !slices.Equal(got.Cautions, []adjust.Caution{adjust.TwoReadings}) {
			t.Errorf("got %+v, want 0.2° per graduation on two readings", got)
		}
	})
	t.Run("OKOnLine", func(t *testing.T) {
		got := learn(t, at(0, -1), at(4, -0.2), at(2, -0.6))
		if len(got.Cautions) != 0 || got.Last.Setting != 2 || got.To != 4 {
			t.Errorf("got %+v, want three readings on a line without a caution", got)
		}
	})
	t.Run("OKScattered", func(t *testing.T) {
		for _, c := range []struct {
			middle float64
			want   []adjust.Caution
		}{{-0.61, nil}, {-0.65, []adjust.Caution{adjust.Unsettled}}, {-0.8, []adjust.Caution{adjust.OffLine, adjust.Unsettled}}} {
			got := learn(t, at(0, -1), at(2, c.middle), at(4, -0.2))
			if !slices.Equal(got.Cautions, c.want) || !(got.Line.SlopeStandard >= got.Line.Predicted) {
				t.Errorf("%v: got %v, want %v", c.middle, got.Cautions, c.want)
			}
		}
		got := learn(t, at(0, -1), at(2, -0.4), at(4, -0.2), at(6, 0.4), at(8, 0.6), at(10, 1))
		if !slices.Equal(got.Cautions, []adjust.Caution{adjust.OffLine}) {
			t.Errorf("got %v, want a certain effect off the line", got.Cautions)
		}
	})
	t.Run("OKUnknownWay", func(t *testing.T) {
		a := camber
		a.Effect = adjust.Unknown
		got, err := adjust.Learn(a, []trial{at(0, -1), at(4, -1.8)})
		if err != nil || got.Line.Slope >= 0 {
			t.Errorf("got %+v and error %v, want the slope as it came", got, err)
		}
	})
	with := func(change func(*trial)) []trial {
		last := at(4, -0.2)
		change(&last)
		return []trial{at(0, -1), last}
	}
	bad := map[string][]trial{
		"None": nil, "One": {at(0, -1)}, "SameSetting": {at(1, -1), at(1, -0.5)},
		"TooSmall":     {at(0, -1), at(1, -0.94)},
		"WrongWay":     {at(0, -1), at(4, -1.8)},
		"Stage":        with(func(l *trial) { l.Stage = adjust.FinalTorque }),
		"NoStage":      with(func(l *trial) { l.Stage = "" }),
		"Corner":       with(func(l *trial) { l.Place.Corner = "front right" }),
		"Car":          with(func(l *trial) { l.Place.Car = "another" }),
		"NoPlace":      with(func(l *trial) { l.Place = adjust.Place{} }),
		"NaN":          with(func(l *trial) { l.Reading.Value = deg(math.NaN()) }),
		"NoResolution": with(func(l *trial) { l.Reading.Standard = 0 }),
		"Setting":      with(func(l *trial) { l.Setting = turns(math.Inf(1)) }),
	}
	for name, trials := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := adjust.Learn(camber, trials)
			checkRefused(t, got.Last == trial{} && got.Line.Pairs == 0, err)
		})
	}
	t.Run("ErrLowers", func(t *testing.T) {
		a := camber
		a.Effect = adjust.Lowers
		got, err := adjust.Learn(a, []trial{at(0, -1), at(4, -0.2)})
		checkRefused(t, got.Line.Pairs == 0, err)
	})
}

func TestAdjuster(t *testing.T) {
	nan := turns(math.NaN())
	bad := map[string]func(*adjust.Adjuster[turns]){
		"Car":        func(a *adjust.Adjuster[turns]) { a.Place.Car = "" },
		"Corner":     func(a *adjust.Adjuster[turns]) { a.Place.Corner = "" },
		"Of":         func(a *adjust.Adjuster[turns]) { a.Of = "" },
		"Effect":     func(a *adjust.Adjuster[turns]) { a.Effect = "" },
		"Resolution": func(a *adjust.Adjuster[turns]) { a.Resolution = 0 },
		"Step":       func(a *adjust.Adjuster[turns]) { a.Step = nan },
		"NoStep":     func(a *adjust.Adjuster[turns]) { a.Step = 0 },
		"Ends":       func(a *adjust.Adjuster[turns]) { a.Low, a.High = 3, -3 },
		"OneEnd":     func(a *adjust.Adjuster[turns]) { a.Low, a.High = 3, 3 },
		"EndNaN":     func(a *adjust.Adjuster[turns]) { a.High = nan },
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			a := camber
			change(&a)
			got, err := adjust.Learn(a, []trial{at(0, -1), at(4, -0.2)})
			checkRefused(t, got.Line.Pairs == 0, err)
			got, err = adjust.State(a, manual, at(0, -1))
			checkRefused(t, got.Line.Pairs == 0, err)
		})
	}
}

var manual = adjust.Stated[turns, angle]{By: quantity.Minutes(15), Per: 1, Digit: quantity.Minutes(1), Source: "manual, page 3", Car: "this"}

func TestState(t *testing.T) {
	t.Run("OKLowers", func(t *testing.T) {
		a := camber
		a.Effect = adjust.Lowers
		got, err := adjust.State(a, manual, at(0, -1))
		if err != nil || got.Source != manual.Source || got.Cautions[0] != adjust.FromPaper {
			t.Fatalf("got %+v and error %v", got, err)
		}
		advice := next(t, got, -1.5)
		perStep := 1.0 / 60 / math.Sqrt(12)
		want := math.Hypot(math.Hypot(0.03, 2*perStep), math.Sqrt2*0.25*0.1/math.Sqrt(12))
		if advice.Move != 2 || math.Abs(advice.Expected.Standard.Degrees()-want) > 1e-9 {
			t.Errorf("got %+v, want 2 graduations up, ± %v°", advice, want)
		}
	})
	bad := map[string]func(*adjust.Stated[turns, angle], *trial, *adjust.Adjuster[turns]){
		"Source": func(s *adjust.Stated[turns, angle], _ *trial, _ *adjust.Adjuster[turns]) { s.Source = " " },
		"Car":    func(s *adjust.Stated[turns, angle], _ *trial, _ *adjust.Adjuster[turns]) { s.Car = "another" },
		"NoCar":  func(s *adjust.Stated[turns, angle], _ *trial, _ *adjust.Adjuster[turns]) { s.Car = "" },
		"By":     func(s *adjust.Stated[turns, angle], _ *trial, _ *adjust.Adjuster[turns]) { s.By = -s.By },
		"Per":    func(s *adjust.Stated[turns, angle], _ *trial, _ *adjust.Adjuster[turns]) { s.Per = 0 },
		"Digit":  func(s *adjust.Stated[turns, angle], _ *trial, _ *adjust.Adjuster[turns]) { s.Digit = 0 },
		"Coarse": func(s *adjust.Stated[turns, angle], _ *trial, _ *adjust.Adjuster[turns]) { s.Digit = 2 * s.By },
		"Way":    func(_ *adjust.Stated[turns, angle], _ *trial, a *adjust.Adjuster[turns]) { a.Effect = adjust.Unknown },
		"Corner": func(_ *adjust.Stated[turns, angle], n *trial, _ *adjust.Adjuster[turns]) {
			n.Place.Corner = "rear left"
		},
		"Stage":   func(_ *adjust.Stated[turns, angle], n *trial, _ *adjust.Adjuster[turns]) { n.Stage = "" },
		"Reading": func(_ *adjust.Stated[turns, angle], n *trial, _ *adjust.Adjuster[turns]) { n.Reading.Standard = 0 },
		"Setting": func(_ *adjust.Stated[turns, angle], n *trial, _ *adjust.Adjuster[turns]) {
			n.Setting = turns(math.NaN())
		},
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			s, now, a := manual, at(0, -1), camber
			change(&s, &now, &a)
			got, err := adjust.State(a, s, now)
			checkRefused(t, got.Line.Pairs == 0, err)
		})
	}
}

func TestNext(t *testing.T) {
	l := learn(t, at(0, -1), at(4, -0.2))
	t.Run("OKRounded", func(t *testing.T) {
		got := next(t, l, -0.55)
		if got.Move != -2 || got.Setting != 2 || math.Abs(got.Exact.Count()-2.25) > 1e-12 || math.Abs(got.Expected.Value.Degrees()+0.6) > 1e-12 {
			t.Errorf("got %+v, want 2 whole graduations back to −0.6°", got)
		}
		for _, c := range []adjust.Caution{adjust.TwoReadings, adjust.RangeUnknown, adjust.ReadToe, adjust.AfterTorque} {
			if !slices.Contains(got.Cautions, c) {
				t.Errorf("got %v, want %s among them", got.Cautions, c)
			}
		}
		if len(got.Cautions) != 4 {
			t.Errorf("got %v, want no other", got.Cautions)
		}
	})
	t.Run("OKToe", func(t *testing.T) {
		toe := l
		toe.Adjuster.Of = adjust.Toe
		if got := next(t, toe, -0.55); slices.Contains(got.Cautions, adjust.ReadToe) {
			t.Errorf("got %v, want no word on toe for a tie rod", got.Cautions)
		}
	})
	t.Run("OKNear", func(t *testing.T) {
		if got := next(t, l, -0.25); got.Move != 0 || math.Signbit(float64(got.Move)) || !slices.Contains(got.Cautions, adjust.Near) {
			t.Errorf("got %+v, want it to stay", got)
		}
	})
	t.Run("OKFar", func(t *testing.T) {
		if got := next(t, l, 0.6); slices.Contains(got.Cautions, adjust.FarBeyond) {
			t.Errorf("got %v at twice the tried span, want it near enough", got.Cautions)
		}
		if got := next(t, l, 0.8); !slices.Contains(got.Cautions, adjust.FarBeyond) {
			t.Errorf("got %v, want it said that it is far", got.Cautions)
		}
	})
	t.Run("OKEnd", func(t *testing.T) {
		short := l
		short.Adjuster.Low, short.Adjuster.High = -1.5, 6.5
		up, down := next(t, short, 1), next(t, short, -2)
		if up.Setting != 6 || down.Setting != -1 || !slices.Contains(up.Cautions, adjust.EndOfRange) || !slices.Contains(down.Cautions, adjust.EndOfRange) || up.Expected.Value > deg(0.21) {
			t.Errorf("got %+v and %+v, want it to stop inside the ends and say so", up, down)
		}
		if got := next(t, short, -0.6); slices.Contains(got.Cautions, adjust.EndOfRange) || slices.Contains(got.Cautions, adjust.RangeUnknown) {
			t.Errorf("got %v, want nothing on the ends", got.Cautions)
		}
	})
	t.Run("OKCoarser", func(t *testing.T) {
		fine := l
		fine.Adjuster.Step = 0.05 // 0.01°, the gauge ± 0.03°
		if got := next(t, fine, -0.57); got.Step != 0.2 || !slices.Contains(got.Cautions, adjust.Coarser) {
			t.Errorf("got %+v, want steps of 0.2", got)
		}
	})
	t.Run("ErrTarget", func(t *testing.T) {
		got, err := l.Next(deg(math.NaN()))
		checkRefused(t, got.Step == 0, err)
	})
	t.Run("ErrNothingLearned", func(t *testing.T) {
		got, err := learned{}.Next(1)
		checkRefused(t, got.Step == 0, err)
	})
	t.Run("ErrBeyondEnd", func(t *testing.T) {
		wrong := l
		wrong.Adjuster.Low, wrong.Adjuster.High = -3, 3
		got, err := wrong.Next(deg(-1))
		checkRefused(t, got.Step == 0, err)
	})
}

// Moving as advised brings the expected reading to the target within half a
// step; the other way round everything is the same with the other sign.
func TestNextProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := camber
		a.Effect, a.Step = adjust.Unknown, turns(rapid.SampledFrom([]float64{0.125, 0.5, 1}).Draw(t, "step"))
		perStep := rapid.Float64Range(0.1, 0.5).Draw(t, "effect")
		var trials, mirrored []trial
		for i := range rapid.IntRange(2, 5).Draw(t, "n") {
			n := turns(3 * i)
			d := perStep*float64(n) - 2 + rapid.Float64Range(-0.05, 0.05).Draw(t, "noise")
			trials, mirrored = append(trials, at(n, d)), append(mirrored, at(-n, d))
		}
		target := rapid.Float64Range(-3, 1).Draw(t, "target")
		l, err := adjust.Learn(a, trials)
		if err != nil {
			t.Fatal(err)
		}
		got, err := l.Next(deg(target))
		if err != nil {
			t.Fatal(err)
		}
		half := math.Abs(float64(l.Line.Slope)*float64(got.Step)) / 2
		if off := math.Abs(float64(got.Expected.Value - deg(target))); off > half+1e-9 {
			t.Errorf("got %+v, want the target within half a step", got)
		}
		if steps := float64(got.Move / got.Step); steps != math.Round(steps) {
			t.Errorf("got %v in steps of %v, want whole ones", got.Move, got.Step)
		}
		if at := l.Line.At(got.Exact).Value; math.Abs(float64(at-deg(target))) > 1e-9 {
			t.Errorf("got %v at the exact setting, want the target", at)
		}
		if got.Expected.Standard < l.Line.At(got.Setting).Standard {
			t.Errorf("got %v, want no less than the line's", got.Expected)
		}
		m, err := adjust.Learn(a, mirrored)
		if err != nil || m.Line.Slope != -l.Line.Slope {
			t.Fatal(m, err)
		}
		if other, err := m.Next(deg(target)); err != nil || math.Abs(float64(other.Move+got.Move)) > float64(got.Step)*1.001 || math.Abs(float64(other.Exact+got.Exact)) > 1e-9 {
			t.Errorf("got %+v and error %v, want the mirror of %+v", other, err, got)
		}
	})
}

// Readings that are less certain never give a more certain effect or result.
func TestLearnUncertainty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		grow := angle(rapid.Float64Range(1, 3).Draw(t, "grow"))
		sharp, dull := []trial{at(0, -2), at(4, -1)}, []trial{at(0, -2), at(4, -1)}
		dull[rapid.IntRange(0, 1).Draw(t, "which")].Reading.Standard *= grow
		a, err := adjust.Learn(camber, sharp)
		b, err2 := adjust.Learn(camber, dull)
		if err != nil || err2 != nil || b.Line.SlopeStandard < a.Line.SlopeStandard {
			t.Fatalf("got %v, want at least %v (errors %v, %v)", b.Line.SlopeStandard, a.Line.SlopeStandard, err, err2)
		}
		x, _ := a.Next(deg(-0.5))
		y, _ := b.Next(deg(-0.5))
		if y.Expected.Standard < x.Expected.Standard {
			t.Errorf("got %v, want at least %v", y.Expected, x.Expected)
		}
	})
}

// Against its push an eccentric is straight, against its graduations it is not.
func TestLearnEccentric(t *testing.T) {
	a := adjust.Adjuster[quantity.Length]{Place: here, Of: adjust.Camber, Effect: adjust.Raises, Resolution: mm(0.05), Step: mm(0.1)}
	var byPush []adjust.Trial[quantity.Length, angle]
	var byCount []trial
	for _, n := range []turns{0, 4, 8, 11} {
		push, err := cam.Push(0, n)
		if err != nil {
			t.Fatal(err)
		}
		r := at(n, 0.5*push.Value.Millimetres()-2)
		byCount = append(byCount, r)
		byPush = append(byPush, adjust.Trial[quantity.Length, angle]{Setting: push.Value, Reading: r.Reading, Place: here, Stage: r.Stage})
	}
	straight, err := adjust.Learn(a, byPush)
	bent := learn(t, byCount...)
	if err != nil || len(straight.Cautions) != 0 || !slices.Contains(bent.Cautions, adjust.OffLine) {
		t.Errorf("got %v and error %v by push, %v by count, want only the count off the line", straight.Cautions, err, bent.Cautions)
	}
}

func TestToePerCamber(t *testing.T) {
	both := func(c, toe float64) adjust.Both {
		return adjust.Both{Camber: reading(c, 0.03), Toe: reading(toe, 0.02), Place: here, Stage: adjust.FinalTorque}
	}
	t.Run("OK", func(t *testing.T) {
		got, err := adjust.ToePerCamber([]adjust.Both{both(-1, 0.1), both(-2, 0.5)})
		want := math.Sqrt2 * math.Hypot(0.02, 0.4*0.03)
		toe := got.ToeFor(deg(-0.5))
		if err != nil || math.Abs(float64(got.PerCamber.Value)+0.4) > 1e-9 || math.Abs(float64(got.PerCamber.Standard)-want) > 1e-9 || math.Abs(toe.Value.Degrees()-0.2) > 1e-9 || math.Abs(toe.Standard.Degrees()-want/2) > 1e-9 {
			t.Errorf("got %+v, %v and error %v, want −0.4 ± %v", got, toe, err, want)
		}
		turned, err := adjust.ToePerCamber([]adjust.Both{both(-2, 0.5), both(-1, 0.1)})
		if err != nil || math.Abs(float64(turned.PerCamber.Value-got.PerCamber.Value)) > 1e-12 {
			t.Errorf("got %+v and error %v in the other order, want the same", turned, err)
		}
		flat, err := adjust.ToePerCamber([]adjust.Both{both(-1, 0.1), both(-2, 0.1)})
		if err != nil || !slices.Contains(flat.Cautions, adjust.Unsettled) {
			t.Errorf("got %+v and error %v, want no effect to be an answer, with a caution", flat, err)
		}
	})
	other, loose := both(-2, 0.5), both(-2, 0.5)
	other.Place.Corner, loose.Stage = "front right", adjust.Snug
	for name, list := range map[string][]adjust.Both{"None": nil, "One": {both(-1, 0)}, "Corner": {both(-1, 0), other}, "Stage": {both(-1, 0), loose}, "TooSmall": {both(-1, 0), both(-1.08, 0.3)}} {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := adjust.ToePerCamber(list)
			checkRefused(t, got.Line.Pairs == 0, err)
		})
	}
}

func TestTightening(t *testing.T) {
	moved, err := adjust.Tightening(reading(-1.5, 0.03), reading(-1.6, 0.04))
	if err != nil || math.Abs(moved.Standard.Degrees()-0.05) > 1e-12 {
		t.Errorf("got %v and error %v, want both uncertainties", moved, err)
	}
	nan := reading(math.NaN(), 0.1)
	for name, v := range map[string]measure.Value[angle]{"NaN": nan, "NoResolution": reading(1, 0), "NaNResolution": reading(1, math.NaN())} {
		t.Run("Err"+name, func(t *testing.T) {
			for _, pair := range [][2]measure.Value[angle]{{v, reading(1, 1)}, {reading(1, 1), v}} {
				got, err := adjust.Tightening(pair[0], pair[1])
				checkRefused(t, got == measure.Value[angle]{}, err)
			}
			got, err := adjust.AimBefore(deg(1), v)
			checkRefused(t, got == measure.Value[angle]{}, err)
		})
	}
	got, err := adjust.AimBefore(nan.Value, reading(1, 1))
	checkRefused(t, got == measure.Value[angle]{}, err)
}

func TestWords(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range []adjust.Caution{adjust.TwoReadings, adjust.OffLine, adjust.Unsettled, adjust.FromPaper, adjust.FarBeyond, adjust.EndOfRange, adjust.RangeUnknown, adjust.Coarser, adjust.Near, adjust.AfterTorque, adjust.ReadToe} {
		if w := c.Words(); w == "" || seen[w] {
			t.Errorf("%s: got %q, want words of its own", c, w)
		}
		seen[c.Words()] = true
	}
}
