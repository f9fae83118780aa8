package measure_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

type pair = measure.Pair[quantity.Length, angle]

func at(mm, deg, uDeg float64) pair {
	return pair{X: measure.Value[quantity.Length]{Value: quantity.Millimetres(mm)}, Y: value{Value: quantity.Degrees(deg), Standard: quantity.Degrees(uDeg)}}
}

func drawPairs(t *rapid.T, least int) []pair {
	n := rapid.IntRange(least, 8).Draw(t, "n")
	var pairs []pair
	for i := range n {
		mm := float64(i)*2 + rapid.Float64Range(0, 1.9).Draw(t, "mm")
		p := at(mm, rapid.Float64Range(-3, 3).Draw(t, "deg"), rapid.Float64Range(0.01, 0.3).Draw(t, "u"))
		p.X.Standard = quantity.Millimetres(rapid.SampledFrom([]float64{0, 0.1, 0.3}).Draw(t, "ux"))
		pairs = append(pairs, p)
	}
	return pairs
}

// gonum is the oracle: the line from stat, its covariance from the inverse of
// the normal matrix.
func TestFitAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pairs := drawPairs(t, 2)
		var x, y, w []float64
		for _, p := range pairs {
			x, y = append(x, float64(p.X.Value)), append(y, float64(p.Y.Value))
		}
		_, plain := stat.LinearRegression(x, y, nil, false)
		for _, p := range pairs {
			u := math.Hypot(float64(p.Y.Standard), plain*float64(p.X.Standard))
			w = append(w, 1/(u*u))
		}
		alpha, beta := stat.LinearRegression(x, y, w, false)
		design, weighted := mat.NewDense(len(x), 2, nil), mat.NewDense(len(x), 2, nil)
		chi := 0.0
		for i := range x {
			design.SetRow(i, []float64{1, x[i]})
			weighted.SetRow(i, []float64{w[i], w[i] * x[i]})
			chi += w[i] * (y[i] - alpha - beta*x[i]) * (y[i] - alpha - beta*x[i])
		}
		var normal, cov mat.Dense
		normal.Mul(weighted.T(), design)
		if err := cov.Inverse(&normal); err != nil {
			t.Skip("badly conditioned") // rapid draws another case
		}
		got, err := measure.Fit(pairs)
		if err != nil {
			t.Fatal(err)
		}
		factor := 1.0
		if n := len(x); n > 2 {
			near(t, "scatter", float64(got.Scatter), math.Sqrt(chi/float64(n-2)), 1e-6)
			student := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 2)}.Quantile(0.5 + 0.9545/2)
			factor = max(1, math.Sqrt(chi/float64(n-2))*student/2)
		}
		near(t, "slope", float64(got.Slope), beta, 1e-6)
		near(t, "slope's uncertainty", float64(got.SlopeStandard), factor*math.Sqrt(cov.At(1, 1)), 3e-3) // t to two decimals
		for _, to := range []float64{x[0], x[len(x)-1] + 0.02, -0.01} {
			v := got.At(quantity.Length(to))
			variance := cov.At(0, 0) + 2*to*cov.At(0, 1) + to*to*cov.At(1, 1)
			if math.Abs(float64(v.Value)-(alpha+beta*to)) > 1e-9 {
				t.Errorf("at %v: got %v, want %v", to, v.Value, alpha+beta*to)
			}
			near(t, "uncertainty on the line", float64(v.Standard), factor*math.Sqrt(variance), 3e-3)
		}
	})
}

