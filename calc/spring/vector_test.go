package spring_test

import (
	_ "embed"
	"testing"

	"strutcard/calc/internal/vector"
	"strutcard/calc/quantity"
	"strutcard/calc/spring"
)

//go:embed testdata/spring.json
var vectors []byte

func TestVectors(t *testing.T) {
	formulas := map[string]vector.Formula{}
	for _, some := range []map[string]vector.Formula{rateFormulas, swingFormulas, cornerFormulas} {
		for name, f := range some {
			formulas[name] = f
		}
	}
	vector.Run(t, vectors, formulas)
}

func mm(v *vector.Vector, name string) quantity.Length { return quantity.Millimetres(v.Num(name)) }
func kg(v *vector.Vector, name string) quantity.Mass   { return quantity.Kilograms(v.Num(name)) }
func per(v *vector.Vector, name string) quantity.Stiffness {
	return quantity.NewtonsPerMetre(v.Num(name))
}
func one(x float64, err error) ([]float64, error) { return []float64{x}, err }

func rate(v *vector.Vector, name string) quantity.Stiffness {
	return map[string]func(float64) quantity.Stiffness{"N/m": quantity.NewtonsPerMetre, "N/mm": quantity.NewtonsPerMillimetre,
		"kgf/mm": quantity.KilogramsForcePerMillimetre, "lbf/in": quantity.PoundsForcePerInch}[v.Text("unit")](v.Num(name))
}

func motion(v *vector.Vector) spring.Motion {
	m := spring.Motion{Ratio: quantity.Ratio(v.Num("ratio")), Per: spring.Per(v.Text("per"))}
	if v.Has("inclined_deg") {
		m.Inclined, m.Taken = quantity.Degrees(v.Num("inclined_deg")), spring.Taken(v.Text("taken"))
	}
	return m
}

var rateFormulas = map[string]vector.Formula{
	"stiffness in N/mm": func(v *vector.Vector) ([]float64, error) {
		return one(rate(v, "value").NewtonsPerMillimetre(), nil)
	},
	"stiffness in N/mm and lbf/in": func(v *vector.Vector) ([]float64, error) {
		k := rate(v, "value")
		return []float64{k.NewtonsPerMillimetre(), k.PoundsForcePerInch()}, nil
	},
	"rate from load": func(v *vector.Vector) ([]float64, error) {
		k, err := spring.RateFromLoad(quantity.Newtons(v.Num("load_N")), quantity.Metres(v.Num("shorter_m")))
		return one(k.NewtonsPerMetre(), err)
	},
	"wheel rate": func(v *vector.Vector) ([]float64, error) {
		k, err := spring.WheelRate(rate(v, "rate"), motion(v))
		switch v.Unit {
		case "N/m":
			return one(k.NewtonsPerMetre(), err)
		case "lbf/in":
			return one(k.PoundsForcePerInch(), err)
		}
		return one(k.NewtonsPerMillimetre(), err)
	},
	"ride rate": func(v *vector.Vector) ([]float64, error) {
		k, err := spring.RideRate(per(v, "wheel_N_m"), per(v, "tyre_N_m"))
		return one(k.NewtonsPerMetre(), err)
	},
	"deflection": func(v *vector.Vector) ([]float64, error) {
		var load quantity.Force
		if v.Has("load_lbf") {
			load = quantity.PoundsForce(v.Num("load_lbf"))
		} else {
			load = kg(v, "mass_kg").Weight()
		}
		l, err := spring.Deflection(load, rate(v, "rate"))
		if v.Text("out") == "in" {
			return one(l.Inches(), err)
		}
		return one(l.Millimetres(), err)
	},
	"collar travel": func(v *vector.Vector) ([]float64, error) {
		l, err := spring.CollarTravel(quantity.Count(v.Num("turns")), mm(v, "pitch_mm"))
		return one(l.Millimetres(), err)
	},
	"wheel travel": func(v *vector.Vector) ([]float64, error) {
		l, err := spring.WheelTravel(mm(v, "travel_mm"), motion(v))
		return one(l.Millimetres(), err)
	},
	"wheel travel of turns": func(v *vector.Vector) ([]float64, error) {
		l, err := spring.CollarTravel(quantity.Count(v.Num("turns")), mm(v, "pitch_mm"))
		if err != nil {
			return nil, err
		}
		l, err = spring.WheelTravel(l, motion(v))
		return one(l.Millimetres(), err)
	},
	"turns for wheel": func(v *vector.Vector) ([]float64, error) {
		n, err := spring.TurnsForWheel(mm(v, "change_mm"), mm(v, "pitch_mm"), motion(v))
		if spring.Way(v.Text("way")) == spring.Lower {
			n = -n
		}
		return one(n.Count(), err)
	},
	"preloaded": func(v *vector.Vector) ([]float64, error) {
		got, err := spring.Preloaded(quantity.KilogramsForcePerMillimetre(v.Num("rate_kgf_mm")), kg(v, "mass_kg").Weight(), mm(v, "preload_mm"))
		return []float64{got.Shorter.Millimetres(), got.ShaftIn.Millimetres()}, err
	},
	"squeeze force": func(v *vector.Vector) ([]float64, error) {
		got, err := squeeze(v)
		return one(got.Force.Newtons()/1000, err)
	},
	"squeeze energy": func(v *vector.Vector) ([]float64, error) {
		got, err := squeeze(v)
		return one(float64(got.Energy), err)
	},
}

