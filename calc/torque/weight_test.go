package torque_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

var hungGood = torque.HungWeight{
	Mass: 10, MassResolution: 0.01, Distance: 0.45, LengthResolution: 0.001, OwnMass: 1.4, OwnDistance: 0.22, Lean: quantity.Degrees(1),
	Reading: 47, Step: 0.5, Wrench: torque.Wrench{Lowest: 20, Highest: 200}, Class: torque.IIA,
}

func hungWith(change func(*torque.HungWeight)) torque.HungWeight {
	h := hungGood
	change(&h)
	return h
}

func TestCheckHungRefuses(t *testing.T) {
	for name, change := range map[string]func(*torque.HungWeight){
		"NoMass":           func(h *torque.HungWeight) { h.Mass = 0 },
		"MassNaN":          func(h *torque.HungWeight) { h.Mass = quantity.Mass(nan) },
		"NoMassMarks":      func(h *torque.HungWeight) { h.MassResolution = 0 },
		"CoarseScales":     func(h *torque.HungWeight) { h.MassResolution = 10 },
		"NoDistance":       func(h *torque.HungWeight) { h.Distance = 0 },
		"NoTapeMarks":      func(h *torque.HungWeight) { h.LengthResolution = 0 },
		"CoarseTape":       func(h *torque.HungWeight) { h.LengthResolution = 0.5 },
		"OwnBelowZero":     func(h *torque.HungWeight) { h.OwnMass = -1 },
		"OwnMassAlone":     func(h *torque.HungWeight) { h.OwnDistance = 0 },
		"OwnDistanceAlone": func(h *torque.HungWeight) { h.OwnMass = 0 },
		"NoLean":           func(h *torque.HungWeight) { h.Lean = 0 },
		"NotLevel":         func(h *torque.HungWeight) { h.Lean = quantity.Degrees(11) },
		"LeanInf":          func(h *torque.HungWeight) { h.Lean = quantity.Angle(inf) },
		"NoReading":        func(h *torque.HungWeight) { h.Reading = 0 },
		"NoStep":           func(h *torque.HungWeight) { h.Step = 0 },
		"WideStep":         func(h *torque.HungWeight) { h.Step = 47 },
		"StepNaN":          func(h *torque.HungWeight) { h.Step = quantity.Torque(nan) },
		"NoClass":          func(h *torque.HungWeight) { h.Class = "" },
		"NoWrench":         func(h *torque.HungWeight) { h.Wrench = torque.Wrench{} },
		"MarksSwapped":     func(h *torque.HungWeight) { h.Wrench = torque.Wrench{Lowest: 200, Highest: 20} },
		"BelowRange":       func(h *torque.HungWeight) { h.Mass = 2 },
		"AboveRange":       func(h *torque.HungWeight) { h.Mass = 50 },
	} {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := torque.CheckHung(hungWith(change))
			if got != (torque.HungCheck{}) {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
}

// No source of uncertainty ever makes the result surer.
func TestCheckHungProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := hungGood
		h.Mass = quantity.Mass(rapid.Float64Range(8, 20).Draw(t, "mass"))
		h.Reading = quantity.Torque(rapid.Float64Range(20, 120).Draw(t, "reading"))
		one, err := torque.CheckHung(h)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(one.FromWeight+one.FromWrench-one.True.Value)) > 1e-9 || !one.OwnKnown || one.Allowed != 0.04 {
			t.Errorf("got %v, want the torques of weight and wrench to add up", one)
		}
		for name, change := range map[string]func(*torque.HungWeight){
			"scales": func(h *torque.HungWeight) { h.MassResolution = 0.5 }, "tape": func(h *torque.HungWeight) { h.LengthResolution = 0.01 },
			"lean": func(h *torque.HungWeight) { h.Lean = quantity.Degrees(5) }, "step": func(h *torque.HungWeight) { h.Step = 5 },
		} {
			wider := h
			change(&wider)
			two, err := torque.CheckHung(wider)
			if err != nil || !(two.Deviation.Standard > one.Deviation.Standard) || two.Deviation.Value != one.Deviation.Value {
				t.Errorf("%s: got %v and error %v, want the same deviation with more than %v", name, two.Deviation, err, one.Deviation.Standard)
			}
		}
		unknown := h
		unknown.OwnMass, unknown.OwnDistance = 0, 0
		if got, err := torque.CheckHung(unknown); err != nil || got.Verdict == measure.Met || got.Verdict == measure.NotMet && one.Verdict != measure.NotMet {
			t.Errorf("got %v and error %v without the wrench's weight, want no more than %v", got.Verdict, err, one.Verdict)
		}
	})
}

func TestHungWords(t *testing.T) {
	for want, c := range map[string]torque.HungCheck{
		"reads within":      {Verdict: measure.Met, OwnKnown: true},
		"reads outside":     {Verdict: measure.NotMet, OwnKnown: true},
		"own weight":        {Verdict: measure.TooClose},
		"too coarse":        {Verdict: measure.TooClose, OwnKnown: true, Allowed: 0.04, Deviation: measure.Value[quantity.Ratio]{Standard: 0.02}},
		"close to the limi": {Verdict: measure.TooClose, OwnKnown: true, Allowed: 0.04, Deviation: measure.Value[quantity.Ratio]{Value: 0.04, Standard: 0.001}},
	} {
		got := c.Words()
		if !strings.Contains(got, want) || !strings.Contains(got, "not a calibration") {
			t.Errorf("got %q, want %q in it and that it is no calibration", got, want)
		}
	}
	for deviation, asked := range map[quantity.Ratio]bool{0: false, 0.3: false, -0.3: false, 0.31: true, -0.56: true} {
		if got := torque.QuestionHung(torque.HungCheck{Deviation: measure.Value[quantity.Ratio]{Value: deviation}}); (got != "") != asked {
			t.Errorf("%v: got %q, want asked %t", deviation, got, asked)
		}
	}
}
