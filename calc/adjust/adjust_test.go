package adjust_test

import (
	_ "embed"
	"errors"
	"strconv"
	"strings"
	"testing"

	"strutcard/calc/adjust"
	"strutcard/calc/internal/vector"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

//go:embed testdata/adjust.json
var vectors []byte

var (
	mm     = quantity.Millimetres
	here   = adjust.Place{Car: "this", Corner: "front left"}
	camber = adjust.Adjuster[quantity.Turns]{Place: here, Of: adjust.Camber, Effect: adjust.Raises, Resolution: 0.1, Step: 1}
)

type (
	turns   = quantity.Turns
	angle   = quantity.Angle
	trial   = adjust.Trial[turns, angle]
	learned = adjust.Learned[turns, angle]
)

func deg(d float64) angle { return quantity.Degrees(d) }

func reading(d, u float64) measure.Value[angle] {
	return measure.Value[angle]{Value: deg(d), Standard: deg(u)}
}

func at(setting turns, d float64) trial {
	return trial{Setting: setting, Reading: reading(d, 0.03), Place: here, Stage: adjust.Snug}
}

func TestVectors(t *testing.T) {
	vector.Run(t, vectors, map[string]vector.Formula{
		"sideways": func(v *vector.Vector) ([]float64, error) {
			got, err := axis(v).Sideways(adjust.Joint(v.Text("joint")), move(v))
			if got.Inclination.Value != -got.Camber.Value {
				t.Errorf("got inclination %v beside camber %v, want as much the other way", got.Inclination, got.Camber)
			}
			return []float64{got.Camber.Value.Degrees()}, err
		},
		"sideways for": func(v *vector.Vector) ([]float64, error) {
			l, to, err := axis(v).SidewaysFor(adjust.Joint(v.Text("joint")), deg(v.Num("deg")))
			if to != adjust.In {
				t.Errorf("got %q, want in", to)
			}
			return []float64{l.Millimetres()}, err
		},
		"lengthwise": func(v *vector.Vector) ([]float64, error) {
			got, err := axis(v).Lengthwise(adjust.Joint(v.Text("joint")), move(v))
			return []float64{got.Value.Degrees()}, err
		},
		"clevis": func(v *vector.Vector) ([]float64, error) {
			f := adjust.Foot{Spacing: mm(v.Num("spacing")), Slotted: adjust.Bolt(v.Text("slotted")), Resolution: mm(0.5)}
			got, err := f.Change(move(v))
			return []float64{got.Clevis.Value.Degrees()}, err
		},
		"per step": func(v *vector.Vector) ([]float64, error) {
			got, err := adjust.State(camber, stated(v), at(0, -1))
			return []float64{got.Line.At(1).Value.Degrees() + 1}, err
		},
		"stated": func(v *vector.Vector) ([]float64, error) {
			s, target := stated(v), deg(-1+v.Num("deg"))
			s.Car = v.Text("car")
			got, err := adjust.State(camber, s, at(0, -1))
			if err != nil {
				return nil, err
			}
			a, err := got.Next(target)
			return []float64{a.Exact.Count()}, err
		},
		"learned": func(v *vector.Vector) ([]float64, error) {
			target := deg(v.Num("deg"))
			got, err := adjust.Learn(camber, trials(t, v))
			if err != nil {
				return nil, err
			}
			a, err := got.Next(target)
			return []float64{a.Move.Count()}, err
		},
		"learned height": func(v *vector.Vector) ([]float64, error) {
			a := adjust.Adjuster[turns]{Place: here, Of: adjust.Height, Effect: adjust.Raises, Resolution: 0.1, Step: 0.25}
			read := func(n turns, name string) adjust.Trial[turns, quantity.Length] {
				height := measure.Value[quantity.Length]{Value: mm(v.Num(name)), Standard: measure.Resolution(mm(1))}
				return adjust.Trial[turns, quantity.Length]{Setting: n, Reading: height, Place: here, Stage: adjust.FinalTorque}
			}
			got, err := adjust.Learn(a, []adjust.Trial[turns, quantity.Length]{read(0, "from_mm"), read(turns(v.Num("turns")), "to_mm")})
			if err != nil {
				return nil, err
			}
			next, err := got.Next(mm(v.Num("mm")))
			return []float64{next.Move.Count()}, err
		},
		"collar": func(v *vector.Vector) ([]float64, error) {
			got, err := collar(v).AtWheel(turns(v.Num("turns")))
			return []float64{got.Value.Millimetres()}, err
		},
		"collar turns": func(v *vector.Vector) ([]float64, error) {
			got, err := collar(v).TurnsFor(mm(v.Num("mm")))
			return []float64{got.Count()}, err
		},
		"tightening": func(v *vector.Vector) ([]float64, error) {
			moved, err := adjust.Tightening(reading(v.Num("before"), 0.03), reading(v.Num("after"), 0.04))
			if err != nil {
				return nil, err
			}
			aim, err := adjust.AimBefore(deg(v.Num("before")), moved)
			return []float64{moved.Value.Degrees(), aim.Value.Degrees()}, err
		},
	})
}

func axis(v *vector.Vector) adjust.Axis {
	return adjust.Axis{Height: mm(v.Num("height")), Offset: mm(v.Num("offset")), UpperLies: adjust.Way(v.Text("lies")), Resolution: mm(1)}
}

func move(v *vector.Vector) adjust.Move {
	return adjust.Move{By: mm(v.Num("by")), To: adjust.Way(v.Text("to")), Resolution: mm(0.5)}
}

func stated(v *vector.Vector) adjust.Stated[turns, angle] {
	return adjust.Stated[turns, angle]{By: quantity.Minutes(v.Num("by_min")), Per: turns(v.Num("per")), Digit: quantity.Minutes(1), Source: v.Source, Car: here.Car}
}

func thread(v *vector.Vector) adjust.Thread {
	return adjust.Thread{Travel: mm(10 * v.Num("per_turn")), Turns: 10, Resolution: mm(0.5)}
}

func collar(v *vector.Vector) adjust.Collar {
	return adjust.Collar{Thread: thread(v), SpringPerWheel: measure.Value[quantity.Ratio]{Value: quantity.Ratio(v.Num("ratio")), Standard: 0.01}}
}

func trials(t *testing.T, v *vector.Vector) []trial {
	var out []trial
	read := strings.Split(v.Text("readings"), ",")
	for i, s := range strings.Split(v.Text("settings"), ",") {
		setting, err1 := strconv.ParseFloat(s, 64)
		d, err2 := strconv.ParseFloat(read[i], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		out = append(out, at(turns(setting), d))
	}
	if v.Has("stages") {
		for i, s := range strings.Split(v.Text("stages"), ",") {
			out[i].Stage = adjust.Stage(s)
		}
	}
	return out
}

func checkRefused(t *testing.T, zero bool, err error) {
	t.Helper()
	var input *quantity.InputError
	if !errors.As(err, &input) || input.What == "" || input.Next == "" || !zero {
		t.Errorf("got error %v, result zero %t, want an input error and nothing else", err, zero)
	}
}
