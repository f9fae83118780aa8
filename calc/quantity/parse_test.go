package quantity_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"strutcard/calc/quantity"
)

func near(got, want float64) bool {
	return math.Abs(got-want) <= 1e-12*math.Max(1, math.Abs(want))
}

func TestParseTorque(t *testing.T) {
	ok := map[string]quantity.Torque{
		"118 N·m": 118, "118 Nm": 118, "118Nm": 118, "118 N.m": 118, "118 N-m": 118, "118 n m": 118, "118 NM": 118,
		"118\u00a0N⋅m": 118, "+24.5 N·m": 24.5, "24,5 N·m": 24.5, "0 N·m": 0, ".5 N·m": 0.5, "0,125 N·m": 0.125,
		"87 lbf·ft": quantity.PoundFeet(87), "87 lb-ft": quantity.PoundFeet(87), "87 ft-lb": quantity.PoundFeet(87),
		"87 ft lbs": quantity.PoundFeet(87), "87 FT-LBF": quantity.PoundFeet(87), "87 lbs.ft": quantity.PoundFeet(87),
		"80 lbf·in": quantity.PoundInches(80), "80 in-lb": quantity.PoundInches(80), "80 in.lbs": quantity.PoundInches(80),
		"1200 lbf·in": quantity.PoundInches(1200), "12 kgf·m": quantity.KilogramForceMetres(12), "12.1 kg-m": quantity.KilogramForceMetres(12.1),
		"12.125 kgf·m": quantity.KilogramForceMetres(12.125), "1203 kgf·cm": quantity.KilogramForceCentimetres(1203),
	}
	for text, want := range ok {
		t.Run("OK "+text, func(t *testing.T) {
			got, err := quantity.ParseTorque(text)
			if err != nil || !near(float64(got), float64(want)) {
				t.Errorf("got %v and error %v, want %v", float64(got), err, float64(want))
			}
		})
	}
	bad := map[string]string{
		"": "Nothing", "   ": "Nothing", "N·m": "does not start", "abc": "does not start", ".": "does not start",
		"118": "no unit", "118 N": "not a unit", "118 m": "not a unit", "118 mN·m": "not a unit", "118 lb": "feet or inches", "118 lbs": "feet or inches",
		"45-60 N·m": "range", "45–60 N·m": "range", "45 - 60 N·m": "range", "45 N·m - 60 N·m": "range", "45 to 60 N·m": "range", "45…60 N·m": "range",
		"45..60 N·m": "range", "52 ±2 N·m": "range", "52 +/-2 N·m": "range", "52 ± N·m": "range", "45~60 N·m": "range",
		"1,200 N·m": "can mean 1200 or 1.200", "1.200 N·m": "can mean 1200 or 1.200", "1.200 kgf·cm": "can mean", "12,125 kgf·m": "can mean",
		"1.234,5 N·m": "more than one", "1,234.5 N·m": "more than one", "1,2,3 N·m": "more than one", "1 200 N·m": "space between",
		"1'200 N·m": "more than one number", "1/2 N·m": "fraction", "12½ N·m": "fraction", "1e3 N·m": "more than one number",
		"118. N·m": "middle of a number", "118, N·m": "middle of a number", "-5 N·m": "below zero", "−5 N·m": "below zero",
		"1234567890123456 N·m": "too many digits", "0x10 N·m": "more than one number", "NaN N·m": "does not start", "Inf N·m": "does not start",
		"118 N·m²": "fraction", "118 N·m 2": "more than one number", "١١٨ N·m": "does not start", "118 ft/lb": "not a unit",
	}
	for text, want := range bad {
		t.Run("Err "+text, func(t *testing.T) {
			got, err := quantity.ParseTorque(text)
			checkRefused(t, float64(got), err, want)
		})
	}
}

func checkRefused(t *testing.T, got float64, err error, want string) {
	t.Helper()
	var input *quantity.InputError
	if !errors.As(err, &input) {
		t.Fatalf("got %v and error %v, want an input error", got, err)
	}
	if got != 0 {
		t.Errorf("got %v beside an error, want 0", got)
	}
	if !strings.Contains(input.What, want) {
		t.Errorf("got %q, want it to contain %q", input.What, want)
	}
	for _, s := range []string{input.What, input.Next} {
		if !strings.HasSuffix(s, ".") || strings.Contains(s, "!") || strings.Contains(s, "%!") {
			t.Errorf("got %q, want a plain sentence", s)
		}
	}
	if input.Error() != input.What+" "+input.Next {
		t.Errorf("got %q, want what and next joined", input.Error())
	}
}