func squeeze(v *vector.Vector) (spring.Squeezed, error) {
	return spring.Squeeze(quantity.KilogramsForcePerMillimetre(v.Num("rate_kgf_mm")), mm(v, "shorter_mm"))
}

func decay(v *vector.Vector) spring.Decay {
	return spring.Decay{First: mm(v, "first_mm"), Later: mm(v, "later_mm"), Cycles: quantity.Count(v.Num("cycles")), Resolution: quantity.Millimetres(0.5)}
}

var swingFormulas = map[string]vector.Formula{
	"period": func(v *vector.Vector) ([]float64, error) {
		f, err := spring.Frequency(per(v, "rate_N_m"), kg(v, "mass_kg"))
		return one(1/f.Hertz(), err)
	},
	"frequency": func(v *vector.Vector) ([]float64, error) {
		f, err := spring.Frequency(per(v, "rate_N_m"), kg(v, "mass_kg"))
		return one(f.Hertz(), err)
	},
	"frequency from sag": func(v *vector.Vector) ([]float64, error) {
		f, err := spring.FrequencyFromSag(spring.Sag{Sag: mm(v, "sag_mm"), Resolution: 0.001})
		return one(f.Value.Hertz(), err)
	},
	"spring rate for frequency": func(v *vector.Vector) ([]float64, error) {
		k, err := spring.RateForFrequency(quantity.Hertz(v.Num("f_Hz")), kg(v, "mass_kg"))
		if err != nil {
			return nil, err
		}
		k, err = spring.SpringRate(k, motion(v))
		return one(k.NewtonsPerMillimetre(), err)
	},
	"usual frequencies": func(*vector.Vector) ([]float64, error) {
		var out []float64
		for _, row := range spring.UsualFrequencies() {
			out = append(out, row.Low.Hertz(), row.High.Hertz())
		}
		return out, nil
	},
	"usual damping": func(*vector.Vector) ([]float64, error) {
		u := spring.UsualDamping()
		return []float64{float64(u.Low), float64(u.High)}, nil
	},
	"damping from decay": func(v *vector.Vector) ([]float64, error) {
		c, err := spring.DampingFromDecay(decay(v), quantity.Hertz(1/v.Num("period_s")), kg(v, "mass_kg"))
		return one(c.NewtonSecondsPerMetre(), err)
	},
	"ratio from decay": func(v *vector.Vector) ([]float64, error) {
		got, err := spring.RatioFromDecay(decay(v))
		return one(float64(got.Ratio.Value), err)
	},
	"damping for": func(v *vector.Vector) ([]float64, error) {
		c, err := spring.DampingFor(quantity.Ratio(v.Num("ratio")), per(v, "rate_N_m"), kg(v, "mass_kg"))
		return one(c.NewtonSecondsPerMetre(), err)
	},
	"damped frequency": func(v *vector.Vector) ([]float64, error) {
		f, err := spring.DampedFrequency(quantity.Hertz(v.Num("f_Hz")), quantity.Ratio(v.Num("ratio")))
		return one(f.Hertz(), err)
	},
	"critical damping": func(v *vector.Vector) ([]float64, error) {
		c, err := spring.CriticalDamping(per(v, "rate_N_m"), kg(v, "mass_kg"))
		return one(c.NewtonSecondsPerMetre(), err)
	},
}

