package client

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/method"
	"strutcard/sync/plausible"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// Names of the forms of an own sheet. Those that end in a point go on with what
// they are about: "torque.strut_top_front", "target.front.camber", "part.2".
const (
	formBasics = "basics"
	formCar    = "car"
	formPoint  = "point."
	formPart   = "part."
	formTorque = "torque."
	formTarget = "target."
	formDamper = "damper."
	formPerch  = "perch."

	another   = "new"  // in place of a number: one more of them
	untouched = "none" // a layout: nothing is done at this axle
)

// ownForm is one form, bound to a copy of the own sheet that it changes.
type ownForm struct {
	key, title string // the key of what it keeps: a new part has one, too
	words      []string
	fields     []ownField
	source     func() string
	keep       func() error // puts the answers into the sheet
	drop       func()       // takes them out; nil where nothing can be
	dropWords  string
}

func formOf(o *own, key string) *ownForm {
	rest := func(prefix string) string { return strings.TrimPrefix(key, prefix) }
	switch {
	case key == formBasics:
		return basicsForm(o)
	case key == formCar:
		return carForm(o)
	case strings.HasPrefix(key, formPoint):
		return pointForm(o, rest(formPoint))
	case strings.HasPrefix(key, formPart):
		return partForm(o, rest(formPart))
	case strings.HasPrefix(key, formTorque):
		return torqueForm(o, rest(formTorque))
	case strings.HasPrefix(key, formTarget):
		axle, q, _ := strings.Cut(rest(formTarget), ".")
		return targetForm(o, event.Axle(axle), event.Quantity(q))
	case strings.HasPrefix(key, formDamper):
		return damperForm(o, rest(formDamper))
	case strings.HasPrefix(key, formPerch):
		return perchForm(o, event.Axle(rest(formPerch)))
	}
	return nil
}

// at is a place in a list of n: its index, n for one more, or -1 for none.
func at(text string, n int) int {
	if text == another {
		return n
	}
	if i, err := strconv.Atoi(text); err == nil && i >= 0 && i < n {
		return i
	}
	return -1
}

// pieceOf is a sheet with nothing in it but what one form keeps.
func pieceOf(s *sheet.Sheet, key string) sheet.Sheet {
	var out sheet.Sheet
	kind, rest, _ := strings.Cut(key, ".")
	switch kind + "." {
	case formCar + ".":
		out.Vehicle = s.Vehicle
	case formTorque:
		for _, f := range s.Fasteners {
			if kindOf(&f) == rest && len(out.Fasteners) == 0 {
				out.Fasteners = append(out.Fasteners, f)
			}
		}
	case formTarget:
		axle, q, _ := strings.Cut(rest, ".")
		if t := s.Target(event.Quantity(q), event.Axle(axle)); t != nil {
			out.Targets = append(out.Targets, *t)
		}
	case formDamper:
		axle, knob, _ := strings.Cut(rest, ".")
		if d := s.Damper(event.Axle(axle), knob); d != nil {
			out.Dampers = append(out.Dampers, *d)
		}
	case formPerch:
		if p := s.Perch(event.Axle(rest)); p != nil {
			out.Perches = append(out.Perches, *p)
		}
	}
	return out
}

// questionOf is what looks implausible in a form, or cannot be judged; "" is
// nothing.
func questionOf(s *sheet.Sheet, key string) string {
	piece := pieceOf(s, key)
	for _, d := range plausible.Sheet(&piece) {
		return d.Text
	}
	return ""
}

// content is a form with all that stands in it, as a key of confirmations.
func (o own) content(form string) string {
	start := sheet.Sheet{Vehicle: o.Start.Vehicle, Targets: o.Start.Targets, Dampers: o.Start.Dampers, Perches: o.Start.Perches}
	start.Vehicle.Points = nil // one more point leaves the numbers as they were
	piece := pieceOf(&start, form)
	text, err := json.Marshal(struct {
		*sheet.Sheet
		Torque sheet.Torque
	}{&piece, o.Start.Torques[strings.TrimPrefix(form, formTorque)]})
	if err != nil {
		panic("client: a struct of strings and integers failed to marshal: " + err.Error())
	}
	return form + " " + string(text)
}

// kindOf is the name under which all fasteners of one kind have their torque.
// What two layouts call alike need not be alike; wheel nuts are.
func kindOf(f *sheet.Fastener) string {
	stem := strings.TrimSuffix(string(f.ID), "_"+string(f.Corner))
	if f.Wheel {
		return stem
	}
	return stem + "_" + string(f.Corner.Axle())
}

func basicsForm(o *own) *ownForm {
	front, rear := patternChoices()
	axles := map[event.Axle]*string{}
	begun := o.Start.Title != ""
	for axle, id := range map[event.Axle]sheet.PatternID{event.Front: o.Start.Front, event.Rear: o.Start.Rear} {
		text := string(id)
		if id == "" && begun {
			text = untouched
		}
		axles[axle] = &text
	}
	choose := []templates.Choice{{Value: "", Label: lang.T("Choose the layout")}}
	none := templates.Choice{Value: untouched, Label: lang.T("Not touched in this job")}
	f := &ownForm{key: formBasics, title: lang.T("My own sheet"),
		words: []string{lang.T("Choose the layout at each end. There are no default torques: you type each with the page of your workshop manual, now or in the job."),
			lang.T("Air springs, active dampers, or a spring that must be compressed by hand: stop. There is no layout for them here. It is work for a workshop.")},
		fields: []ownField{
			{name: "vehicle", label: lang.T("Car, in your own words"), kind: method.Text, text: &o.Start.Vehicle.Name, must: lang.T("The car has no name yet.")},
			{name: "kit", label: lang.T("Parts going on"), kind: method.Text, text: &o.Start.Title, must: lang.T("The parts have no name yet.")},
			{name: "front", label: lang.T("Front suspension"), kind: method.Choice, text: axles[event.Front], must: lang.T("The front suspension is not chosen."), options: append(append(choose, front...), none)},
			{name: "rear", label: lang.T("Rear suspension"), kind: method.Choice, text: axles[event.Rear], must: lang.T("The rear suspension is not chosen."), options: append(append(choose[:1:1], rear...), none)},
		}}
	f.keep = func() error {
		o.Start.Front, o.Start.Rear = layoutOf(*axles[event.Front]), layoutOf(*axles[event.Rear])
		if o.Start.Front == "" && o.Start.Rear == "" {
			return fault.New(fault.Invalid, "No axle is worked on.", "Choose the layout of at least one axle.")
		}
		if !begun {
			o.Start.Parts = []sheet.Part{{ID: "kit", Name: o.Start.Title, Count: 1}}
		}
		return nil
	}
	f.source = func() string { return "" }
	return f
}

