package tilt_test

import (
	"bytes"
	"embed"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"strutcard/calc/quantity"
	"strutcard/calc/tilt"
)

//go:embed testdata/*.recording.json
var recordings embed.FS

var update = flag.Bool("update", false, "write the recordings anew")

// synthetic says in each file what it is.
const synthetic = "Synthetic: made by the seeded generator in recording_test.go, with noise; no phone recorded this."

// recorded is a file of testdata.
type recorded struct {
	About      string          `json:"about"`
	Posture    string          `json:"posture"`
	Convention tilt.Convention `json:"convention"`
	Step       float64         `json:"step_mps2"`
	State      tilt.State      `json:"state"`
	Samples    []sampled       `json:"samples"`
}

type sampled struct {
	AtMS int64   `json:"at_ms"`
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
	Z    float64 `json:"z"`
}

func (r recorded) recording() tilt.Recording {
	out := tilt.Recording{Convention: r.Convention, Resolution: quantity.Acceleration(r.Step)}
	for _, s := range r.Samples {
		out.Samples = append(out.Samples, tilt.Sample{X: quantity.Acceleration(s.X), Y: quantity.Acceleration(s.Y), Z: quantity.Acceleration(s.Z), AtMS: s.AtMS})
	}
	return out
}

// The two phones of the recordings, each with its own faults.
var (
	first = flawed{askew: r3.Vec{X: 0.4, Y: -0.3, Z: -0.6}, bias: r3.Vec{X: 0.12, Y: -0.10, Z: 0.08}}
	other = flawed{askew: r3.Vec{X: -0.2, Y: 0.5, Z: -0.4}, bias: r3.Vec{X: -0.09, Y: 0.05, Z: 0.11}}
	flat  = pose{x: r3.Vec{X: 1}, y: r3.Vec{Y: 1}, z: r3.Vec{Z: 1}}

	onLeft  = tilt.Held{Wheel: tilt.LeftWheel, Edge: tilt.RightEdge, Faces: tilt.ToRear, TopLeans: tilt.In}
	onRight = tilt.Held{Wheel: tilt.RightWheel, Edge: tilt.RightEdge, Faces: tilt.ToRear, TopLeans: tilt.Out}
)

// made are the recordings by name.
func made() map[string]recorded {
	in := func(posture string, a r3.Vec, c tilt.Convention, step float64, seed uint64, state tilt.State, move func(i int, s *sampled)) recorded {
		out := recorded{About: synthetic, Posture: posture, Convention: c, Step: step, State: state}
		sign := map[tilt.Convention]float64{tilt.W3C: 1, tilt.Opposite: -1}[c]
		for i, s := range noisy(a, 0.03, 0.5, 128, seed).Samples {
			v := sampled{AtMS: s.AtMS, X: float64(s.X), Y: float64(s.Y), Z: float64(s.Z)}
			move(i, &v)
			for _, x := range []*float64{&v.X, &v.Y, &v.Z} {
				*x = math.Round(sign**x/step) * step
				*x = math.Round(*x*1000) / 1000
			}
			out.Samples = append(out.Samples, v)
		}
		return out
	}
	rest := func(int, *sampled) {}
	return map[string]recorded{
		"flat-w3c":      in("on its back, screen up, table level", first.shows(flat), tilt.W3C, 0.1, 1, tilt.Still, rest),
		"flat-opposite": in("on its back, screen up, table level", other.shows(flat), tilt.Opposite, 0.01, 2, tilt.Still, rest),
		"door-1-w3c":    in("right edge on a door frame that leans 1.5° away from it", first.shows(wall(1.5)), tilt.W3C, 0.1, 3, tilt.Still, rest),
		"door-2-w3c":    in("left edge on the same door frame, after half a turn", first.shows(turnedAt(1.5)), tilt.W3C, 0.1, 4, tilt.Still, rest),
		"left-wheel-w3c": in("right edge on a left wheel, screen to the rear, camber −2°", first.shows(outBy(-2, onLeft, upright(onLeft))),
			tilt.W3C, 0.1, 5, tilt.Still, rest),
		"right-wheel-opposite": in("right edge on a right wheel, screen to the rear, camber +0.8°", other.shows(outBy(0.8, onRight, upright(onRight))),
			tilt.Opposite, 0.01, 6, tilt.Still, rest),
		"carried-w3c": in("carried upright in the hand", first.shows(standing), tilt.W3C, 0.1, 7, tilt.Moving, func(i int, s *sampled) {
			s.X += 0.8 * math.Sin(float64(i)/9)
			s.Y += 1.5 * math.Sin(float64(i)/5)
		}),
		"dropped-opposite": in("held upright, dropped, come to rest on its back", other.shows(standing), tilt.Opposite, 0.01, 8, tilt.Moving, func(i int, s *sampled) {
			switch {
			case i >= 60 && i < 85: // falls
				s.X, s.Y, s.Z = 0, 0, 0
			case i >= 85 && i < 88: // hits the floor
				s.Z += 35
			case i >= 88:
				s.X, s.Y, s.Z = s.Z, s.X, s.Y
			}
		}),
	}
}

