package method

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// torqueConvert writes one torque in every unit, and the same number in every
// unit: the second list shows a slip.
var torqueConvert = Method{
	ID: "torque_convert", Group: Torque, Title: "Torque in another unit",
	Words: "Read the unit off the source letter by letter: lbf·ft is twelve times lbf·in. Type the number, then choose its unit.",
	Fields: []Field{
		{Name: "value", Label: "Number in the source", Kind: Count},
		{Name: "unit", Label: "Unit in the source", Kind: Choice, Options: torqueUnitOptions()},
	},
	Work: func(in *In) (Result, error) {
		u := quantity.TorqueUnit(in.Choice("unit"))
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		t := read(in, "value", func(s string) (quantity.Torque, error) { return quantity.TorqueOf(s, u) })
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		into := in.convertInto(u)
		typed, result := in.Typed("value"), quantity.FormatTorque(t, into)
		out := Result{Figure: result, Words: lang.F("%s %s, written in %s.", typed, lang.T(u.Words()), lang.T(into.Words())),
			Line: fmt.Sprintf("%s × %s = %s", typed, lang.Number(fmt.Sprintf("%.6g", float64(oneOf(u)/oneOf(into)))), result),
			Warn: []string{lang.T("If the source has two columns, both must agree. If they do not, look which column was read."), lang.T("Old manuals write kg·m for kgf·m. They mean the same torque.")}}
		for _, other := range quantity.TorqueUnits() {
			if other != u {
				out.Rows = append(out.Rows, Row{lang.F("In %s", lang.T(other.Words())), quantity.FormatTorque(t, other)})
			}
		}
		for _, other := range quantity.TorqueUnits() {
			if other != u {
				slip, err := quantity.TorqueOf(typed, other)
				if err != nil {
					continue // a number that only reads in the unit chosen
				}
				out.Rows = append(out.Rows, Row{lang.F("If the source says %s %s", typed, other), quantity.FormatTorque(slip, into)})
			}
		}
		return out, nil
	},
}

func torqueUnitOptions() (out []Option) {
	for _, u := range quantity.TorqueUnits() {
		out = append(out, Option{string(u), string(u) + ", " + u.Words()})
	}
	return out
}

func oneOf(u quantity.TorqueUnit) quantity.Torque {
	one, _ := quantity.TorqueOf("1", u)
	return one
}

// convertInto is the person's unit, or the other usual one where they are the same.
func (in *In) convertInto(from quantity.TorqueUnit) quantity.TorqueUnit {
	switch {
	case in.Units.Torque != from:
		return in.Units.Torque
	case from == quantity.NewtonMetre:
		return quantity.PoundFoot
	}
	return quantity.NewtonMetre
}
