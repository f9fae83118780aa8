package tilt_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/tilt"
)

const now int64 = 1_800_000_000_000

var setup = tilt.Setup{Phone: "workshop", Cover: tilt.Bare}

// flawed is a sensor that sits askew in the phone and has an offset on each axis.
type flawed struct{ askew, bias r3.Vec }

func (f flawed) shows(p pose) r3.Vec {
	a := p.gravity()
	if deg := r3.Norm(f.askew); deg > 0 {
		a = r3.NewRotation(deg*math.Pi/180, f.askew).Rotate(a)
	}
	return r3.Add(a, f.bias)
}

func drawFlaws(t *rapid.T) flawed {
	draw := func(most float64) r3.Vec {
		f := rapid.Float64Range(-most, most)
		return r3.Vec{X: f.Draw(t, "x"), Y: f.Draw(t, "y"), Z: f.Draw(t, "z")}
	}
	return flawed{askew: draw(1.5), bias: draw(0.25)}
}

// wall is the phone upright with its right edge on a wall that leans, its top
// away from the phone's right when the angle is positive.
func wall(deg float64) pose { return standing.rotated(deg, standing.z) }

// Half a turn about the plumb line, as seen by the wall: the left edge touches.
func turnedAt(deg float64) pose { return standing.rotated(180, r3.Vec{Z: 1}).rotated(deg, standing.z) }

// Whatever the sensor's faults, the two placements give the wall, and the offset
// they give puts a third measurement right. The fault along the axis that is up
// counts as gain, 0.25 m/s² as 2.6 %, and is left in proportion to the angle.
func TestCalibrateCancels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		phone := drawFlaws(t)
		surface, lean := rapid.Float64Range(-5, 5).Draw(t, "surface"), rapid.Float64Range(-5, 5).Draw(t, "lean")
		got, err := tilt.Calibrate(tilt.Flip{First: steady(phone.shows(wall(surface))), Second: steady(phone.shows(turnedAt(surface))),
			Side: tilt.RightEdge, Up: tilt.Top, Setup: setup, AtMS: now})
		if err != nil {
			t.Fatal(err)
		}
		if off := got.Surface.Value.Degrees() - surface; math.Abs(off) > 0.02+0.027*math.Abs(surface) || math.Abs(off) > got.Surface.Expanded().Degrees() {
			t.Errorf("got a surface of %v, want %v°", got.Surface.Value, surface)
		}
		third := tilt.Placement{Recording: steady(phone.shows(turnedAt(lean))), Calibration: &got.Calibration, Setup: setup, NowMS: now + 1000}
		r, err := third.Rise(tilt.LeftEdge, tilt.Top)
		if err != nil || !r.Calibrated || math.Abs(r.Angle.Value.Degrees()-lean) > 0.04+0.027*(math.Abs(lean)+math.Abs(surface)) {
			t.Errorf("got %v and error %v, want %v°", r.Angle.Value.Degrees(), err, lean)
		}
		if r.Angle.Standard <= got.Calibration.Offset.Standard || r.Angle.Standard >= tilt.Uncalibrated() {
			t.Errorf("got %v, want it wider than the calibration's %v and narrower than without", r.Angle.Standard, got.Calibration.Offset.Standard)
		}
	})
}