func near(t *rapid.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)+1e-9) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func TestFit(t *testing.T) {
	t.Run("OKTwo", func(t *testing.T) {
		got, err := measure.Fit([]pair{at(0, -1, 0.03), at(5, -1.5, 0.04)})
		if err != nil || math.Abs(quantity.Angle(got.Slope).Degrees()/1000+0.1) > 1e-12 || math.Abs(quantity.Angle(got.SlopeStandard).Degrees()/1000-0.01) > 1e-12 || got.Observed != 0 {
			t.Errorf("got %+v and error %v, want −0.1 ± 0.01 °/mm from the readings alone", got, err)
		}
	})
	nan := math.NaN()
	bad := map[string][]pair{"None": nil, "One": {at(0, 1, 0.1)}, "SameSetting": {at(2, 1, 0.1), at(2, 2, 0.1), at(2, 3, 0.1)},
		"Exact": {at(0, 1, 0), at(1, 2, 0.1)}, "NaN": {at(0, nan, 0.1), at(1, 2, 0.1)}, "BelowZero": {at(0, 1, -0.1), at(1, 2, 0.1)},
		"SettingInf": {at(math.Inf(1), 1, 0.1), at(1, 2, 0.1)}, "TooLarge": {at(-1e300, 1, 0.1), at(1e300, 2, 0.1)}}
	for name, pairs := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := measure.Fit(pairs)
			checkRefused(t, got, err)
		})
	}
	for what, pairs := range map[string][]pair{"One reading": {at(0, 1, 0.1)}, "same setting": bad["SameSetting"], "no uncertainty": bad["Exact"], "not a number": bad["NaN"], "too large": bad["TooLarge"]} {
		if _, err := measure.Fit(pairs); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("got %v, want it to speak of %q", err, what)
		}
	}
	t.Run("ErrLevel", func(t *testing.T) {
		line, err := measure.Fit([]pair{at(0, 1, 0.1), at(1, 1, 0.1)})
		if err != nil || line.Significant() || line.Readable() {
			t.Errorf("got %+v and error %v, want a level line that says nothing", line, err)
		}
		got, err := line.Where(quantity.Degrees(2))
		checkRefused(t, got, err)
	})
}

// A reading that is less certain never gives a more certain slope, by what the
// readings predict; nor, when all are less certain, by what counts.
func TestFitUncertainty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pairs := drawPairs(t, 2)
		before, err := measure.Fit(pairs)
		if err != nil {
			t.Fatal(err)
		}
		grow := rapid.Float64Range(1, 20).Draw(t, "grow")
		all := append([]pair(nil), pairs...)
		for i := range all {
			all[i].Y.Standard *= angle(grow)
			all[i].X.Standard *= quantity.Length(grow)
		}
		i := rapid.IntRange(0, len(pairs)-1).Draw(t, "which")
		pairs[i].Y.Standard *= angle(grow)
		one, err := measure.Fit(pairs)
		if err != nil || float64(one.Predicted) < float64(before.Predicted)*(1-1e-9) {
			t.Errorf("got predicted %v and error %v with one worse reading, want at least %v", one.Predicted, err, before.Predicted)
		}
		worse, err := measure.Fit(all)
		if err != nil || float64(worse.SlopeStandard) < float64(before.SlopeStandard)*(1-1e-9) {
			t.Errorf("got %v and error %v with all readings worse, want at least %v", worse.SlopeStandard, err, before.SlopeStandard)
		}
	})
}

// However the pairs lie, and whichever is added, the uncertainty claimed covers
// their scatter about the line, and is never below what the readings give.
func TestFitCoversScatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pairs := drawPairs(t, 3)
		for i := range pairs {
			pairs[i].X.Standard = 0
		}
		for n := 3; n <= len(pairs); n++ {
			line, err := measure.Fit(pairs[:n])
			if err != nil || line.SlopeStandard < line.Predicted {
				t.Fatalf("got %+v and error %v, want no less than predicted", line, err)
			}
			claimed := float64(line.SlopeStandard / line.Predicted)
			chi := 0.0
			for _, p := range pairs[:n] {
				r := float64(p.Y.Value-line.At(p.X.Value).Value) / (claimed * float64(p.Y.Standard))
				chi += r * r
			}
			if chi > float64(n-2)+1e-9 {
				t.Errorf("%d pairs: got a scatter of %v claimed uncertainties, want at most %d", n, chi, n-2)
			}
		}
	})
}

func TestFitMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pairs := drawPairs(t, 2)
		line, err := measure.Fit(pairs)
		if err != nil {
			t.Fatal(err)
		}
		y := quantity.Degrees(rapid.Float64Range(-3, 3).Draw(t, "y"))
		if x, err := line.Where(y); err == nil && math.Abs(float64(line.At(x).Value-y)) > 1e-9 {
			t.Errorf("got %v at where %v is, want it back", line.At(x).Value, y)
		}
		for i := range pairs {
			pairs[i].Y.Value = -pairs[i].Y.Value
		}
		other, err := measure.Fit(pairs)
		if err != nil || other.Slope != -line.Slope || other.SlopeStandard != line.SlopeStandard {
			t.Errorf("got %+v and error %v, want the slope of %+v with the other sign", other, err, line)
		}
	})
}
