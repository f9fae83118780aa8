package tilt_test

import (
	_ "embed"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"strutcard/calc/internal/vector"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/tilt"
)

//go:embed testdata/tilt.json
var vectors []byte

const g = 9.80665

func TestVectors(t *testing.T) {
	vector.Run(t, vectors, map[string]vector.Formula{
		// 1 for the sign of the specification, −1 for the opposite one.
		"convention": func(v *vector.Vector) ([]float64, error) {
			a := r3.Vec{X: v.Num("x"), Y: v.Num("y"), Z: v.Num("z")}
			got, err := tilt.DetectConvention(steady(a).Samples, tilt.Side(v.Text("up")))
			return []float64{map[tilt.Convention]float64{tilt.W3C: 1, tilt.Opposite: -1}[got]}, err
		},
		// Gravity along the side and along what is up, in the same unit.
		"rise": func(v *vector.Vector) ([]float64, error) {
			r, err := triangle(v.Num("side"), v.Num("up")).Rise(tilt.RightEdge, tilt.Top)
			return []float64{r.Angle.Value.Degrees()}, err
		},
		"flip": func(v *vector.Vector) ([]float64, error) {
			f := tilt.Flip{Side: tilt.Top, Up: tilt.Screen, Setup: setup, AtMS: now,
				First:  steady(r3.Vec{Y: g * sin(v.Num("first")), Z: g * cos(v.Num("first"))}),
				Second: steady(r3.Vec{Y: g * sin(v.Num("second")), Z: g * cos(v.Num("second"))})}
			got, err := tilt.Calibrate(f)
			return []float64{got.Surface.Value.Degrees(), got.Calibration.Offset.Value.Degrees()}, err
		},
		"camber from inclination": func(v *vector.Vector) ([]float64, error) {
			var out []float64
			for _, wheel := range []tilt.Wheel{tilt.LeftWheel, tilt.RightWheel} {
				h := tilt.Held{Wheel: wheel, Edge: tilt.LeftEdge, Faces: tilt.ToFront, TopLeans: tilt.Unclear}
				p := upright(h).rotated(v.Num("eps"), r3.Vec{X: 1})
				h.Placement.Recording = steady(p.gravity())
				got, err := tilt.Camber(h)
				if err != nil {
					return nil, err
				}
				out = append(out, got.Angle.Value.Degrees())
			}
			return out, nil
		},
	})
}

func sin(deg float64) float64 { return math.Sin(deg * math.Pi / 180) }
func cos(deg float64) float64 { return math.Cos(deg * math.Pi / 180) }

// triangle is gravity in the proportion of two sides of a right triangle.
func triangle(side, up float64) tilt.Placement {
	return tilt.Placement{Recording: steady(r3.Scale(g, r3.Unit(r3.Vec{X: side, Y: up})))}
}

// pose is where the axes of the phone point in the world, whose third axis is up.
type pose struct{ x, y, z r3.Vec }

var standing = pose{x: r3.Vec{X: 1}, y: r3.Vec{Z: 1}, z: r3.Vec{Y: -1}} // screen to the reader

func (p pose) rotated(deg float64, axis r3.Vec) pose {
	rot := r3.NewRotation(deg*math.Pi/180, axis)
	return pose{rot.Rotate(p.x), rot.Rotate(p.y), rot.Rotate(p.z)}
}

// gravity is what a perfect sensor shows: g upwards, along the phone's axes.
func (p pose) gravity() r3.Vec { return r3.Vec{X: g * p.x.Z, Y: g * p.y.Z, Z: g * p.z.Z} }

func (p pose) side(s tilt.Side) r3.Vec {
	return map[tilt.Side]r3.Vec{tilt.RightEdge: p.x, tilt.LeftEdge: r3.Scale(-1, p.x), tilt.Top: p.y,
		tilt.Bottom: r3.Scale(-1, p.y), tilt.Screen: p.z, tilt.Back: r3.Scale(-1, p.z)}[s]
}

