package client

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/a-h/templ"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

func (c *Client) ownSheetRows() []templates.OwnRow {
	var out []templates.OwnRow
	for i := len(c.own.list) - 1; i >= 0; i-- {
		o := c.own.list[i]
		state := lang.T("not made yet")
		if o.Made > 0 {
			state = sheet.VersionWords(versionName(o.Made))
		}
		out = append(out, templates.OwnRow{ID: o.ID, Title: o.Start.Title, Vehicle: o.Start.Vehicle.Name, State: state})
	}
	return out
}

// ownScreen is an own sheet, one of its forms, or the form that begins one.
func (c *Client) ownScreen() (templ.Component, templates.Bar) {
	o, ok := c.own.find(c.view.Own)
	if ok && c.view.Form == "" {
		return templates.OwnScreen(c.ownView(o)), c.homeBar()
	}
	if !ok {
		o = own{}.clone()
	}
	key := pick(c.view.Form, formBasics)
	f := formOf(&o, key)
	if f == nil {
		return templates.HomeScreen(c.home(context.Background())), templates.Bar{}
	}
	return templates.OwnFormScreen(c.ownFormView(o, key, f)), c.homeBar()
}

func (c *Client) ownFormView(o own, key string, f *ownForm) templates.OwnForm {
	v := templates.OwnForm{Sheet: o.ID, Key: key, Title: f.title, Words: f.words, Save: lang.T("Keep it"), Drop: f.dropWords}
	if o.ID == "" {
		v.Save = lang.T("Go on")
	}
	for _, field := range f.fields {
		v.Fields = append(v.Fields, field.view(c.units, o.ID+"."+key, c.drafts))
	}
	if s, err := o.build(1); err == nil && o.ID != "" {
		v.Question, v.Confirmed = questionOf(s, f.key), confirmedWords(o.said(f.key))
		if v.Confirmed != "" {
			v.Question = ""
		}
		if v.Question != "" {
			v.Save = lang.T("Keep what I changed")
		}
	}
	return v
}

// ownView lists every form of an own sheet with what stands in it.
func (c *Client) ownView(o own) templates.Own {
	v := templates.Own{ID: o.ID, Title: o.Start.Title, Vehicle: o.Start.Vehicle.Name, Hash: o.Hash}
	basics := templates.OwnSection{Title: lang.T("Car and layout"), Rows: []templates.OwnPiece{{Key: formBasics, Label: lang.T("Car, parts and layout"), Words: layoutWords(o.Start)}}}
	s, err := o.build(1)
	if err != nil {
		v.Open, v.Sections = []templates.OwnPiece{{Key: formBasics, Label: lang.T("It cannot be made"), Words: err.Error()}}, []templates.OwnSection{basics}
		return v
	}
	if o.Made > 0 {
		v.Made, v.Changed = sheet.VersionWords(versionName(o.Made)), !o.made()
	}
	basics.Rows = append(basics.Rows, templates.OwnPiece{Key: formCar, Label: lang.T("Mass and size of the car"), Words: c.carWords(&o.Start.Vehicle)})
	v.Sections = []templates.OwnSection{basics, pointRows(o), partRows(o), c.torqueRows(o, s, &v), c.targetRows(o), damperRows(o), c.perchRows(o)}
	v.Open = append(v.Open, missingOf(o)...)
	v.Open = append(v.Open, uncounted(o, s)...)
	for i := range v.Sections {
		for j := range v.Sections[i].Rows {
			p := &v.Sections[i].Rows[j]
			if question := questionOf(s, p.Key); question != "" && o.said(p.Key) == "" {
				p.Unverified = true
				v.Open = append(v.Open, templates.OwnPiece{Key: p.Key, Label: p.Label, Words: question, Unverified: true})
			}
		}
	}
	return v
}

// missingOf is what a job can begin without, and is better not without.
func missingOf(o own) []templates.OwnPiece {
	var out []templates.OwnPiece
	if o.Start.Vehicle.MassG == 0 {
		out = append(out, templates.OwnPiece{Key: formCar, Label: lang.T("Mass of the car"), Words: lang.T("Not given. Without it nobody can tell whether jack and stands are strong enough.")})
	}
	if len(o.Start.Vehicle.Points) == 0 {
		out = append(out, templates.OwnPiece{Key: formPoint + another, Label: lang.T("Jack and stand points"), Words: lang.T("Not given. They stand in the car maker’s manual, and are better known before the car goes up.")})
	}
	if len(o.Start.Parts) == 0 {
		out = append(out, templates.OwnPiece{Key: formPart + another, Label: lang.T("Parts in the box"), Words: lang.T("None is listed, so that none can be missed.")})
	}
	return out
}

