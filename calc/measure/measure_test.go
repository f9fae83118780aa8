package measure_test

import (
	_ "embed"
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"strutcard/calc/internal/vector"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

//go:embed testdata/measure.json
var vectors []byte

func TestVectors(t *testing.T) {
	mm := func(l quantity.Length, err error) ([]float64, error) { return []float64{l.Millimetres()}, err }
	vector.Run(t, vectors, map[string]vector.Formula{
		"resolution": func(v *vector.Vector) ([]float64, error) {
			return mm(measure.Resolution(quantity.Millimetres(v.Num("res_mm"))), nil)
		},
		"expanded": func(v *vector.Vector) ([]float64, error) {
			return mm(measure.Value[quantity.Length]{Standard: quantity.Millimetres(v.Num("u_mm"))}.Expanded(), nil)
		},
		"combine": func(v *vector.Vector) ([]float64, error) {
			return []float64{measure.Combine(quantity.Percent(v.Num("a_pct")), quantity.Percent(v.Num("b_pct"))).Percent()}, nil
		},
		"type A": func(v *vector.Vector) ([]float64, error) { return mm(measure.TypeA(lengths(t, v.Text("readings")))) },
		"mean":   func(v *vector.Vector) ([]float64, error) { return mm(measure.Mean(lengths(t, v.Text("readings")))) },
	})
}

func lengths(t *testing.T, list string) []quantity.Length {
	var out []quantity.Length
	for s := range strings.SplitSeq(list, ",") {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, quantity.Millimetres(v))
	}
	return out
}

func TestRead(t *testing.T) {
	t.Run("OK", func(t *testing.T) {
		got, err := measure.Read(quantity.Millimetres(355), quantity.Millimetres(1))
		if err != nil || got.Value != quantity.Millimetres(355) || got.Standard != measure.Resolution(quantity.Millimetres(1)) {
			t.Errorf("got %v and error %v, want 355 mm with 1/√12 mm", got, err)
		}
	})
	nan, inf := quantity.Length(math.NaN()), quantity.Length(math.Inf(1))
	bad := map[string][2]quantity.Length{"NoResolution": {1, 0}, "BelowZero": {1, -1}, "NaN": {nan, 1}, "NaNResolution": {1, nan}, "Inf": {inf, 1}, "InfResolution": {1, inf}}
	for name, b := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := measure.Read(b[0], b[1])
			checkRefused(t, got, err)
		})
	}
}

func checkRefused[T comparable](t *testing.T, got T, err error) {
	t.Helper()
	var input *quantity.InputError
	var zero T
	if !errors.As(err, &input) || input.What == "" || input.Next == "" || got != zero {
		t.Errorf("got %v and error %v, want zero and an input error", got, err)
	}
}

func TestContribution(t *testing.T) {
	if got, want := measure.Contribution[quantity.Angle](-3, quantity.Length(0.5)), quantity.Angle(1.5); got != want {
		t.Errorf("got %v, want %v: a sensitivity below zero adds as well", got, want)
	}
	if got := measure.Combine[quantity.Angle](); got != 0 {
		t.Errorf("got %v, want 0 without contributions", got)
	}
}

func TestRepeated(t *testing.T) {
	res := quantity.Millimetres(1)
	t.Run("OKOne", func(t *testing.T) {
		got, err := measure.Repeated([]quantity.Length{0.355}, res)
		if err != nil || got.Value != 0.355 || got.Standard != measure.Resolution(res) {
			t.Errorf("got %v and error %v, want one reading with its resolution", got, err)
		}
	})
	t.Run("OKEqual", func(t *testing.T) {
		got, err := measure.Repeated([]quantity.Length{0.355, 0.355, 0.355}, res)
		if err != nil || got.Standard != measure.Resolution(res) {
			t.Errorf("got %v and error %v, want the resolution to stay", got, err)
		}
	})
	bad := map[string][]quantity.Length{"None": nil, "NaN": {1, quantity.Length(math.NaN())}, "Inf": {quantity.Length(math.Inf(1)), 1}}
	for name, readings := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := measure.Repeated(readings, res)
			checkRefused(t, got, err)
			mean, err := measure.Mean(readings)
			checkRefused(t, mean, err)
			a, err := measure.TypeA(readings)
			checkRefused(t, a, err)
		})
	}
	t.Run("ErrResolution", func(t *testing.T) {
		got, err := measure.Repeated([]quantity.Length{1, 2}, 0)
		checkRefused(t, got, err)
	})
}

// gonum is the oracle for mean, s/√n and Student's t.
func TestRepeatedAgainstGonum(t *testing.T) {
	const share = 0.9545 // ±2 sigma of the normal distribution, as in the table
	for n := 2; n <= 30; n++ {
		var raw []float64
		var readings []quantity.Length
		for i := range n {
			x := math.Sin(float64(3*i + 1)) // a scatter without a pattern
			raw = append(raw, x)
			readings = append(readings, quantity.Length(x))
		}
		mean, s := stat.MeanStdDev(raw, nil)
		a := s / math.Sqrt(float64(n))
		if got, err := measure.TypeA(readings); err != nil || math.Abs(float64(got)-a) > 1e-12 {
			t.Errorf("n = %d: got type A %v and error %v, want %v", n, got, err, a)
		}
		got, err := measure.Repeated(readings, 1e-9)
		if err != nil || math.Abs(float64(got.Value)-mean) > 1e-12 {
			t.Errorf("n = %d: got mean %v and error %v, want %v", n, got.Value, err, mean)
		}
		factor := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 1)}.Quantile(0.5 + share/2)
		if n <= 21 {
			if shown := float64(got.Expanded()) / a; math.Abs(shown-factor) > 0.012 {
				t.Errorf("n = %d: got factor %.4f, want %.4f", n, shown, factor)
			}
		} else if float64(got.Expanded())/a < factor { // the last one of the table goes on
			t.Errorf("n = %d: got factor %v, want at least %v", n, float64(got.Expanded())/a, factor)
		}
	}
}
