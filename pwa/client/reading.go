package client

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

const defaultLoad = "as it stands, nobody in the car"

// Keys of half-typed values. What stays for the next reading, a span or a ruler's
// mark, is kept by method; the rest by method and place, so that the numbers of
// one wheel never stand in the form of another.
const (
	draftMethod = "m."     // + method + ["@" + place] + "." + field
	draftTakes  = "takes." // + method + "." + place
	draftWay    = "way."   // + quantity: the method chosen for it
	draftLoad   = "m.load"
)

func isMethodDraft(key string) bool { return strings.HasPrefix(key, draftMethod) }

// wanted is one reading to take: of what, where, and what for. Without a job
// only the method is known.
type wanted struct {
	method  *method.Method
	q       event.Quantity
	at      event.Place
	purpose event.Purpose
}

// want finds the method for a reading: the one chosen, else the usual one.
func (c *Client) want(q event.Quantity, at event.Place, p event.Purpose) wanted {
	ways := method.For(q)
	w := wanted{q: q, at: at, purpose: p}
	for i := range ways {
		if w.method == nil || ways[i].ID == c.drafts[draftWay+string(q)] {
			w.method = &ways[i]
		}
	}
	return w
}

// lookup is what the method may take from the record.
func (c *Client) lookup(at event.Place) method.Record {
	r := method.Record{Sheet: c.sheet, At: at, Units: c.units, NowMS: c.cfg.Now().UnixMilli(), Level: c.level}
	if c.log != nil {
		r.State = c.log.State()
	}
	return r
}

// typed collects a method's half-typed values.
func (c *Client) typed(w wanted) map[string]string {
	out := map[string]string{}
	for _, f := range w.method.Fields {
		out[f.Name] = c.drafts[w.key(f)]
	}
	return out
}

// key is where a field's half-typed value is kept.
func (w wanted) key(f method.Field) string {
	if f.Keep || w.at == "" {
		return draftMethod + w.method.ID + "." + f.Name
	}
	return draftMethod + w.method.ID + "@" + string(w.at) + "." + f.Name
}

// methodForm shows the fields as they stand and what they come to.
func (c *Client) methodForm(w wanted) *templates.MethodForm {
	m := w.method
	typed := c.typed(w)
	record := c.lookup(w.at)
	in := m.Answers(typed, record)
	f := &templates.MethodForm{Method: m.ID, Title: m.Title, Way: m.Title, Words: m.Words, Quantity: string(w.q), Place: string(w.at), Purpose: string(w.purpose),
		Load: pick(c.drafts[draftLoad], defaultLoad), LoadDraft: draftLoad}
	for _, x := range m.Fields {
		if in.Shown(x.Name) {
			f.Fields = append(f.Fields, methodField(w.key(x), x, in, typed[x.Name] == ""))
		}
	}
	if w.q != "" {
		c.placeForm(f, w)
	} else if w.at != "" {
		f.Where = capital(w.at.Words())
	}
	out, err := m.Compute(typed, record)
	if err != nil {
		f.Problem = input(err).Error()
	} else {
		f.Result, f.Level = c.result(w, out), out.Level != nil && out.Ask == ""
	}
	f.Takes = c.takesWords(w, out.Reading)
	return f
}

func methodField(key string, x method.Field, in *method.In, filled bool) templates.MethodField {
	out := templates.MethodField{Name: x.Name, Label: x.Label, Hint: x.Hint, Kind: string(x.Kind), Unit: in.Unit(x.Kind), Mode: "decimal",
		Value: in.Typed(x.Name), Draft: key, Optional: x.Optional}
	out.Filled = filled && out.Value != ""
	if x.Kind == method.Text || x.Kind == method.Angle && strings.Contains(out.Unit, "′") {
		out.Mode = "text" // the decimal keypad has no letters and no minute mark
	}
	for _, o := range x.Options {
		out.Options = append(out.Options, templates.Choice{Value: o.Value, Label: o.Label})
	}
	return out
}

// placeForm adds what belongs to a place on the car: target, left and right,
// other ways to measure, and what is in the car.
func (c *Client) placeForm(f *templates.MethodForm, w wanted) {
	f.Where = capital(guide.ReadingWords(w.q, w.at))
	f.Title = f.Where
	for _, other := range method.For(w.q) {
		if other.ID != w.method.ID {
			f.Ways = append(f.Ways, templates.Choice{Value: other.ID, Label: other.Title})
		}
	}
	f.Mover = movers[w.q]
	g, ok := c.guide()
	if !ok {
		return
	}
	if t := c.sheet.Target(w.q, w.at.Axle()); t != nil && w.purpose != event.Before {
		f.Target = c.target(t)
	}
	for _, at := range w.q.Places() {
		if at.Axle() == w.at.Axle() {
			f.Beside = append(f.Beside, c.besideRow(g, w, at))
		}
	}
	if last := lastLoad(g.State); last != "" && last != f.Load {
		f.LoadNote = "The readings before were taken with: " + last + ". Do not compare the two kinds."
	}
}

