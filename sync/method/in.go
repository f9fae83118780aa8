package method

import (
	"cmp"
	"errors"
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

// Record is what a method may look up in the open job. All of it may be empty:
// every method also works without a job.
type Record struct {
	Sheet *sheet.Sheet
	State *job.State
	At    event.Place
	Units units.Set
	NowMS int64
	Level *PhoneLevel // how this phone was calibrated as a level; nil when it was not
}

// In reads the answers of a form. The first one that cannot be used is kept and
// ends the computation, and so does what is missing: read every field first, then
// look at Err.
type In struct {
	Record
	fields  []Field
	typed   map[string]string
	err     error
	lacking bool // an answer that must be there is not
}

// Answers makes an In from what was typed; what was not typed is taken from the
// method's Fill.
func (m *Method) Answers(typed map[string]string, r Record) *In {
	r.Units = r.Units.OrDefault()
	in := &In{Record: r, fields: m.Fields, typed: map[string]string{}}
	if m.Fill != nil {
		for name, text := range m.Fill(r) {
			in.typed[name] = text
		}
	}
	for name, text := range typed {
		if strings.TrimSpace(text) != "" {
			in.typed[name] = text
		}
	}
	return in
}

// Compute runs the method on what was typed.
func (m *Method) Compute(typed map[string]string, r Record) (Result, error) {
	in := m.Answers(typed, r)
	out, err := m.Work(in)
	if in.Err() != nil {
		return Result{}, in.Err()
	}
	if err == nil && out.Reading != nil && out.Ask == "" {
		out.Ask = Outside(m.Sets, out.Reading.Value, in.Units)
	}
	return out, err
}

// Missing lists what is still to be answered, in the order of the form, as far
// as the answers so far tell. It is empty when nothing lacks, and while an answer
// cannot be used: that comes first.
func (m *Method) Missing(typed map[string]string, r Record) []Field {
	in := m.Answers(typed, r)
	_, _ = m.Work(in) // only whether something lacks is asked for here
	if in.err != nil || !in.lacking {
		return nil
	}
	return in.unanswered()
}

// unanswered is what must be answered and is not. It does not rely on how far
// Work read before it gave up.
func (in *In) unanswered() (out []Field) {
	for _, f := range in.fields {
		if !f.Optional && in.Shown(f.Name) && in.Typed(f.Name) == "" {
			out = append(out, f)
		}
	}
	return out
}

// Outside says that no value of q is like this one, or "". The record refuses it.
func Outside(q event.Quantity, value int64, u units.Set) string {
	if low, high := q.Range(); value < low || value > high {
		return lang.F("%s is outside what %s can be, %s to %s. Look at the number, its unit, and whether it stands in the right field.",
			u.Value(q, value), lang.T(q.Words()), u.Value(q, low), u.Value(q, high))
	}
	return ""
}

// Err is the first thing that cannot be used, or all that is missing.
func (in *In) Err() error {
	if in.err != nil || !in.lacking {
		return in.err
	}
	missing := in.unanswered()
	if len(missing) == 1 {
		next := map[Kind]string{Choice: lang.T("Choose one."), Samples: lang.T("Press its button and hold still.")}[missing[0].Kind]
		return quantity.Inputf(cmp.Or(next, lang.T("Type it in.")), "%s is still missing.", lang.T(missing[0].Label))
	}
	var labels []string
	for _, f := range missing[:min(len(missing), namedMissing)] {
		labels = append(labels, lang.T(f.Label))
	}
	if more := len(missing) - len(labels); more > 0 {
		labels = append(labels, lang.F("and %d more", more))
	}
	return quantity.Inputf("Type or choose each.", "Still missing: %s.", strings.Join(labels, "; "))
}

// namedMissing is how many missing answers one sentence names: more are not read.
const namedMissing = 3

// Typed is the text of a field as it stands, filled in or typed.
func (in *In) Typed(name string) string { return strings.TrimSpace(in.typed[name]) }

// Has reports whether a field is answered and shown.
func (in *In) Has(name string) bool { return in.Shown(name) && in.Typed(name) != "" }

// Shown reports whether the field is asked, given the other answers.
func (in *In) Shown(name string) bool {
	f := in.field(name)
	if f.When == "" {
		return true
	}
	other, answers, _ := strings.Cut(f.When, "=")
	return in.Shown(other) && slices.Contains(strings.Split(answers, "|"), in.Typed(other))
}

func (in *In) field(name string) Field {
	for _, f := range in.fields {
		if f.Name == name {
			return f
		}
	}
	panic("method: no field " + name) // a slip of the program, found by the first test of the method
}

// text is the answer of a field that must be there, or "" with a complaint.
func (in *In) text(name string) string {
	f := in.field(name)
	if !in.Shown(name) {
		return ""
	}
	text := in.Typed(name)
	in.lacking = in.lacking || text == "" && !f.Optional
	return text
}

// fail keeps the first complaint, naming the field where the parser could not.
func (in *In) fail(err error) {
	if in.err == nil {
		in.err = err
	}
}

// read parses a field; a field that may be empty and is gives zero.
func read[Q any](in *In, name string, parse func(string) (Q, error)) Q {
	var zero Q
	text := in.text(name)
	if text == "" {
		return zero
	}
	q, err := parse(text)
	if err != nil {
		var e *quantity.InputError
		if errors.As(err, &e) {
			err = &quantity.InputError{What: lang.T(in.field(name).Label) + ": " + e.What, Next: e.Next}
		}
		in.fail(err)
		return zero
	}
	return q
}

// Length, Angle and the others read a field in the person's unit.
func (in *In) Length(name string) quantity.Length {
	return read(in, name, func(s string) (quantity.Length, error) { return quantity.LengthOf(s, in.Units.Length) })
}

func (in *In) Angle(name string) quantity.Angle {
	return read(in, name, func(s string) (quantity.Angle, error) {
		if strings.ContainsAny(s, "°'′’") {
			return quantity.ParseAngle(s)
		}
		return quantity.AngleOf(s, in.angleUnit())
	})
}

// angleUnit takes a bare number as decimal degrees where minutes want marks.
func (in *In) angleUnit() quantity.AngleUnit {
	if in.Units.Angle == quantity.DegreeMinute {
		return quantity.DegreeMinute
	}
	return in.Units.Angle
}

func (in *In) Mass(name string) quantity.Mass {
	return read(in, name, func(s string) (quantity.Mass, error) { return quantity.MassOf(s, in.Units.Mass) })
}

func (in *In) Torque(name string) quantity.Torque {
	return read(in, name, func(s string) (quantity.Torque, error) { return quantity.TorqueOf(s, in.Units.Torque) })
}

func (in *In) Pressure(name string) quantity.Pressure {
	return read(in, name, func(s string) (quantity.Pressure, error) { return quantity.PressureOf(s, in.Units.Pressure) })
}

func (in *In) Stiffness(name string) quantity.Stiffness {
	return read(in, name, func(s string) (quantity.Stiffness, error) { return quantity.StiffnessOf(s, in.Units.Stiffness) })
}

func (in *In) Temperature(name string) quantity.Temperature {
	return read(in, name, func(s string) (quantity.Temperature, error) { return quantity.TemperatureOf(s, in.Units.Temperature) })
}

func (in *In) Percent(name string) quantity.Ratio { return read(in, name, quantity.PercentOf) }

func (in *In) Count(name string) quantity.Turns { return read(in, name, quantity.CountOf) }

// Choice is the chosen option's value.
func (in *In) Choice(name string) string {
	text := in.text(name)
	if text == "" {
		return ""
	}
	f := in.field(name)
	if !slices.ContainsFunc(f.Options, func(o Option) bool { return o.Value == text }) {
		in.fail(quantity.Inputf("Choose one of those shown.", "%s has an answer that is not among the choices.", lang.T(f.Label)))
		return ""
	}
	return text
}

// Text is a field of words.
func (in *In) Text(name string) string { return in.text(name) }

// Inputs are the answers as the record keeps them, in the order of the form.
func (in *In) Inputs() []event.Input {
	var out []event.Input
	for _, f := range in.fields {
		if in.Has(f.Name) {
			out = append(out, event.Input{Name: f.Name, Text: in.Typed(f.Name), Unit: in.Unit(f.Kind)})
		}
	}
	return out
}

// Unit is what stands beside a field of that kind.
func (in *In) Unit(k Kind) string { return UnitOf(k, in.Units) }

// UnitOf is the person's unit of a kind of field, "" where it has none.
func UnitOf(k Kind, u units.Set) string {
	u = u.OrDefault()
	return map[Kind]string{Length: string(u.Length), Angle: string(u.Angle), Mass: string(u.Mass), TorqueValue: string(u.Torque),
		Pressure: string(u.Pressure), Stiffness: string(u.Stiffness), Temperature: string(u.Temperature), Percent: "%"}[k]
}
