package client

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

func put[T any](list []T, i int, x T) []T {
	if i == len(list) {
		return append(list, x)
	}
	list[i] = x
	return list
}

func without[T any](list []T, i int) []T { return slices.Delete(list, i, i+1) }

// places of a part: anywhere, an axle or a corner.
func places() []templates.Choice {
	out := axleChoices(lang.T("Anywhere"))
	for _, corner := range event.Corners {
		out = append(out, templates.Choice{Value: string(corner), Label: capital(lang.T(corner.Words()))})
	}
	return out
}

func partForm(o *own, which string) *ownForm {
	i := at(which, len(o.Start.Parts))
	if i < 0 {
		return nil
	}
	var p sheet.Part
	if i < len(o.Start.Parts) {
		p = o.Start.Parts[i]
	}
	place := pick(string(p.Corner), string(p.Axle))
	f := &ownForm{key: fmt.Sprint(formPart, i), title: lang.T("Part in the box"), source: func() string { return "" },
		fields: []ownField{
			{name: "name", label: lang.T("Name"), kind: method.Text, text: &p.Name, must: lang.T("The part has no name yet.")},
			{name: "count", label: lang.T("How many"), kind: method.Count, number: &p.Count, must: lang.T("The count is missing.")},
			{name: "place", label: lang.T("It goes"), kind: method.Choice, text: &place, options: places()},
			{name: "mark", label: lang.T("Mark that tells it from its mirror image"), kind: method.Text, text: &p.Mark},
		}}
	f.keep = func() error {
		p.Corner, p.Axle = "", ""
		if corner := event.Corner(place); corner.Valid() {
			p.Corner = corner
		} else {
			p.Axle = event.Axle(place)
		}
		if p.ID == "" {
			p.ID = freePart(o.Start.Parts)
		}
		o.Start.Parts = put(o.Start.Parts, i, p)
		return nil
	}
	if which != another {
		f.dropWords, f.drop = lang.T("Remove this part"), func() { o.Start.Parts = without(o.Start.Parts, i) }
	}
	return f
}

func freePart(parts []sheet.Part) event.PartID {
	for n := 1; ; n++ {
		id := event.PartID(fmt.Sprintf("part_%d", n))
		if !slices.ContainsFunc(parts, func(p sheet.Part) bool { return p.ID == id }) {
			return id
		}
	}
}

// torqueForm asks for the torque of all fasteners of one kind.
func torqueForm(o *own, kind string) *ownForm {
	s, err := o.build(1)
	if err != nil {
		return nil
	}
	piece := pieceOf(s, formTorque+kind)
	if len(piece.Fasteners) == 0 {
		return nil
	}
	fastener := piece.Fasteners[0]
	t, known := o.Start.Torques[kind]
	was := o.Units[kind]
	if known && !was.Valid() {
		was = quantity.NewtonMetre
	}
	unit := string(was)
	f := &ownForm{key: formTorque + kind, title: kindWords(&fastener), source: func() string { return t.Source }, words: torqueWords(&fastener)}
	f.fields = []ownField{
		{name: "thread", label: lang.T("Thread, such as M12x1.5"), kind: method.Text, text: &t.Thread, hint: lang.T("Leave it open where the manual does not say. Then you read the torque back in two units.")},
		{name: fieldUnit, label: lang.T("Unit of the torques, as the page gives it"), kind: method.Choice, text: &unit, options: torqueUnits()},
		{name: "torque", label: lang.T("Final torque"), kind: method.TorqueValue, number: &t.CNM, unit: was, must: lang.T("The torque is missing. Leave it for the job if you do not know it.")},
		{name: "tolerance", label: lang.T("Plus or minus, if the page says"), kind: method.TorqueValue, number: &t.TolCNM, unit: was},
	}
	if fastener.Count > 1 {
		if t.Count == 0 {
			t.Count = fastener.Count
		}
		f.fields = append(f.fields, ownField{name: "count", label: lang.T("How many at each place"), kind: method.Count, number: &t.Count, hint: lang.T("Count them at the car.")})
	}
	if has(&fastener, sheet.Snug) {
		f.fields = append(f.fields, ownField{name: "snug", label: lang.T("Snug torque, if the page says"), kind: method.TorqueValue, number: &t.SnugCNM, unit: was, hint: lang.T("Where it says none, snug is made by hand.")})
	}
	if has(&fastener, sheet.Angle) {
		f.fields = append(f.fields, ownField{name: "angle", label: lang.T("Then turned on by"), kind: method.Angle, number: &t.AngleMdeg})
	}
	f.fields = append(f.fields, ownField{name: "source", label: lang.T("Source: document and page"), kind: method.Text, text: &t.Source, must: lang.T("A torque needs its source.")})
	f.keep = func() error {
		o.Start.Torques[kind], o.Units[kind] = t, quantity.TorqueUnit(unit)
		return nil
	}
	if known {
		f.dropWords, f.drop = lang.T("Take it out: look it up later, in the job"), func() { delete(o.Start.Torques, kind) }
	}
	return f
}

