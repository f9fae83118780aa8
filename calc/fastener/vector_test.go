package fastener_test

import (
	_ "embed"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"strutcard/calc/fastener"
	"strutcard/calc/internal/vector"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

//go:embed testdata/fastener.json
var vectors []byte

func TestVectors(t *testing.T) {
	vector.Run(t, vectors, map[string]vector.Formula{
		"stress area": func(v *vector.Vector) ([]float64, error) {
			th, err := fastener.Parse(v.Text("thread"))
			if v.Unit == "in²" {
				return []float64{th.StressArea().SquareInches()}, err
			}
			return []float64{th.StressArea().SquareMillimetres()}, err
		},
		"class": func(v *vector.Vector) ([]float64, error) {
			s, err := strength(v.Text("class"), v.Text("thread"))
			if v.Unit == "ksi" {
				return []float64{s.Tensile.PoundsPerSquareInch() / 1000, s.Yield.PoundsPerSquareInch() / 1000, s.Proof.PoundsPerSquareInch() / 1000}, err
			}
			return []float64{s.Tensile.Megapascals(), s.Yield.Megapascals(), s.Proof.Megapascals()}, err
		},
		"proof over yield": func(v *vector.Vector) ([]float64, error) {
			var out []float64
			threads := strings.Fields(v.Text("threads"))
			for i, c := range strings.Fields(v.Text("classes")) {
				s, err := strength(c, threads[i])
				if err != nil {
					return nil, err
				}
				out = append(out, float64(s.Proof/s.Yield))
			}
			return out, nil
		},
		"nominal": func(v *vector.Vector) ([]float64, error) {
			var out []float64
			for _, c := range strings.Fields(v.Text("classes")) {
				tensile, yield, err := fastener.Class(c).Nominal()
				if err != nil {
					return nil, err
				}
				out = append(out, tensile.Megapascals(), yield.Megapascals())
			}
			return out, nil
		},
		"proof load":    func(v *vector.Vector) ([]float64, error) { return load(v, fastener.ProofLoad) },
		"ultimate load": func(v *vector.Vector) ([]float64, error) { return load(v, fastener.UltimateLoad) },
		"proof row":     func(v *vector.Vector) ([]float64, error) { return row(v, fastener.ProofLoad) },
		"ultimate row":  func(v *vector.Vector) ([]float64, error) { return row(v, fastener.UltimateLoad) },
		"nut torque": func(v *vector.Vector) ([]float64, error) {
			got, err := fastener.NutTorque(ratio(v, "K"), quantity.Inches(v.Num("d_in")), quantity.PoundsForce(v.Num("F_lbf")))
			return []float64{got.PoundInches()}, err
		},
		"share of yield": func(v *vector.Vector) ([]float64, error) {
			th, _ := fastener.Parse(v.Text("thread"))
			s, err := strength(v.Text("class"), th.Name())
			if err != nil {
				return nil, err
			}
			got, err := fastener.NutTorque(ratio(v, "K"), th.Diameter(), quantity.Newtons(v.Num("share")*float64(s.Yield)*float64(th.StressArea())))
			return []float64{got.PoundFeet()}, err
		},
		"chart": func(v *vector.Vector) ([]float64, error) {
			th, _ := fastener.Parse(v.Text("thread"))
			proof, err := fastener.ProofLoad(th, fastener.Class(v.Text("class")))
			if err != nil {
				return nil, err
			}
			got, err := fastener.NutTorque(ratio(v, "K"), th.Diameter(), quantity.Force(fastener.Reused)*proof)
			if v.Unit == "lbf·ft" {
				return []float64{got.PoundFeet()}, err
			}
			return []float64{got.NewtonMetres()}, err
		},
		"shares": func(*vector.Vector) ([]float64, error) {
			return []float64{float64(fastener.Reused), float64(fastener.Permanent)}, nil
		},
		"factor":  factors,
		"scatter": scatters,
		"tightening factors": func(*vector.Vector) ([]float64, error) {
			low, high := fastener.TighteningFactors()
			return []float64{float64(low), float64(high)}, nil
		},
		"from tightening factor": func(v *vector.Vector) ([]float64, error) {
			got, err := fastener.FromTighteningFactor(ratio(v, "alphaA"))
			return []float64{got.Percent()}, err
		},
		"spread": func(v *vector.Vector) ([]float64, error) {
			worst, likely, err := fastener.Spread(ratio(v, "tool"), ratio(v, "friction"))
			return []float64{worst.Percent(), likely.Percent()}, err
		},
		"geometric K": func(v *vector.Vector) ([]float64, error) {
			k, err := geometric(v)
			return []float64{float64(k)}, err
		},
		"long form below short form": func(v *vector.Vector) ([]float64, error) {
			k, err := geometric(v)
			return []float64{100 * (1 - float64(k)/v.Num("K"))}, err
		},
		"VDI preload": func(v *vector.Vector) ([]float64, error) {
			th, _ := fastener.Parse(v.Text("thread"))
			got, err := fastener.AssemblyPreload(th, fastener.Class(v.Text("class")), ratio(v, "mu"), ratio(v, "share"))
			return []float64{got.Newtons() / 1000}, err
		},
		"VDI torque": func(v *vector.Vector) ([]float64, error) {
			th, _ := fastener.Parse(v.Text("thread"))
			j := fastener.Joint{Thread: th, ThreadFriction: ratio(v, "mu"), HeadFriction: ratio(v, "mu"), Face: quantity.Millimetres(v.Num("dw")), Hole: quantity.Millimetres(v.Num("dh"))}
			got, err := j.Torque(quantity.Newtons(1000 * v.Num("F_kN")))
			return []float64{got.NewtonMetres()}, err
		},
		"turns needed": func(v *vector.Vector) ([]float64, error) {
			th, _ := fastener.Parse(v.Text("thread"))
			got, err := fastener.Engage(fastener.Engagement{Thread: th, Turns: 6, Resolution: 1, In: fastener.Material(v.Text("in"))})
			return []float64{got.NeededTurns.Count()}, err
		},
		"engaged": func(v *vector.Vector) ([]float64, error) {
			th, _ := fastener.Parse(v.Text("thread"))
			got, err := fastener.Engage(fastener.Engagement{Thread: th, Turns: quantity.Count(v.Num("turns")), Resolution: quantity.Count(v.Num("res")), In: fastener.Material(v.Text("in"))})
			verdict := map[measure.Verdict]float64{measure.Met: 1, measure.NotMet: -1}[got.Verdict]
			return []float64{got.Length.Value.Millimetres(), got.Needed.Millimetres(), verdict}, err
		},
		"question": func(v *vector.Vector) ([]float64, error) {
			if ask(v) != "" {
				return []float64{1}, nil
			}
			return []float64{0}, nil
		},
		"times": func(v *vector.Vector) ([]float64, error) {
			said := timesSaid.FindStringSubmatch(ask(v))
			if said == nil {
				return nil, fmt.Errorf("no number of times in %q", ask(v))
			}
			n, err := strconv.ParseFloat(said[1], 64)
			return []float64{n}, err
		},
		"brief times": func(v *vector.Vector) ([]float64, error) {
			n, err := strconv.ParseFloat(numbers.FindString(fastener.Brief(v.Text("thread"), fastener.Class(v.Text("class")), quantity.NewtonMetres(v.Num("T")))), 64)
			return []float64{n}, err
		},
	})
}

var timesSaid = regexp.MustCompile(`about (\d+) times`)

func ask(v *vector.Vector) string {
	return fastener.Question(v.Text("thread"), fastener.Class(v.Text("class")), quantity.NewtonMetres(v.Num("T")))
}

func ratio(v *vector.Vector, name string) quantity.Ratio { return quantity.Ratio(v.Num(name)) }

func strength(class, thread string) (fastener.Strength, error) {
	th, err := fastener.Parse(thread)
	if err != nil {
		return fastener.Strength{}, err
	}
	c, err := fastener.ParseClass(class)
	if err != nil {
		return fastener.Strength{}, err
	}
	return c.Strength(th)
}

type loadOf func(fastener.Thread, fastener.Class) (quantity.Force, error)

func load(v *vector.Vector, f loadOf) ([]float64, error) {
	th, _ := fastener.Parse(v.Text("thread"))
	got, err := f(th, fastener.Class(v.Text("class")))
	return []float64{got.Newtons()}, err
}

// row compares with a printed row of loads, one for each metric class. Where it
// has no entry there must be no load.
func row(v *vector.Vector, f loadOf) ([]float64, error) {
	th, _ := fastener.Parse(v.Text("thread"))
	var out []float64
	for i, printed := range strings.Fields(v.Text("printed")) {
		class := fastener.Classes()[i]
		got, err := f(th, class)
		if printed == "/" {
			if err == nil {
				return nil, fmt.Errorf("got %v for %s, want no load", got, class)
			}
			continue
		}
		want, parseErr := strconv.ParseFloat(printed, 64)
		if err != nil || parseErr != nil {
			return nil, fmt.Errorf("%s: got errors %v, %v", class, err, parseErr)
		}
		out = append(out, 100*(got.Newtons()/want-1))
	}
	return out, nil
}

// factors wants the whole list, in its order.
func factors(v *vector.Vector) ([]float64, error) {
	var out []float64
	var names []string
	for _, f := range fastener.Factors() {
		if f.List == fastener.List(v.Text("list")) {
			names, out = append(names, f.Surface), append(out, float64(f.K))
		}
	}
	if got := strings.Join(names, "; "); got != v.Text("names") {
		return nil, fmt.Errorf("got the states %q", got)
	}
	return out, nil
}

func scatters(v *vector.Vector) ([]float64, error) {
	var out []float64
	var names []string
	for _, s := range fastener.Scatters() {
		if s.List == fastener.List(v.Text("list")) {
			names, out = append(names, s.Method), append(out, s.Low.Percent(), s.High.Percent())
		}
	}
	if got := strings.Join(names, "; "); got != v.Text("names") {
		return nil, fmt.Errorf("got the methods %q", got)
	}
	return out, nil
}

func geometric(v *vector.Vector) (quantity.Ratio, error) {
	th, _ := fastener.Parse(v.Text("thread"))
	return fastener.GeometricK(th, ratio(v, "f"), ratio(v, "f"))
}
