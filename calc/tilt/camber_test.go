package tilt_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"strutcard/calc/quantity"
	"strutcard/calc/tilt"
)

// toCar is the direction from a wheel to the car, in the axes of ISO 8855: X
// forward, Y left, Z up.
func toCar(w tilt.Wheel) r3.Vec {
	return map[tilt.Wheel]r3.Vec{tilt.LeftWheel: {Y: -1}, tilt.RightWheel: {Y: 1}}[w]
}

// upright is the phone held as said against a wheel without camber.
func upright(h tilt.Held) pose {
	p := pose{z: map[tilt.Facing]r3.Vec{tilt.ToFront: {X: 1}, tilt.ToRear: {X: -1}}[h.Faces]}
	p.x = toCar(h.Wheel)
	if h.Edge == tilt.LeftEdge {
		p.x = r3.Scale(-1, p.x)
	}
	p.y = r3.Cross(p.z, p.x)
	return p
}

// outBy leans the wheel, and the phone on it, with the top away from the car.
func outBy(deg float64, h tilt.Held, p pose) pose {
	return p.rotated(deg, r3.Cross(r3.Vec{Z: 1}, r3.Scale(-1, toCar(h.Wheel))))
}

func drawHeld(t *rapid.T) tilt.Held {
	return tilt.Held{
		Wheel: rapid.SampledFrom([]tilt.Wheel{tilt.LeftWheel, tilt.RightWheel}).Draw(t, "wheel"),
		Edge:  rapid.SampledFrom([]tilt.Side{tilt.LeftEdge, tilt.RightEdge}).Draw(t, "edge"),
		Faces: rapid.SampledFrom([]tilt.Facing{tilt.ToFront, tilt.ToRear}).Draw(t, "faces"),
	}
}

// In every way to hold the phone the camber is that of the wheel, positive when
// the top leans out; which end is up follows from the way it is held.
func TestCamberAgainstRotations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := drawHeld(t)
		camber := rapid.Float64Range(-14, 14).Draw(t, "camber")
		along := rapid.Float64Range(-4, 4).Draw(t, "along") // the edge not plumb along the car
		p := outBy(camber, h, upright(h).rotated(along, r3.Vec{Y: 1}))
		h.Placement.Recording = steady(p.gravity())
		h.TopLeans = tilt.Out
		if camber < 0 {
			h.TopLeans = tilt.In
		}
		up, err := h.Up()
		if err != nil || p.side(up).Z < 0.9 {
			t.Fatalf("got %s up and error %v, want the end that is up", up, err)
		}
		got, err := tilt.Camber(h)
		if err != nil || math.Abs(got.Angle.Value.Degrees()-camber) > 1e-6 {
			t.Fatalf("got %v and error %v, want %v°", got.Angle.Value.Degrees(), err, camber)
		}
		// One word wrong turns the phone upside down, and gravity shows it.
		wrong := h
		switch rapid.IntRange(0, 3).Draw(t, "wrong") {
		case 0:
			wrong.Wheel = map[tilt.Wheel]tilt.Wheel{tilt.LeftWheel: tilt.RightWheel, tilt.RightWheel: tilt.LeftWheel}[h.Wheel]
		case 1:
			wrong.Edge = h.Edge.Other()
		case 2:
			wrong.Faces = map[tilt.Facing]tilt.Facing{tilt.ToFront: tilt.ToRear, tilt.ToRear: tilt.ToFront}[h.Faces]
		case 3:
			wrong.Placement.Recording.Convention = tilt.Opposite
		}
		_, err = tilt.Camber(wrong)
		checkInput(t, err)
	})
}

// held is a phone on a left wheel, calibrated, with a camber in degrees.
func held(t *testing.T, camber float64) tilt.Held {
	t.Helper()
	flipped, err := tilt.Calibrate(goodFlip())
	if err != nil {
		t.Fatal(err)
	}
	h := tilt.Held{Wheel: tilt.LeftWheel, Edge: tilt.RightEdge, Faces: tilt.ToRear, TopLeans: tilt.In}
	h.Placement = tilt.Placement{Recording: steady(outBy(camber, h, upright(h)).gravity()), Calibration: &flipped.Calibration, Setup: setup, NowMS: now}
	return h
}

