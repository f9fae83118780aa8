package client

import (
	"context"
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// Keys of half-typed values. The mark of a tape or the step of a gauge is kept by
// method: it is the same tape in every job. What else stays for the next reading
// is kept by method and job, the rest by method, job and place, so that the
// numbers of one car or wheel never stand in the form of another.
const (
	draftMethod = "m."      // + method + ["@" + job + ["/" + place]] + "." + field
	draftLoad   = "m.load@" // + job: what is in the car
	draftTakes  = "takes."  // + method + "@" + job + "/" + place
	draftWay    = "way."    // + quantity: the method chosen for it
	noJob       = "home"    // stands for the job where none is open
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
		out[f.Name] = c.drafts[c.key(w, f)]
	}
	return out
}

// key is where a field's half-typed value is kept.
func (c *Client) key(w wanted, f method.Field) string {
	id := draftMethod + w.method.ID
	switch {
	case f.Instrument:
		return id + "." + f.Name
	case f.Keep || w.at == "":
		return id + "@" + c.jobKey() + "." + f.Name
	}
	return id + "@" + c.jobKey() + "/" + string(w.at) + "." + f.Name
}

// jobKey parts what is typed for one car from what is typed for another.
func (c *Client) jobKey() string {
	if c.log == nil {
		return noJob
	}
	return string(c.log.State().Job)
}

// methodForm shows the fields as they stand and what they come to.
func (c *Client) methodForm(w wanted) *templates.MethodForm {
	m := w.method
	typed := c.typed(w)
	record := c.lookup(w.at)
	in := m.Answers(typed, record)
	f := &templates.MethodForm{Method: m.ID, Title: lang.T(m.Title), Way: lang.T(m.Title), Words: lang.T(m.Words), Quantity: string(w.q), Place: string(w.at), Purpose: string(w.purpose),
		Load: pick(c.drafts[draftLoad+c.jobKey()], lang.T(defaultLoad)), LoadDraft: draftLoad + c.jobKey()}
	fills := c.log != nil && m.Fill != nil && m.Sets == ""
	for _, x := range m.Fields {
		if in.Shown(x.Name) {
			field := methodField(c.key(w, x), x, in, typed[x.Name] == "")
			field.Typed = fills && typed[x.Name] != ""
			f.Fields = append(f.Fields, field)
		}
	}
	if w.q != "" {
		c.placeForm(f, w)
	} else if w.at != "" {
		f.Where = capital(lang.T(w.at.Words()))
	}
	out, err := m.Compute(typed, record)
	if err != nil {
		f.Problem = input(err).Error()
		for _, x := range m.Missing(typed, record) {
			f.Missing = append(f.Missing, templates.Choice{Value: x.Name, Label: lang.T(x.Label)})
		}
	} else {
		f.Result, f.Level = c.result(w, out), out.Level != nil && out.Ask == ""
	}
	c.showTakes(f, w, out.Reading)
	return f
}

func methodField(key string, x method.Field, in *method.In, filled bool) templates.MethodField {
	out := templates.MethodField{Name: x.Name, Label: lang.T(x.Label), Hint: lang.T(x.Hint), Kind: string(x.Kind), Unit: in.Unit(x.Kind), Mode: "decimal",
		Value: in.Typed(x.Name), Draft: key, Optional: x.Optional}
	out.Filled = filled && out.Value != ""
	if x.Kind == method.Text || x.Kind == method.Angle && strings.Contains(out.Unit, "′") {
		out.Mode = "text" // the decimal keypad has no letters and no minute mark
	}
	for _, o := range x.Options {
		out.Options = append(out.Options, templates.Choice{Value: o.Value, Label: lang.T(o.Label)})
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
			f.Ways = append(f.Ways, templates.Choice{Value: other.ID, Label: lang.T(other.Title)})
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
	f.BesideNote = mixedFloors(g, w.q, w.at.Axle())
	if last := lastLoad(g.State); last != "" && last != loadTyped(f.Load) {
		f.LoadNote = lang.F("The readings before were taken with: %s. Do not compare the two kinds.", strings.TrimRight(loadWords(last), ". "))
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
	row := templates.BesideRow{Words: capital(lang.T(at.Words())), Here: at == w.at}
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
	out := &templates.Result{Value: r.Figure, Words: r.Words, Line: r.Line, Rows: r.Rows, Ask: r.Ask, Draw: r.Picture, Stops: r.Stop}
	few := min(len(r.Warn), shownWarnings)
	out.Warn, out.More = r.Warn[:few], r.Warn[few:]
	if r.Reading != nil {
		c.judge(out, w, *r.Reading)
	}
	return out
}

// judge sets a value against its target, and says whether the record takes it.
func (c *Client) judge(out *templates.Result, w wanted, r method.Reading) {
	out.Refused = method.Outside(w.method.Sets, r.Value, c.units) != ""
	if g, ok := c.guide(); ok && w.at != "" && w.purpose != event.Before {
		verdict := g.Judge(reading(w, r))
		out.Verdict, out.VerdictMark = verdict.Words(), string(verdict)
	}
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
		return fault.New(fault.Invalid, pick(out.Ask, lang.T("There is nothing to keep.")), "Read the phone in each place again.")
	}
	c.level = out.Level
	c.saveJSON(ctx, metaLevel, c.level)
	c.dropDrafts(ctx, c.spent(w)...)
	c.message = &templates.Message{Text: lang.T("This phone is a level until tomorrow, in this case or without one as said."), Hint: lang.F("Now measure camber with “%s”.", lang.T(method.Find("camber_phone").Title))}
	return nil
}

// goMethod opens a calculator by itself, or for a place on the car.
func goMethod(c *Client, ctx context.Context, args map[string]string) error {
	c.view.Place, c.view.Method, c.view.At = "method", args["method"], event.Place(args["place"])
	if m := method.Find(args["method"]); m != nil {
		c.takeOver(ctx, m)
	}
	return nil
}

// takeOver makes a value that another screen left for a calculator, such as the
// torque of a pass, one of the open job.
func (c *Client) takeOver(ctx context.Context, m *method.Method) {
	for _, f := range m.Fields {
		left := draftMethod + m.ID + "." + f.Name
		if text, ok := c.drafts[left]; ok && !f.Instrument {
			delete(c.drafts, left)
			c.drafts[c.key(wanted{method: m}, f)] = text
			c.saveJSON(ctx, metaDrafts, c.drafts)
		}
	}
}

// methods lists every calculator.
func methods() []templates.MethodGroup {
	var out []templates.MethodGroup
	for _, m := range method.All() {
		if title := lang.T(string(m.Group)); len(out) == 0 || out[len(out)-1].Title != title {
			out = append(out, templates.MethodGroup{Title: title})
		}
		row := templates.MethodRow{ID: m.ID, Title: lang.T(m.Title)}
		if m.Sets != "" {
			row.Gives = lang.F("gives %s", lang.T(m.Sets.Words()))
		}
		last := &out[len(out)-1]
		last.Methods = append(last.Methods, row)
	}
	return out
}
