package kit

import (
	"fmt"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

// KindWords is the kind as people say it.
func KindWords(kind sheet.ToolKind) string {
	return map[sheet.ToolKind]string{sheet.Jack: lang.T("Jack"), sheet.Stands: lang.T("Axle stands"), sheet.TorqueWrench: lang.T("Torque wrench"),
		sheet.Adapter: lang.T("Adapter for a torque wrench"), sheet.Gauge: lang.T("Gauge or level")}[kind]
}

// Words says what matters of a tool in one line, in the units given.
func (x Item) Words(u units.Set) string {
	u = u.OrDefault()
	var out []string
	switch x.Kind {
	case sheet.Jack, sheet.Stands:
		out = append(out, x.ratingWords(u))
	case sheet.TorqueWrench:
		out = append(out, x.rangeWords(u))
		if x.Tolerance > 0 {
			out = append(out, "±"+quantity.Ratio(float64(x.Tolerance)/1000).String())
		}
		if x.Class != "" {
			out = append(out, lang.F("class %s", x.Class))
		}
		if x.LengthUM > 0 {
			out = append(out, lang.F("%s long", u.FormatLength(quantity.LengthFromUM(x.LengthUM))))
		}
	case sheet.Adapter:
		out = append(out, x.adapterWords(u))
	case sheet.Gauge:
		if x.Resolution != "" {
			out = append(out, lang.F("reads to %s", x.Resolution))
		}
		if x.Checked == "" {
			return strings.Join(append(out, lang.T("no check noted")), ", ")
		}
		return strings.Join(append(out, lang.F("checked: %s", x.Checked)), ", ")
	}
	if x.Checked != "" {
		out = append(out, lang.F("last check: %s", x.Checked))
	}
	return strings.Join(out, ", ")
}

func (x Item) ratingWords(u units.Set) string {
	if x.RatingG == 0 {
		return lang.T("rating not known")
	}
	mass := quantity.FormatMass(quantity.MassFromG(x.RatingG), u.Mass)
	switch {
	case x.Pair:
		return lang.F("%s each, half of what is marked for the pair", mass)
	case x.Kind == sheet.Stands:
		return lang.F("%s each", mass)
	}
	return mass
}

func (x Item) rangeWords(u units.Set) string {
	low, high, err := torque.Wrench{Lowest: quantity.TorqueFromCNM(x.LowCNM), Highest: quantity.TorqueFromCNM(x.HighCNM)}.Usable()
	if err != nil {
		return lang.T("range not known")
	}
	if x.LowCNM == 0 {
		return lang.F("%s to %s (from a fifth of full scale)", u.TorqueFigure(low), u.FormatTorque(high))
	}
	return lang.F("%s to %s", u.TorqueFigure(low), u.FormatTorque(high))
}

func (x Item) adapterWords(u units.Set) string {
	switch {
	case x.Across:
		return lang.T("square to the handle")
	case x.LengthUM == 0:
		return lang.T("length not known")
	}
	return lang.F("%s in line", u.FormatLength(quantity.LengthFromUM(x.LengthUM)))
}

// Typed is the inverse of Read: what to show in the fields to change it.
func (x Item) Typed(u units.Set) map[string]string {
	u = u.OrDefault()
	out := map[string]string{"label": x.Label, "checked": x.Checked, "class": x.Class, "resolution": x.Resolution, "unit": x.Unit}
	if x.Across {
		out["across"] = "yes"
	}
	if kg := quantity.MassFromG(x.RatingG).Kilograms(); x.Pair {
		out["pair"] = plain(2*kg) + " kg"
	} else if kg > 0 {
		out["rating"] = plain(kg) + " kg"
	}
	unit := quantity.TorqueUnit(x.Unit)
	for name, cnm := range map[string]int64{"low": x.LowCNM, "high": x.HighCNM, "step": x.StepCNM} {
		if cnm > 0 && unit.Valid() {
			out[name] = quantity.TorqueFigure(quantity.TorqueFromCNM(cnm), unit)
		}
	}
	if x.LengthUM > 0 {
		out["length"] = quantity.LengthFigure(quantity.LengthFromUM(x.LengthUM), u.Length)
	}
	if x.Tolerance > 0 {
		out["tolerance"] = plain(float64(x.Tolerance) / 10)
	}
	return out
}

// plain is a number that reads back as itself: three decimals could be taken for
// thousands, so there are at most two, rounded down.
func plain(v float64) string {
	text := strconv.FormatFloat(float64(int64(v*100+1e-6))/100, 'f', 2, 64)
	return lang.Number(strings.TrimSuffix(strings.TrimRight(text, "0"), "."))
}

// Offer is the line of a button that takes a tool into a job.
func (x Item) Offer(u units.Set) string {
	if words := x.Words(u); words != "" {
		return fmt.Sprintf("%s, %s", x.Label, words)
	}
	return x.Label
}