func has(f *sheet.Fastener, kind sheet.PassKind) bool {
	return slices.ContainsFunc(f.Passes, func(p sheet.Pass) bool { return p.Kind == kind })
}

// kindWords says where all fasteners of one kind are.
func kindWords(f *sheet.Fastener) string {
	if f.Wheel {
		return lang.T(f.Place)
	}
	return lang.T(f.Place) + ", " + axleWords(f.Corner.Axle())
}

func torqueWords(f *sheet.Fastener) []string {
	words := []string{lang.T("The maker’s manual decides. Type the one value to aim for. If you cannot find it, leave it open: the job asks again, and lets nobody make it final without.")}
	if f.Prepare != "" {
		words = append(words, lang.F("The thread, as this layout has it: %s", lower(lang.T(f.Prepare))))
	}
	if f.Bushed {
		words = append(words, lang.T("It clamps a rubber bush: it is made final at ride height."))
	}
	return words
}

// sides are the two ways of an angle that is never typed with a sign.
var sides = map[event.Quantity][2]string{
	event.Camber:   {"The top leans out (plus)", "The top leans in (minus)"},
	event.Caster:   {"The top leans back (plus)", "The top leans forward (minus)"},
	event.TotalToe: {"Toe in: closer in front", "Toe out: wider in front"},
}

func targetForm(o *own, axle event.Axle, q event.Quantity) *ownForm {
	if !axle.Valid() || !slices.Contains(targetsOf(axle), q) {
		return nil
	}
	i := slices.IndexFunc(o.Start.Targets, func(t sheet.Target) bool { return t.Quantity == q && t.Axle == axle })
	known := i >= 0
	t := sheet.Target{Quantity: q, Axle: axle}
	if known {
		t = o.Start.Targets[i]
	} else {
		i = len(o.Start.Targets)
	}
	f := &ownForm{key: formTarget + string(axle) + "." + string(q), title: lang.F("Target: %s, %s", lang.T(q.Words()), axleWords(axle)), source: func() string { return t.Source }}
	size, side := max(t.Mdeg, -t.Mdeg), ""
	if known {
		side = map[bool]string{false: "plus", true: "minus"}[t.Mdeg < 0]
	}
	if q.Unit() == event.UM {
		f.words = []string{lang.T("From the hub centre straight up to the arch edge.")}
		f.fields = []ownField{{name: "value", label: lang.T("Height"), kind: method.Length, number: &t.UM, must: lang.T("The height is missing.")},
			{name: "tolerance", label: lang.T("Plus or minus"), kind: method.Length, number: &t.TolUM, known: known, must: lang.T("The tolerance is missing.")}}
	} else {
		if q == event.TotalToe {
			f.words = []string{lang.F("Both wheels of the axle together. Given as a length? The calculator “%s” turns it into an angle, with the diameter that your page names.", lang.T(method.Find("toe_convert").Title))}
		}
		f.fields = []ownField{{name: "value", label: capital(lang.T(q.Words())), kind: method.Angle, number: &size, known: known, must: lang.T("The angle is missing.")},
			{name: "side", label: lang.T("Which way"), kind: method.Choice, text: &side,
				options: []templates.Choice{{Value: "", Label: lang.T("Choose")}, {Value: "plus", Label: lang.T(sides[q][0])}, {Value: "minus", Label: lang.T(sides[q][1])}}},
			{name: "tolerance", label: lang.T("Plus or minus"), kind: method.Angle, number: &t.TolMdeg, known: known, must: lang.T("The tolerance is missing.")}}
	}
	f.fields = append(f.fields, ownField{name: "source", label: lang.T("Source: document and page"), kind: method.Text, text: &t.Source, must: lang.T("A target needs its source.")})
	f.keep = func() error {
		if size > 0 && side == "" {
			return fault.New(fault.Invalid, "Which way it leans or points is not chosen.", "Choose it. What you typed is still here.")
		}
		t.Mdeg = map[string]int64{"plus": size, "minus": -size}[side]
		o.Start.Targets = put(o.Start.Targets, i, t)
		return nil
	}
	if known {
		f.dropWords, f.drop = lang.T("No target here"), func() { o.Start.Targets = without(o.Start.Targets, i) }
	}
	return f
}

