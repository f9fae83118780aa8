package camber_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/camber"
)

func TestLevelWheel(t *testing.T) {
	type in = camber.Wheel
	good := in{Camber: known(-1.5, 0.05), Side: camber.Left, Zero: camber.Absolute, Floor: floor(0.5, camber.Right)}
	refuse(t, good, camber.LevelWheel, map[string]func(*in){
		"NoCamber":    func(w *in) { w.Camber = value{} },
		"CamberNaN":   func(w *in) { w.Camber.Value = nan },
		"NoSide":      func(w *in) { w.Side = "" },
		"UnknownSide": func(w *in) { w.Side = "top" },
		"NoZero":      func(w *in) { w.Zero = "" },
		"OnFloor":     func(w *in) { w.Zero = camber.OnFloor },
		"NoFloor":     func(w *in) { w.Floor = camber.CrossSlope{} },
		"NoLow":       func(w *in) { w.Floor.Low = "" },
		"LevelTop":    func(w *in) { w.Side, w.Floor = "top", floor(0, "") },
	})
	if _, err := camber.LevelWheel(in{Side: camber.Left, Zero: camber.Absolute, Floor: good.Floor}); err == nil || strings.Contains(err.Error(), "two readings") {
		t.Errorf("got error %v, want one about one reading", err)
	}
	good.Side, good.Floor = "", floor(0, "")
	got, err := camber.LevelWheel(good)
	if err != nil || got.Value != good.Camber.Value || !(got.Standard > good.Camber.Standard) {
		t.Errorf("got %v and error %v, want the reading with the doubt of the floor added", got, err)
	}
}

// One wheel at a time comes to the same as both at once.
func TestOneWheelIsOneOfTwo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		f := floor(draw(0.001, 2, "slope"), rapid.SampledFrom([]camber.Side{camber.Left, camber.Right}).Draw(t, "low"))
		axle := camber.Axle{Left: known(draw(-4, 1, "left"), draw(0.01, 0.1, "uLeft")), Right: known(draw(-4, 1, "right"), draw(0.01, 0.1, "uRight")), Zero: camber.Absolute, Floor: f}
		want, err := camber.Level(axle)
		left, errLeft := camber.LevelWheel(camber.Wheel{Camber: axle.Left, Side: camber.Left, Zero: camber.Absolute, Floor: f})
		right, errRight := camber.LevelWheel(camber.Wheel{Camber: axle.Right, Side: camber.Right, Zero: camber.Absolute, Floor: f})
		if err != nil || errLeft != nil || errRight != nil || left != want.Left || right != want.Right {
			t.Fatalf("got %v and %v, errors %v %v %v, want %v", left, right, err, errLeft, errRight, want)
		}
		cross, err := camber.CrossLevelled(left, right, f)
		if err != nil || cross.Value != want.Cross.Value || math.Abs(float64(cross.Standard/want.Cross.Standard)-1) > 1e-12 {
			t.Fatalf("got %v and error %v, want %v", cross, err, want.Cross)
		}
	})
}

func TestCrossLevelled(t *testing.T) {
	type in struct {
		left, right value
		floor       camber.CrossSlope
	}
	do := func(i in) (value, error) { return camber.CrossLevelled(i.left, i.right, i.floor) }
	refuse(t, in{known(-1, 0.05), known(-1.2, 0.05), floor(0.5, camber.Left)}, do, map[string]func(*in){
		"NoLeft":  func(i *in) { i.left = value{} },
		"NoRight": func(i *in) { i.right.Standard = 0 },
		"NoFloor": func(i *in) { i.floor = camber.CrossSlope{} },
	})
}

func TestLeaning(t *testing.T) {
	type in struct {
		size float64
		to   camber.Lean
	}
	do := func(i in) (float64, error) {
		got, err := camber.Leaning(known(i.size, 0).Value, i.to)
		return got.Degrees(), err
	}
	refuse(t, in{1.5, camber.In}, do, map[string]func(*in){
		"Sign":    func(i *in) { i.size = -1.5 },
		"NaN":     func(i *in) { i.size = math.NaN() },
		"NoLean":  func(i *in) { i.to = "" },
		"Top":     func(i *in) { i.to = "top" },
		"ZeroTop": func(i *in) { i.size, i.to = 0, "top" },
	})
	for _, to := range []camber.Lean{camber.In, camber.Out, ""} {
		if got, err := do(in{0, to}); err != nil || got != 0 || math.Signbit(got) {
			t.Errorf("upright, %q: got %v and error %v, want a zero without a sign", to, got, err)
		}
	}
}
