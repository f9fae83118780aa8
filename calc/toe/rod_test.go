package toe_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/toe"
)

func TestRodRefused(t *testing.T) {
	bad := map[string]func(*toe.Rod){
		"Joint":      func(r *toe.Rod) { r.Joint = "" },
		"Thread":     func(r *toe.Rod) { r.Thread = "" },
		"Pitch":      func(r *toe.Rod) { r.Pitch = 0 },
		"PitchNaN":   func(r *toe.Rod) { r.Pitch = nan },
		"Arm":        func(r *toe.Rod) { r.Arm = 0 },
		"ArmInf":     func(r *toe.Rod) { r.Arm = inf },
		"Unit":       func(r *toe.Rod) { r.Pitch = 0.0375 },
		"Resolution": func(r *toe.Rod) { r.Resolution = 0 },
		"Coarse":     func(r *toe.Rod) { r.Resolution = 0.15 },
	}
	refusals(t, rod, toe.Rod.PerTurn, bad)
	refusals(t, rod, func(r toe.Rod) (quantity.Turns, error) { n, _, err := r.Turns(0.001); return n, err }, bad)
	refusals(t, rod, func(r toe.Rod) (measure.Value[quantity.Angle], error) { return r.ToeFor(1, toe.Longer) }, bad)
	refusals(t, rod, func(r toe.Rod) (toe.Advice, error) {
		return toe.Advise(wheels, must(toe.ForWheels(wheels, third)), r)
	}, bad)
	for _, change := range []quantity.Angle{nanDeg, 0.3, -0.3} {
		n, way, err := rod.Turns(change)
		checkRefused(t, n, err)
		if way != "" {
			t.Errorf("%v: got %q beside an error", change, way)
		}
	}
	for _, b := range []struct {
		n quantity.Turns
		c toe.Change
	}{{1, ""}, {1, "in"}, {0, "in"}, {-1, toe.Longer}, {quantity.Turns(math.NaN()), toe.Longer}} {
		got, err := rod.ToeFor(b.n, b.c)
		checkRefused(t, got, err)
	}
}

// A longer rod behind the wheel centre is toe-in, ahead of it toe-out.
func TestRodWay(t *testing.T) {
	for joint, want := range map[toe.Joint]toe.Change{toe.Behind: toe.Longer, toe.Ahead: toe.Shorter} {
		r := with(rod, func(r *toe.Rod) { r.Joint = joint })
		if _, got, err := r.Turns(0.001); got != want || err != nil {
			t.Errorf("%s: got %s and error %v, want %s for more toe-in", joint, got, err, want)
		}
		if n, got, err := r.Turns(0); n != 0 || got != "" || err != nil {
			t.Errorf("%s: got %v %s and error %v, want no turn", joint, n, got, err)
		}
	}
}

func TestRodProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := toe.Rod{
			Thread: rapid.SampledFrom([]toe.Thread{toe.OneThread, toe.OppositeThreads}).Draw(t, "thread"),
			Joint:  rapid.SampledFrom([]toe.Joint{toe.Ahead, toe.Behind}).Draw(t, "joint"),
			Pitch:  quantity.Length(rapid.Float64Range(0.001, 0.003).Draw(t, "pitch")), Arm: quantity.Length(rapid.Float64Range(0.08, 0.25).Draw(t, "arm")), Resolution: 0.001,
		}
		change := quantity.Degrees(rapid.Float64Range(-3, 3).Draw(t, "change"))
		n, way, err := r.Turns(change)
		if err != nil || n < 0 {
			t.Fatalf("got %v and error %v, want turns", n, err)
		}
		back, err := r.ToeFor(n, way)
		if err != nil || !near(back.Value, change, 1e-12) {
			t.Fatalf("got %v and error %v, want %v back", back, err, change)
		}
		if way == "" {
			return // nothing to turn further
		}
		further := must(r.ToeFor(n+1, way))
		coarser := must(with(r, func(r *toe.Rod) { r.Resolution = 0.005 }).ToeFor(n, way))
		if math.Abs(float64(further.Value)) <= math.Abs(float64(back.Value)) || coarser.Standard < back.Standard {
			t.Errorf("got %v and %v after %v, want more toe for more turns, and no less uncertainty for a coarser rule", further, coarser, back)
		}
		r.Thread = toe.OneThread
		one, _, _ := r.Turns(change)
		r.Thread = toe.OppositeThreads
		sleeve, _, _ := r.Turns(change)
		if !near(one, 2*sleeve, 1e-9) {
			t.Errorf("got %v turns and %v with a sleeve, want half", one, sleeve)
		}
	})
}

