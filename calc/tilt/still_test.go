package tilt_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"

	"strutcard/calc/quantity"
	"strutcard/calc/tilt"
)

func TestCheck(t *testing.T) {
	each := func(change func(i int, s *tilt.Sample)) []tilt.Sample {
		r := noisy(standing.gravity(), 0.03, 0.5, 128, 3)
		for i := range r.Samples {
			change(i, &r.Samples[i])
		}
		return r.Samples
	}
	tests := map[string]struct {
		change func(i int, s *tilt.Sample)
		want   tilt.State
	}{
		"AtRest":     {func(int, *tilt.Sample) {}, tilt.Still},
		"OtherSign":  {func(_ int, s *tilt.Sample) { s.X, s.Y, s.Z = -s.X, -s.Y, -s.Z }, tilt.Still},
		"Shaken":     {func(i int, s *tilt.Sample) { s.Z += quantity.Acceleration(0.4 * math.Sin(float64(i))) }, tilt.Moving},
		"OneSpike":   {func(i int, s *tilt.Sample) { s.X += quantity.Acceleration(map[int]float64{64: 0.8}[i]) }, tilt.Moving},
		"Creeping":   {func(i int, s *tilt.Sample) { s.X += quantity.Acceleration(0.003 * float64(i)) }, tilt.Moving},
		"Dropped":    {func(i int, s *tilt.Sample) { s.Y *= quantity.Acceleration(map[bool]float64{true: 0, false: 1}[i > 90]) }, tilt.Moving},
		"FreeFall":   {func(_ int, s *tilt.Sample) { s.X, s.Y, s.Z = 0, 0, 0 }, tilt.NotGravity},
		"InUnitsOfG": {func(_ int, s *tilt.Sample) { s.X, s.Y, s.Z = s.X/g, s.Y/g, s.Z/g }, tilt.NotGravity},
		"TooStrong":  {func(_ int, s *tilt.Sample) { s.Y += 0.8 }, tilt.NotGravity},
	}
	for name, test := range tests {
		t.Run("OK"+name, func(t *testing.T) {
			got, err := tilt.Check(each(test.change))
			if err != nil || got.State != test.want || (got.Advice() == "") != (test.want == tilt.Still) {
				t.Errorf("got %+v, advice %q and error %v, want %s", got, got.Advice(), err, test.want)
			}
		})
	}
	bad := map[string]func(i int, s *tilt.Sample){
		"NaN":       func(i int, s *tilt.Sample) { s.Z = quantity.Acceleration([]float64{0, math.NaN()}[i%2]) },
		"Inf":       func(i int, s *tilt.Sample) { s.X = quantity.Acceleration(math.Inf(i - 3)) },
		"Huge":      func(_ int, s *tilt.Sample) { s.X = 1e6 },
		"Backwards": func(i int, s *tilt.Sample) { s.AtMS -= map[int]int64{70: 40}[i] },
		"Gap":       func(i int, s *tilt.Sample) { s.AtMS += map[bool]int64{true: 300}[i > 50] },
		"Short":     func(i int, s *tilt.Sample) { s.AtMS = int64(7 * i) },
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := tilt.Check(each(change))
			if got != (tilt.Stillness{}) {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
	t.Run("ErrFew", func(t *testing.T) {
		few := each(func(i int, s *tilt.Sample) { s.AtMS = int64(30 * i) })[:tilt.MinSamples-1]
		_, err := tilt.Check(few)
		checkInput(t, err)
	})
}

// gonum is the oracle for the numbers beside the state.
func TestCheckNumbers(t *testing.T) {
	r := noisy(standing.gravity(), 0.05, 0.3, 100, 11)
	var x [3][]float64
	for _, s := range r.Samples {
		for i, v := range []quantity.Acceleration{s.X, s.Y, s.Z} {
			x[i] = append(x[i], float64(v))
		}
	}
	var mean [3]float64
	spread, creep, jump := 0.0, 0.0, 0.0
	for i := range x {
		m, sd := stat.MeanStdDev(x[i], nil)
		mean[i], spread = m, max(spread, sd)
		creep = max(creep, math.Abs(stat.Mean(x[i][75:], nil)-stat.Mean(x[i][:25], nil)))
		for _, v := range x[i] {
			jump = max(jump, math.Abs(v-m))
		}
	}
	got, err := tilt.Check(r.Samples)
	whole := r3.Norm(r3.Vec{X: mean[0], Y: mean[1], Z: mean[2]})
	for name, pair := range map[string][2]float64{"spread": {float64(got.Spread), spread}, "creep": {float64(got.Creep), creep},
		"jump": {float64(got.Jump), jump}, "gravity": {float64(got.Gravity), whole}} {
		if err != nil || math.Abs(pair[0]-pair[1]) > 1e-12 {
			t.Errorf("%s: got %v and error %v, want %v", name, pair[0], err, pair[1])
		}
	}
}

func TestDetectConvention(t *testing.T) {
	for _, up := range sides {
		for _, deg := range []float64{0, 25} {
			p := standing.rotated(deg, standing.z)
			for _, other := range []r3.Vec{{X: 1}, {Y: 1}} { // bring the side up
				for turn := 0.0; turn < 360 && p.side(up).Z < cos(26); turn += 90 {
					p = standing.rotated(turn, other).rotated(deg, r3.Vec{Y: 1})
				}
			}
			if p.side(up).Z < cos(26) {
				t.Fatalf("%s is not up in this test", up)
			}
			r := steady(p.gravity())
			got, err := tilt.DetectConvention(r.Samples, up)
			opposite, err2 := tilt.DetectConvention(mirrored(r).Samples, up)
			if err != nil || err2 != nil || got != tilt.W3C || opposite != tilt.Opposite {
				t.Errorf("%s up, %v° off: got %q, %q and errors %v, %v, want each sign found", up, deg, got, opposite, err, err2)
			}
		}
	}
	bad := map[string]struct {
		r  tilt.Recording
		up tilt.Side
	}{
		"NotAsSaid": {steady(standing.rotated(40, standing.x).gravity()), tilt.Top},
		"Square":    {steady(standing.gravity()), tilt.Screen},
		"Side":      {steady(standing.gravity()), "roof"},
		"Moving":    {noisy(standing.gravity(), 1, 0, 128, 1), tilt.Top},
		"Few":       {noisy(standing.gravity(), 0, 0, 20, 1), tilt.Top},
	}
	for name, b := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := tilt.DetectConvention(b.r.Samples, b.up)
			if got != "" {
				t.Errorf("got %q beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
}

func TestStepSeen(t *testing.T) {
	tests := map[string]struct {
		values []float64
		want   float64
	}{
		"Tenths":    {[]float64{0.1, 0.3, 0.30000000000000004, 0.4, 0.1}, 0.1},
		"Hundreds":  {[]float64{0.10, 0.13, 0.15, 0.13}, 0.02},
		"Fine":      {[]float64{0.10, 0.1037, 0.1062}, 0.01},
		"Unchanged": {[]float64{0.1, 0.1}, 0.1},
		"Coarse":    {[]float64{0, 0.3, 0}, 0.3},
	}
	for name, test := range tests {
		t.Run("OK"+name, func(t *testing.T) {
			var samples []tilt.Sample
			for _, v := range test.values {
				samples = append(samples, tilt.Sample{Y: quantity.Acceleration(v), Z: g})
			}
			if got := tilt.StepSeen(samples); math.Abs(float64(got)-test.want) > 1e-9 {
				t.Errorf("got %v, want %v", float64(got), test.want)
			}
		})
	}
}

func TestSides(t *testing.T) {
	for _, s := range sides {
		if s.Words() == "" || s.Other() == s || s.Other().Other() != s {
			t.Errorf("%s: got %q and %q across, want words and the side across", s, s.Words(), s.Other())
		}
	}
	if s := tilt.Side("roof"); s.Words() != "" || s.Other() != "" {
		t.Errorf("got %q and %q for no side, want nothing", s.Words(), s.Other())
	}
}