// steady is a recording that never changes.
func steady(a r3.Vec) tilt.Recording { return noisy(a, 0, 0, 128, 1) }

// noisy is a seeded recording: each axis gets noise of the given standard
// deviation, where a share of each value stays to the next one.
func noisy(a r3.Vec, sd, stays float64, n int, seed uint64) tilt.Recording {
	rng := rand.New(rand.NewPCG(seed, 7))
	r := tilt.Recording{Convention: tilt.W3C, Resolution: tilt.CoarsestStep}
	noise := [3]float64{sd * rng.NormFloat64(), sd * rng.NormFloat64(), sd * rng.NormFloat64()}
	for i := range n {
		r.Samples = append(r.Samples, tilt.Sample{AtMS: int64(i) * 16,
			X: quantity.Acceleration(a.X + noise[0]), Y: quantity.Acceleration(a.Y + noise[1]), Z: quantity.Acceleration(a.Z + noise[2])})
		for axis := range noise {
			noise[axis] = stays*noise[axis] + math.Sqrt(1-stays*stays)*sd*rng.NormFloat64()
		}
	}
	return r
}

// mirrored is what a phone of the opposite sign records.
func mirrored(r tilt.Recording) tilt.Recording {
	out := tilt.Recording{Convention: tilt.Opposite, Resolution: r.Resolution}
	for _, s := range r.Samples {
		out.Samples = append(out.Samples, tilt.Sample{X: -s.X, Y: -s.Y, Z: -s.Z, AtMS: s.AtMS})
	}
	return out
}

func checkInput(t interface {
	Helper()
	Errorf(string, ...any)
}, err error) {
	t.Helper()
	var input *quantity.InputError
	if !errors.As(err, &input) || input.What == "" || input.Next == "" {
		t.Errorf("got error %v, want an input error with what and next", err)
	}
}

var sides = []tilt.Side{tilt.Top, tilt.Bottom, tilt.LeftEdge, tilt.RightEdge, tilt.Screen, tilt.Back}

// The rise is the angle that gonum finds between the side and the horizontal, in
// any posture and under both signs.
func TestRiseAgainstRotations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := standing
		for _, axis := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
			p = p.rotated(rapid.Float64Range(-180, 180).Draw(t, "turn"), axis)
		}
		side, up := rapid.SampledFrom(sides).Draw(t, "side"), rapid.SampledFrom(sides).Draw(t, "up")
		r := steady(p.gravity())
		got, err := tilt.Placement{Recording: r}.Rise(side, up)
		if side == up || side == up.Other() || p.side(up).Z < cos(45)-1e-9 {
			checkInput(t, err)
			return
		}
		if p.side(up).Z < cos(45)+1e-9 {
			return
		}
		want := 90 - math.Acos(r3.Cos(p.side(side), r3.Vec{Z: 1}))*180/math.Pi
		if err != nil || math.Abs(got.Angle.Value.Degrees()-want) > 1e-6 {
			t.Fatalf("%s with %s up: got %v and error %v, want %v°", side, up, got.Angle.Value.Degrees(), err, want)
		}
		other, err := tilt.Placement{Recording: mirrored(r)}.Rise(side, up)
		if err != nil || other != got {
			t.Errorf("got %v and error %v under the opposite sign, want the same %v", other, err, got)
		}
		across, err := tilt.Placement{Recording: r}.Rise(side.Other(), up)
		if err != nil || math.Abs(float64(across.Angle.Value+got.Angle.Value)) > 1e-12 || across.Angle.Standard != got.Angle.Standard {
			t.Errorf("got %v and error %v for the side across, want %v with the other sign", across.Angle, err, got.Angle)
		}
	})
}

