package camber_test

import (
	"math"
	"testing"

	"strutcard/calc/camber"
	"strutcard/calc/internal/vector"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

type value = measure.Value[quantity.Angle]

func known(deg, standard float64) value {
	return value{Value: quantity.Degrees(deg), Standard: quantity.Degrees(standard)}
}

func floor(deg float64, low camber.Side) camber.CrossSlope {
	return camber.CrossSlope{Slope: known(deg, 0.03), Low: low}
}

// tools are the formulas beyond gap and span.
func tools(t *testing.T) map[string]vector.Formula {
	return map[string]vector.Formula{
		"division": func(v *vector.Vector) ([]float64, error) {
			s := shim
			s.Thickness, s.Base, s.Divisions = quantity.Millimetres(v.Num("shim")), quantity.Millimetres(v.Num("base")), quantity.Count(v.Num("divisions"))
			got, err := camber.PerDivision(s)
			return []float64{got.Value.Degrees()}, err
		},
		"bubble": func(v *vector.Vector) ([]float64, error) {
			got, err := camber.FromBubble(camber.Bubble{Divisions: quantity.Count(v.Num("divisions")), Resolution: 0.25, PerDivision: known(v.Num("per"), 0.03), At: camber.End(v.Text("at"))})
			return []float64{got.Value.Degrees()}, err
		},
		"gauge": func(v *vector.Vector) ([]float64, error) {
			g := camber.Gauge{Display: quantity.Degrees(v.Num("display")), Resolution: quantity.Degrees(0.1), Rising: camber.Lean(v.Text("rising")), Zero: camber.Zero(v.Text("zero"))}
			if v.Has("offset") {
				g.Offset = known(v.Num("offset"), 0.03)
			}
			got, err := camber.FromGauge(g)
			return []float64{got.Value.Degrees()}, err
		},
		"gauge sign": func(v *vector.Vector) ([]float64, error) {
			leans := camber.Lean(v.Text("leans")) // the display goes up that way, and is up
			got, err := camber.FromGauge(camber.Gauge{Display: quantity.Degrees(1), Resolution: quantity.Degrees(0.1), Rising: leans, Zero: camber.OnFloor})
			if camber.LeanOf(got.Value) != leans {
				t.Errorf("got %q, want %q", camber.LeanOf(got.Value), leans)
			}
			return []float64{math.Copysign(1, float64(got.Value))}, err
		},
		"reversal": func(v *vector.Vector) ([]float64, error) {
			got, err := camber.Reverse(quantity.Degrees(v.Num("first")), quantity.Degrees(v.Num("turned")), quantity.Degrees(0.1))
			return []float64{got.Slope.Value.Degrees(), got.Offset.Value.Degrees()}, err
		},
		"drop": func(v *vector.Vector) ([]float64, error) {
			got, err := camber.FromDrop(drop(v))
			return []float64{got.Slope.Value.Degrees()}, err
		},
		"levelled": func(v *vector.Vector) ([]float64, error) {
			f, err := camber.FromDrop(drop(v))
			if err != nil {
				return nil, err
			}
			got, err := camber.Level(camber.Axle{Left: known(v.Num("left"), 0.05), Right: known(v.Num("right"), 0.05), Zero: camber.Absolute, Floor: f})
			return []float64{got.Left.Value.Degrees(), got.Right.Value.Degrees(), got.Mean.Value.Degrees()}, err
		},
		"levelled left and right": func(v *vector.Vector) ([]float64, error) {
			got, err := camber.Level(camber.Axle{Left: known(v.Num("left"), 0.05), Right: known(v.Num("right"), 0.05), Zero: camber.Absolute, Floor: floor(v.Num("slope"), camber.Side(v.Text("low")))})
			return []float64{got.Left.Value.Degrees(), got.Right.Value.Degrees()}, err
		},
		"level one wheel": func(v *vector.Vector) ([]float64, error) {
			f, err := camber.FromDrop(drop(v))
			if err != nil {
				t.Fatal(err)
			}
			got, err := camber.LevelWheel(camber.Wheel{Camber: known(v.Num("camber"), 0.05), Side: camber.Side(v.Text("side")), Zero: camber.Absolute, Floor: f})
			return []float64{got.Value.Degrees()}, err
		},
		"cross levelled u": func(v *vector.Vector) ([]float64, error) {
			f := camber.CrossSlope{Slope: known(0.5, v.Num("slope")), Low: camber.Right}
			wheel := func(side camber.Side) value {
				got, _ := camber.LevelWheel(camber.Wheel{Camber: known(-1, v.Num("reading")), Side: side, Zero: camber.Absolute, Floor: f})
				return got
			}
			got, err := camber.CrossLevelled(wheel(camber.Left), wheel(camber.Right), f)
			return []float64{got.Standard.Degrees()}, err
		},
		"leaning": func(v *vector.Vector) ([]float64, error) {
			in, err := camber.Leaning(quantity.Degrees(v.Num("size")), camber.In)
			if err != nil {
				return nil, err
			}
			out, err := camber.Leaning(quantity.Degrees(v.Num("size")), camber.Out)
			return []float64{in.Degrees(), out.Degrees()}, err
		},
		"turned round": func(v *vector.Vector) ([]float64, error) {
			got, f, err := camber.TurnRound(camber.BothWays{There: known(v.Num("there"), 0.05), Back: known(v.Num("back"), 0.05), Side: camber.Side(v.Text("side"))})
			if want := camber.Side(v.Text("low")); f.Low != want {
				t.Errorf("got the %q side low, want %q", f.Low, want)
			}
			return []float64{got.Value.Degrees(), f.Slope.Value.Degrees()}, err
		},
		"half turn": func(v *vector.Vector) ([]float64, error) {
			got, err := camber.HalfTurn(known(v.Num("first"), 0.05), known(v.Num("second"), 0.05))
			return []float64{got.Camber.Value.Degrees(), got.Runout.Value.Degrees()}, err
		},
		"runout asked": func(v *vector.Vector) ([]float64, error) {
			return asked(camber.RunoutQuestion(quantity.Radians(math.Asin(v.Num("mm") / v.Num("rim"))))), nil
		},
		"iso both sides": func(v *vector.Vector) ([]float64, error) {
			left, err := camber.ISOInclination(quantity.Degrees(v.Num("eps")), camber.Left)
			if err != nil {
				return nil, err
			}
			right, err := camber.ISOInclination(quantity.Degrees(v.Num("eps")), camber.Right)
			return []float64{left.Degrees(), right.Degrees()}, err
		},
		"cross": func(v *vector.Vector) ([]float64, error) {
			got, err := camber.Cross(known(v.Num("left"), 0.05), known(v.Num("right"), 0.05))
			return []float64{got.Value.Degrees()}, err
		},
		"spec asked": func(v *vector.Vector) ([]float64, error) {
			tolerance := quantity.Degrees(v.Num("tolerance"))
			return asked(camber.SpecQuestion(quantity.Degrees(v.Num("deg")), tolerance, tolerance)), nil
		},
	}
}

func asked(question string) []float64 {
	if question == "" {
		return []float64{0}
	}
	return []float64{1}
}

func drop(v *vector.Vector) camber.Drop {
	d := fall
	d.Drop, d.Track, d.Low = quantity.Millimetres(v.Num("drop")), quantity.Millimetres(v.Num("track")), camber.Side(v.Text("low"))
	return d
}

var (
	shim = camber.Shim{Thickness: 0.005, Base: 0.6, Divisions: 1, Resolution: 0.0001, BaseResolution: 0.001, DivisionResolution: 0.25}
	fall = camber.Drop{Drop: 0.012, Track: 1.5, Low: camber.Right, Resolution: 0.001, TrackResolution: 0.01}
)
