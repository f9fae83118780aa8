package client

import (
	"errors"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/fault"
	"strutcard/templates"
)

var torqueUnitNames = map[string]quantity.TorqueUnit{
	"N·m": quantity.NewtonMetre, "lbf·ft": quantity.PoundFoot, "lbf·in": quantity.PoundInch, "kgf·m": quantity.KilogramForceMetre,
}

func torqueUnits() []templates.Choice {
	out := []templates.Choice{{Value: "", Label: lang.T("Choose the unit that the page gives")}}
	for _, name := range []string{"N·m", "lbf·ft", "lbf·in", "kgf·m"} {
		out = append(out, templates.Choice{Value: name, Label: name})
	}
	return out
}

func torqueIn(text, unit string) (int64, error) {
	known, ok := torqueUnitNames[unit]
	if !ok {
		return 0, fault.New(fault.Invalid, "The torque has no unit.", "Choose N·m, lbf·ft, lbf·in or kgf·m, as the page says.")
	}
	t, err := quantity.TorqueOf(text, known)
	if err != nil {
		return 0, input(err)
	}
	return t.CNM(), nil
}

// input turns a formula's complaint into a fault.
func input(err error) error {
	var e *quantity.InputError
	if errors.As(err, &e) {
		return fault.New(fault.Invalid, e.What, e.Next)
	}
	return fault.Wrap(err, fault.Invalid, "That value cannot be used.", "Look at it and type it again.")
}