func scales(v *vector.Vector) spring.Scales {
	mass := map[string]func(float64) quantity.Mass{"kg": quantity.Kilograms, "lb": quantity.Pounds}[v.Text("unit")]
	return spring.Scales{Four: spring.Four[quantity.Mass]{FrontLeft: mass(v.Num("FL")), FrontRight: mass(v.Num("FR")), RearLeft: mass(v.Num("RL")), RearRight: mass(v.Num("RR"))}, Resolution: mass(1)}
}

func targets(v *vector.Vector) (spring.Targets, error) {
	return spring.EvenSides(scales(v), spring.Rule(v.Text("rule")))
}

func movePerch(v *vector.Vector) (spring.Shift, error) {
	k := func(name string) quantity.Stiffness { return quantity.NewtonsPerMillimetre(v.Num(name)) }
	return spring.MovePerch(spring.Perch{At: spring.Corner(v.Text("at")), Way: spring.Raise, By: mm(v, "by_mm"),
		Rates: spring.Four[quantity.Stiffness]{FrontLeft: k("k_FL"), FrontRight: k("k_FR"), RearLeft: k("k_RL"), RearRight: k("k_RR")}})
}

var cornerFormulas = map[string]vector.Formula{
	"cross": func(v *vector.Vector) ([]float64, error) {
		w, err := spring.CornerWeights(scales(v))
		return one(w.Cross.Value.Percent(), err)
	},
	"cross uncertainty": func(v *vector.Vector) ([]float64, error) {
		w, err := spring.CornerWeights(scales(v))
		return one(w.Cross.Standard.Percent(), err)
	},
	"front and left share": func(v *vector.Vector) ([]float64, error) {
		w, err := spring.CornerWeights(scales(v))
		return []float64{w.Front.Value.Percent(), w.Left.Value.Percent()}, err
	},
	"other, left and rear share": func(v *vector.Vector) ([]float64, error) {
		w, err := spring.CornerWeights(scales(v))
		return []float64{w.OtherDiagonal.Value.Percent(), w.Left.Value.Percent(), 100 - w.Front.Value.Percent()}, err
	},
	"front share target": func(v *vector.Vector) ([]float64, error) {
		got, err := targets(v)
		return one(float64(got.FrontShare), err)
	},
	"front left target": func(v *vector.Vector) ([]float64, error) {
		got, err := targets(v)
		return one(got.FrontLeft.Pounds(), err)
	},
	"load of the raised corner": func(v *vector.Vector) ([]float64, error) {
		got, err := movePerch(v)
		return one(got.Load.FrontLeft.Newtons(), err)
	},
	"cross shift": func(v *vector.Vector) ([]float64, error) {
		got, err := movePerch(v)
		if err != nil {
			return nil, err
		}
		share, err := got.Cross(kg(v, "mass_kg"))
		return one(share.Percent(), err)
	},
}
