package toe_test

import (
	_ "embed"
	"math"
	"testing"

	"strutcard/calc/internal/vector"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/toe"
)

//go:embed testdata/toe.json
var vectors []byte

func TestVectors(t *testing.T) {
	formulas := map[string]vector.Formula{}
	for _, group := range []map[string]vector.Formula{conversions, readings, pairs, rods} {
		for name, f := range group {
			formulas[name] = f
		}
	}
	vector.Run(t, vectors, formulas)
}

func mm(v *vector.Vector, name string) quantity.Length { return quantity.Millimetres(v.Num(name)) }

func deg(v *vector.Vector, name string) quantity.Angle { return quantity.Degrees(v.Num(name)) }

func length(v *vector.Vector) func(string) quantity.Length {
	if v.Text("unit") == "in" {
		return func(name string) quantity.Length { return quantity.Inches(v.Num(name)) }
	}
	return func(name string) quantity.Length { return mm(v, name) }
}

func said(text string) []float64 {
	if text == "" {
		return []float64{0}
	}
	return []float64{1}
}

func so(ok bool) []float64 {
	if ok {
		return []float64{1}
	}
	return []float64{0}
}

func fromLength(v *vector.Vector) (toe.Angles, error) {
	l := length(v)
	return toe.FromLength(l("size"), l("D"), toe.Direction(v.Text("dir")), toe.Scope(v.Text("scope")))
}

func fromAngle(v *vector.Vector) (toe.Angles, error) {
	return toe.FromAngle(deg(v, "deg"), toe.Direction(v.Text("dir")), toe.Scope(v.Text("scope")))
}

// both gives the two in the order per wheel, total.
func both(a toe.Angles) []float64 { return []float64{a.PerWheel.Degrees(), a.Total.Degrees()} }

var conversions = map[string]vector.Formula{
	"length": func(v *vector.Vector) ([]float64, error) {
		a, err := fromAngle(v)
		if err != nil {
			return nil, err
		}
		l, err := a.At(mm(v, "D_mm"))
		return []float64{l.Total.Millimetres()}, err
	},
	"both lengths": func(v *vector.Vector) ([]float64, error) {
		a, err := fromAngle(v)
		if err != nil {
			return nil, err
		}
		l, err := a.At(length(v)("D"))
		return []float64{l.PerWheel.Inches(), l.Total.Inches()}, err
	},
	"other diameter": func(v *vector.Vector) ([]float64, error) {
		a, err := fromLength(v)
		if err != nil {
			return nil, err
		}
		l, err := a.At(length(v)("at"))
		return []float64{l.Total.Inches()}, err
	},
	"angle": func(v *vector.Vector) ([]float64, error) {
		a, err := fromLength(v)
		return []float64{a.Total.Degrees()}, err
	},
	"angle min": func(v *vector.Vector) ([]float64, error) {
		a, err := fromLength(v)
		return []float64{a.Total.Minutes()}, err
	},
	"both angles": func(v *vector.Vector) ([]float64, error) {
		a, err := fromLength(v)
		return both(a), err
	},
	"angle given": func(v *vector.Vector) ([]float64, error) {
		a, err := fromAngle(v)
		return both(a), err
	},
	"split": func(v *vector.Vector) ([]float64, error) {
		read, err := toe.Read(deg(v, "deg"), toe.Direction(v.Text("dir")), quantity.Degrees(0.01))
		if err != nil {
			return nil, err
		}
		b, err := toe.FromTotal(read, toe.RunoutMissing)
		if _, _, ok := b.Wheels(); ok || b.Split != toe.Assumed {
			return nil, err
		}
		half := b.Half.Value.Degrees()
		return []float64{half, b.Total.Value.Degrees() - half}, err
	},
	"minutes": func(v *vector.Vector) ([]float64, error) {
		a, err := toe.FromAngle(quantity.Minutes(v.Num("minutes")), toe.In, toe.Total)
		return []float64{a.Total.Degrees()}, err
	},
	"recipe": func(v *vector.Vector) ([]float64, error) {
		l, d := mm(v, "mm"), mm(v, "D_mm")
		a, err := toe.FromLength(l, d, toe.In, toe.Total)
		return []float64{l.Metres() / (math.Pi * d.Metres() / 360), a.Total.Degrees()}, err
	},
	"signed": func(v *vector.Vector) ([]float64, error) {
		l, err := toe.Signed(quantity.Inches(v.Num("inch")), toe.Direction(v.Text("dir")))
		return []float64{l.Inches()}, err
	},
}

