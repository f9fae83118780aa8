package kit

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"unicode"

	"strutcard/calc/lang"
	"strutcard/calc/lift"
	"strutcard/calc/quantity"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

// Read makes a tool of what was typed, by the names of the fields: label, checked;
// rating or pair; low, high, step, unit, length, tolerance, class; across,
// resolution. Lengths, and torques without a unit of their own, are in the
// units given. What is empty is not known. It has no id yet, and may have no name.
func Read(kind sheet.ToolKind, typed map[string]string, u units.Set) (Item, error) {
	u = u.OrDefault()
	t := answers{typed: typed, units: u}
	x := Item{Kind: kind, Label: t.text("label"), Checked: t.checked()}
	switch kind {
	case sheet.Jack:
		x.RatingG = t.rating("rating", lift.PerStand)
	case sheet.Stands:
		x.RatingG = t.rating("rating", lift.PerStand)
		if pair := t.rating("pair", lift.PerPair); pair > 0 && x.RatingG > 0 {
			t.fail(fault.New(fault.Invalid, "Both numbers are filled in: for one stand and for the pair.", "Keep the one that the label gives."))
		} else if pair > 0 {
			x.RatingG, x.Pair = pair, true
		}
	case sheet.TorqueWrench:
		t.wrench(&x)
	case sheet.Adapter:
		x.LengthUM, x.Across = t.length("length"), t.text("across") == "yes"
	case sheet.Gauge:
		x.Resolution = t.text("resolution")
	}
	return x, t.err
}

type answers struct {
	typed map[string]string
	units units.Set
	err   error // the first
}

func (t *answers) text(name string) string { return strings.TrimSpace(t.typed[name]) }

func (t *answers) fail(err error) {
	var e *quantity.InputError
	if errors.As(err, &e) {
		err = fault.New(fault.Invalid, e.What, e.Next)
	}
	if t.err == nil {
		t.err = err
	}
}

// checked is when the tool was last checked, in the owner's words. Nothing but a
// number that is no year was meant for another field.
func (t *answers) checked() string {
	text := t.text("checked")
	if n, err := strconv.Atoi(text); err == nil && (n < 1950 || n > 2100) {
		t.fail(fault.New(fault.Invalid, lang.F("When was it checked? “%s” is no date.", text), "Write the month and the year of the check, such as May 2026, or leave the field empty."))
	}
	return text
}

func (t *answers) wrench(x *Item) {
	x.Unit = t.text("unit")
	if x.Unit == "" {
		x.Unit = string(t.units.Torque)
	}
	x.LowCNM, x.HighCNM, x.StepCNM = t.torque("low", x.Unit), t.torque("high", x.Unit), t.torque("step", x.Unit)
	x.LengthUM, x.Class = t.length("length"), t.text("class")
	if text := t.text("tolerance"); text != "" {
		share, err := quantity.PercentOf(text)
		if err == nil && (share <= 0 || share > 0.5) {
			err = quantity.Inputf("Take it from its paper, such as 4 %.", "A tolerance of %s is not that of a torque wrench.", share)
		}
		if err != nil {
			t.fail(err)
			return
		}
		x.Tolerance = int64(math.Ceil(1000*float64(share) - 1e-9)) // never finer than it says
	}
	if x.LowCNM+x.HighCNM > 0 && x.LowCNM >= x.HighCNM {
		t.fail(fault.New(fault.Invalid, "The lowest torque is not below the highest.", "Read both from the wrench's own paper."))
	}
}

func (t *answers) torque(name, unit string) int64 {
	text := t.text(name)
	if text == "" {
		return 0
	}
	q, err := quantity.TorqueOf(text, quantity.TorqueUnit(unit))
	if err != nil {
		t.fail(err)
		return 0
	}
	return q.CNM()
}

func (t *answers) length(name string) int64 {
	text := t.text(name)
	if text == "" {
		return 0
	}
	q, err := quantity.LengthOf(text, t.units.Length)
	if err == nil && q <= 0 {
		err = quantity.Inputf("Measure from middle to middle.", "A length of nothing is no length.")
	}
	if err != nil {
		t.fail(err)
		return 0
	}
	return q.UM()
}

func (t *answers) rating(name string, for_ lift.For) int64 {
	text := t.text(name)
	if text == "" {
		return 0
	}
	mass, err := Rating(text, for_)
	if err != nil {
		t.fail(err)
		return 0
	}
	return mass.G()
}

// Rating reads what is marked on a jack or a stand, such as "2 t", "2000 kg" or
// "4400 lb", and returns what one piece is rated for. A number alone is in kg. A
// pair's is halved, and a ton that does not say which counts as the lightest.
func Rating(text string, for_ lift.For) (quantity.Mass, error) {
	text = strings.TrimSpace(text)
	end := strings.LastIndexFunc(text, unicode.IsDigit) + 1
	number, name := strings.TrimSpace(text[:end]), strings.Trim(text[end:], " .")
	unit, known := ratingUnit(name)
	if !known {
		return 0, quantity.Inputf("Type it as it is marked, such as 2 t, 2000 kg or 4400 lb.", "“%s” is no unit of a rating here.", name)
	}
	figure, err := quantity.MassOf(number, quantity.Kilogram)
	if err != nil {
		return 0, err
	}
	each, err := lift.Marking{Rated: lift.Rated{Figure: quantity.Count(float64(figure)), Unit: unit}, For: for_}.PerStand()
	if err != nil {
		return 0, quantity.Inputf("Read the number and its unit on the tool itself, such as 2 t, 2000 kg or 4400 lb.", "“%s” is not the rating of a jack or an axle stand.", text)
	}
	return each.Low, nil
}

// ratingUnit tells the symbol t, a tonne, from T and ton, which may be any.
func ratingUnit(name string) (lift.RatingUnit, bool) {
	if name == "t" {
		return lift.Tonnes, true
	}
	unit, known := map[string]lift.RatingUnit{
		"": lift.Kilograms, "kg": lift.Kilograms, "kgs": lift.Kilograms, "lb": lift.Pounds, "lbs": lift.Pounds, "pounds": lift.Pounds,
		"tonne": lift.Tonnes, "tonnes": lift.Tonnes, "tonnen": lift.Tonnes, "metric ton": lift.Tonnes, "metric tons": lift.Tonnes,
		"t": lift.Tons, "ton": lift.Tons, "tons": lift.Tons, "us ton": lift.ShortTons, "us tons": lift.ShortTons, "short ton": lift.ShortTons, "short tons": lift.ShortTons,
	}[strings.ToLower(name)]
	return unit, known
}