// targetsOf are the readings that an axle can have a target for.
func targetsOf(axle event.Axle) []event.Quantity {
	if axle == event.Rear {
		return []event.Quantity{event.RideHeight, event.Camber, event.TotalToe}
	}
	return []event.Quantity{event.RideHeight, event.Camber, event.Caster, event.TotalToe}
}

// damperForm asks for the clicks of one knob: "front." has one knob in all.
func damperForm(o *own, which string) *ownForm {
	axle, knob, split := strings.Cut(which, ".")
	if !event.Axle(axle).Valid() || !split || !slices.Contains(knobs, knob) {
		return nil
	}
	i := slices.IndexFunc(o.Start.Dampers, func(d sheet.Damper) bool { return string(d.Axle) == axle && d.Knob == knob })
	known := i >= 0
	d := sheet.Damper{Axle: event.Axle(axle), Knob: knob}
	stop := ""
	if known {
		d = o.Start.Dampers[i]
		stop = strconv.FormatInt(d.StopCounts, 10)
	} else {
		i = len(o.Start.Dampers)
	}
	title := lang.F("Damper clicks, %s", axleWords(d.Axle))
	if knob != "" {
		title += ", " + knobWords(knob)
	}
	f := &ownForm{key: formDamper + which, title: title, source: func() string { return d.Source },
		words: []string{lang.T("As the maker of the dampers counts them. Makers differ: read the rule on its page.")},
		fields: []ownField{
			{name: "clicks", label: lang.T("Clicks"), kind: method.Count, number: &d.Clicks, known: known, must: lang.T("The clicks are missing.")},
			{name: "from", label: lang.T("Counted from"), kind: method.Choice, text: &d.From, must: lang.T("The end stop is not chosen."), options: []templates.Choice{{Value: "", Label: lang.T("Choose")}, {Value: "full_hard", Label: lang.T("Full hard")}, {Value: "full_soft", Label: lang.T("Full soft")}}},
			{name: "stop", label: lang.T("The stop itself counts"), kind: method.Choice, text: &stop, must: lang.T("It is not chosen what the stop itself counts."), options: []templates.Choice{{Value: "", Label: lang.T("Choose")}, {Value: "0", Label: lang.T("0: the first click after it is 1")}, {Value: "1", Label: lang.T("1: the stop is the first")}}},
			{name: "total", label: lang.T("From stop to stop, if the page says"), kind: method.Count, number: &d.Total},
			{name: "source", label: lang.T("Source: document and page"), kind: method.Text, text: &d.Source, must: lang.T("The clicks need their source.")},
		}}
	f.keep = func() error {
		d.StopCounts = map[string]int64{"1": 1}[stop]
		o.Start.Dampers = put(o.Start.Dampers, i, d)
		return nil
	}
	if known {
		f.dropWords, f.drop = lang.T("No clicks here"), func() { o.Start.Dampers = without(o.Start.Dampers, i) }
	}
	return f
}

// knobs that a damper can have: one for all, or one for each direction.
var knobs = []string{"", "bump", "rebound"}

func perchForm(o *own, axle event.Axle) *ownForm {
	if !axle.Valid() {
		return nil
	}
	i := slices.IndexFunc(o.Start.Perches, func(p sheet.Perch) bool { return p.Axle == axle })
	known := i >= 0
	p := sheet.Perch{Axle: axle}
	if known {
		p = o.Start.Perches[i]
	} else {
		i = len(o.Start.Perches)
	}
	f := &ownForm{key: formPerch + string(axle), title: lang.F("Spring perches, %s", axleWords(axle)), source: func() string { return p.Source },
		words: []string{lang.T("Where they are set to begin with. The height on the ground decides in the end.")},
		fields: []ownField{
			{name: "length", label: lang.T("Length"), kind: method.Length, number: &p.UM, must: lang.T("The length is missing.")},
			{name: "from", label: lang.T("Measured from what to what"), kind: method.Text, text: &p.From, must: lang.T("It is not said what the length is measured from.")},
			{name: "source", label: lang.T("Source: document and page"), kind: method.Text, text: &p.Source, must: lang.T("The perches need their source.")},
		}}
	f.keep = func() error {
		if p.UM == 0 {
			return fault.New(fault.Invalid, "The length is missing.", "What you typed is still here.")
		}
		o.Start.Perches = put(o.Start.Perches, i, p)
		return nil
	}
	if known {
		f.dropWords, f.drop = lang.T("No length here"), func() { o.Start.Perches = without(o.Start.Perches, i) }
	}
	return f
}