func TestCorrectionRefused(t *testing.T) {
	refusals(t, sits, func(w toe.Wheel) (toe.Correction, error) { return toe.ForTotal(total, third, w) }, map[string]func(*toe.Wheel){
		"Turned":     func(w *toe.Wheel) { w.Turned = "" },
		"Straight":   func(w *toe.Wheel) { w.Turned = toe.Straight },
		"By":         func(w *toe.Wheel) { w.By = 0 },
		"BySign":     func(w *toe.Wheel) { w.By = -w.By },
		"HalfTurn":   func(w *toe.Wheel) { w.By = quantity.Degrees(180) },
		"ByNaN":      func(w *toe.Wheel) { w.By = nanDeg },
		"Resolution": func(w *toe.Wheel) { w.Resolution = 0 },
		"Ratio":      func(w *toe.Wheel) { w.Ratio = 0 },
		"RatioNaN":   func(w *toe.Wheel) { w.Ratio = quantity.Ratio(math.NaN()) },
	})
	type given struct {
		now  toe.Both
		want toe.Angles
	}
	bad := map[string]func(*given){
		"Now":  func(g *given) { g.now = toe.Both{} },
		"Want": func(g *given) { g.want = toe.Angles{Total: 0.01} },
	}
	refusals(t, given{total, third}, func(g given) (toe.Correction, error) { return toe.ForTotal(g.now, g.want, sits) }, bad)
	bad["Total"] = func(g *given) { g.now = total }
	refusals(t, given{wheels, third}, func(g given) (toe.Correction, error) { return toe.ForWheels(g.now, g.want) }, bad)
	got, err := toe.Advise(toe.Both{}, toe.Correction{}, rod)
	checkRefused(t, got, err)
	got, err = toe.Advise(wheels, toe.Correction{Right: value(90, 1)}, rod)
	checkRefused(t, got, err)
}

// Each wheel read on its own: the exact turns bring each to half of the total.
func TestForWheels(t *testing.T) {
	c := must(toe.ForWheels(wheels, third))
	if !near(c.Left.Value, quantity.Degrees(-0.15), 1e-12) || !near(c.Right.Value, quantity.Degrees(0.35), 1e-12) || c.Left.Standard != quantity.Degrees(0.02) || c.Right.Standard != quantity.Degrees(0.03) {
		t.Errorf("got %v, want 0.15° less on the left and 0.35° more on the right", c)
	}
}

// What is advised, rounded, leaves less than a sixteenth of a turn per rod, and
// the uncertainty of the toe after is never below that before.
func TestAdvise(t *testing.T) {
	per := must(rod.PerTurn()).Value
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) float64 { return rapid.Float64Range(-1, 1).Draw(t, name) }
		now := must(toe.FromWheels(value(draw("left"), 0.02), value(draw("right"), 0.02), toe.RunoutCancelled))
		c := must(toe.ForWheels(now, third))
		a := must(toe.Advise(now, c, rod))
		left, right, ok := a.Expected.Wheels()
		if !ok || !near(left.Value, third.PerWheel, float64(per)/16*1.001) || !near(right.Value, third.PerWheel, float64(per)/16*1.001) {
			t.Fatalf("got %v, want each wheel within a sixteenth of a turn of %v", a.Expected, third)
		}
		wasLeft, wasRight, _ := now.Wheels()
		if !(left.Standard > wasLeft.Standard) || !(right.Standard > wasRight.Standard) || !(a.Expected.Total.Standard > now.Total.Standard) {
			t.Errorf("got %v after %v, want more uncertainty", a.Expected, now)
		}
		if !near(a.Expected.Total.Value, left.Value+right.Value, 1e-12) || a.Expected.Half.Value != a.Expected.Total.Value/2 {
			t.Errorf("got %v, want the total to be the sum", a.Expected)
		}
		for _, turn := range []toe.Turn{a.Left, a.Right} {
			if whole := math.Round(turn.Eighths.Count()); turn.Eighths.Count() != whole || !near(turn.Eighths/8, turn.Exact, 1.0/16+1e-9) || (turn.Rod == "") != (whole == 0) {
				t.Errorf("got %v, want the nearest eighth", turn)
			}
		}
		mirrored := must(toe.Advise(must(toe.FromWheels(wasRight, wasLeft, toe.RunoutCancelled)), toe.Correction{Left: c.Right, Right: c.Left}, rod))
		if mirrored.Left != a.Right || mirrored.Right != a.Left || mirrored.Rotation != a.Rotation {
			t.Errorf("got %v mirrored, want %v changed over", mirrored, a)
		}
		again := must(toe.Advise(a.Expected, must(toe.ForWheels(a.Expected, third)), rod))
		if again.Left.Eighths+again.Right.Eighths != 0 || again.Rotation != "" {
			t.Errorf("got %v for what is left, want nothing to turn", again)
		}
	})
}

