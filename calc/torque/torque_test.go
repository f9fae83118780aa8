package torque_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

var nan, inf = math.NaN(), math.Inf(1)

func checkInput(t *testing.T, err error) {
	t.Helper()
	var input *quantity.InputError
	if !errors.As(err, &input) || input.What == "" || input.Next == "" {
		t.Errorf("got error %v, want an input error with what and next", err)
	}
}

func TestSettingRefuses(t *testing.T) {
	straight := torque.Adapter{Length: 0.05}
	bad := map[string]struct {
		t       quantity.Torque
		lever   quantity.Length
		adapter torque.Adapter
	}{
		"TorqueNaN":       {quantity.Torque(nan), 0.4, straight},
		"TorqueInf":       {quantity.Torque(inf), 0.4, straight},
		"TorqueBelowZero": {-1, 0.4, straight},
		"LeverInf":        {80, quantity.Length(inf), straight},
		"AdapterNaN":      {80, 0.4, torque.Adapter{Length: quantity.Length(nan)}},
		"AdapterAsLong":   {80, 0.4, torque.Adapter{Length: 0.4}},
		"AngleNaN":        {80, 0.4, torque.Adapter{Length: 0.05, Angle: quantity.Angle(nan)}},
	}
	for name, b := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			for what, f := range map[string]func(quantity.Torque, quantity.Length, torque.Adapter) (quantity.Torque, error){"setting": torque.Setting, "delivered": torque.Delivered} {
				got, err := f(b.t, b.lever, b.adapter)
				if got != 0 {
					t.Errorf("%s: got %v beside an error, want 0", what, got)
				}
				checkInput(t, err)
			}
		})
	}
}

func TestSettingProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := quantity.Torque(rapid.Float64Range(1, 500).Draw(t, "torque"))
		lever := quantity.Length(rapid.Float64Range(0.15, 1.2).Draw(t, "lever"))
		a := torque.Adapter{
			Length: lever * quantity.Length(rapid.Float64Range(0, 0.95).Draw(t, "share of the lever")),
			Angle:  quantity.Degrees(rapid.Float64Range(0, 180).Draw(t, "angle")),
		}
		set, err := torque.Setting(want, lever, a)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := torque.Delivered(set, lever, a); err != nil || math.Abs(float64(got-want)) > 1e-9*float64(want) {
			t.Errorf("got %v and error %v, want %v back", got, err, want)
		}
		straight, _ := torque.Setting(want, lever, torque.Adapter{Length: a.Length})
		if straight > want || set < straight-1e-9 {
			t.Errorf("got %v straight and %v at an angle, want straight on the lowest and no higher than %v", straight, set, want)
		}
		if front := a.Angle.Degrees() < 89.999; front && set > want || a.Angle.Degrees() > 90.001 && set < want {
			t.Errorf("got %v at %v, want below %v ahead of square and above behind it", set, a.Angle, want)
		}
	})
}

func TestWrench(t *testing.T) {
	bad := map[string]torque.Wrench{
		"NoHighest": {}, "HighestNaN": {Highest: quantity.Torque(nan)}, "HighestInf": {Highest: quantity.Torque(inf)}, "BelowZero": {Lowest: -1, Highest: 100},
		"LowestNaN": {Lowest: quantity.Torque(nan), Highest: 100}, "SameMarks": {Lowest: 100, Highest: 100},
	}
	for name, w := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			low, high, err := w.Usable()
			if low != 0 || high != 0 {
				t.Errorf("got %v to %v beside an error, want nothing", low, high)
			}
			checkInput(t, err)
			fit, err := w.Fit(50)
			if fit != "" {
				t.Errorf("got %q beside an error, want nothing", fit)
			}
			checkInput(t, err)
		})
	}
	w := torque.Wrench{Highest: 200}
	for _, setting := range []float64{0, -5, nan, inf} {
		if fit, err := w.Fit(quantity.Torque(setting)); fit != "" || err == nil {
			t.Errorf("%v: got %q and error %v, want an error", setting, fit, err)
		}
	}
	if got, err := w.Fit(1e20); got != torque.TooHigh || err != nil {
		t.Errorf("got %q and error %v for more than the record can hold, want %q", got, err, torque.TooHigh)
	}
	for fit, want := range map[torque.Fit]string{torque.Within: "inside", torque.TooLow: "below", torque.TooHigh: "above"} {
		if got := fit.Words(); !strings.HasPrefix(got, want) {
			t.Errorf("got %q, want it to begin with %q", got, want)
		}
	}
	if got := torque.Fit("").Words(); got != "" {
		t.Errorf("got %q for no fit, want nothing", got)
	}
}

func TestWindow(t *testing.T) {
	for name, b := range map[string][2]float64{"NoTorque": {0, 0.04}, "NaN": {nan, 0.04}, "NoTolerance": {100, 0}, "BelowZero": {100, -0.04}, "Whole": {100, 1}, "PercentForShare": {100, 4}, "ToleranceNaN": {100, nan}} {
		t.Run("Err"+name, func(t *testing.T) {
			low, high, err := torque.Window(quantity.Torque(b[0]), quantity.Ratio(b[1]))
			if low != 0 || high != 0 {
				t.Errorf("got %v to %v beside an error, want nothing", low, high)
			}
			checkInput(t, err)
		})
	}
	rapid.Check(t, func(t *rapid.T) {
		set := quantity.Torque(rapid.Float64Range(1, 500).Draw(t, "set"))
		e := quantity.Ratio(rapid.Float64Range(0.001, 0.5).Draw(t, "tolerance"))
		low, high, err := torque.Window(set, e)
		if err != nil || !(low < set && set < high) || high-set < set-low {
			t.Errorf("got %v to %v and error %v, want a window round %v, wider above", low, high, err, set)
		}
	})
}
