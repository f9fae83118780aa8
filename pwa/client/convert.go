package client

import (
	"math"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/method"
	"strutcard/sync/units"
)

// convertDrafts writes half-typed values anew when the units change: 20 typed
// as millimetres must not become 20 inches. What cannot be read in the old unit
// is left as it is, and will be refused in the new one too.
func (c *Client) convertDrafts(from, to units.Set) {
	for key, text := range c.drafts {
		if kind, ok := draftKind(key); ok {
			c.drafts[key] = convert(kind, text, from, to)
		}
	}
}

// draftKind is what a half-typed value measures.
func draftKind(key string) (method.Kind, bool) {
	switch isTool := strings.HasPrefix(key, "tool."); {
	case isTool && (strings.HasSuffix(key, ".low") || strings.HasSuffix(key, ".high")):
		return method.TorqueValue, true
	case key == draftKit+"length" || isTool && strings.HasSuffix(key, ".length"):
		return method.Length, true
	}
	if kind, ok := ownDraftKind(key); ok {
		return kind, true
	}
	rest, ok := strings.CutPrefix(key, draftMethod)
	if !ok {
		return "", false
	}
	id, field, _ := strings.Cut(rest, ".")
	id, _, _ = strings.Cut(id, "@")
	m := method.Find(id)
	if m == nil {
		return "", false
	}
	for _, f := range m.Fields {
		if f.Name == field {
			return f.Kind, true
		}
	}
	return "", false
}

// convert reads a text in one set of units and writes it in another, finer than
// it was typed.
func convert(kind method.Kind, text string, from, to units.Set) string {
	switch {
	case method.UnitOf(kind, from) == method.UnitOf(kind, to):
		return text
	case kind == method.Length:
		return rewrite(text, quantity.LengthOf, from.Length, to.Length, to.Length == units.Metric.Length)
	case kind == method.Mass:
		return rewrite(text, quantity.MassOf, from.Mass, to.Mass, to.Mass == units.Metric.Mass)
	case kind == method.TorqueValue:
		return rewrite(text, quantity.TorqueOf, from.Torque, to.Torque, to.Torque == units.Metric.Torque)
	case kind == method.Pressure:
		return rewrite(text, quantity.PressureOf, from.Pressure, to.Pressure, to.Pressure == units.Metric.Pressure)
	case kind == method.Stiffness:
		return rewrite(text, quantity.StiffnessOf, from.Stiffness, to.Stiffness, to.Stiffness == units.Metric.Stiffness)
	case kind == method.Temperature:
		if t, err := quantity.TemperatureOf(text, from.Temperature); err == nil {
			return quantity.TemperatureFigure(t, to.Temperature)
		}
	case kind == method.Angle:
		if a, err := quantity.AngleOf(text, from.Angle); err == nil {
			return to.TypedAngle(a)
		}
	}
	return text
}

// rewrite measures what was typed by one of the new unit. The way to the metric
// unit keeps fewer digits than the way from it, so that there and back is the
// number that was typed.
func rewrite[Q measure.Quantity, U any](text string, read func(string, U) (Q, error), from, to U, metric bool) string {
	q, err := read(text, from)
	if err != nil {
		return text
	}
	one, err := read("1", to)
	if err != nil || q == 0 {
		return text
	}
	digits := 9
	if metric {
		digits = 7
	}
	n := float64(q / one)
	decimals := digits - 1 - int(math.Floor(math.Log10(math.Abs(n))))
	figure := strconv.FormatFloat(n, 'f', max(0, min(12, decimals)), 64)
	if whole, part, ok := strings.Cut(figure, "."); ok {
		if part = strings.TrimRight(part, "0"); len(part) == 3 {
			part += "0" // three decimals could be taken for thousands
		}
		figure = strings.TrimSuffix(whole+"."+part, ".")
	}
	return lang.Number(figure)
}
