package torque_test

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

func TestSpecRefuses(t *testing.T) {
	number, _ := torque.Number(118)
	limits, _ := torque.Around(27, 2.5, 2.5)
	outside := torque.Spec{Min: 10, Max: 20, Target: 30}
	for name, f := range map[string]func() error{
		"NumberZero":       func() error { _, err := torque.Number(0); return err },
		"NumberNaN":        func() error { _, err := torque.Number(quantity.Torque(nan)); return err },
		"RangeZero":        func() error { _, err := torque.Range(0, 10); return err },
		"RangeSame":        func() error { _, err := torque.Range(10, 10); return err },
		"RangeInf":         func() error { _, err := torque.Range(10, quantity.Torque(inf)); return err },
		"AroundZero":       func() error { _, err := torque.Around(0, 1, 1); return err },
		"AroundWide":       func() error { _, err := torque.Around(6, 118, 1); return err },
		"AroundNone":       func() error { _, err := torque.Around(6, 0, 0); return err },
		"AroundNegative":   func() error { _, err := torque.Around(6, -1, 1); return err },
		"AroundNaN":        func() error { _, err := torque.Around(6, 1, quantity.Torque(nan)); return err },
		"JudgeNumber":      func() error { _, err := number.Judge(measure.Value[quantity.Torque]{Value: 118}); return err },
		"JudgeNone":        func() error { _, err := torque.Spec{}.Judge(measure.Value[quantity.Torque]{Value: 118}); return err },
		"JudgeOutside":     func() error { _, err := outside.Judge(measure.Value[quantity.Torque]{Value: 15}); return err },
		"SettingsNumber":   func() error { _, _, err := number.Settings(0.04); return err },
		"SettingsNone":     func() error { _, _, err := torque.Spec{}.Settings(0.04); return err },
		"SettingsPercent":  func() error { _, _, err := limits.Settings(4); return err },
		"RecheckSpec":      func() error { _, err := torque.Recheck(torque.Spec{}, 50, 0.04, torque.Still); return err },
		"RecheckSet":       func() error { _, err := torque.Recheck(number, 0, 0.04, torque.Still); return err },
		"RecheckTolerance": func() error { _, err := torque.Recheck(number, 50, 0, torque.Still); return err },
		"RecheckMovement":  func() error { _, err := torque.Recheck(number, 50, 0.04, ""); return err },
		"CastleNumber":     func() error { _, err := torque.Castle{Spec: number, Slots: 6}.Next(50, true); return err },
		"CastleNone":       func() error { _, err := torque.Castle{Slots: 6}.Next(50, true); return err },
		"CastleSlots":      func() error { _, err := torque.Castle{Spec: limits}.Next(25, true); return err },
		"CastleReached":    func() error { _, err := torque.Castle{Spec: limits, Slots: 6}.Next(-1, true); return err },
		"CastleNaN": func() error {
			_, err := torque.Castle{Spec: limits, Slots: 6}.Next(quantity.Torque(nan), true)
			return err
		},
		"SlotsNaN":         func() error { _, err := torque.Castle{Slots: quantity.Turns(nan)}.PerSlot(); return err },
		"SlotsHalf":        func() error { _, err := torque.Castle{Slots: 6.5}.PerSlot(); return err },
		"SlotsMany":        func() error { _, err := torque.Castle{Slots: 14}.PerSlot(); return err },
		"SlotsTwo":         func() error { _, err := torque.Castle{Slots: 2}.PerSlot(); return err },
		"GraduateZero":     func() error { _, err := torque.Graduate(0, 1); return err },
		"GraduateStep":     func() error { _, err := torque.Graduate(10, 0); return err },
		"GraduateWide":     func() error { _, err := torque.Graduate(10, 11); return err },
		"GraduateNaN":      func() error { _, err := torque.Graduate(10, quantity.Torque(nan)); return err },
		"ToleranceHighest": func() error { _, err := torque.IIA.Tolerance(0); return err },
		"ToleranceNaN":     func() error { _, err := torque.IIA.Tolerance(quantity.Torque(nan)); return err },
		"WindowClass":      func() error { _, _, err := torque.Wrench{Highest: 100}.Window("", 50); return err },
		"WindowWrench":     func() error { _, _, err := torque.Wrench{}.Window(torque.IIA, 50); return err },
		"FullScaleWrench":  func() error { _, err := torque.Wrench{}.OfFullScale(0.04, 50); return err },
		"FullScaleShare":   func() error { _, err := torque.Wrench{Highest: 100}.OfFullScale(4, 50); return err },
		"PointsWrench":     func() error { _, err := torque.Wrench{}.TestPoints(torque.Edition2003); return err },
		"PointsEdition":    func() error { _, err := torque.Wrench{Highest: 100}.TestPoints(""); return err },
		"PointsLowest":     func() error { _, err := torque.Wrench{Highest: 100}.TestPoints(torque.Edition2017); return err },
	} {
		t.Run("Err"+name, func(t *testing.T) { checkInput(t, f()) })
	}
}