func TestSeparatorHint(t *testing.T) {
	_, err := quantity.ParseTorque("1,255 N·m")
	if want := "Write 1255 for the large number, or 1.2550 for the small one."; err == nil || !strings.Contains(err.Error(), want) {
		t.Fatalf("got %v, want it to contain %q", err, want)
	}
	for text, want := range map[string]quantity.Torque{"1255 N·m": 1255, "1.2550 N·m": 1.255} {
		if got, err := quantity.ParseTorque(text); err != nil || !near(float64(got), float64(want)) {
			t.Errorf("%s: got %v and error %v, want %v", text, got, err, want)
		}
	}
}

func TestTorqueOf(t *testing.T) {
	for _, u := range quantity.TorqueUnits() {
		t.Run("OK "+string(u), func(t *testing.T) {
			got, err := quantity.TorqueOf(" 87,5 ", u)
			want, _ := quantity.ParseTorque("87.5 " + string(u))
			if err != nil || got != want || got == 0 {
				t.Errorf("got %v and error %v, want %v", got, err, want)
			}
			if !u.Valid() || u.Words() == "" {
				t.Errorf("got no words for %s", u)
			}
		})
	}
	bad := map[string]string{"": "Nothing", "87 N·m": "more than a number", "87 lbf·ft": "more than a number", "45-60": "range", "1,200": "can mean", "-5": "below zero", "1 10": "space between", "87%": "more than a number"}
	for text, want := range bad {
		t.Run("Err "+text, func(t *testing.T) {
			got, err := quantity.TorqueOf(text, quantity.NewtonMetre)
			checkRefused(t, float64(got), err, want)
		})
	}
	t.Run("ErrUnit", func(t *testing.T) {
		got, err := quantity.TorqueOf("87", "")
		checkRefused(t, float64(got), err, "No unit")
	})
}

func TestParseLength(t *testing.T) {
	ok := map[string]quantity.Length{
		"12.5 mm": quantity.Millimetres(12.5), "12,5mm": quantity.Millimetres(12.5), "-3 mm": quantity.Millimetres(-3), "–3 mm": quantity.Millimetres(-3),
		"1.25 cm": quantity.Millimetres(12.5), "2.6 m": quantity.Metres(2.6), "2.625 m": quantity.Metres(2.625), "0.5 in": quantity.Inches(0.5),
		"14 ″": quantity.Inches(14), "14\"": quantity.Inches(14), "14 inches": quantity.Inches(14), "1.125 in": quantity.Inches(1.125),
	}
	for text, want := range ok {
		t.Run("OK "+text, func(t *testing.T) {
			got, err := quantity.ParseLength(text)
			if err != nil || !near(float64(got), float64(want)) {
				t.Errorf("got %v and error %v, want %v", float64(got), err, float64(want))
			}
		})
	}
	bad := map[string]string{"12": "no unit", "28'": "not a unit", "2 ft": "not a unit", "1/2 in": "fraction", "1½ in": "fraction", "2.600 mm": "can mean", "2,600 mm": "can mean", "1,125 in": "can mean", "5'6\"": "more than one number", "10-12 mm": "range", "5 km": "not a unit"}
	for text, want := range bad {
		t.Run("Err "+text, func(t *testing.T) {
			got, err := quantity.ParseLength(text)
			checkRefused(t, float64(got), err, want)
		})
	}
}

func TestLengthOf(t *testing.T) {
	for _, u := range quantity.LengthUnits() {
		t.Run("OK "+string(u), func(t *testing.T) {
			got, err := quantity.LengthOf("12,5", u)
			want, _ := quantity.ParseLength("12.5 " + string(u))
			if err != nil || got != want || got == 0 || u.Words() == "" {
				t.Errorf("got %v and error %v, want %v", got, err, want)
			}
		})
	}
	t.Run("ErrUnit", func(t *testing.T) {
		got, err := quantity.LengthOf("12", "ell")
		checkRefused(t, float64(got), err, "No unit")
	})
	t.Run("ErrThousands", func(t *testing.T) {
		got, err := quantity.LengthOf("2.600", quantity.Millimetre)
		checkRefused(t, float64(got), err, "can mean")
	})
}