// Turning the phone by a known angle changes the rise by it.
func TestRiseKnownTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start, by := rapid.Float64Range(-20, 20).Draw(t, "start"), rapid.Float64Range(-20, 20).Draw(t, "by")
		p := standing.rotated(start, standing.z)
		before, err := tilt.Placement{Recording: steady(p.gravity())}.Rise(tilt.RightEdge, tilt.Top)
		if err != nil {
			t.Fatal(err)
		}
		after, err := tilt.Placement{Recording: steady(p.rotated(by, standing.z).gravity())}.Rise(tilt.RightEdge, tilt.Top)
		if err != nil || math.Abs((after.Shown-before.Shown).Degrees()-by) > 1e-9 {
			t.Errorf("got %v to %v and error %v, want a change of %v°", before.Shown, after.Shown, err, by)
		}
	})
}

// More noise never gives a smaller uncertainty, and the step of the sensor is
// never averaged away, however long one records.
func TestUncertaintyGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(70, 400).Draw(t, "n")
		base := noisy(r3.Vec{}, 0.05, rapid.Float64Range(0, 0.9).Draw(t, "stays"), n, rapid.Uint64().Draw(t, "seed"))
		less, more := rapid.Float64Range(0, 1).Draw(t, "less"), rapid.Float64Range(0, 1).Draw(t, "more")
		if less > more {
			less, more = more, less
		}
		a := standing.rotated(rapid.Float64Range(-30, 30).Draw(t, "lean"), standing.z).gravity()
		quiet, err := tilt.Placement{Recording: scaled(base, a, less)}.Rise(tilt.RightEdge, tilt.Top)
		if err != nil {
			t.Skip(err) // outside what the method takes: rapid draws another case
		}
		loud, err := tilt.Placement{Recording: scaled(base, a, more)}.Rise(tilt.RightEdge, tilt.Top)
		if err != nil {
			checkInput(t, err)
			return
		}
		const slack = 1e-12
		if loud.Parts.Scatter < quiet.Parts.Scatter-slack || loud.Angle.Standard < quiet.Angle.Standard-slack {
			t.Errorf("got scatter %v from noise %v and %v from noise %v, want it not smaller", quiet.Parts.Scatter, less, loud.Parts.Scatter, more)
		}
		floor := measure.Resolution(tilt.CoarsestStep) / g
		if float64(quiet.Parts.Scatter) < float64(floor)*cos(30)-slack {
			t.Errorf("got scatter %v, want the step of the sensor in it: %v", quiet.Parts.Scatter, floor)
		}
	})
}

// scaled is gravity with noise about it that has no mean, times k.
func scaled(noise tilt.Recording, a r3.Vec, k float64) tilt.Recording {
	var mean [3]quantity.Acceleration
	for _, s := range noise.Samples {
		for i, v := range []quantity.Acceleration{s.X, s.Y, s.Z} {
			mean[i] += v / quantity.Acceleration(len(noise.Samples))
		}
	}
	out := tilt.Recording{Convention: tilt.W3C, Resolution: tilt.CoarsestStep}
	f := quantity.Acceleration(k)
	for _, s := range noise.Samples {
		out.Samples = append(out.Samples, tilt.Sample{AtMS: s.AtMS, X: quantity.Acceleration(a.X) + f*(s.X-mean[0]),
			Y: quantity.Acceleration(a.Y) + f*(s.Y-mean[1]), Z: quantity.Acceleration(a.Z) + f*(s.Z-mean[2])})
	}
	return out
}

// With samples that hang together, s/√n promises too much; the blocks keep the
// promise of about 95 %.
func TestScatterCorrelated(t *testing.T) {
	const runs, sd, stays, n = 400, 0.06, 0.8, 300
	kept, naive := 0, 0
	for seed := range uint64(runs) {
		r := noisy(standing.gravity(), sd, stays, n, seed)
		r.Resolution = tilt.FinestStep
		got, err := tilt.Placement{Recording: r}.Rise(tilt.RightEdge, tilt.Top)
		if err != nil {
			t.Fatal(err)
		}
		if off := math.Abs(float64(got.Shown)); off <= 2*float64(got.Parts.Scatter) {
			kept++
		}
		if off := math.Abs(float64(got.Shown)); off <= 2*sd/g/math.Sqrt(n) {
			naive++
		}
	}
	if kept < runs*93/100 || naive > runs*70/100 {
		t.Errorf("got %d of %d within the expanded scatter and %d within 2·s/√n, want most and far fewer", kept, runs, naive)
	}
}