func layoutOf(text string) sheet.PatternID {
	if text == untouched {
		return ""
	}
	return sheet.PatternID(text)
}

func patternChoices() (front, rear []templates.Choice) {
	for _, p := range sheet.Patterns() {
		for _, axle := range p.Axles {
			choice := templates.Choice{Value: string(p.ID), Label: lang.T(p.Title)}
			if axle == event.Front {
				front = append(front, choice)
			} else {
				rear = append(rear, choice)
			}
		}
	}
	return front, rear
}

// axleChoices are the axles, after words for none.
func axleChoices(none string) []templates.Choice {
	return []templates.Choice{{Value: "", Label: none}, {Value: "front", Label: capital(axleWords(event.Front))}, {Value: "rear", Label: capital(axleWords(event.Rear))}}
}

func carForm(o *own) *ownForm {
	v := &o.Start.Vehicle
	brake := string(v.ParkingBrake)
	f := &ownForm{key: formCar, title: lang.T("The car"), source: func() string { return v.Source },
		words: []string{lang.T("What the lift plan, the chocks and the ratings of jack and stands are computed from. Leave open what you do not know.")},
		fields: []ownField{
			{name: "mass", label: lang.T("Mass of the empty car"), kind: method.Mass, number: &v.MassG},
			{name: "share", label: lang.T("Of it on the front axle"), kind: method.Percent, number: &v.FrontShare},
			{name: "wheelbase", label: lang.T("Wheelbase"), kind: method.Length, number: &v.WheelbaseUM},
			{name: "track", label: lang.T("Track, tyre middle to tyre middle"), kind: method.Length, number: &v.TrackUM},
			{name: "driven", label: lang.T("Driven wheels"), kind: method.Choice, text: &v.Driven, options: append(axleChoices(lang.T("Not known yet")), templates.Choice{Value: "all", Label: lang.T("All four")})},
			{name: "brake", label: lang.T("The parking brake holds"), kind: method.Choice, text: &brake, options: axleChoices(lang.T("Not known yet"))},
			{name: "source", label: lang.T("Source: document and page"), kind: method.Text, text: &v.Source, hint: lang.T("The papers of the car and its maker’s manual.")},
		}}
	f.keep = func() error {
		v.ParkingBrake = event.Axle(brake)
		if v.Source == "" && (v.MassG > 0 || v.FrontShare > 0 || v.WheelbaseUM > 0 || v.TrackUM > 0) {
			return fault.New(fault.Invalid, "These numbers have no source.", "Write the document and the page. What you typed is still here.")
		}
		return nil
	}
	return f
}

func pointForm(o *own, which string) *ownForm {
	i := at(which, len(o.Start.Vehicle.Points))
	if i < 0 {
		return nil
	}
	var p sheet.Point
	if i < len(o.Start.Vehicle.Points) {
		p = o.Start.Vehicle.Points[i]
	}
	use, axle := string(p.Use), string(p.Axle)
	f := &ownForm{key: fmt.Sprint(formPoint, i), title: lang.T("Jack or stand point"), source: func() string { return o.Start.Vehicle.Source },
		words: []string{lang.T("Only a point that the car maker’s manual names. Other places bend, slip or pierce.")},
		fields: []ownField{
			{name: "use", label: lang.T("It carries"), kind: method.Choice, text: &use, must: lang.T("It is not chosen whether jack or stand goes there."),
				options: []templates.Choice{{Value: "", Label: lang.T("Choose")}, {Value: string(sheet.UseJack), Label: lang.T("The jack")}, {Value: string(sheet.UseStand), Label: lang.T("A stand")}}},
			{name: "axle", label: lang.T("At the"), kind: method.Choice, text: &axle, must: lang.T("The axle of this point is not chosen."), options: axleChoices(lang.T("Choose"))},
			{name: "place", label: lang.T("Where, in words"), kind: method.Text, text: &p.Place, must: lang.T("The point has no place yet.")},
			{name: "caution", label: lang.T("What to watch there"), kind: method.Text, text: &p.Caution},
			{name: "source", label: lang.T("Source of the car’s points and numbers"), kind: method.Text, text: &o.Start.Vehicle.Source, must: lang.T("A point needs its source.")},
		}}
	f.keep = func() error {
		p.Use, p.Axle = sheet.Use(use), event.Axle(axle)
		o.Start.Vehicle.Points = put(o.Start.Vehicle.Points, i, p)
		return nil
	}
	if which != another {
		f.dropWords, f.drop = lang.T("Remove this point"), func() { o.Start.Vehicle.Points = without(o.Start.Vehicle.Points, i) }
	}
	return f
}