// A floor is measured with the phone on its back, along and across.
func TestSlope(t *testing.T) {
	flat := pose{x: r3.Vec{X: 1}, y: r3.Vec{Y: 1}, z: r3.Vec{Z: 1}}
	rapid.Check(t, func(t *rapid.T) {
		steepest, heading := rapid.Float64Range(0, 20).Draw(t, "steepest"), rapid.Float64Range(0, 360).Draw(t, "heading")
		p := flat.rotated(heading, r3.Vec{Z: 1}).rotated(steepest, r3.Vec{X: 1})
		place := tilt.Placement{Recording: steady(p.gravity())}
		along, err := tilt.Slope(place, tilt.Back, tilt.Top)
		if err != nil {
			t.Fatal(err)
		}
		across, err := tilt.Slope(place, tilt.Back, tilt.RightEdge)
		if err != nil {
			t.Fatal(err)
		}
		got, err := tilt.Steepest(along.Angle, across.Angle)
		if err != nil || math.Abs(got.Value.Degrees()-steepest) > 1e-6 || got.Standard != max(along.Angle.Standard, across.Angle.Standard) {
			t.Errorf("got %v and error %v, want %v°", got, err, steepest)
		}
	})
	t.Run("OKOnEdge", func(t *testing.T) {
		got, err := tilt.Slope(tilt.Placement{Recording: steady(standing.rotated(-90, standing.z).rotated(4, standing.z).gravity())}, tilt.RightEdge, tilt.Top)
		if err != nil || math.Abs(got.Angle.Value.Degrees()-4) > 1e-9 {
			t.Errorf("got %v and error %v, want the top end 4° up", got.Angle.Value.Degrees(), err)
		}
	})
	good := measure.Value[quantity.Angle]{Value: 0.05, Standard: 0.01}
	for name, bad := range map[string]measure.Value[quantity.Angle]{"NaN": {Value: quantity.Angle(math.NaN()), Standard: 0.01}, "Exact": {Value: 0.05}, "Wall": {Value: 1, Standard: 0.01}, "NoStandard": {Standard: quantity.Angle(math.NaN())}} {
		t.Run("Err"+name, func(t *testing.T) {
			for _, pair := range [][2]measure.Value[quantity.Angle]{{good, bad}, {bad, good}} {
				got, err := tilt.Steepest(pair[0], pair[1])
				if got != (measure.Value[quantity.Angle]{}) {
					t.Errorf("got %v beside an error, want nothing", got)
				}
				checkInput(t, err)
			}
		})
	}
}

func goodFlip() tilt.Flip {
	return tilt.Flip{First: steady(wall(2).gravity()), Second: steady(turnedAt(2).gravity()), Side: tilt.RightEdge, Up: tilt.Top, Setup: setup, AtMS: now}
}