func TestRise(t *testing.T) {
	r := steady(standing.gravity())
	t.Run("OKUncalibrated", func(t *testing.T) {
		got, err := tilt.Placement{Recording: r}.Rise(tilt.RightEdge, tilt.Top)
		if err != nil || got.Calibrated || got.Angle.Expanded().Degrees() < 3 || got.Parts.Offset != tilt.Uncalibrated() {
			t.Errorf("got %+v and error %v, want an uncalibrated phone to be vague", got, err)
		}
		wanted := measure.Band[quantity.Angle]{Target: 0, Minus: quantity.Degrees(0.5), Plus: quantity.Degrees(0.5)}
		if verdict := wanted.Judge(got.Angle); verdict != measure.TooClose {
			t.Errorf("got %v, want too close to tell", verdict)
		}
	})
	t.Run("OKAcross", func(t *testing.T) {
		leaning, err := tilt.Placement{Recording: steady(standing.rotated(10, standing.x).gravity())}.Rise(tilt.RightEdge, tilt.Top)
		straight, _ := tilt.Placement{Recording: r}.Rise(tilt.RightEdge, tilt.Top)
		if err != nil || math.Abs(leaning.Across.Degrees()+10) > 1e-9 || !(leaning.Parts.Turn > 3*straight.Parts.Turn) {
			t.Errorf("got %+v and error %v, want the lean of 10° to cost certainty", leaning, err)
		}
	})
	bad := map[string]struct {
		change   func(*tilt.Recording)
		side, up tilt.Side
	}{
		"NoSide":        {func(*tilt.Recording) {}, "", tilt.Top},
		"NoUp":          {func(*tilt.Recording) {}, tilt.RightEdge, "roof"},
		"SameAxis":      {func(*tilt.Recording) {}, tilt.Bottom, tilt.Top},
		"UpsideDown":    {func(*tilt.Recording) {}, tilt.RightEdge, tilt.Bottom},
		"OnItsBack":     {func(*tilt.Recording) {}, tilt.RightEdge, tilt.Screen},
		"NoConvention":  {func(r *tilt.Recording) { r.Convention = "" }, tilt.RightEdge, tilt.Top},
		"WrongSign":     {func(r *tilt.Recording) { r.Convention = tilt.Opposite }, tilt.RightEdge, tilt.Top},
		"NoResolution":  {func(r *tilt.Recording) { r.Resolution = 0 }, tilt.RightEdge, tilt.Top},
		"ResolutionNaN": {func(r *tilt.Recording) { r.Resolution = quantity.Acceleration(math.NaN()) }, tilt.RightEdge, tilt.Top},
		"TooCoarse":     {func(r *tilt.Recording) { r.Resolution = 1 }, tilt.RightEdge, tilt.Top},
		"TooFine":       {func(r *tilt.Recording) { r.Resolution = tilt.FinestStep }, tilt.RightEdge, tilt.Top},
		"NoSamples":     {func(r *tilt.Recording) { r.Samples = nil }, tilt.RightEdge, tilt.Top},
		"Moving":        {func(r *tilt.Recording) { r.Samples[60].X = 2 }, tilt.RightEdge, tilt.Top},
	}
	for name, b := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			r := steady(standing.gravity())
			b.change(&r)
			got, err := tilt.Placement{Recording: r}.Rise(b.side, b.up)
			if got != (tilt.Rise{}) {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
}