func across(v *vector.Vector) toe.Across {
	l := length(v)
	return toe.Across{Method: toe.SameMarks, Front: l("front"), Rear: l("rear"), Diameter: l("D"), Resolution: quantity.Millimetres(1)}
}

func hubs(v *vector.Vector) toe.Hubs {
	return toe.Hubs{
		At: toe.Place(v.Text("place")), Left: toe.Ends{Front: mm(v, "lf"), Rear: mm(v, "lr")}, Right: toe.Ends{Front: mm(v, "rf"), Rear: mm(v, "rr")},
		Spacing: toe.Ends{Front: mm(v, "sf"), Rear: mm(v, "sr")}, Apart: mm(v, "apart"), Wheelbase: mm(v, "base"), Resolution: quantity.Millimetres(0.5),
	}
}

func stringsOf(v *vector.Vector) (toe.Strings, error) {
	h := hubs(v)
	h.Resolution, h.TapeResolution = mm(v, "res"), mm(v, "tape")
	l, err := toe.FromHubs(h)
	return toe.Strings{
		Lines: l, Left: toe.Ends{Front: mm(v, "glf"), Rear: mm(v, "glr")}, Right: toe.Ends{Front: mm(v, "grf"), Rear: mm(v, "grr")},
		Diameter: mm(v, "D"), Resolution: mm(v, "res"), Runout: mm(v, "runout"),
	}, err
}

var readings = map[string]vector.Formula{
	"run-out": func(v *vector.Vector) ([]float64, error) {
		a, err := toe.RunoutShare(mm(v, "mm"), mm(v, "D_mm"))
		return []float64{a.Minutes()}, err
	},
	"run-out state": func(v *vector.Vector) ([]float64, error) {
		a := marks
		a.Method, a.Runout = toe.Method(v.Text("method")), mm(v, "runout_mm")
		b, err := toe.FromAcross(a)
		a.Runout = 0
		without, _ := toe.FromAcross(a)
		return so(string(b.Runout) == v.Text("state") && b.Total == without.Total), err
	},
	"half turn": func(v *vector.Vector) ([]float64, error) {
		var b [2]toe.Both
		for i, name := range []string{"first_min", "second_min"} {
			read, err := toe.Read(quantity.Minutes(v.Num(name)), toe.In, quantity.Minutes(1))
			if err != nil {
				return nil, err
			}
			if b[i], err = toe.FromTotal(read, toe.RunoutMissing); err != nil {
				return nil, err
			}
		}
		got, share, err := toe.HalfTurn(b[0], b[1])
		return []float64{got.Total.Value.Minutes(), share.Total.Minutes()}, err
	},
	"across": func(v *vector.Vector) ([]float64, error) {
		b, err := toe.FromAcross(across(v))
		return []float64{b.Half.Value.Degrees(), b.Total.Value.Degrees()}, err
	},
	"across u95": func(v *vector.Vector) ([]float64, error) {
		a := across(v)
		a.Resolution = length(v)("res")
		if v.Has("runout") {
			a.Method, a.Runout = toe.TwoPlaces, length(v)("runout")
		}
		b, err := toe.FromAcross(a)
		return []float64{b.Total.Expanded().Degrees()}, err
	},
	"difference": func(v *vector.Vector) ([]float64, error) {
		a := marks
		a.Front, a.Rear = mm(v, "front_mm"), mm(v, "rear_mm")
		b, err := toe.FromAcross(a)
		l, err2 := b.Angles().At(a.Diameter)
		if err2 != nil {
			return nil, err2
		}
		return []float64{l.Total.Millimetres()}, err
	},
	"string gap": func(v *vector.Vector) ([]float64, error) {
		h := square
		h.At = toe.Place(v.Text("place"))
		s := gaps
		s.Lines, _ = toe.FromHubs(h)
		s.Left = toe.Ends{Front: mm(v, "front_mm"), Rear: mm(v, "rear_mm")}
		b, err := toe.FromStrings(s)
		left, _, _ := b.Wheels()
		return []float64{s.Diameter.Millimetres() * math.Sin(left.Value.Radians())}, err
	},
	"lean": func(v *vector.Vector) ([]float64, error) {
		l, err := toe.FromHubs(hubs(v))
		return []float64{l.Left.Value.Degrees(), l.Right.Value.Degrees(), l.Closing.Value.Degrees()}, err
	},
	"strings u95": func(v *vector.Vector) ([]float64, error) {
		s, err := stringsOf(v)
		if err != nil {
			return nil, err
		}
		b, err := toe.FromStrings(s)
		return []float64{b.Total.Expanded().Degrees()}, err
	},
	"one string": func(v *vector.Vector) ([]float64, error) {
		s, err := stringsOf(v)
		if err != nil {
			return nil, err
		}
		got, err := toe.FromString(s, toe.Side(v.Text("side")))
		return []float64{got.Value.Degrees(), got.Expanded().Degrees()}, err
	},
	"asked across": func(v *vector.Vector) ([]float64, error) {
		b, err := toe.FromAcross(across(v))
		return said(toe.Question(b)), err
	},
}

