package caster_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/caster"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// The formulas against wheels turned in space, over a grid with unequal angles.
func TestOracleGrid(t *testing.T) {
	wheels := 0
	for c := -3.0; c <= 15; c += 3 {
		for k := 0.0; k <= 20; k += 5 {
			for camber := -5.0; camber <= 3; camber += 2 {
				for _, turned := range [][2]float64{{20, 20}, {10, 10}, {20, 17}, {12, 25}, {5, 45}} {
					checkOracle(t, oracle{c, k, camber}, turned[0], turned[1])
					wheels++
				}
			}
		}
	}
	if wheels != 7*5*5*5 {
		t.Errorf("got %d wheels, want the whole grid", wheels)
	}
}

type fataler interface {
	Helper()
	Fatalf(string, ...any)
}

func checkOracle(t fataler, o oracle, out, in float64) {
	t.Helper()
	const close = 1e-8 // degrees
	s := o.sweep(out, in)
	r, err := caster.FromSweep(s, known(o.inclination, 0.3))
	if err != nil || math.Abs(r.Caster.Value.Degrees()-o.caster) > close {
		t.Fatalf("%v turned %v and %v: got %v and error %v, want its caster", o, out, in, r.Caster.Value.Degrees(), err)
	}
	a, err := caster.AxisFromSweep(s, known(o.camber, 0.05))
	if err != nil || math.Abs(a.Caster.Value.Degrees()-o.caster) > 100*close || math.Abs(a.Inclination.Value.Degrees()-o.inclination) > 100*close {
		t.Fatalf("%v turned %v and %v: got %v and error %v, want its axis", o, out, in, a, err)
	}
	w := caster.Wheel{Caster: quantity.Degrees(o.caster), Inclination: quantity.Degrees(o.inclination), Camber: quantity.Degrees(o.camber)}
	for way, headed := range map[caster.Way]float64{caster.Out: out, caster.In: -in} {
		got, err := caster.CamberAt(w, way, quantity.Degrees(math.Abs(headed)))
		if err != nil || math.Abs(got.Degrees()-o.at(headed)) > close {
			t.Fatalf("%v turned %v: got %v and error %v, want %v", o, headed, got.Degrees(), err, o.at(headed))
		}
	}
}

func drawOracle(t *rapid.T) (o oracle, out, in float64) {
	o = oracle{rapid.Float64Range(-5, 15).Draw(t, "caster"), rapid.Float64Range(0, 20).Draw(t, "inclination"), rapid.Float64Range(-6, 6).Draw(t, "camber")}
	return o, rapid.Float64Range(6, 40).Draw(t, "out"), rapid.Float64Range(6, 40).Draw(t, "in")
}

func TestOracle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, out, in := drawOracle(t)
		checkOracle(t, o, out, in)
	})
}

// A turn about the axis taken for a heading shows in the result, so the two must
// not be mixed up.
func TestConventionMatters(t *testing.T) {
	o := oracle{6, 12, -1}
	s := sweep(camberOf(o.turned(rad(20))), camberOf(o.turned(-rad(20))), 20, 20)
	r, err := caster.FromSweep(s, known(12, 0.3))
	if err != nil || math.Abs(r.Caster.Value.Degrees()-6) < 0.1 {
		t.Errorf("got %v and error %v, want more than 0.1° off", r.Caster.Value, err)
	}
}

// The uncertainty is that of finite differences through the public functions.
func TestUncertainty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, out, in := drawOracle(t)
		o.inclination = max(o.inclination, 0.1) // room for the step
		s, k, straight := o.sweep(out, in), known(o.inclination, 0.7), known(o.camber, 0.04)
		s.Out.Camber.Standard, s.Resolution = quantity.Degrees(0.09), quantity.Degrees(rapid.Float64Range(0.1, 2).Draw(t, "resolution"))
		turn := measure.Resolution(s.Resolution)
		inputs := []quantity.Angle{s.Out.Camber.Standard, s.In.Camber.Standard, turn, turn, k.Standard, straight.Standard, turn}
		result := func(which int, by quantity.Angle) (results [3]quantity.Angle) {
			s, k, straight := s, k, straight
			switch which {
			case 6: // what is read with the wheel not quite straight ahead
				straight.Value = quantity.Degrees(o.at(by.Degrees()))
			default:
				*[]*quantity.Angle{&s.Out.Camber.Value, &s.In.Camber.Value, &s.Out.Turned, &s.In.Turned, &k.Value, &straight.Value}[which] += by
			}
			r, err := caster.FromSweep(s, k)
			a, errAxis := caster.AxisFromSweep(s, straight)
			if err != nil || errAxis != nil {
				t.Fatal(err, errAxis)
			}
			return [3]quantity.Angle{r.Caster.Value, a.Caster.Value, a.Inclination.Value}
		}
		var want [3]quantity.Angle
		for i, u := range inputs {
			const step = quantity.Angle(1e-5)
			up, down := result(i, step), result(i, -step)
			for j := range want {
				want[j] = measure.Combine(want[j], (up[j]-down[j])/(2*step)*u)
			}
		}
		r, err := caster.FromSweep(s, k)
		a, errAxis := caster.AxisFromSweep(s, straight)
		if err != nil || errAxis != nil {
			t.Fatal(err, errAxis)
		}
		for j, got := range []quantity.Angle{r.Caster.Standard, a.Caster.Standard, a.Inclination.Standard} {
			if math.Abs(float64(got/want[j])-1) > 1e-5 {
				t.Errorf("result %d: got %v, want %v", j, got.Degrees(), want[j].Degrees())
			}
		}
	})
}

// The interval of the sine form holds for wheels whose inclination nobody knows,
// with readings that are off by what their marks allow.
func TestSineCovers(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	uniform := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	for _, turned := range [][2]float64{{20, 20}, {20, 18}, {12, 20}} {
		inside, n := 0, 2000
		for range n {
			o := oracle{uniform(1, 10), uniform(0, 20), uniform(-3, 1)}
			out, in := uniform(-0.5, 0.5), uniform(-0.5, 0.5) // marks of 1°
			s := sweep(o.at(turned[0]+out)+0.05*random.NormFloat64(), o.at(-turned[1]-in)+0.05*random.NormFloat64(), turned[0], turned[1])
			r, err := caster.FromSweepAlone(s)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(r.Caster.Value.Degrees()-o.caster) <= r.Caster.Expanded().Degrees() {
				inside++
			}
		}
		if share := float64(inside) / float64(n); share < 0.94 {
			t.Errorf("turned %v: got %.3f inside the interval, want 95 %%", turned, share)
		}
	}
}

// A guess is never better than a measurement, and no better than its width.
func TestNotMeasured(t *testing.T) {
	s := sweep(1.8, -2.3, 20, 20)
	measured, _ := caster.FromSweep(s, known(12, 0.3))
	s.How, s.Resolution = caster.NotMeasured, 0
	guessed, err := caster.FromSweep(s, known(12, 0.3))
	s.Resolution = quantity.Degrees(8)
	loose, errLoose := caster.FromSweep(s, known(12, 0.3))
	if err != nil || errLoose != nil || guessed.Caster.Value != measured.Caster.Value || !(guessed.Caster.Standard > 2*measured.Caster.Standard) || !(loose.Caster.Standard > guessed.Caster.Standard) {
		t.Errorf("got %v, %v, %v and errors %v, %v, want the uncertainty to grow", measured.Caster, guessed.Caster, loose.Caster, err, errLoose)
	}
}
