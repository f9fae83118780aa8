package quantity_test

import (
	"math"
	"testing"

	"strutcard/calc/quantity"
)

func TestFormat(t *testing.T) {
	nan := math.NaN()
	tests := []struct{ name, got, want string }{
		{"whole", quantity.FormatTorque(118, quantity.NewtonMetre), "118 N·m"},
		{"half", quantity.FormatTorque(24.5, quantity.NewtonMetre), "24.5 N·m"},
		{"small", quantity.FormatTorque(7.25, quantity.NewtonMetre), "7.25 N·m"},
		{"zeros kept in whole numbers", quantity.FormatTorque(200, quantity.NewtonMetre), "200 N·m"},
		{"zero", quantity.FormatTorque(0, quantity.NewtonMetre), "0 N·m"},
		{"pound-feet", quantity.FormatTorque(118, quantity.PoundFoot), "87 lbf·ft"},
		{"pound-inches", quantity.FormatTorque(9, quantity.PoundInch), "79.7 lbf·in"},
		{"kilogram-force metres", quantity.FormatTorque(118, quantity.KilogramForceMetre), "12.03 kgf·m"},
		{"kilogram-force centimetres", quantity.FormatTorque(118, quantity.KilogramForceCentimetre), "1203.3 kgf·cm"},
		{"figure", quantity.TorqueFigure(44.444, quantity.NewtonMetre), "44.4"},
		{"no torque", quantity.TorqueFigure(quantity.Torque(nan), quantity.NewtonMetre), "not a number"},
		{"unknown torque unit", quantity.TorqueFigure(10, ""), "not a number"},
		{"torque string", quantity.Torque(118).String(), "118 N·m"},
		{"millimetres", quantity.FormatLength(quantity.Millimetres(12.5), quantity.Millimetre), "12.5 mm"},
		{"minus", quantity.FormatLength(quantity.Millimetres(-3), quantity.Millimetre), "−3 mm"},
		{"no minus zero", quantity.FormatLength(quantity.Millimetres(-0.001), quantity.Millimetre), "0 mm"},
		{"inches", quantity.FormatLength(quantity.Inches(1.125), quantity.Inch), "1.125 in"},
		{"centimetres", quantity.FormatLength(quantity.Millimetres(12.5), quantity.Centimetre), "1.25 cm"},
		{"metres", quantity.FormatLength(quantity.Metres(2.6), quantity.Metre), "2.6 m"},
		{"unknown length unit", quantity.LengthFigure(1, "ell"), "not a number"},
		{"infinite", quantity.LengthFigure(quantity.Length(math.Inf(1)), quantity.Metre), "not a number"},
		{"length string", quantity.Millimetres(355).String(), "355 mm"},
		{"degrees", quantity.FormatAngle(quantity.Degrees(-1.5), quantity.Degree), "−1.50°"},
		{"no minus zero degrees", quantity.FormatAngle(quantity.Degrees(-0.001), quantity.Degree), "0.00°"},
		{"degrees and minutes", quantity.FormatAngle(quantity.Degrees(-1.417), quantity.DegreeMinute), "−1°25′"},
		{"minutes below ten", quantity.FormatAngle(quantity.Minutes(65), quantity.DegreeMinute), "1°05′"},
		{"minutes carry", quantity.FormatAngle(quantity.Degrees(0.9999), quantity.DegreeMinute), "1°00′"},
		{"no minus zero minutes", quantity.FormatAngle(quantity.Minutes(-0.4), quantity.DegreeMinute), "0°00′"},
		{"minutes alone", quantity.FormatAngle(quantity.Minutes(-85), quantity.Minute), "−85′"},
		{"unknown angle unit", quantity.FormatAngle(1, ""), "not a number"},
		{"no angle", quantity.FormatAngle(quantity.Angle(nan), quantity.DegreeMinute), "not a number"},
		{"angle string", quantity.Degrees(-1.5).String(), "−1.50°"},
		{"mass", quantity.FormatMass(1450, quantity.Kilogram), "1450 kg"},
		{"pounds", quantity.FormatMass(quantity.Pounds(22.5), quantity.Pound), "22.5 lb"},
		{"unknown mass unit", quantity.MassFigure(1, ""), "not a number"},
		{"mass string", quantity.Mass(22.5).String(), "22.5 kg"},
		{"force string", quantity.Newtons(-12.4).String(), "−12 N"},
		{"ratio string", quantity.Percent(4).String(), "4 %"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if test.got != test.want {
				t.Errorf("got %q, want %q", test.got, test.want)
			}
		})
	}
}

func TestWire(t *testing.T) {
	tests := []struct {
		name      string
		got, want int64
	}{
		{"tie away from zero", quantity.Degrees(1.2345).Mdeg(), 1235},
		{"negative tie away from zero", quantity.Degrees(-1.2345).Mdeg(), -1235},
		{"below a tie", quantity.Degrees(1.23449).Mdeg(), 1234},
		{"length tie", quantity.Millimetres(12.3455).UM(), 12346},
		{"torque tie", quantity.NewtonMetres(0.125).CNM(), 13},
		{"torque tie not binary", quantity.NewtonMetres(1.005).CNM(), 101},
		{"mass", quantity.Pounds(1).G(), 454},
		{"not a number", quantity.Torque(math.NaN()).CNM(), quantity.Unrepresentable},
		{"infinite", quantity.Length(math.Inf(-1)).UM(), quantity.Unrepresentable},
		{"too large", quantity.Torque(1e11).CNM(), quantity.Unrepresentable},
		{"largest", quantity.Torque(9.99999999e9).CNM(), 999999999000},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if test.got != test.want {
				t.Errorf("got %d, want %d", test.got, test.want)
			}
		})
	}
}
