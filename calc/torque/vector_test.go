package torque_test

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"strutcard/calc/internal/vector"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

//go:embed testdata/torque.json
var vectors []byte

func TestVectors(t *testing.T) {
	vector.Run(t, vectors, map[string]vector.Formula{
		"setting": func(v *vector.Vector) ([]float64, error) {
			lever, a := tool(v)
			got, err := torque.Setting(read(v, "T"), lever, a)
			return show(v, err, got)
		},
		"delivered": func(v *vector.Vector) ([]float64, error) {
			lever, a := tool(v)
			got, err := torque.Delivered(read(v, "M_set"), lever, a)
			return show(v, err, got)
		},
		"corrected": func(v *vector.Vector) ([]float64, error) {
			lever, a := tool(v)
			got, err := torque.Setting(read(v, "T"), lever, a)
			return []float64{truth(got != read(v, "T"))}, err
		},
		"graduated": func(v *vector.Vector) ([]float64, error) {
			got, err := torque.Graduate(read(v, "setting"), read(v, "step"))
			return show(v, err, got)
		},
		"usable": func(v *vector.Vector) ([]float64, error) {
			low, high, err := wrench(v).Usable()
			return show(v, err, low, high)
		},
		"fit": func(v *vector.Vector) ([]float64, error) {
			fit, err := wrench(v).Fit(read(v, "setting"))
			return []float64{map[torque.Fit]float64{torque.TooLow: -1, torque.Within: 0, torque.TooHigh: 1}[fit]}, err
		},
		"share of full scale": func(v *vector.Vector) ([]float64, error) {
			w := wrench(v)
			fit, err := w.Fit(read(v, "target"))
			if err == nil && fit != torque.TooLow {
				err = fmt.Errorf("got fit %q, want %q", fit, torque.TooLow)
			}
			return []float64{float64(read(v, "target") / w.Highest)}, err
		},
		"window": func(v *vector.Vector) ([]float64, error) {
			low, high, err := torque.Window(read(v, "set"), quantity.Ratio(v.Num("e")))
			return show(v, err, low, high)
		},
		"class window": func(v *vector.Vector) ([]float64, error) {
			low, high, err := wrench(v).Window(torque.Class(v.Text("class")), read(v, "set"))
			return show(v, err, low, high)
		},
		"of full scale": func(v *vector.Vector) ([]float64, error) {
			got, err := wrench(v).OfFullScale(quantity.Ratio(v.Num("share")), read(v, "set"))
			return []float64{got.Percent()}, err
		},
		"tolerance": func(v *vector.Vector) ([]float64, error) {
			got, err := torque.Class(v.Text("class")).Tolerance(read(v, "highest"))
			return []float64{got.Percent()}, err
		},
		"test points": func(v *vector.Vector) ([]float64, error) {
			got, err := wrench(v).TestPoints(torque.Edition(v.Text("edition")))
			return show(v, err, got...)
		},
		"first test points": func(v *vector.Vector) ([]float64, error) {
			older, err := wrench(v).TestPoints(torque.Edition2003)
			if err != nil {
				return nil, err
			}
			newer, err := wrench(v).TestPoints(torque.Edition2017)
			return show(v, err, older[0], newer[0])
		},
		"interval": func(*vector.Vector) ([]float64, error) {
			months, pulls := torque.Interval()
			return []float64{months.Count(), pulls.Count()}, nil
		},
		"hung weight": func(v *vector.Vector) ([]float64, error) {
			got, err := torque.CheckHung(hung(v))
			return show(v, err, got.FromWeight)
		},
		"hung torque": func(v *vector.Vector) ([]float64, error) {
			got, err := torque.CheckHung(hung(v))
			return show(v, err, got.True.Value)
		},
		"hung verdict": func(v *vector.Vector) ([]float64, error) {
			got, err := torque.CheckHung(hung(v))
			verdict := map[measure.Verdict]float64{measure.Met: 1, measure.NotMet: -1}[got.Verdict]
			return []float64{got.Deviation.Value.Percent(), got.Deviation.Expanded().Percent(), verdict}, err
		},
		"range": func(v *vector.Vector) ([]float64, error) {
			s, err := torque.Range(read(v, "least"), read(v, "most"))
			if err == nil && !s.Middle {
				err = fmt.Errorf("the spec does not say that the middle was chosen")
			}
			return show(v, err, s.Min, s.Max, s.Target)
		},
		"around": func(v *vector.Vector) ([]float64, error) {
			s, err := around(v)
			return show(v, err, s.Min, s.Max, s.Target)
		},
		"settings": func(v *vector.Vector) ([]float64, error) {
			s, err := torque.Range(read(v, "least"), read(v, "most"))
			if err != nil {
				return nil, err
			}
			low, high, err := s.Settings(quantity.Ratio(v.Num("e")))
			return show(v, err, low, high)
		},
		"flats": func(v *vector.Vector) ([]float64, error) {
			got, err := torque.Flats(quantity.Degrees(v.Num("deg")))
			return []float64{got.Count()}, err
		},
		"passes": func(v *vector.Vector) ([]float64, error) {
			list := passes(v.Text("passes"))
			final, ok := torque.FinalTorque(list)
			if ok != (final > 0) {
				return nil, fmt.Errorf("got %v and %t", final, ok)
			}
			return []float64{torque.AngleAfter(list).Degrees(), final.NewtonMetres()}, torque.CheckPasses(list)
		},
		"per slot": func(v *vector.Vector) ([]float64, error) {
			got, err := torque.Castle{Slots: quantity.Count(v.Num("slots"))}.PerSlot()
			return []float64{got.Degrees()}, err
		},
		"castle": func(v *vector.Vector) ([]float64, error) {
			s, err := around(v)
			if err != nil {
				return nil, err
			}
			step, err := torque.Castle{Spec: s, Slots: quantity.Count(v.Num("slots"))}.Next(read(v, "reached"), v.Text("lined") == "yes")
			return []float64{map[torque.CastleStep]float64{torque.ToLow: 0, torque.GoOn: 1, torque.PinIn: 2, torque.Stop: 3}[step]}, err
		},
		"recheck": func(v *vector.Vector) ([]float64, error) {
			s, err := torque.Number(read(v, "spec"))
			if err != nil {
				return nil, err
			}
			moved := torque.Still
			if v.Text("moved") == "yes" {
				moved = torque.Moved
			}
			got, err := torque.Recheck(s, read(v, "set"), quantity.Ratio(v.Num("e")), moved)
			finding := map[torque.Finding]float64{torque.Holds: 1, torque.HoldsLess: 2, torque.WasLoose: 3, torque.WasLess: 4, torque.Unproven: 5}[got.Finding]
			return []float64{finding, got.AtLeast.NewtonMetres(), got.Below.NewtonMetres()}, err
		},
	})
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// passes reads "snug 27; angle 60".
func passes(text string) []torque.Pass {
	var out []torque.Pass
	for _, one := range strings.Split(text, "; ") {
		kind, number, _ := strings.Cut(one, " ")
		n, _ := strconv.ParseFloat(number, 64)
		p := torque.Pass{Kind: torque.PassKind(kind)}
		if p.Kind == torque.AngleOn || p.Kind == torque.BackOff {
			p.Angle = quantity.Degrees(n)
		} else {
			p.Torque = quantity.NewtonMetres(n)
		}
		out = append(out, p)
	}
	return out
}

func around(v *vector.Vector) (torque.Spec, error) {
	return torque.Around(read(v, "target"), read(v, "minus"), read(v, "plus"))
}

func hung(v *vector.Vector) torque.HungWeight {
	mm := func(name string) quantity.Length { return quantity.Millimetres(v.Num(name)) }
	kg := func(name string) quantity.Mass { return quantity.Kilograms(v.Num(name)) }
	nm := func(name string) quantity.Torque { return quantity.NewtonMetres(v.Num(name)) }
	return torque.HungWeight{Mass: kg("m"), MassResolution: kg("m_res"), Distance: mm("l"), LengthResolution: mm("l_res"), OwnMass: kg("own"), OwnDistance: mm("own_at"),
		Lean: quantity.Degrees(v.Num("lean")), Reading: nm("reading"), Step: nm("step"), Wrench: torque.Wrench{Lowest: nm("lowest"), Highest: nm("highest")}, Class: torque.IIA}
}

// read takes a torque in the vector's unit.
func read(v *vector.Vector, name string) quantity.Torque {
	switch quantity.TorqueUnit(v.Unit) {
	case quantity.PoundFoot:
		return quantity.PoundFeet(v.Num(name))
	case quantity.PoundInch:
		return quantity.PoundInches(v.Num(name))
	}
	return quantity.NewtonMetres(v.Num(name))
}

func show(v *vector.Vector, err error, torques ...quantity.Torque) ([]float64, error) {
	var out []float64
	for _, t := range torques {
		switch quantity.TorqueUnit(v.Unit) {
		case quantity.NewtonMetre:
			out = append(out, t.NewtonMetres())
		case quantity.PoundFoot:
			out = append(out, t.PoundFeet())
		case quantity.PoundInch:
			out = append(out, t.PoundInches())
		default:
			if err == nil {
				return nil, fmt.Errorf("no unit %q here", v.Unit)
			}
		}
	}
	return out, err
}

func tool(v *vector.Vector) (quantity.Length, torque.Adapter) {
	length := quantity.Millimetres
	if v.Text("length") == "in" {
		length = quantity.Inches
	}
	return length(v.Num("L")), torque.Adapter{Length: length(v.Num("E")), Angle: quantity.Degrees(v.Num("theta_deg"))}
}

func wrench(v *vector.Vector) torque.Wrench {
	return torque.Wrench{Lowest: read(v, "lowest"), Highest: read(v, "highest")}
}