func (r recorded) file() []byte {
	var out bytes.Buffer
	fmt.Fprintf(&out, "{\n  \"about\": %q,\n  \"posture\": %q,\n  \"convention\": %q,\n  \"step_mps2\": %v,\n  \"state\": %q,\n  \"samples\": [", r.About, r.Posture, r.Convention, r.Step, r.State)
	for i, s := range r.Samples {
		line, _ := json.Marshal(s)
		fmt.Fprintf(&out, "%s\n    %s", []string{"", ","}[min(i, 1)], line)
	}
	out.WriteString("\n  ]\n}\n")
	return out.Bytes()
}

// load reads a file of testdata, and sees that the generator makes the same.
func load(t *testing.T, name string) recorded {
	t.Helper()
	file := "testdata/" + name + ".recording.json"
	data, err := recordings.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(data, made()[name].file()) {
		t.Errorf("%s is not what the generator makes; run with -update", file)
	}
	var r recorded
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&r); err != nil || r.About != synthetic {
		t.Fatalf("%s: got about %q and error %v, want it called synthetic", file, r.About, err)
	}
	return r
}

func TestRecordings(t *testing.T) {
	if *update {
		for name, r := range made() {
			if err := os.WriteFile("testdata/"+name+".recording.json", r.file(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		t.Skip("written; run again without -update") // what was just written proves nothing
	}
	for name := range made() {
		t.Run("OK"+name, func(t *testing.T) {
			r := load(t, name)
			still, err := tilt.Check(r.recording().Samples)
			if err != nil || still.State != r.State {
				t.Errorf("got %+v and error %v, want %s", still, err, r.State)
			}
			if seen := tilt.StepSeen(r.recording().Samples); math.Abs(float64(seen)-r.Step) > 1e-9 {
				t.Errorf("got a step of %v, want %v", float64(seen), r.Step)
			}
			_, err = tilt.Placement{Recording: r.recording()}.Rise(tilt.RightEdge, tilt.Top)
			if r.State != tilt.Still {
				checkInput(t, err)
			}
		})
	}
	for _, name := range []string{"flat-w3c", "flat-opposite"} {
		t.Run("OKSign"+name, func(t *testing.T) {
			r := load(t, name)
			if got, err := tilt.DetectConvention(r.recording().Samples, tilt.Screen); err != nil || got != r.Convention {
				t.Errorf("got %q and error %v, want %q", got, err, r.Convention)
			}
		})
	}
}

// From the door frame to the wheel, as a person does it.
func TestRecordedCamber(t *testing.T) {
	flipped, err := tilt.Calibrate(tilt.Flip{First: load(t, "door-1-w3c").recording(), Second: load(t, "door-2-w3c").recording(),
		Side: tilt.RightEdge, Up: tilt.Top, Setup: setup, AtMS: now})
	if err != nil || tilt.QuestionFlip(flipped) != "" {
		t.Fatalf("got %+v, question %q and error %v, want a calibration", flipped, tilt.QuestionFlip(flipped), err)
	}
	if off := flipped.Surface.Value.Degrees() - 1.5; math.Abs(off) > flipped.Surface.Expanded().Degrees() {
		t.Errorf("got a door frame at %v, want 1.5°", flipped.Surface.Value)
	}
	h := onLeft
	h.Placement = tilt.Placement{Recording: load(t, "left-wheel-w3c").recording(), Calibration: &flipped.Calibration, Setup: setup, NowMS: now + 600_000}
	got, err := tilt.Camber(h)
	if off := got.Angle.Value.Degrees() + 2; err != nil || math.Abs(off) > got.Angle.Expanded().Degrees() || tilt.QuestionCamber(got, h.TopLeans) != "" {
		t.Errorf("got %v ± %v and error %v, want −2°", got.Angle.Value, got.Angle.Expanded(), err)
	}
	if raw := math.Abs(got.Shown.Degrees() + 2); raw < 1 {
		t.Errorf("got %v without correction, want this phone to need it", got.Shown)
	}
	h = onRight
	h.Placement = tilt.Placement{Recording: load(t, "right-wheel-opposite").recording()}
	got, err = tilt.Camber(h)
	if off := got.Angle.Value.Degrees() - 0.8; err != nil || math.Abs(off) > got.Angle.Expanded().Degrees() || got.Calibrated {
		t.Errorf("got %v ± %v and error %v, want +0.8° within the wide uncertainty", got.Angle.Value, got.Angle.Expanded(), err)
	}
}