// With the total alone, the split is that of the steering wheel: turned to the
// other side it is the mirror image, and the total comes right either way.
func TestForTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := sits
		w.By = quantity.Degrees(rapid.Float64Range(1, 45).Draw(t, "by"))
		left := must(toe.ForTotal(total, third, w))
		w.Turned = toe.TurnedRight
		right := must(toe.ForTotal(total, third, w))
		straight := must(toe.ForTotal(total, third, toe.Wheel{Turned: toe.Straight}))
		if left.Left != right.Right || left.Right != right.Left || !near(left.Left.Value+left.Right.Value, third.Total-total.Total.Value, 1e-12) {
			t.Errorf("got %v and %v, want mirror images", left, right)
		}
		if straight.Left != straight.Right || !near(left.Right.Value-straight.Right.Value, w.By/15, 1e-12) || !(left.Left.Standard > straight.Left.Standard) {
			t.Errorf("got %v for a straight steering wheel, want halves", straight)
		}
		a := must(toe.Advise(total, left, rod))
		if _, _, ok := a.Expected.Wheels(); ok || a.Expected.Split != toe.Assumed || a.Expected.Runout != toe.RunoutCancelled {
			t.Errorf("got %v, want still only a total", a.Expected)
		}
	})
}

// One arm stands for both rods: its error moves the total twice when both turn
// for toe-in, and not at all when they turn against each other.
func TestAdviseSharesArm(t *testing.T) {
	coarse := with(rod, func(r *toe.Rod) { r.Resolution = 0.02 })
	rest := must(toe.Advise(total, toe.Correction{}, coarse)).Expected.Total.Standard
	against := must(toe.Advise(total, toe.Correction{Left: value(1, 0), Right: value(-1, 0)}, coarse)).Expected.Total.Standard
	together := must(toe.Advise(total, toe.Correction{Left: value(1, 0), Right: value(1, 0)}, coarse))
	one := together.Left.Brings.Standard
	if !near(against, rest, 1e-12) || !(together.Expected.Total.Standard > quantity.Angle(math.Sqrt2)*one) {
		t.Errorf("got %v at rest, %v against and %v together with %v each", rest, against, together.Expected.Total.Standard, one)
	}
}

func TestRodLengths(t *testing.T) {
	a := toe.Advice{Left: toe.Turn{Rod: toe.Longer, Eighths: 8}, Right: toe.Turn{Rod: toe.Shorter, Eighths: 8}}
	type given struct {
		l toe.RodLengths
		r toe.Rod
	}
	f := func(g given) (measure.Value[quantity.Length], error) { return g.l.Difference(a, g.r) }
	good := given{toe.RodLengths{Left: 0.25, Right: 0.25, Resolution: 0.0005}, rod}
	refusals(t, good, f, map[string]func(*given){
		"Left":       func(g *given) { g.l.Left = 0 },
		"RightNaN":   func(g *given) { g.l.Right = nan },
		"Resolution": func(g *given) { g.l.Resolution = 0 },
		"Rod":        func(g *given) { g.r.Arm = 0 },
	})
	one := must(f(good))
	good.r.Thread = toe.OppositeThreads
	sleeve := must(f(good))
	if !near(one.Value, 0.003, 1e-12) || !near(sleeve.Value, 0.006, 1e-12) || !(sleeve.Standard > one.Standard) || !(one.Standard > 0) {
		t.Errorf("got %v and %v, want 3 mm, and 6 mm with a sleeve", one, sleeve)
	}
	for limit, asked := range map[quantity.Length]bool{0.005: false, 0.0031: true, 0.002: true, 0: true, nan: true} {
		if got := toe.QuestionRods(one, limit); (got != "") != asked {
			t.Errorf("limit %v: got %q, want asked %t", limit, got, asked)
		}
	}
	for turns, asked := range map[quantity.Turns]bool{0: false, 5: false, 5.01: true, quantity.Turns(math.NaN()): true} {
		if got := toe.QuestionAdvice(toe.Advice{Right: toe.Turn{Exact: turns}}); (got != "") != asked {
			t.Errorf("%v turns: got %q, want asked %t", turns, got, asked)
		}
	}
}
