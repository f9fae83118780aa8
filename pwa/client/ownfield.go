package client

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/fault"
	"strutcard/sync/method"
	"strutcard/sync/units"
	"strutcard/templates"
)

// ownField is one question about an own sheet, bound to where its answer stands.
type ownField struct {
	name, label, hint string
	kind              method.Kind
	text              *string             // of words and choices
	number            *int64              // of all else, in the unit of the sheet; a share in per mille
	unit              quantity.TorqueUnit // in which a torque stands there
	known             bool                // a number of zero is an answer
	must              string              // what to say when it is empty
	options           []templates.Choice
}

// shown is the answer as it is written into the field.
func (f ownField) shown(u units.Set) string {
	u = u.OrDefault()
	switch {
	case f.text != nil:
		return *f.text
	case *f.number == 0 && !f.known:
		return ""
	}
	switch f.kind {
	case method.Length:
		return quantity.LengthFigure(quantity.LengthFromUM(*f.number), u.Length)
	case method.Mass:
		return quantity.MassFigure(quantity.MassFromG(*f.number), u.Mass)
	case method.Angle:
		return u.TypedAngle(quantity.AngleFromMdeg(*f.number))
	case method.TorqueValue:
		return quantity.TorqueFigure(quantity.TorqueFromCNM(*f.number), f.unit)
	case method.Percent:
		return lang.Number(strconv.FormatFloat(float64(*f.number)/10, 'f', -1, 64))
	}
	return strconv.FormatInt(*f.number, 10)
}

// read puts what was typed where it belongs. What stands as it was shown is left
// alone: a number must not be rounded by being looked at.
func (f ownField) read(u units.Set, args map[string]string) error {
	typed := strings.TrimSpace(args[f.name])
	if typed == "" && f.must != "" {
		return fault.New(fault.Invalid, f.must, "Nothing was changed. What you typed is still here.")
	}
	if f.text != nil {
		return f.readText(typed)
	}
	untouched := typed == f.shown(u) && (f.kind != method.TorqueValue || args[fieldUnit] == string(f.unit))
	if untouched {
		return nil
	}
	n := int64(0)
	if typed != "" {
		var err error
		if n, err = f.parse(u, typed, args[fieldUnit]); err != nil {
			return f.named(err)
		}
	}
	if n == quantity.Unrepresentable {
		return fault.New(fault.Invalid, lang.F("%s: %s is too large.", f.label, typed), "Check the number and its unit.")
	}
	if n < 0 {
		return fault.New(fault.Invalid, lang.F("%s: %s is below zero.", f.label, typed), "Type it without the minus sign.")
	}
	if n == 0 && f.must != "" && f.kind == method.TorqueValue {
		return fault.New(fault.Invalid, f.must, "Nothing was changed. What you typed is still here.")
	}
	*f.number = n
	return nil
}

func (f ownField) readText(typed string) error {
	for _, o := range f.options {
		if o.Value == typed {
			*f.text = typed
			return nil
		}
	}
	if f.options != nil {
		return fault.New(fault.Invalid, lang.F("%s: nothing is chosen.", f.label), "Choose one from the list.")
	}
	*f.text = typed
	return nil
}

func (f ownField) parse(u units.Set, typed, torqueUnit string) (int64, error) {
	u = u.OrDefault()
	switch f.kind {
	case method.Length:
		l, err := quantity.LengthOf(typed, u.Length)
		return l.UM(), err
	case method.Mass:
		m, err := quantity.MassOf(typed, u.Mass)
		return m.G(), err
	case method.Angle:
		a, err := quantity.AngleOf(typed, u.Angle)
		return a.Mdeg(), err
	case method.TorqueValue:
		return torqueIn(typed, torqueUnit)
	case method.Percent:
		r, err := quantity.PercentOf(typed)
		if err == nil && r > 1 {
			err = quantity.Inputf("Type a share from 0 to 100.", "%s %% is more than the whole.", typed)
		}
		return int64(math.Round(float64(r) * 1000)), err
	}
	n, err := strconv.ParseInt(typed, 10, 32)
	if err != nil {
		err = quantity.Inputf("Type a whole number in plain digits.", "%q is not a whole number.", typed)
	}
	return n, err
}

// named says which field a complaint is about.
func (f ownField) named(err error) error {
	var e *fault.Error
	if !errors.As(err, &e) { // of a formula
		e = fault.Of(input(err))
	}
	return fault.New(fault.Invalid, f.label+": "+e.Message, e.Hint)
}

// view is the field as it is drawn. A draft's name says what it measures, so
// that it is converted when the units change.
func (f ownField) view(u units.Set, form string, drafts map[string]string) templates.OwnField {
	draft := ownDraft(f.kind, form, f.name)
	v := templates.OwnField{Name: f.name, Label: f.label, Hint: f.hint, Options: f.options, Draft: draft, Mode: "decimal",
		Value: pick(drafts[draft], f.shown(u)), Unit: method.UnitOf(f.kind, u)}
	switch f.kind {
	case method.Text, method.Choice:
		v.Mode = "text"
	case method.Count:
		v.Mode = "numeric"
	case method.TorqueValue: // its unit is chosen in the form
		v.Unit = ""
	case method.Angle:
		v.Mode = "text" // degrees and minutes have marks
	}
	return v
}

const (
	draftOwn  = "own."
	fieldUnit = "unit" // of the torques in a form
)

func ownDraft(kind method.Kind, form, field string) string {
	return draftOwn + string(kind) + "." + form + "." + field
}

// ownDraftKind is what a half-typed value of an own sheet measures. A torque has
// a unit of its own beside it, and is never converted.
func ownDraftKind(key string) (method.Kind, bool) {
	rest, ok := strings.CutPrefix(key, draftOwn)
	kind, _, _ := strings.Cut(rest, ".")
	return method.Kind(kind), ok && method.Kind(kind) != method.TorqueValue
}
