package units_test

import (
	"encoding/json"
	"math"
	"testing"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/units"
)

var imperial = units.Set{Torque: "lbf·ft", Length: "in", Angle: "°′", Mass: "lb", Pressure: "psi", Stiffness: "lbf/in", Temperature: "°F"}

func TestReading(t *testing.T) {
	tests := []struct {
		q              event.Quantity
		value, u95     int64
		metric, inches string
	}{
		{event.RideHeight, 355_250, 1000, "355.2 ± 1.0 mm", "13.99 ± 0.04 in"},
		{event.Camber, -1500, 150, "−1.50° ± 0.15°", "−1°30′ ± 0°09′"},
		{event.Camber, 20, 150, "0.02° ± 0.15°", "0°01′ ± 0°09′"},
		{event.Toe, 250, 50, "0.25° ± 0.05° IN", "0°15′ ± 0°03′ IN"},
		{event.TotalToe, -250, 50, "0.25° ± 0.05° OUT", "0°15′ ± 0°03′ OUT"},
		{event.TotalToe, 0, 50, "0.00° ± 0.05°", "0°00′ ± 0°03′"},
		{event.Thrust, -60, 20, "0.06° ± 0.02° to the left", "0°04′ ± 0°01′ to the left"},
		{event.FloorSlope, 460, 20, "0.46° ± 0.02°, right side lower", "0°28′ ± 0°01′, right side lower"},
		{event.CornerWeight, 310_500, 500, "310.5 ± 0.5 kg", "685 ± 1 lb"},
		{event.TyrePressure, 220_000, 5000, "2.2 ± 0.05 bar", "31.9 ± 0.7 psi"},
	}
	for _, test := range tests {
		r := &event.ReadingTaken{Quantity: test.q}
		r.SetAmount(test.value, test.u95)
		for set, want := range map[units.Set]string{units.Metric: test.metric, {}: test.metric, imperial: test.inches} {
			if got := set.Reading(r); got != want {
				t.Errorf("%s %d: got %q, want %q", test.q, test.value, got, want)
			}
		}
	}
}

func TestTarget(t *testing.T) {
	for got, want := range map[string]string{
		units.Metric.Target(event.RideHeight, 355_000, 8000): "355 ± 8 mm",
		units.Metric.Target(event.TotalToe, 150, 200):        "0.15° ± 0.20° IN",
		units.Metric.Value(event.Camber, -1505):              "−1.50°",
		units.Metric.Value(event.TotalToe, -1505):            "1.50° OUT",
		units.Metric.LengthWithin(0.355, 0.0006):             "355.0 ± 0.6 mm",
		units.Metric.MassWithin(310.5, 0.5):                  "310.5 ± 0.5 kg",
		units.Metric.PressureWithin(220_000, 5000):           "2.2 ± 0.05 bar",
		imperial.TorqueFigure(81.35):                         "60",
		imperial.FormatTorque(81.35):                         "60 lbf·ft",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// What an older app kept, with two units and none of the rest, still reads.
func TestOrDefault(t *testing.T) {
	var s units.Set
	if err := json.Unmarshal([]byte(`{"torque":"lbf·ft","length":"in","mass":"stone"}`), &s); err != nil {
		t.Fatal(err)
	}
	want := units.Metric
	want.Torque, want.Length = "lbf·ft", "in"
	if got := s.OrDefault(); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

// What is written into a field is read back as the same angle, in either way.
func TestTypedAngle(t *testing.T) {
	minutes := units.Metric.With("angle", "°′")
	for mdeg, want := range map[int64][2]string{0: {"0", "0°0′"}, 458: {"0.458", "0°27.48′"}, -48: {"-0.048", "−0°2.88′"}, 1458: {"1.4580", "1°27.48′"}, -1500: {"-1.5", "−1°30′"}, 59_999: {"59.9990", "59°59.94′"}} {
		a := quantity.AngleFromMdeg(mdeg)
		for i, set := range []units.Set{units.Metric, minutes} {
			text := set.TypedAngle(a)
			if text != want[i] {
				t.Errorf("%d in %s: got %q, want %q", mdeg, set.Angle, text, want[i])
			}
			if back, err := quantity.AngleOf(text, set.Angle); err != nil || back.Mdeg() != mdeg {
				t.Errorf("%q in %s is read as %d and error %v, want %d", text, set.Angle, back.Mdeg(), err, mdeg)
			}
		}
	}
}

func TestWith(t *testing.T) {
	for _, setting := range units.Metric.Settings() {
		if setting.Options[0] != setting.Chosen {
			t.Errorf("%s begins with %q, want the metric %q", setting.Name, setting.Options[0], setting.Chosen)
		}
		for _, option := range setting.Options {
			got := units.Metric.With(setting.Name, option)
			for _, after := range got.Settings() {
				if want := map[bool]string{true: option, false: after.Options[0]}[after.Name == setting.Name]; after.Chosen != want {
					t.Errorf("after choosing %s %s, %s is %q, want %q", setting.Name, option, after.Name, after.Chosen, want)
				}
			}
		}
	}
	for name, value := range map[string]string{"torque": "furlong", "colour": "N·m", "": ""} {
		if got := units.Metric.With(name, value); got != units.Metric {
			t.Errorf("choosing %q %q changed the set to %+v", name, value, got)
		}
	}
}

// TestGerman: a value is said with a decimal comma, and what is typed reads back.
func TestGerman(t *testing.T) {
	if err := lang.Use(lang.German); err != nil {
		t.Fatal(err)
	}
	defer lang.SpeakEnglish()
	r := &event.ReadingTaken{Quantity: event.TotalToe}
	r.SetAmount(-250, 50)
	if got, want := units.Metric.Reading(r), "0,25° ± 0,05° Nachspur"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := units.Metric.Target(event.RideHeight, 355_500, 3000), "355,5 ± 3 mm"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	for _, degrees := range []float64{-1.234, 0.125, 12.5} {
		typed := units.Metric.TypedAngle(quantity.Degrees(degrees))
		if back, err := quantity.AngleOf(typed, quantity.Degree); err != nil || math.Abs(back.Degrees()-degrees) > 1e-9 {
			t.Errorf("%v is typed as %q and reads back as %v, %v", degrees, typed, back, err)
		}
	}
}
