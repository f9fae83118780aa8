package client

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

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
	out := axleChoices(templates.Choice{Label: "Anywhere"})
	for _, corner := range event.Corners {
		out = append(out, templates.Choice{Value: string(corner), Label: capital(corner.Words())})
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
	f := &ownForm{key: fmt.Sprint(formPart, i), title: "Part in the box", source: func() string { return "" },
		fields: []ownField{
			{name: "name", label: "Name", kind: method.Text, text: &p.Name, must: "The part has no name yet."},
			{name: "count", label: "How many", kind: method.Count, number: &p.Count, must: "The count is missing."},
			{name: "place", label: "It goes", kind: method.Choice, text: &place, options: places()},
			{name: "mark", label: "Mark that tells it from its mirror image", kind: method.Text, text: &p.Mark},
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
		f.dropWords, f.drop = "Remove this part", func() { o.Start.Parts = without(o.Start.Parts, i) }
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
		{name: "thread", label: "Thread, such as M12x1.5", kind: method.Text, text: &t.Thread, hint: "Leave it open where the manual does not say. Then you read the torque back in two units."},
		{name: fieldUnit, label: "Unit of the torques, as the page gives it", kind: method.Choice, text: &unit, options: torqueUnits()},
		{name: "torque", label: "Final torque", kind: method.TorqueValue, number: &t.CNM, unit: was, must: "The torque is missing. Leave it for the job if you do not know it."},
		{name: "tolerance", label: "Plus or minus, if the page says", kind: method.TorqueValue, number: &t.TolCNM, unit: was},
	}
	if fastener.Count > 1 {
		if t.Count == 0 {
			t.Count = fastener.Count
		}
		f.fields = append(f.fields, ownField{name: "count", label: "How many at each place", kind: method.Count, number: &t.Count, hint: "Count them at the car."})
	}
	if has(&fastener, sheet.Snug) {
		f.fields = append(f.fields, ownField{name: "snug", label: "Snug torque, if the page says", kind: method.TorqueValue, number: &t.SnugCNM, unit: was, hint: "Where it says none, snug is made by hand."})
	}
	if has(&fastener, sheet.Angle) {
		f.fields = append(f.fields, ownField{name: "angle", label: "Then turned on by", kind: method.Angle, number: &t.AngleMdeg})
	}
	f.fields = append(f.fields, ownField{name: "source", label: "Source: document and page", kind: method.Text, text: &t.Source, must: "A torque needs its source."})
	f.keep = func() error {
		o.Start.Torques[kind], o.Units[kind] = t, quantity.TorqueUnit(unit)
		return nil
	}
	if known {
		f.dropWords, f.drop = "Take it out: look it up later, in the job", func() { delete(o.Start.Torques, kind) }
	}
	return f
}

func has(f *sheet.Fastener, kind sheet.PassKind) bool {
	return slices.ContainsFunc(f.Passes, func(p sheet.Pass) bool { return p.Kind == kind })
}

// kindWords says where all fasteners of one kind are.
func kindWords(f *sheet.Fastener) string {
	if f.Wheel {
		return f.Place
	}
	return f.Place + ", " + string(f.Corner.Axle())
}

func torqueWords(f *sheet.Fastener) []string {
	words := []string{"The maker’s manual decides. Type the one value to aim for. If you cannot find it, leave it open: the job asks again, and lets nobody make it final without."}
	if f.Prepare != "" {
		words = append(words, "The thread, as this layout has it: "+lower(f.Prepare))
	}
	if f.Bushed {
		words = append(words, "It clamps a rubber bush: it is made final at ride height.")
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
	f := &ownForm{key: formTarget + string(axle) + "." + string(q), title: "Target: " + q.Words() + ", " + string(axle), source: func() string { return t.Source }}
	size, side := max(t.Mdeg, -t.Mdeg), ""
	if known {
		side = map[bool]string{false: "plus", true: "minus"}[t.Mdeg < 0]
	}
	if q.Unit() == event.UM {
		f.words = []string{"From the hub centre straight up to the arch edge."}
		f.fields = []ownField{{name: "value", label: "Height", kind: method.Length, number: &t.UM, must: "The height is missing."},
			{name: "tolerance", label: "Plus or minus", kind: method.Length, number: &t.TolUM, known: known, must: "The tolerance is missing."}}
	} else {
		if q == event.TotalToe {
			f.words = []string{"Both wheels of the axle together. Given as a length? The calculator “Toe: length and angle” turns it into an angle, with the diameter that your page names."}
		}
		f.fields = []ownField{{name: "value", label: capital(q.Words()), kind: method.Angle, number: &size, known: known, must: "The angle is missing."},
			{name: "side", label: "Which way", kind: method.Choice, text: &side,
				options: []templates.Choice{{Value: "", Label: "Choose"}, {Value: "plus", Label: sides[q][0]}, {Value: "minus", Label: sides[q][1]}}},
			{name: "tolerance", label: "Plus or minus", kind: method.Angle, number: &t.TolMdeg, known: known, must: "The tolerance is missing."}}
	}
	f.fields = append(f.fields, ownField{name: "source", label: "Source: document and page", kind: method.Text, text: &t.Source, must: "A target needs its source."})
	f.keep = func() error {
		if size > 0 && side == "" {
			return fault.New(fault.Invalid, "Which way it leans or points is not chosen.", "Choose it. What you typed is still here.")
		}
		t.Mdeg = map[string]int64{"plus": size, "minus": -size}[side]
		o.Start.Targets = put(o.Start.Targets, i, t)
		return nil
	}
	if known {
		f.dropWords, f.drop = "No target here", func() { o.Start.Targets = without(o.Start.Targets, i) }
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
	if !event.Axle(axle).Valid() || !split || !slices.ContainsFunc(knobsOf, func(k templates.Choice) bool { return k.Value == knob }) {
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
	f := &ownForm{key: formDamper + which, title: "Damper clicks, " + axle + knobWords(knob), source: func() string { return d.Source },
		words: []string{"As the maker of the dampers counts them. Makers differ: read the rule on its page."},
		fields: []ownField{
			{name: "clicks", label: "Clicks", kind: method.Count, number: &d.Clicks, known: known, must: "The clicks are missing."},
			{name: "from", label: "Counted from", kind: method.Choice, text: &d.From, must: "The end stop is not chosen.", options: []templates.Choice{{Value: "", Label: "Choose"}, {Value: "full_hard", Label: "Full hard"}, {Value: "full_soft", Label: "Full soft"}}},
			{name: "stop", label: "The stop itself counts", kind: method.Choice, text: &stop, must: "It is not chosen what the stop itself counts.", options: []templates.Choice{{Value: "", Label: "Choose"}, {Value: "0", Label: "0: the first click after it is 1"}, {Value: "1", Label: "1: the stop is the first"}}},
			{name: "total", label: "From stop to stop, if the page says", kind: method.Count, number: &d.Total},
			{name: "source", label: "Source: document and page", kind: method.Text, text: &d.Source, must: "The clicks need their source."},
		}}
	f.keep = func() error {
		d.StopCounts = map[string]int64{"1": 1}[stop]
		o.Start.Dampers = put(o.Start.Dampers, i, d)
		return nil
	}
	if known {
		f.dropWords, f.drop = "No clicks here", func() { o.Start.Dampers = without(o.Start.Dampers, i) }
	}
	return f
}

var knobsOf = []templates.Choice{{Value: "", Label: "one knob"}, {Value: "bump", Label: "bump"}, {Value: "rebound", Label: "rebound"}}

func knobWords(knob string) string {
	if knob == "" {
		return ""
	}
	return ", " + knob
}

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
	f := &ownForm{key: formPerch + string(axle), title: "Spring perches, " + string(axle), source: func() string { return p.Source },
		words: []string{"Where they are set to begin with. The height on the ground decides in the end."},
		fields: []ownField{
			{name: "length", label: "Length", kind: method.Length, number: &p.UM, must: "The length is missing."},
			{name: "from", label: "Measured from what to what", kind: method.Text, text: &p.From, must: "It is not said what the length is measured from."},
			{name: "source", label: "Source: document and page", kind: method.Text, text: &p.Source, must: "The perches need their source."},
		}}
	f.keep = func() error {
		if p.UM == 0 {
			return fault.New(fault.Invalid, "The length is missing.", "What you typed is still here.")
		}
		o.Start.Perches = put(o.Start.Perches, i, p)
		return nil
	}
	if known {
		f.dropWords, f.drop = "No length here", func() { o.Start.Perches = without(o.Start.Perches, i) }
	}
	return f
}
