package quantity_test

import (
	"errors"
	"testing"
	"unicode/utf8"

	"strutcard/calc/quantity"
)

var seeds = []string{
	"", "118 N·m", "24,5 Nm", "87 lb-ft", "80 in-lb", "12 kgf·m", "45-60 N·m", "1,200 N·m", "1.200,5", "-1.5°", "−0°30'", "1°25′", "1 10", "15'",
	"12.5 mm", "1/2 in", "14\"", "5'6\"", "1450 kg", "3 t", "½", "\xff", "9999999999999999 N·m", "+", "- ", ".", "1.", "°", "1°'", "1°°", "52 ±2 N·m",
}

// checkParse holds for every parser: a finite value, or zero with a message
// that says what and what next.
func checkParse[Q quantity.Quantity](t *testing.T, text string, got Q, err error) {
	t.Helper()
	if err == nil {
		if !quantity.Finite(got) {
			t.Errorf("%q: got %v, want a finite value", text, got)
		}
		return
	}
	var input *quantity.InputError
	if !errors.As(err, &input) || input.What == "" || input.Next == "" || got != 0 {
		t.Errorf("%q: got %v and error %v, want 0 and an input error", text, got, err)
	}
	if utf8.ValidString(text) && !utf8.ValidString(err.Error()) {
		t.Errorf("%q: got a message that is not UTF-8: %q", text, err)
	}
}

func fuzz[Q quantity.Quantity](f *testing.F, parse func(string) (Q, error), format func(Q) string) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := parse(text)
		checkParse(t, text, got, err)
		if err != nil {
			return
		}
		if shown := format(got); len(shown) > 0 {
			back, err := parse(shown)
			checkParse(t, shown, back, err)
		}
	})
}

func FuzzParseTorque(f *testing.F) {
	fuzz(f, quantity.ParseTorque, func(q quantity.Torque) string { return quantity.FormatTorque(q, quantity.PoundFoot) })
}

func FuzzParseLength(f *testing.F) {
	fuzz(f, quantity.ParseLength, func(q quantity.Length) string { return quantity.FormatLength(q, quantity.Inch) })
}

func FuzzParseAngle(f *testing.F) {
	fuzz(f, quantity.ParseAngle, func(q quantity.Angle) string { return quantity.FormatAngle(q, quantity.DegreeMinute) })
}

func FuzzParseMass(f *testing.F) {
	fuzz(f, quantity.ParseMass, func(q quantity.Mass) string { return quantity.FormatMass(q, quantity.Pound) })
}

func FuzzTorqueOf(f *testing.F) {
	fuzz(f, func(s string) (quantity.Torque, error) { return quantity.TorqueOf(s, quantity.NewtonMetre) },
		func(q quantity.Torque) string { return quantity.TorqueFigure(q, quantity.NewtonMetre) })
}

// The Of parsers take the unit from beside the field.
func FuzzOf(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, u := range quantity.LengthUnits() {
			got, err := quantity.LengthOf(s, u)
			checkParse(t, s, got, err)
		}
		for _, u := range quantity.AngleUnits() {
			got, err := quantity.AngleOf(s, u)
			checkParse(t, s, got, err)
		}
		for _, u := range quantity.MassUnits() {
			got, err := quantity.MassOf(s, u)
			checkParse(t, s, got, err)
		}
		for _, u := range quantity.PressureUnits() {
			got, err := quantity.PressureOf(s, u)
			checkParse(t, s, got, err)
		}
		for _, u := range quantity.StiffnessUnits() {
			got, err := quantity.StiffnessOf(s, u)
			checkParse(t, s, got, err)
		}
		for _, u := range quantity.TemperatureUnits() {
			got, err := quantity.TemperatureOf(s, u)
			checkParse(t, s, got, err)
		}
		turns, err := quantity.CountOf(s)
		checkParse(t, s, turns, err)
		share, err := quantity.PercentOf(s)
		checkParse(t, s, share, err)
	})
}