func TestParseAngle(t *testing.T) {
	ok := map[string]quantity.Angle{
		"-1.5°": quantity.Degrees(-1.5), "−1,5 °": quantity.Degrees(-1.5), "1.5 deg": quantity.Degrees(1.5), "90 degrees": quantity.Degrees(90), "1.125°": quantity.Degrees(1.125),
		"1°25'": quantity.Minutes(85), "1° 25′": quantity.Minutes(85), "-1°25’": quantity.Minutes(-85), "-0°30'": quantity.Minutes(-30), "1 deg 25 min": quantity.Minutes(85),
		"0°30.5'": quantity.Minutes(30.5), "85'": quantity.Minutes(85), "-15 min": quantity.Minutes(-15), "4°00'": quantity.Degrees(4), "0°": 0, "-0°": 0, "360°": quantity.Degrees(360),
	}
	for text, want := range ok {
		t.Run("OK "+text, func(t *testing.T) {
			got, err := quantity.ParseAngle(text)
			if err != nil || !near(float64(got), float64(want)) || math.Signbit(float64(got)) != math.Signbit(float64(want)) {
				t.Errorf("got %v and error %v, want %v", got.Degrees(), err, want.Degrees())
			}
		})
	}
	bad := map[string]string{
		"": "Nothing", "1 10": "space between", "1.5": "no degree or minute mark", "400": "no degree or minute mark", "1°10": "minute mark", "1°60'": "mixes", "1.5°30'": "mixes",
		"1°-30'": "not one angle", "1°+30'": "not one angle", "1° ±30'": "not one angle", "1°10' ±30'": "minute mark", "1°10'30\"": "minute mark", "4000°": "two full turns", "99999'": "two full turns",
		"1,250°": "can mean", "1 rad": "not an angle", "1'30\"": "more than one", "1–2°": "range", "1°1,250'": "can mean",
	}
	for text, want := range bad {
		t.Run("Err "+text, func(t *testing.T) {
			got, err := quantity.ParseAngle(text)
			checkRefused(t, float64(got), err, want)
		})
	}
}

func TestAngleOf(t *testing.T) {
	ok := []struct {
		text string
		unit quantity.AngleUnit
		want quantity.Angle
	}{
		{"-1.5", quantity.Degree, quantity.Degrees(-1.5)},
		{"-15", quantity.Minute, quantity.Minutes(-15)},
		{"-1°25'", quantity.DegreeMinute, quantity.Minutes(-85)},
	}
	for _, test := range ok {
		t.Run("OK "+test.text, func(t *testing.T) {
			got, err := quantity.AngleOf(test.text, test.unit)
			if err != nil || !near(float64(got), float64(test.want)) {
				t.Errorf("got %v and error %v, want %v", got, err, test.want)
			}
		})
	}
	bad := []struct {
		text string
		unit quantity.AngleUnit
		want string
	}{
		{"1 10", quantity.Degree, "space between"}, {"1°25'", quantity.Degree, "more than one number"}, {"400 ±45", quantity.Degree, "range"},
		{"1.25", quantity.DegreeMinute, "no degree"}, {"1.25", "", "No unit"}, {"", quantity.Degree, "Nothing"}, {"800", quantity.Degree, "two full turns"},
	}
	for _, test := range bad {
		t.Run("Err "+test.text+string(test.unit), func(t *testing.T) {
			got, err := quantity.AngleOf(test.text, test.unit)
			checkRefused(t, float64(got), err, test.want)
		})
	}
	for _, u := range quantity.AngleUnits() {
		if !u.Valid() || u.Words() == "" {
			t.Errorf("got no words for %s", u)
		}
	}
}

func TestParseMass(t *testing.T) {
	ok := map[string]quantity.Mass{"1450 kg": 1450, "22,5 kg": 22.5, "3000 lb": quantity.Pounds(3000), "3000 lbs": quantity.Pounds(3000)}
	for text, want := range ok {
		t.Run("OK "+text, func(t *testing.T) {
			got, err := quantity.ParseMass(text)
			if err != nil || !near(float64(got), float64(want)) {
				t.Errorf("got %v and error %v, want %v", got, err, want)
			}
		})
	}
	bad := map[string]string{"3 t": "tons", "3 ton": "tons", "2 tonnes": "tons", "1.450 kg": "can mean", "1,450 kg": "can mean", "-5 kg": "below zero", "5": "no unit", "5 stone": "not a unit", "": "Nothing"}
	for text, want := range bad {
		t.Run("Err "+text, func(t *testing.T) {
			got, err := quantity.ParseMass(text)
			checkRefused(t, float64(got), err, want)
		})
	}
}

func TestMassOf(t *testing.T) {
	for _, u := range quantity.MassUnits() {
		got, err := quantity.MassOf("1450", u)
		want, _ := quantity.ParseMass("1450 " + string(u))
		if err != nil || got != want || got == 0 || u.Words() == "" {
			t.Errorf("%s: got %v and error %v, want %v", u, got, err, want)
		}
	}
	for text, want := range map[string]string{"-5": "below zero", "1.450": "can mean", "5 kg": "more than a number", "": "Nothing"} {
		got, err := quantity.MassOf(text, quantity.Kilogram)
		checkRefused(t, float64(got), err, want)
	}
	got, err := quantity.MassOf("5", "t")
	checkRefused(t, float64(got), err, "No unit")
}