// movers are the calculators that say how far to move the adjuster of a quantity.
var movers = map[event.Quantity]string{event.Camber: "adjust_learned", event.Caster: "adjust_learned", event.Toe: "adjust_learned",
	event.RideHeight: "adjust_learned_height", event.TotalToe: "track_rod"}

func (c *Client) target(t *sheet.Target) string {
	value, tolerance := t.Amount()
	return c.units.Target(t.Quantity, value, tolerance)
}

// lastLoad is what was in the car at the last reading of the car's stance.
func lastLoad(st *job.State) string {
	for _, r := range slices.Backward(st.Readings) {
		if r.Quantity != event.TyrePressure && r.Quantity != event.FloorSlope {
			return r.Load
		}
	}
	return ""
}

func (c *Client) besideRow(g guide.Guide, w wanted, at event.Place) templates.BesideRow {
	row := templates.BesideRow{Words: capital(at.Words()), Here: at == w.at}
	if r := g.State.Reading(w.q, at, event.Before); r != nil {
		row.Before = c.units.Reading(&r.ReadingTaken)
	}
	r := g.Latest(w.q, at)
	if r == nil {
		return row
	}
	row.Now = c.units.Reading(&r.ReadingTaken)
	if row.Stale = g.Stale(r); row.Stale == "" {
		verdict := g.Verdict(r)
		row.Verdict, row.VerdictMark = verdict.Words(), string(verdict)
	}
	return row
}

func (c *Client) result(w wanted, r method.Result) *templates.Result {
	out := &templates.Result{Value: r.Figure, Words: r.Words, Line: r.Line, Rows: r.Rows, Ask: r.Ask, Draw: r.Picture}
	for _, w := range r.Warn {
		switch {
		case strings.HasPrefix(w, "Stop:"):
			out.Stops = append(out.Stops, w)
		case len(out.Warn) < shownWarnings:
			out.Warn = append(out.Warn, w)
		default:
			out.More = append(out.More, w)
		}
	}
	if g, ok := c.guide(); ok && r.Reading != nil && w.at != "" && w.purpose != event.Before {
		verdict := g.Judge(reading(w, *r.Reading))
		out.Verdict, out.VerdictMark = verdict.Words(), string(verdict)
	}
	return out
}

// shownWarnings is how many limits are shown without a tap: more are not read.
const shownWarnings = 3

// reading makes the payload of a computed value.
func reading(w wanted, r method.Reading) *event.ReadingTaken {
	p := &event.ReadingTaken{Quantity: w.q, Purpose: w.purpose, Method: w.method.Title, Formula: r.Formula, Instrument: r.Instrument}
	if p.Corner = w.at.Corner(); p.Corner == "" {
		p.Axle = w.at.Axle()
	}
	p.SetAmount(r.Value, r.U95)
	return p
}

// takes are the readings taken so far of one thing by one method.
func (c *Client) takes(w wanted) []method.Reading {
	var out []method.Reading
	_ = json.Unmarshal([]byte(c.drafts[takesKey(w)]), &out) // what cannot be read was never taken
	return out
}

func takesKey(w wanted) string { return draftTakes + w.method.ID + "." + string(w.at) }

// takesWords lists the takes and their mean, with the one being typed.
func (c *Client) takesWords(w wanted, now *method.Reading) string {
	takes := c.takes(w)
	if len(takes) == 0 {
		return ""
	}
	if now != nil {
		takes = append(takes, *now)
	}
	mean, err := method.Average(takes)
	if err != nil {
		return ""
	}
	var each []string
	for _, t := range takes {
		each = append(each, c.units.Value(w.q, t.Value))
	}
	return fmt.Sprintf("%d takes: %s. Their mean: %s.", len(takes), strings.Join(each, ", "), c.units.Reading(reading(w, mean)))
}

