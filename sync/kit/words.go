package kit

import (
	"fmt"
	"strconv"
	"strings"

	"strutcard/calc/quantity"
	"strutcard/calc/torque"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

// KindWords is the kind as people say it.
func KindWords(kind sheet.ToolKind) string {
	return map[sheet.ToolKind]string{sheet.Jack: "Jack", sheet.Stands: "Axle stands", sheet.TorqueWrench: "Torque wrench",
		sheet.Adapter: "Adapter for a torque wrench", sheet.Gauge: "Gauge or level"}[kind]
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
			out = append(out, "class "+x.Class)
		}
		if x.LengthUM > 0 {
			out = append(out, u.FormatLength(quantity.LengthFromUM(x.LengthUM))+" long")
		}
	case sheet.Adapter:
		out = append(out, x.adapterWords(u))
	case sheet.Gauge:
		if x.Resolution != "" {
			out = append(out, "reads to "+x.Resolution)
		}
		if x.Checked == "" {
			return strings.Join(append(out, "no reversal check noted"), ", ")
		}
		return strings.Join(append(out, "reversal check: "+x.Checked), ", ")
	}
	if x.Checked != "" {
		out = append(out, "last check: "+x.Checked)
	}
	return strings.Join(out, ", ")
}

func (x Item) ratingWords(u units.Set) string {
	if x.RatingG == 0 {
		return "rating not known"
	}
	words := quantity.FormatMass(quantity.MassFromG(x.RatingG), u.Mass)
	if x.Kind == sheet.Stands {
		words += " each"
	}
	if x.Pair {
		words += ", half of what is marked for the pair"
	}
	return words
}

func (x Item) rangeWords(u units.Set) string {
	low, high, err := torque.Wrench{Lowest: quantity.TorqueFromCNM(x.LowCNM), Highest: quantity.TorqueFromCNM(x.HighCNM)}.Usable()
	if err != nil {
		return "range not known"
	}
	words := u.TorqueFigure(low) + " to " + u.FormatTorque(high)
	if x.LowCNM == 0 {
		words += " (from a fifth of full scale)"
	}
	return words
}

func (x Item) adapterWords(u units.Set) string {
	switch {
	case x.Across:
		return "square to the handle"
	case x.LengthUM == 0:
		return "length not known"
	}
	return u.FormatLength(quantity.LengthFromUM(x.LengthUM)) + " in line"
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
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// Offer is the line of a button that takes a tool into a job.
func (x Item) Offer(u units.Set) string {
	if words := x.Words(u); words != "" {
		return fmt.Sprintf("%s, %s", x.Label, words)
	}
	return x.Label
}
