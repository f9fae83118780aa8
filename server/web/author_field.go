package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/units"
	"strutcard/templates"
)

// kind is how a field of a sheet is typed in and kept.
type kind string

const (
	asText    kind = "text"
	asLong    kind = "long"
	asFlag    kind = "flag"
	asChoice  kind = "choice"
	asLines   kind = "lines"   // a list of texts or ids, one a line
	asPasses  kind = "passes"  // a list of a fastener's id and a pass's id, one pair a line
	asWhole   kind = "whole"   // an integer
	asPercent kind = "percent" // kept per mille
	asTorque  kind = "torque"
	asAngle   kind = "angle"
	asLength  kind = "length"
	asMass    kind = "mass"
)

// unitsOf are the units that can be chosen beside a number.
var unitsOf = map[kind][]string{
	asTorque: {string(quantity.NewtonMetre), string(quantity.PoundFoot), string(quantity.PoundInch)},
	asAngle:  {string(quantity.Degree), string(quantity.DegreeMinute)},
	asLength: {string(quantity.Millimetre), string(quantity.Inch)},
	asMass:   {string(quantity.Kilogram), string(quantity.Pound)},
}

// field is one member of a thing in a sheet: its key in the JSON, what it is
// called and how it is typed.
type field struct {
	key, label string
	kind       kind
	hint       string
	options    []templates.Choice
}

// typed is a field as it stands in a form.
type typed struct{ text, unit string }

// show writes a kept value as it would be typed.
func (f field) show(v any) typed {
	switch f.kind {
	case asFlag:
		if v == true {
			return typed{text: "yes"}
		}
		return typed{}
	case asLines:
		return typed{text: strings.Join(words(v), "\n")}
	case asPasses:
		return typed{text: strings.Join(pairs(v), "\n")}
	}
	n, isNumber := v.(json.Number)
	if !isNumber {
		s, _ := v.(string)
		return typed{text: s}
	}
	i, _ := n.Int64()
	switch f.kind {
	case asPercent:
		return typed{text: lang.Number(decimal(i, 10, 1))}
	case asTorque:
		return typed{lang.Number(decimal(i, 100, 2)), string(quantity.NewtonMetre)}
	case asAngle:
		return typed{units.Metric.TypedAngle(quantity.AngleFromMdeg(i)), string(quantity.Degree)}
	case asLength:
		return typed{thousandths(i), string(quantity.Millimetre)}
	case asMass:
		return typed{thousandths(i), string(quantity.Kilogram)}
	}
	return typed{text: n.String()}
}

// read turns what was typed into a value to keep; nil for nothing.
func (f field) read(t typed) (any, error) {
	if t.text == "" {
		return nil, nil
	}
	switch f.kind {
	case asFlag:
		return true, nil
	case asChoice:
		return t.text, f.among(t.text)
	case asLines:
		return listOf(t.text), nil
	case asPasses:
		return pairsOf(t.text)
	case asWhole:
		n, err := strconv.ParseInt(t.text, 10, 64)
		if err != nil {
			return nil, quantity.Inputf("Type it in digits alone.", "“%s” is not a whole number.", t.text)
		}
		return number(n), nil
	case asPercent:
		r, err := quantity.PercentOf(t.text)
		return number(int64(r.Percent()*10 + 0.5)), err
	case asTorque:
		v, err := quantity.TorqueOf(t.text, quantity.TorqueUnit(t.unit))
		return number(v.CNM()), err
	case asAngle:
		v, err := quantity.AngleOf(t.text, quantity.AngleUnit(t.unit))
		return number(v.Mdeg()), err
	case asLength:
		v, err := quantity.LengthOf(t.text, quantity.LengthUnit(t.unit))
		return number(v.UM()), err
	case asMass:
		v, err := quantity.MassOf(t.text, quantity.MassUnit(t.unit))
		return number(v.G()), err
	}
	return t.text, nil
}

func (f field) among(value string) error {
	for _, o := range f.options {
		if o.Value == value {
			return nil
		}
	}
	return quantity.Inputf("Choose one from the list.", "“%s” cannot be chosen here.", value)
}

// words writes a kept value for reading: a torque in both units, so that a slip
// of the unit shows.
func (f field) words(v any) string {
	t := f.show(v)
	switch {
	case t.text == "":
		return ""
	case f.kind == asFlag:
		return lowered(inSheet(f.label))
	case f.kind == asTorque:
		n, _ := v.(json.Number).Int64()
		return torqueWords(n)
	case f.kind == asChoice:
		for _, o := range f.options {
			if o.Value == t.text {
				return inSheet(o.Label)
			}
		}
	case f.kind == asPercent:
		return t.text + " %"
	}
	if t.unit == string(quantity.Degree) {
		return t.text + t.unit
	}
	return strings.TrimSpace(t.text + " " + t.unit)
}

func torqueWords(cnm int64) string {
	t := quantity.TorqueFromCNM(cnm)
	return newtonMetres(cnm) + " (" + quantity.FormatTorque(t, quantity.PoundFoot) + ")"
}

func number(n int64) json.Number { return json.Number(strconv.FormatInt(n, 10)) }

// thousandths writes v/1000. Three decimals get a zero more: they could be taken
// for thousands.
func thousandths(v int64) string {
	text := decimal(v, 1000, 3)
	if _, part, _ := strings.Cut(text, "."); len(part) == 3 {
		text += "0"
	}
	return lang.Number(text)
}

func words(v any) []string {
	list, _ := v.([]any)
	out := make([]string, 0, len(list))
	for _, item := range list {
		out = append(out, fmt.Sprint(item))
	}
	return out
}

func pairs(v any) []string {
	list, _ := v.([]any)
	out := make([]string, 0, len(list))
	for _, item := range list {
		ref, _ := item.(node)
		out = append(out, fmt.Sprint(ref["fastener"], " ", ref["pass"]))
	}
	return out
}

func listOf(text string) []any {
	var out []any
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" {
			out = append(out, line)
		}
	}
	return out
}

func pairsOf(text string) ([]any, error) {
	var out []any
	for _, line := range listOf(text) {
		parts := strings.Fields(line.(string))
		if len(parts) != 2 {
			return nil, quantity.Inputf("Write one pair a line, such as: strut_top_FL final.", "“%s” does not name one fastener and one pass.", line)
		}
		out = append(out, node{"fastener": parts[0], "pass": parts[1]})
	}
	return out, nil
}

// problem is a typing error in words.
func problem(err error) string {
	var in *quantity.InputError
	if errors.As(err, &in) {
		return in.What + " " + in.Next
	}
	return err.Error()
}