// uncounted are the groups whose number is still the layout's own: a nut that the
// sheet does not know of is asked for by nobody.
func uncounted(o own, s *sheet.Sheet) []templates.OwnPiece {
	var out []templates.OwnPiece
	for i := range s.Fasteners {
		f := &s.Fasteners[i]
		key := formTorque + kindOf(f)
		listed := slices.ContainsFunc(out, func(p templates.OwnPiece) bool { return p.Key == key })
		if f.Count > 1 && o.Start.Torques[kindOf(f)].Count == 0 && !listed {
			out = append(out, templates.OwnPiece{Key: key, Label: kindWords(f), Words: lang.F("Taken for now: %d at each place. Count them at the car.", f.Count)})
		}
	}
	return out
}

func layoutWords(start sheet.Start) string {
	front, rear := patternChoices()
	title := func(choices []templates.Choice, id sheet.PatternID) string {
		for _, choice := range choices {
			if choice.Value == string(id) {
				return lower(choice.Label)
			}
		}
		return lang.T("not touched")
	}
	return lang.F("Front: %s. Rear: %s.", title(front, start.Front), title(rear, start.Rear))
}

func (c *Client) carWords(v *sheet.Vehicle) string {
	u := c.units.OrDefault()
	var known, missing []string
	add := func(is bool, name, words string) {
		if is {
			known = append(known, words)
		} else {
			missing = append(missing, name)
		}
	}
	add(v.MassG > 0, lang.T("mass"), quantity.FormatMass(quantity.MassFromG(v.MassG), u.Mass))
	add(v.FrontShare > 0, lang.T("share on the front axle"), lang.F("%s on the front axle", quantity.Ratio(float64(v.FrontShare)/1000).String()))
	add(v.WheelbaseUM > 0, lang.T("wheelbase"), lang.F("wheelbase %s", c.units.FormatLength(quantity.LengthFromUM(v.WheelbaseUM))))
	add(v.TrackUM > 0, lang.T("track"), lang.F("track %s", c.units.FormatLength(quantity.LengthFromUM(v.TrackUM))))
	add(v.Driven != "", lang.T("driven wheels"), drivenWords(v.Driven))
	add(v.ParkingBrake != "", lang.T("parking brake"), lang.F("parking brake: %s", axleWords(v.ParkingBrake)))
	words := capital(strings.Join(known, ", "))
	if len(missing) > 0 {
		if words != "" {
			words += ". "
		}
		words += lang.F("Missing: %s", strings.Join(missing, ", "))
	}
	return words + "."
}

func drivenWords(driven string) string {
	if driven == "all" {
		return lang.T("driven: all")
	}
	return lang.F("driven: %s", axleWords(event.Axle(driven)))
}

func pointRows(o own) templates.OwnSection {
	out := templates.OwnSection{Title: lang.T("Jack and stand points"), Add: &templates.Choice{Value: formPoint + another, Label: lang.T("Add a point")}}
	for i, p := range o.Start.Vehicle.Points {
		out.Rows = append(out.Rows, templates.OwnPiece{Key: fmt.Sprint(formPoint, i), Label: useWords(p.Use) + ", " + axleWords(p.Axle), Words: strings.TrimSpace(p.Place + ". " + p.Caution)})
	}
	return out
}

func useWords(use sheet.Use) string {
	if use == sheet.UseJack {
		return lang.C("Jack", "as a place")
	}
	return lang.C("Stand", "as a place")
}

func partRows(o own) templates.OwnSection {
	out := templates.OwnSection{Title: lang.T("Parts in the box"), Add: &templates.Choice{Value: formPart + another, Label: lang.T("Add a part")}}
	for i, p := range o.Start.Parts {
		words := []string{fmt.Sprint(p.Count)}
		if p.Corner != "" {
			words = append(words, lang.T(p.Corner.Words()))
		}
		if p.Axle != "" {
			words = append(words, axleWords(p.Axle))
		}
		if p.Mark != "" {
			words = append(words, p.Mark)
		}
		out.Rows = append(out.Rows, templates.OwnPiece{Key: fmt.Sprint(formPart, i), Label: p.Name, Words: strings.Join(words, ", ")})
	}
	return out
}

// torqueRows has one row for each kind of fastener that the layouts have, and
// says in v how many are known.
func (c *Client) torqueRows(o own, s *sheet.Sheet, v *templates.Own) templates.OwnSection {
	out := templates.OwnSection{Title: lang.T("Torques")}
	var count tally
	for i := range s.Fasteners {
		f := &s.Fasteners[i]
		key := formTorque + kindOf(f)
		if slices.ContainsFunc(out.Rows, func(p templates.OwnPiece) bool { return p.Key == key }) {
			continue
		}
		t, known := o.Start.Torques[kindOf(f)]
		count.add(known, questionOf(s, key) != "" && o.said(key) == "")
		out.Rows = append(out.Rows, templates.OwnPiece{Key: key, Label: kindWords(f), Words: c.torqueSaid(t)})
	}
	v.Torques = count.words(lang.F("Torques of %d kinds of fastener", count.all))
	return out
}