func implied(v *vector.Vector) (toe.Implied, error) {
	return toe.ImpliedDiameter(toe.Spec{Length: mm(v, "mm"), LengthStep: mm(v, "step_mm"), Angle: deg(v, "deg"), AngleStep: deg(v, "step_deg")})
}

var pairs = map[string]vector.Formula{
	"implied": func(v *vector.Vector) ([]float64, error) {
		i, err := implied(v)
		return []float64{i.Diameter.Millimetres()}, err
	},
	"implied range": func(v *vector.Vector) ([]float64, error) {
		i, err := implied(v)
		return []float64{i.Low.Millimetres(), i.Diameter.Millimetres(), i.High.Millimetres()}, err
	},
	"fits": func(v *vector.Vector) ([]float64, error) {
		i, err := implied(v)
		if err != nil {
			return nil, err
		}
		on, err := i.Fits(mm(v, "rim_mm"), mm(v, "tyre_mm"))
		return so(string(on) == v.Text("on")), err
	},
	"asked pair": func(v *vector.Vector) ([]float64, error) {
		i, err := implied(v)
		return said(toe.QuestionSpecPair(i, mm(v, "rim_mm"), mm(v, "tyre_mm"))), err
	},
	"asked spec": func(v *vector.Vector) ([]float64, error) {
		a, err := toe.FromAngle(deg(v, "deg"), toe.In, toe.Total)
		return said(toe.QuestionSpec(a, deg(v, "tol_deg"))), err
	},
}

func correction(v *vector.Vector) (toe.Both, toe.Correction, error) {
	now, err := toe.FromTotal(measure.Value[quantity.Angle]{Value: deg(v, "now_deg"), Standard: 1e-4}, toe.RunoutCancelled)
	if err != nil {
		return now, toe.Correction{}, err
	}
	want, err := toe.FromAngle(deg(v, "want_deg"), toe.In, toe.Total)
	if err != nil {
		return now, toe.Correction{}, err
	}
	c, err := toe.ForTotal(now, want, toe.Wheel{
		Turned: toe.Turned(v.Text("turned")), By: deg(v, "by_deg"), Resolution: quantity.Degrees(5), Ratio: quantity.Ratio(v.Num("ratio")),
	})
	return now, c, err
}

var rods = map[string]vector.Formula{
	"per turn": func(v *vector.Vector) ([]float64, error) {
		r := rod
		r.Pitch, r.Arm, r.Thread = mm(v, "pitch_mm"), mm(v, "arm_mm"), toe.Thread(v.Text("thread"))
		got, err := r.PerTurn()
		return []float64{got.Value.Degrees()}, err
	},
	"turns u95": func(v *vector.Vector) ([]float64, error) {
		r := rod
		r.Pitch, r.Arm, r.Resolution = mm(v, "pitch_mm"), mm(v, "arm_mm"), mm(v, "res_mm")
		got, err := r.ToeFor(quantity.Count(v.Num("turns")), toe.Longer)
		return []float64{got.Expanded().Degrees()}, err
	},
	"straighten": func(v *vector.Vector) ([]float64, error) {
		_, c, err := correction(v)
		return []float64{c.Left.Value.Degrees(), c.Right.Value.Degrees()}, err
	},
	"rotation": func(v *vector.Vector) ([]float64, error) {
		now, c, err := correction(v)
		if err != nil {
			return nil, err
		}
		a, err := toe.Advise(now, c, rod)
		return so(string(a.Rotation) == v.Text("way")), err
	},
	"rod lengths": func(v *vector.Vector) ([]float64, error) {
		r := rod
		r.Pitch = mm(v, "pitch_mm")
		one := toe.Advice{Left: toe.Turn{Rod: toe.Longer, Eighths: 8}, Right: toe.Turn{Rod: toe.Shorter, Eighths: 8}}
		l := toe.RodLengths{Left: mm(v, "left_mm"), Right: mm(v, "right_mm"), Resolution: quantity.Millimetres(0.5)}
		d, err := l.Difference(one, r)
		if got := said(toe.QuestionRods(d, mm(v, "limit_mm")))[0]; got != v.Num("asked") {
			return nil, err
		}
		return []float64{d.Value.Millimetres()}, err
	},
}