func TestCamber(t *testing.T) {
	t.Run("OKSeen", func(t *testing.T) {
		for _, sees := range []tilt.Lean{tilt.In, tilt.Unclear} {
			h := held(t, -2)
			h.TopLeans = sees
			if got, err := tilt.Camber(h); err != nil || math.Abs(got.Angle.Value.Degrees()+2) > 1e-9 || !got.Calibrated {
				t.Errorf("seen leaning %s: got %v and error %v, want −2°", sees, got.Angle, err)
			}
		}
	})
	t.Run("OKTooLittleToSee", func(t *testing.T) { // within the uncertainty nothing contradicts
		h := held(t, 0.3)
		got, err := tilt.Camber(h)
		if err != nil || got.Angle.Value <= 0 || tilt.QuestionCamber(got, h.TopLeans) == "" {
			t.Errorf("got %v and error %v, want a question, no error", got.Angle, err)
		}
	})
	t.Run("ErrContradicted", func(t *testing.T) {
		for camber, sees := range map[float64]tilt.Lean{-2: tilt.Out, 2: tilt.In} {
			h := held(t, camber)
			h.TopLeans = sees
			got, err := tilt.Camber(h)
			if got != (tilt.Rise{}) {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
			if err != nil && !strings.Contains(err.Error(), "you see it leaning "+string(sees)) {
				t.Errorf("got %q, want what the person sees in it", err)
			}
		}
	})
	bad := map[string]func(*tilt.Held){
		"Wheel":  func(h *tilt.Held) { h.Wheel = "" },
		"Edge":   func(h *tilt.Held) { h.Edge = tilt.Top },
		"NoEdge": func(h *tilt.Held) { h.Edge = "" },
		"Faces":  func(h *tilt.Held) { h.Faces = "up" },
		"Lean":   func(h *tilt.Held) { h.TopLeans = "" },
		"Moving": func(h *tilt.Held) { h.Placement.Recording.Samples[1].Y = 12 },
		"Stale":  func(h *tilt.Held) { h.Placement.NowMS += 2 * tilt.CalibrationLastsMS },
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			h := held(t, -2)
			change(&h)
			got, err := tilt.Camber(h)
			if got != (tilt.Rise{}) {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
}

// A calibrated phone is good for about half a degree, and no better than what its
// steps allow; that is what the package comment says.
func TestAccuracyAsStated(t *testing.T) {
	coarse, err := tilt.Camber(held(t, -2))
	if err != nil {
		t.Fatal(err)
	}
	if u := coarse.Angle.Expanded().Degrees(); u < 0.6 || u > 0.75 {
		t.Errorf("got ±%v°, want about 0.7° in steps of 0.1 m/s²", u)
	}
	fine := held(t, -2)
	r := noisy(outBy(-2, fine, upright(fine)).gravity(), 0.02, 0.5, 256, 5)
	r.Resolution = tilt.FinestStep
	fine.Placement.Recording = r
	f := goodFlip()
	f.First, f.Second = noisy(wall(2).gravity(), 0.02, 0.5, 256, 6), noisy(turnedAt(2).gravity(), 0.02, 0.5, 256, 7)
	f.First.Resolution, f.Second.Resolution = tilt.FinestStep, tilt.FinestStep
	flipped, err := tilt.Calibrate(f)
	if err != nil {
		t.Fatal(err)
	}
	fine.Placement.Calibration = &flipped.Calibration
	got, err := tilt.Camber(fine)
	if u := got.Angle.Expanded().Degrees(); err != nil || u < 0.45 || u > 0.6 {
		t.Errorf("got ±%v° and error %v, want about 0.5° in fine steps", u, err)
	}
	none := held(t, -2)
	none.Placement.Calibration = nil
	got, err = tilt.Camber(none)
	if u := got.Angle.Expanded().Degrees(); err != nil || u < 3.4 || u > 3.6 {
		t.Errorf("got ±%v° and error %v, want about 3.5° without calibration", u, err)
	}
	if half := tilt.Uncalibrated() * quantity.Angle(math.Sqrt(3)); half.Degrees() < math.Atan(0.050)*180/math.Pi {
		t.Errorf("got ±%v, want at least what 50 mg are", half)
	}
}