func TestSpecWords(t *testing.T) {
	number, _ := torque.Number(118)
	middle, _ := torque.Range(45, 60)
	around, _ := torque.Around(52, 2, 2)
	for want, s := range map[string]torque.Spec{
		"118 N·m, no tolerance stated":                                      number,
		"45 to 60 N·m, aim for 52.5 (the middle, not stated by the source)": middle,
		"50 to 54 N·m, aim for 52":                                          around,
	} {
		if got := s.Words(quantity.NewtonMetre); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestSpecJudge(t *testing.T) {
	s, _ := torque.Range(45, 60)
	for value, want := range map[quantity.Torque]measure.Verdict{45: measure.TooClose, 46: measure.Met, 59: measure.Met, 62: measure.NotMet, 44: measure.NotMet, 59.9: measure.TooClose} {
		if got, err := s.Judge(measure.Value[quantity.Torque]{Value: value, Standard: 0.2}); got != want || err != nil {
			t.Errorf("%v: got %q and error %v, want %q", value, got, err, want)
		}
	}
}

// Whatever is set between the ends of Settings, the window stays inside.
func TestSettingsProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		least := quantity.Torque(rapid.Float64Range(5, 300).Draw(t, "least"))
		s, err := torque.Range(least, least*quantity.Torque(rapid.Float64Range(1.1, 2).Draw(t, "width")))
		if err != nil {
			t.Fatal(err)
		}
		low, high, err := s.Settings(0.04)
		if err != nil {
			t.Fatal(err)
		}
		set := low + (high-low)*quantity.Torque(rapid.Float64Range(0, 1).Draw(t, "where"))
		least, most, err := torque.Window(set, 0.04)
		if err != nil || least < s.Min*(1-1e-12) || most > s.Max*(1+1e-12) {
			t.Errorf("got %v to %v and error %v, want inside %v to %v", least, most, err, s.Min, s.Max)
		}
	})
}

func TestGraduateProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		setting := quantity.Torque(rapid.Float64Range(5, 300).Draw(t, "setting"))
		step := quantity.Torque(rapid.SampledFrom([]float64{0.1, 0.5, 1, 2.5}).Draw(t, "step"))
		got, err := torque.Graduate(setting, step)
		if err != nil || got > setting+1e-6 || setting-got >= step {
			t.Errorf("got %v and error %v, want the mark at or below %v", got, err, setting)
		}
	})
}

func TestCastle(t *testing.T) {
	s, _ := torque.Around(27, 2.5, 2.5)
	c := torque.Castle{Spec: s, Slots: 6}
	rapid.Check(t, func(t *rapid.T) {
		reached := quantity.Torque(rapid.Float64Range(0, 60).Draw(t, "reached"))
		lined := rapid.Bool().Draw(t, "lined")
		got, err := c.Next(reached, lined)
		if err != nil {
			t.Fatal(err)
		}
		inside := reached >= 24.49 && reached <= 29.51
		if got == torque.PinIn && !(lined && inside) || got == torque.GoOn && (lined || !inside) || got == torque.Stop && reached < 29.49 || got == torque.ToLow && reached > 24.51 {
			t.Errorf("got %q at %v, lined up %t", got, reached, lined)
		}
	})
	for step, want := range map[torque.CastleStep]string{torque.ToLow: "lower limit first", torque.GoOn: "Never turn it back", torque.PinIn: "new pin", torque.Stop: "Do not turn it back"} {
		if got := step.Words(); !strings.Contains(got, want) {
			t.Errorf("%s: got %q, want %q in it", step, got, want)
		}
	}
	if got := torque.CastleStep("").Words(); got != "" {
		t.Errorf("got %q for no step, want nothing", got)
	}
}

