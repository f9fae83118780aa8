package quantity_test

import (
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"strutcard/calc/quantity"
)

// TestAgainstUnits compares every factor with GNU units, a program written
// apart from this one. Where it is not installed, and under WASM, it is skipped
// and says so.
func TestAgainstUnits(t *testing.T) {
	program, err := exec.LookPath("units")
	if err != nil {
		t.Skip("GNU units is not here: install Debian's package units") // `dev test` installs it, so that its run never skips this
	}
	pairs := []struct {
		from, to string
		ours     func(float64) float64
	}{
		{"lbf ft", "N m", func(v float64) float64 { return quantity.PoundFeet(v).NewtonMetres() }},
		{"lbf in", "N m", func(v float64) float64 { return quantity.PoundInches(v).NewtonMetres() }},
		{"kgf m", "N m", func(v float64) float64 { return quantity.KilogramForceMetres(v).NewtonMetres() }},
		{"kgf cm", "N m", func(v float64) float64 { return quantity.KilogramForceCentimetres(v).NewtonMetres() }},
		{"inch", "mm", func(v float64) float64 { return quantity.Inches(v).Millimetres() }},
		{"cm", "inch", func(v float64) float64 { return quantity.Centimetres(v).Inches() }},
		{"degree", "radian", func(v float64) float64 { return quantity.Degrees(v).Radians() }},
		{"arcmin", "degree", func(v float64) float64 { return quantity.Minutes(v).Degrees() }},
		{"lb", "kg", func(v float64) float64 { return quantity.Pounds(v).Kilograms() }},
		{"shortton", "kg", func(v float64) float64 { return quantity.ShortTons(v).Kilograms() }},
		{"kg force", "lbf", func(v float64) float64 { return quantity.Kilograms(v).Weight().PoundsForce() }},
		{"psi", "kPa", func(v float64) float64 { return quantity.PoundsPerSquareInch(v).Kilopascals() }},
		{"bar", "psi", func(v float64) float64 { return quantity.Bars(v).PoundsPerSquareInch() }},
		{"MPa", "bar", func(v float64) float64 { return quantity.Megapascals(v).Bars() }},
		{"lbf/in", "N/mm", func(v float64) float64 { return quantity.PoundsForcePerInch(v).NewtonsPerMillimetre() }},
		{"kgf/mm", "lbf/in", func(v float64) float64 { return quantity.KilogramsForcePerMillimetre(v).PoundsForcePerInch() }},
		{"in^2", "mm^2", func(v float64) float64 { return quantity.SquareInches(v).SquareMillimetres() }},
		{"degF", "degC", func(v float64) float64 { return quantity.FahrenheitDifference(v).Kelvins() }},
	}
	for _, pair := range pairs {
		out, err := exec.Command(program, "-1", "--compact", "-o", "%.15g", pair.from, pair.to).Output()
		if err != nil {
			t.Fatalf("units %s %s: %v", pair.from, pair.to, err)
		}
		want, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
		if err != nil {
			t.Fatalf("units %s %s answers %q", pair.from, pair.to, out)
		}
		if got := pair.ours(1); math.Abs(got-want) > 1e-13*math.Abs(want) {
			t.Errorf("1 %s: got %.15g %s, GNU units has %.15g", pair.from, got, pair.to, want)
		}
	}
}