func TestCalibrate(t *testing.T) {
	t.Run("OKUncertainty", func(t *testing.T) {
		got, err := tilt.Calibrate(goodFlip())
		if err != nil {
			t.Fatal(err)
		}
		one := measure.Resolution(tilt.CoarsestStep) / g
		if float64(got.Calibration.Offset.Standard) < float64(one)/math.Sqrt2*cos(2) || got.Surface.Standard <= got.Calibration.Offset.Standard {
			t.Errorf("got %v, want the step of the sensor in both", got)
		}
	})
	bad := map[string]func(*tilt.Flip){
		"Phone":     func(f *tilt.Flip) { f.Setup.Phone = "" },
		"Cover":     func(f *tilt.Flip) { f.Setup.Cover = "" },
		"NoTime":    func(f *tilt.Flip) { f.AtMS = 0 },
		"First":     func(f *tilt.Flip) { f.First.Samples = nil },
		"Second":    func(f *tilt.Flip) { f.Second.Samples[9].Z = 3 },
		"SecondUp":  func(f *tilt.Flip) { f.Second = steady(standing.rotated(180, standing.z).gravity()) },
		"Side":      func(f *tilt.Flip) { f.Side = tilt.Bottom },
		"NotTurned": func(f *tilt.Flip) { f.First, f.Second = steady(wall(12).gravity()), steady(wall(12).gravity()) },
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			f := goodFlip()
			change(&f)
			got, err := tilt.Calibrate(f)
			if got != (tilt.Flipped{}) {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
}

func TestCalibrationFits(t *testing.T) {
	flipped, err := tilt.Calibrate(goodFlip())
	if err != nil {
		t.Fatal(err)
	}
	use := func(change func(*tilt.Calibration, *tilt.Placement)) (tilt.Rise, error) {
		c := flipped.Calibration
		p := tilt.Placement{Recording: steady(wall(1).gravity()), Setup: setup, NowMS: now + 1, Calibration: &c}
		change(&c, &p)
		return p.Rise(tilt.RightEdge, tilt.Top)
	}
	for name, at := range map[string]int64{"AtOnce": now, "NextDay": now + tilt.CalibrationLastsMS} {
		t.Run("OK"+name, func(t *testing.T) {
			if got, err := use(func(_ *tilt.Calibration, p *tilt.Placement) { p.NowMS = at }); err != nil || !got.Calibrated || flipped.Calibration.Stale(at) {
				t.Errorf("got %v and error %v, want the calibration used", got, err)
			}
		})
	}
	bad := map[string]func(*tilt.Calibration, *tilt.Placement){
		"Stale":      func(_ *tilt.Calibration, p *tilt.Placement) { p.NowMS = now + tilt.CalibrationLastsMS + 1 },
		"Future":     func(_ *tilt.Calibration, p *tilt.Placement) { p.NowMS = now - 1 },
		"OtherPhone": func(_ *tilt.Calibration, p *tilt.Placement) { p.Setup.Phone = "borrowed" },
		"CaseOn":     func(_ *tilt.Calibration, p *tilt.Placement) { p.Setup.Cover = tilt.Covered },
		"NoSetup":    func(_ *tilt.Calibration, p *tilt.Placement) { p.Setup = tilt.Setup{} },
		"OtherSide":  func(c *tilt.Calibration, _ *tilt.Placement) { c.Side = tilt.Screen },
		"OtherUp":    func(c *tilt.Calibration, _ *tilt.Placement) { c.Up = tilt.Bottom },
		"Zero":       func(c *tilt.Calibration, _ *tilt.Placement) { *c = tilt.Calibration{} },
		"Exact":      func(c *tilt.Calibration, _ *tilt.Placement) { c.Offset.Standard = 0 },
		"NaN":        func(c *tilt.Calibration, _ *tilt.Placement) { c.Offset.Value = quantity.Angle(math.NaN()) },
		"Large":      func(c *tilt.Calibration, _ *tilt.Placement) { c.Offset.Value = quantity.Degrees(10.1) },
		"Moving":     func(_ *tilt.Calibration, p *tilt.Placement) { p.Recording.Samples[5].X = 4 },
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := use(change)
			if got != (tilt.Rise{}) {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
	_, err = use(func(_ *tilt.Calibration, p *tilt.Placement) { p.NowMS = now - 1 })
	if err == nil || !strings.Contains(err.Error(), "one of the clocks is wrong") {
		t.Errorf("got error %v, want the clock blamed and not the age", err)
	}
	for at, stale := range map[int64]bool{now: false, now + tilt.CalibrationLastsMS: false, now + tilt.CalibrationLastsMS + 1: true, now - 1: true} {
		if got := flipped.Calibration.Stale(at); got != stale {
			t.Errorf("%d ms on: got stale %t, want %t", at-now, got, stale)
		}
	}
}

func TestQuestions(t *testing.T) {
	const hour = 60 * 60 * 1000
	c := tilt.Calibration{AtMS: now}
	for after, asked := range map[int64]bool{0: false, hour: false, hour + 1: true, 30 * hour: true, -1: true} {
		if got := tilt.QuestionCalibration(c, now+after); (got != "") != asked {
			t.Errorf("%d ms on: got %q, want asked %t", after, got, asked)
		}
	}
	value := func(deg, standard float64) measure.Value[quantity.Angle] {
		return measure.Value[quantity.Angle]{Value: quantity.Degrees(deg), Standard: quantity.Degrees(standard)}
	}
	flips := map[string]struct {
		offset, surface float64
		asked           bool
	}{
		"Fine": {0.5, 2, false}, "Leans": {0.5, -2, false}, "Level": {0.5, 0.3, true}, "Large": {3.1, 2, true}, "LargeMinus": {-3.1, 2, true}, "NaN": {math.NaN(), 2, true},
	}
	for name, f := range flips {
		got := tilt.QuestionFlip(tilt.Flipped{Surface: value(f.surface, 0.2), Calibration: tilt.Calibration{Offset: value(f.offset, 0.2)}})
		if (got != "") != f.asked {
			t.Errorf("%s: got %q, want asked %t", name, got, f.asked)
		}
	}
	cambers := map[string]struct {
		camber, across float64
		sees           tilt.Lean
		asked          bool
	}{
		"Fine": {-2, 1, tilt.In, false}, "Unclear": {-0.3, 1, tilt.Unclear, false}, "Out": {1, -3, tilt.Out, false},
		"OtherWay": {-0.3, 1, tilt.Out, true}, "OtherWayIn": {0.3, 1, tilt.In, true}, "FarOut": {15.1, 0, tilt.Out, true}, "FarIn": {-15.1, 0, tilt.In, true},
		"NotSquare": {-2, 3.1, tilt.In, true}, "NotSquareBack": {-2, -3.1, tilt.In, true}, "NaN": {math.NaN(), 0, tilt.In, true},
	}
	for name, c := range cambers {
		got := tilt.QuestionCamber(tilt.Rise{Angle: value(c.camber, 0.3), Across: quantity.Degrees(c.across)}, c.sees)
		if (got != "") != c.asked {
			t.Errorf("%s: got %q, want asked %t", name, got, c.asked)
		}
	}
}