// takeReading records a reading, or with "again" keeps it as one take of several.
func takeReading(c *Client, ctx context.Context, args map[string]string) error {
	w := c.want(event.Quantity(args["quantity"]), event.Place(args["place"]), event.Purpose(args["purpose"]))
	if m := method.Find(args["method"]); m != nil && m.Sets == w.q {
		w.method = m
	}
	if w.method == nil || w.at == "" {
		return fault.New(fault.Invalid, "There is nothing to record here.", "Open the reading from a step, or from Measure.")
	}
	record := c.lookup(w.at)
	in := w.method.Answers(args, record)
	out, err := w.method.Compute(args, record)
	takes := c.takes(w)
	switch {
	case err != nil && (len(takes) == 0 || c.anyTyped(w.method, args)):
		return input(err)
	case err == nil && out.Ask != "" && args["sure"] == "":
		return fault.New(fault.Invalid, out.Ask, "Measure again. If it is so, say so and record it; nothing was recorded yet.")
	case err == nil && out.Reading == nil:
		return fault.New(fault.Invalid, "This gives nothing that can be recorded.", "Use it to work something out.")
	case err == nil:
		takes = append(takes, *out.Reading)
	}
	if args["again"] != "" {
		return c.keepTake(ctx, w, takes)
	}
	mean, err := method.Average(takes)
	if err != nil {
		return input(err)
	}
	if low, high := w.q.Range(); mean.Value < low || mean.Value > high {
		return fault.New(fault.Invalid, fmt.Sprintf("%s is outside what %s can be, %s to %s. Nothing was recorded.", c.units.Value(w.q, mean.Value), w.q.Words(), c.units.Value(w.q, low), c.units.Value(w.q, high)),
			"Look at the number, its unit, and whether it stands in the right field.")
	}
	p := reading(w, mean)
	p.Inputs, p.Load = in.Inputs(), strings.TrimSpace(args["load"])
	if out.Ask != "" {
		p.Inputs = append(p.Inputs, event.Input{Name: "questioned", Text: out.Ask})
	}
	for _, t := range takes {
		if len(takes) > 1 {
			p.Takes = append(p.Takes, t.Value)
		}
	}
	if err := c.record(ctx, p); err != nil {
		return err
	}
	c.dropDrafts(ctx, append(spent(w), takesKey(w))...)
	if c.view.Place == "reading" {
		c.view.Place = "measure"
	}
	return nil
}

// anyTyped reports whether something that one take needs is typed: then an
// error in it is shown, rather than recording the takes before it.
func (c *Client) anyTyped(m *method.Method, args map[string]string) bool {
	return slices.ContainsFunc(m.Fields, func(f method.Field) bool { return !f.Keep && args[f.Name] != "" })
}

const mostTakes = 50

func (c *Client) keepTake(ctx context.Context, w wanted, takes []method.Reading) error {
	if len(takes) > mostTakes {
		return fault.New(fault.Invalid, "That is more takes than make sense.", "Record the mean of these.")
	}
	text, err := json.Marshal(takes)
	if err != nil {
		return fault.Wrap(err, fault.Internal, "The take could not be kept.", "Record each reading alone.")
	}
	c.drafts[takesKey(w)] = string(text)
	c.dropDrafts(ctx, spent(w)...)
	c.message = &templates.Message{Text: "Kept as take " + strconv.Itoa(len(takes)) + ". Take the instrument away, put it back, and read again.", Hint: "Not recorded yet."}
	return nil
}

// spent lists the fields that the next reading asks anew.
func spent(w wanted) []string {
	var out []string
	for _, f := range w.method.Fields {
		if !f.Keep {
			out = append(out, w.key(f))
		}
	}
	return out
}

// chooseWay remembers how a quantity is measured.
func chooseWay(c *Client, ctx context.Context, args map[string]string) error {
	if m := method.Find(args["method"]); m != nil && m.Sets != "" {
		c.drafts[draftWay+string(m.Sets)] = m.ID
		c.saveJSON(ctx, metaDrafts, c.drafts)
	}
	return nil
}

// keepLevel keeps the calibration that a method just computed.
func keepLevel(c *Client, ctx context.Context, args map[string]string) error {
	m := method.Find(args["method"])
	if m == nil {
		return fault.New(fault.Invalid, "There is nothing to keep.", "Read the phone in each place first.")
	}
	w := wanted{method: m}
	out, err := m.Compute(c.typed(w), c.lookup(""))
	switch {
	case err != nil:
		return input(err)
	case out.Level == nil || out.Ask != "":
		return fault.New(fault.Invalid, pick(out.Ask, "There is nothing to keep."), "Read the phone in each place again.")
	}
	c.level = out.Level
	c.saveJSON(ctx, metaLevel, c.level)
	c.dropDrafts(ctx, spent(w)...)
	c.message = &templates.Message{Text: "This phone is a level until tomorrow, in this case or without one as said.", Hint: "Now measure camber with “This phone as a level”."}
	return nil
}

// goMethod opens a calculator by itself, or for a place on the car.
func goMethod(c *Client, _ context.Context, args map[string]string) error {
	c.view.Place, c.view.Method, c.view.At = "method", args["method"], event.Place(args["place"])
	return nil
}

// methods lists every calculator.
func methods() []templates.MethodGroup {
	var out []templates.MethodGroup
	for _, m := range method.All() {
		if len(out) == 0 || out[len(out)-1].Title != string(m.Group) {
			out = append(out, templates.MethodGroup{Title: string(m.Group)})
		}
		row := templates.MethodRow{ID: m.ID, Title: m.Title}
		if m.Sets != "" {
			row.Gives = "gives " + m.Sets.Words()
		}
		last := &out[len(out)-1]
		last.Methods = append(last.Methods, row)
	}
	return out
}
