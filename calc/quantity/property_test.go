package quantity_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/unit/constant"
	"pgregory.net/rapid"

	"strutcard/calc/quantity"
)

func TestWireRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(-999_999_999_999, 999_999_999_999).Draw(t, "n")
		for name, got := range map[string]int64{
			"mdeg": quantity.AngleFromMdeg(n).Mdeg(), "um": quantity.LengthFromUM(n).UM(),
			"cnm": quantity.TorqueFromCNM(n).CNM(), "g": quantity.MassFromG(n).G(),
		} {
			if got != n {
				t.Errorf("%s: got %d, want %d", name, got, n)
			}
		}
	})
}

func TestUnitRoundTrip(t *testing.T) {
	pairs := map[string]func(float64) float64{
		"degrees":     func(v float64) float64 { return quantity.Degrees(v).Degrees() },
		"minutes":     func(v float64) float64 { return quantity.Minutes(v).Minutes() },
		"radians":     func(v float64) float64 { return quantity.Radians(v).Radians() },
		"metres":      func(v float64) float64 { return quantity.Metres(v).Metres() },
		"centimetres": func(v float64) float64 { return quantity.Centimetres(v).Centimetres() },
		"millimetres": func(v float64) float64 { return quantity.Millimetres(v).Millimetres() },
		"inches":      func(v float64) float64 { return quantity.Inches(v).Inches() },
		"N·m":         func(v float64) float64 { return quantity.NewtonMetres(v).NewtonMetres() },
		"lbf·ft":      func(v float64) float64 { return quantity.PoundFeet(v).PoundFeet() },
		"lbf·in":      func(v float64) float64 { return quantity.PoundInches(v).PoundInches() },
		"kgf·m":       func(v float64) float64 { return quantity.KilogramForceMetres(v).KilogramForceMetres() },
		"kgf·cm":      func(v float64) float64 { return quantity.KilogramForceCentimetres(v).KilogramForceCentimetres() },
		"N":           func(v float64) float64 { return quantity.Newtons(v).Newtons() },
		"lbf":         func(v float64) float64 { return quantity.PoundsForce(v).PoundsForce() },
		"kgf":         func(v float64) float64 { return quantity.KilogramsForce(v).KilogramsForce() },
		"kg":          func(v float64) float64 { return quantity.Kilograms(v).Kilograms() },
		"lb":          func(v float64) float64 { return quantity.Pounds(v).Pounds() },
		"short tons":  func(v float64) float64 { return quantity.ShortTons(v).ShortTons() },
		"percent":     func(v float64) float64 { return quantity.Percent(v).Percent() },
	}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e6, 1e6).Draw(t, "v")
		for name, there := range pairs {
			if got := there(v); !near(got, v) {
				t.Errorf("%s: got %v, want %v", name, got, v)
			}
		}
	})
}

// What is shown can be typed back, and means the same to the last digit shown.
func TestFormatParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cnm := rapid.Int64Range(0, 200_000).Draw(t, "cnm")
		u := rapid.SampledFrom(quantity.TorqueUnits()).Draw(t, "unit")
		torque := quantity.TorqueFromCNM(cnm)
		back, err := quantity.ParseTorque(quantity.FormatTorque(torque, u))
		one, _ := quantity.TorqueOf("1", u)
		if err != nil || math.Abs(float64(back-torque)) > 0.0501*float64(one) {
			t.Errorf("got %v and error %v, want %v", back, err, torque)
		}

		mdeg := rapid.Int64Range(-90_000, 90_000).Draw(t, "mdeg")
		way := rapid.SampledFrom(quantity.AngleUnits()).Draw(t, "way")
		angle := quantity.AngleFromMdeg(mdeg)
		got, err := quantity.ParseAngle(quantity.FormatAngle(angle, way))
		if err != nil || math.Abs((got-angle).Minutes()) > 0.5001 {
			t.Errorf("got %v and error %v, want %v", got, err, angle)
		}

		um := rapid.Int64Range(-3_000_000, 3_000_000).Draw(t, "um")
		lu := rapid.SampledFrom(quantity.LengthUnits()).Draw(t, "length unit")
		length := quantity.LengthFromUM(um)
		l, err := quantity.ParseLength(quantity.FormatLength(length, lu))
		if err != nil || math.Abs((l-length).Millimetres()) > 0.0501 {
			t.Errorf("got %v and error %v, want %v", l, err, length)
		}
	})
}

// gonum carries the CODATA value of standard gravity, an independent source.
func TestGravity(t *testing.T) {
	if got, want := quantity.Kilograms(1).Weight().Newtons(), float64(constant.StandardGravity); got != want {
		t.Errorf("got %v, want %v", got, want)
	}
}
