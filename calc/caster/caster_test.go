package caster_test

import (
	_ "embed"
	"errors"
	"math"
	"strings"
	"testing"

	"strutcard/calc/caster"
	"strutcard/calc/internal/vector"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

//go:embed testdata/caster.json
var vectors []byte

func TestVectors(t *testing.T) {
	vector.Run(t, vectors, map[string]vector.Formula{
		"camber out and in": camberOutIn,
		"exact upright sine linear": func(v *vector.Vector) ([]float64, error) {
			r, err := exact(v)
			return []float64{r.Caster.Value.Degrees(), r.Compare.Upright.Degrees(), r.Compare.Sine.Degrees(), r.Compare.Linear.Degrees()}, err
		},
		"exact": func(v *vector.Vector) ([]float64, error) {
			r, err := exact(v)
			return []float64{r.Caster.Value.Degrees()}, err
		},
		"exact u95": func(v *vector.Vector) ([]float64, error) {
			r, err := exact(v)
			return []float64{r.Caster.Expanded().Degrees()}, err
		},
		"sine": func(v *vector.Vector) ([]float64, error) {
			r, err := caster.FromSweepAlone(swept(v))
			return []float64{r.Caster.Value.Degrees()}, err
		},
		"rule": func(v *vector.Vector) ([]float64, error) {
			r, err := caster.FromSweepAlone(swept(v))
			return []float64{r.Compare.Rule.Degrees()}, err
		},
		"sine factor": func(v *vector.Vector) ([]float64, error) {
			c, err := factors(v)
			return []float64{float64(c.SineFactor)}, err
		},
		"linear factor": func(v *vector.Vector) ([]float64, error) {
			c, err := factors(v)
			return []float64{float64(c.LinearFactor)}, err
		},
		"rule factor": func(v *vector.Vector) ([]float64, error) {
			c, err := factors(v)
			return []float64{float64(c.RuleFactor)}, err
		},
		"sine factor of two": func(v *vector.Vector) ([]float64, error) {
			a, err := caster.FromSweepAlone(sweep(1, -1, v.Num("phi"), v.Num("phi")))
			b, errB := caster.FromSweepAlone(sweep(1, -1, v.Num("phi_2"), v.Num("phi_2")))
			return []float64{float64(a.Compare.SineFactor), float64(b.Compare.SineFactor)}, errors.Join(err, errB)
		},
		"axis": func(v *vector.Vector) ([]float64, error) {
			a, err := caster.AxisFromSweep(swept(v), known(v.Num("g0"), 0.05))
			return []float64{a.Caster.Value.Degrees(), a.Inclination.Value.Degrees()}, err
		},
		"sign": func(v *vector.Vector) ([]float64, error) {
			// The oracle's axis is built from words: back by 5° at the top.
			back := map[string]float64{"rearward": 5, "forward": -5}[v.Text("top")]
			r, err := caster.FromSweep(oracle{back, 12, 0}.sweep(20, 20), known(12, 0.3))
			if string(caster.LeanOf(r.Caster.Value)) != v.Text("top") {
				t.Errorf("got %q, want %q", caster.LeanOf(r.Caster.Value), v.Text("top"))
			}
			return []float64{math.Copysign(1, float64(r.Caster.Value))}, err
		},
		"cross": func(v *vector.Vector) ([]float64, error) {
			c, err := caster.Cross(known(v.Num("left"), 0.1), known(v.Num("right"), 0.1))
			return []float64{c.Value.Degrees()}, err
		},
		"sweep asked": func(v *vector.Vector) ([]float64, error) {
			s := sweep(1, -1, v.Num("phi_out"), v.Num("phi_in"))
			s.How = caster.How(v.Text("how"))
			return asked(caster.SweepQuestion(s)), nil
		},
		"spec asked": func(v *vector.Vector) ([]float64, error) {
			tolerance := quantity.Degrees(v.Num("tolerance"))
			return asked(caster.SpecQuestion(quantity.Degrees(v.Num("deg")), tolerance, tolerance)), nil
		},
	})
}

func asked(question string) []float64 {
	if question == "" {
		return []float64{0}
	}
	return []float64{1}
}

func camberOutIn(v *vector.Vector) ([]float64, error) {
	w := caster.Wheel{Caster: quantity.Degrees(v.Num("caster")), Inclination: quantity.Degrees(v.Num("KPI")), Camber: quantity.Degrees(v.Num("camber0"))}
	out, errOut := caster.CamberAt(w, caster.Out, quantity.Degrees(v.Num("phi")))
	in, errIn := caster.CamberAt(w, caster.In, quantity.Degrees(v.Num("phi")))
	return []float64{out.Degrees(), in.Degrees()}, errors.Join(errOut, errIn)
}

func swept(v *vector.Vector) caster.Sweep {
	in := "phi"
	if v.Has("phi_in") {
		in = "phi_in"
	}
	s := sweep(v.Num("g_out"), v.Num("g_in"), v.Num("phi"), v.Num(in))
	if v.Has("angle") {
		s.Convention = caster.Convention(v.Text("angle"))
	}
	return s
}

func exact(v *vector.Vector) (caster.Result, error) {
	return caster.FromSweep(swept(v), known(v.Num("KPI"), 0.3))
}

func factors(v *vector.Vector) (caster.Comparison, error) {
	r, err := caster.FromSweepAlone(sweep(1, -1, v.Num("phi"), v.Num("phi")))
	return r.Compare, err
}

func TestShown(t *testing.T) {
	// What a screen shows as arithmetic gives the result again.
	s := oracle{6, 12, -1}.sweep(20, 17)
	r, err := caster.FromSweep(s, known(12, 0.3))
	if err != nil {
		t.Fatal(err)
	}
	if got := quantity.Radians(math.Atan(float64((r.Swung + r.Leaned) / r.Over))); math.Abs(float64(got-r.Caster.Value)) > 1e-12 {
		t.Errorf("got %v from the parts, want %v", got, r.Caster.Value)
	}
	if got := r.Swing * quantity.Angle(r.Factor); math.Abs(float64(got-r.Caster.Value)) > 1e-12 || r.Form != caster.Exact {
		t.Errorf("got %v from swing and factor (%s), want %v", got, r.Form, r.Caster.Value)
	}
	alone, err := caster.FromSweepAlone(s)
	if err != nil || alone.Form != caster.Sine || math.Abs(float64(alone.Factor-alone.Compare.SineFactor)) > 1e-12 {
		t.Errorf("got %v by %s and error %v, want the sine factor %v", alone.Factor, alone.Form, err, alone.Compare.SineFactor)
	}
	none, err := caster.FromSweepAlone(sweep(-1, -1, 20, 20))
	if err != nil || none.Factor != 0 || none.Caster.Value != 0 || !(none.Caster.Standard > 0) {
		t.Errorf("got %v and error %v without a swing, want no caster with an uncertainty and no factor", none, err)
	}
}

func with(change func(*caster.Sweep)) caster.Sweep {
	s := sweep(1.8, -2.3, 20, 20)
	change(&s)
	return s
}

func TestSweepErr(t *testing.T) {
	nan := quantity.Angle(math.NaN())
	bad := map[string]func(*caster.Sweep){
		"NoConvention":     func(s *caster.Sweep) { s.Convention = "" },
		"AboutAxis":        func(s *caster.Sweep) { s.Convention = caster.AboutAxis },
		"How":              func(s *caster.Sweep) { s.How = "" },
		"NoResolution":     func(s *caster.Sweep) { s.Resolution = 0 },
		"ResolutionBelow":  func(s *caster.Sweep) { s.Resolution, s.How = -1, caster.NotMeasured },
		"ResolutionNaN":    func(s *caster.Sweep) { s.Resolution = nan },
		"ResolutionCoarse": func(s *caster.Sweep) { s.Resolution = quantity.Degrees(11) },
		"NotTurned":        func(s *caster.Sweep) { s.Out.Turned = 0 },
		"TurnedBelow":      func(s *caster.Sweep) { s.In.Turned = quantity.Degrees(-20) },
		"TurnedLittle":     func(s *caster.Sweep) { s.In.Turned = quantity.Degrees(4.9) },
		"TurnedTooFar":     func(s *caster.Sweep) { s.Out.Turned = quantity.Degrees(45.1) },
		"TurnedNaN":        func(s *caster.Sweep) { s.Out.Turned = nan },
		"CamberNaN":        func(s *caster.Sweep) { s.In.Camber.Value = nan },
		"CamberExact":      func(s *caster.Sweep) { s.Out.Camber.Standard = 0 },
		"CamberLoose":      func(s *caster.Sweep) { s.Out.Camber.Standard = nan },
		"CamberMinutes":    func(s *caster.Sweep) { s.Out.Camber.Value = quantity.Degrees(108) },
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			r, err := caster.FromSweep(with(change), known(12, 0.3))
			checkInput(t, r, err)
			r, err = caster.FromSweepAlone(with(change))
			checkInput(t, r, err)
			a, err := caster.AxisFromSweep(with(change), known(-1, 0.05))
			checkInput(t, a, err)
		})
	}
	about := with(func(s *caster.Sweep) { s.Convention = caster.AboutAxis })
	if _, err := caster.FromSweepAlone(about); err == nil || !strings.Contains(err.Error(), "another angle") {
		t.Errorf("got error %v, want to hear that the two angles are not the same", err)
	}
	for name, k := range map[string]measure.Value[quantity.Angle]{"Missing": {}, "Exact": known(12, 0), "Below": known(-0.1, 0.3), "Large": known(30.1, 0.3), "NaN": known(math.NaN(), 0.3)} {
		t.Run("ErrInclination"+name, func(t *testing.T) {
			r, err := caster.FromSweep(with(func(*caster.Sweep) {}), k)
			checkInput(t, r, err)
		})
	}
	t.Run("ErrAxisStraight", func(t *testing.T) {
		a, err := caster.AxisFromSweep(with(func(*caster.Sweep) {}), measure.Value[quantity.Angle]{})
		checkInput(t, a, err)
		a, err = caster.AxisFromSweep(sweep(0, 0, 5, 5), known(20, 0.1))
		checkInput(t, a, err)
	})
}