func TestRecheck(t *testing.T) {
	s, _ := torque.Around(155, 10, 10)
	for _, test := range []struct {
		set  quantity.Torque
		m    torque.Movement
		want torque.Finding
		say  string
	}{
		{145, torque.Still, torque.Holds, "at least 145 N·m"}, {144, torque.Still, torque.HoldsLess, "less than the spec"}, {180, torque.Still, torque.Holds, "at least 180 N·m"},
		{55, torque.Moved, torque.WasLoose, "it was loose"}, {145, torque.Moved, torque.WasLoose, "before 145 N·m"}, {150, torque.Moved, torque.WasLess, "may still"},
		{165, torque.Moved, torque.WasLess, "may still"}, {166, torque.Moved, torque.Unproven, "shows nothing"},
	} {
		got, err := torque.Recheck(s, test.set, 0.04, test.m)
		if err != nil || got.Finding != test.want || !strings.Contains(got.Words(quantity.NewtonMetre), test.say) {
			t.Errorf("%v %s: got %q, %q and error %v, want %q and %q", test.set, test.m, got.Finding, got.Words(quantity.NewtonMetre), err, test.want, test.say)
		}
		if (got.AtLeast == 0) == (got.Below == 0) {
			t.Errorf("got %v, want a lower or an upper bound", got)
		}
	}
	if got := (torque.Rechecked{}).Words(quantity.NewtonMetre); got != "" {
		t.Errorf("got %q for no finding, want nothing", got)
	}
}

var digits = regexp.MustCompile(`[0-9%]`)

// A warning never carries a number: no discount can be read from it.
func TestWarning(t *testing.T) {
	all := append(torque.Surfaces(), torque.NotSaid)
	for _, is := range all {
		for _, meant := range all {
			got := torque.Warning(is, meant)
			if quiet := is == meant && is != torque.NotSaid; (got == "") != quiet {
				t.Errorf("%q for %q: got %q, want quiet %t", is, meant, got, quiet)
			}
			if digits.MatchString(got) || strings.Contains(got, "not one of") {
				t.Errorf("%q for %q: got %q, want no number and no unknown state", is, meant, got)
			}
		}
	}
	for want, pair := range map[string][2]torque.Surface{"Do not lower": {torque.Oiled, torque.Dry}, "Do not raise": {torque.Dry, torque.AntiSeize}, "Do not change": {torque.Oiled, torque.NotSaid}, "Look at it": {torque.NotSaid, torque.Dry}, "Bring it": {torque.Threadlock, torque.Dry}, "not one of": {"rusty", torque.Dry}} {
		if got := torque.Warning(pair[0], pair[1]); !strings.Contains(got, want) {
			t.Errorf("%q: got %q, want %q in it", pair, got, want)
		}
	}
}

func TestClasses(t *testing.T) {
	for _, c := range torque.Classes() {
		if c.Words() == "" {
			t.Errorf("%s has no words", c)
		}
		if got, want := c.Screwdriver(), strings.Contains(c.Words(), "screwdriver"); got != want {
			t.Errorf("%s: got a screwdriver %t, want %t", c, got, want)
		}
		if e, err := c.Tolerance(10); err != nil || e != 0.06 {
			t.Errorf("%s: got %v and error %v up to 10 N·m, want 6 %%", c, e, err)
		}
	}
	if got := len(torque.Classes()); got != 12 {
		t.Errorf("got %d classes, want five of type I and seven of type II", got)
	}
	for b, asked := range map[[2]quantity.Turns]bool{{0, 0}: false, {12, 5000}: false, {13, 0}: true, {1, 5001}: true, {quantity.Turns(math.NaN()), 0}: true} {
		if got := torque.QuestionInterval(b[0], b[1]); (got != "") != asked {
			t.Errorf("%v: got %q, want asked %t", b, got, asked)
		}
	}
}