func (c *Client) torqueSaid(t sheet.Torque) string {
	if t.CNM == 0 {
		return lang.T("Look it up later, in the job.")
	}
	words := c.units.FormatTorque(quantity.TorqueFromCNM(t.CNM))
	if t.TolCNM > 0 {
		words += " ± " + c.units.FormatTorque(quantity.TorqueFromCNM(t.TolCNM))
	}
	if t.SnugCNM > 0 {
		words = lang.F("%s, snug %s", words, c.units.FormatTorque(quantity.TorqueFromCNM(t.SnugCNM)))
	}
	if t.Thread != "" {
		words = t.Thread + ": " + words
	}
	return words + ". " + t.Source
}

// tally counts torques by what is known of them.
type tally struct{ all, known, unverified int }

func (t *tally) add(known, unverified bool) {
	t.all++
	if known && !unverified {
		t.known++
	}
	if known && unverified {
		t.unverified++
	}
}

func (t tally) words(of string) string {
	return lang.F("%s: %d known, %d unverified, %d to look up in the job.", of, t.known, t.unverified, t.all-t.known-t.unverified)
}

// newJobRow says of a sheet how many of its torques are known, as the guide of a
// job that has just begun would.
func newJobRow(row templates.SheetRow, s *sheet.Sheet) templates.SheetRow {
	g := guide.New(s, job.NewLog("").State())
	var count tally
	for i := range s.Fasteners {
		f := &s.Fasteners[i]
		spec, known := g.Spec(f, f.Final())
		count.add(known, spec.Unverified())
	}
	row.Torques = count.words(lang.F("Torques of %d places", count.all))
	return row
}

// ownName is the car's name in its owner's words; a shop's sheet has none.
func ownName(s *sheet.Sheet) string {
	if s.Own {
		return s.Vehicle.Name
	}
	return ""
}

func (c *Client) targetRows(o own) templates.OwnSection {
	out := templates.OwnSection{Title: lang.T("Targets")}
	for _, axle := range event.Axles {
		for _, q := range targetsOf(axle) {
			p := templates.OwnPiece{Key: formTarget + string(axle) + "." + string(q), Label: capital(lang.T(q.Words())) + ", " + axleWords(axle), Words: lang.T("None.")}
			for _, t := range o.Start.Targets {
				if value, tol := t.Amount(); t.Axle == axle && t.Quantity == q {
					p.Words = c.units.Target(q, value, tol) + ". " + t.Source
				}
			}
			out.Rows = append(out.Rows, p)
		}
	}
	return out
}

// worked are the axles that are worked on.
func (o own) worked() []event.Axle {
	var out []event.Axle
	for axle, id := range []sheet.PatternID{o.Start.Front, o.Start.Rear} {
		if id != "" {
			out = append(out, event.Axles[axle])
		}
	}
	return out
}

// damperRows offers one knob, or one for each direction.
func damperRows(o own) templates.OwnSection {
	out := templates.OwnSection{Title: lang.T("Damper clicks")}
	for _, axle := range o.worked() {
		for _, knob := range knobs {
			p := templates.OwnPiece{Key: formDamper + string(axle) + "." + knob, Label: capital(axleWords(axle)) + ", " + pick(knobWords(knob), lang.T("one knob")), Words: lang.T("None.")}
			for _, d := range o.Start.Dampers {
				if d.Axle == axle && d.Knob == knob {
					p.Words = lang.N(int(d.Clicks), "%d click from %s, the stop counts %d. %s", "%d clicks from %s, the stop counts %d. %s", d.Clicks, lang.T(event.StopWords(d.From)), d.StopCounts, d.Source)
				}
			}
			out.Rows = append(out.Rows, p)
		}
	}
	return out
}

func (c *Client) perchRows(o own) templates.OwnSection {
	out := templates.OwnSection{Title: lang.T("Spring perches")}
	for _, axle := range o.worked() {
		p := templates.OwnPiece{Key: formPerch + string(axle), Label: capital(axleWords(axle)), Words: lang.T("None.")}
		for _, perch := range o.Start.Perches {
			if perch.Axle == axle {
				p.Words = c.units.FormatLength(quantity.LengthFromUM(perch.UM)) + " " + perch.From + ". " + perch.Source
			}
		}
		out.Rows = append(out.Rows, p)
	}
	return out
}