func TestCamberAtErr(t *testing.T) {
	good := caster.Wheel{Caster: 0.1, Inclination: 0.2, Camber: -0.01}
	nan := math.NaN()
	bad := map[string]struct {
		w      caster.Wheel
		way    caster.Way
		turned float64
	}{
		"Way": {good, "left", 20}, "TurnedBelow": {good, caster.Out, -1}, "TurnedFar": {good, caster.In, 46}, "TurnedNaN": {good, caster.In, nan},
		"Caster":      {caster.Wheel{Caster: 1}, caster.Out, 20},
		"Camber":      {caster.Wheel{Camber: -1}, caster.Out, 20},
		"Inclination": {caster.Wheel{Inclination: -0.1}, caster.Out, 20},
		"Upper":       {caster.Wheel{Inclination: 1}, caster.Out, 20},
		"NaN":         {caster.Wheel{Camber: quantity.Angle(nan)}, caster.Out, 20},
	}
	for name, b := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := caster.CamberAt(b.w, b.way, quantity.Degrees(b.turned))
			checkInput(t, got, err)
		})
	}
}

func checkInput[T comparable](t *testing.T, got T, err error) {
	t.Helper()
	var input *quantity.InputError
	var zero T
	if !errors.As(err, &input) || input.What == "" || input.Next == "" || got != zero {
		t.Errorf("got %v and error %v, want nothing and an input error with what and next", got, err)
	}
}

func TestCross(t *testing.T) {
	got, err := caster.Cross(known(6, 0.3), known(5.5, 0.4))
	if err != nil || math.Abs(got.Standard.Degrees()-0.5) > 1e-12 {
		t.Errorf("got %v and error %v, want ± 0.5° standard", got, err)
	}
	for name, pair := range map[string][2]measure.Value[quantity.Angle]{"Left": {{}, known(5, 0.1)}, "Right": {known(5, 0.1), known(5, 0)}} {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := caster.Cross(pair[0], pair[1])
			checkInput(t, got, err)
		})
	}
	if got := caster.LeanOf(0); got != "" {
		t.Errorf("got %q for an upright axis, want no word", got)
	}
}
