package client

import (
	"context"
	"encoding/json"
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/method"
	"strutcard/templates"
)

// takes are the readings taken so far of one thing by one method.
func (c *Client) takes(w wanted) []method.Reading {
	var out []method.Reading
	_ = json.Unmarshal([]byte(c.drafts[c.takesKey(w)]), &out) // what cannot be read was never taken
	return out
}

func (c *Client) takesKey(w wanted) string {
	return draftTakes + w.method.ID + "@" + c.jobKey() + "/" + string(w.at)
}

// showTakes lists the takes, with the one being typed. As soon as there are two,
// the large figure is their mean: that is what is recorded.
func (c *Client) showTakes(f *templates.MethodForm, w wanted, now *method.Reading) {
	takes := c.takes(w)
	if len(takes) == 0 {
		return
	}
	if now != nil {
		takes = append(takes, *now)
	}
	mean, err := method.Average(takes)
	if err != nil {
		return
	}
	f.Kept = true
	figure := c.units.Reading(reading(w, mean))
	f.Takes = lang.N(len(takes), "%d take: %s.", "%d takes: %s.", len(takes), c.takesWords(w, takes))
	if len(takes) > 1 {
		f.Takes += " " + lang.F("Their mean: %s. It is what is recorded.", figure)
	}
	if f.Result == nil {
		f.Result = &templates.Result{}
	} else {
		f.Result.Words = strings.TrimSpace(lang.F("This take alone: %s.", f.Result.Value) + " " + f.Result.Words)
	}
	f.Result.Value = figure
	c.judge(f.Result, w, mean)
	if f.Result.Ask == "" {
		f.Result.Ask = c.apart(w, takes)
	}
}

func (c *Client) takesWords(w wanted, takes []method.Reading) string {
	var each []string
	for _, t := range takes {
		each = append(each, c.units.Value(w.q, t.Value))
	}
	return strings.Join(each, ", ")
}

// apart asks about takes that are hardly of the same thing, or is "".
func (c *Client) apart(w wanted, takes []method.Reading) string {
	if !method.Apart(takes) {
		return ""
	}
	return lang.F("The takes lie much further apart than they can be wrong by: %s. Was top and bottom, or left and right, mixed up once? Forget the takes and begin again if so.", c.takesWords(w, takes))
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
	if args["forget"] != "" {
		return c.forgetTakes(ctx, w)
	}
	out, err := w.method.Compute(args, c.lookup(w.at))
	takes := c.takes(w)
	switch {
	case err != nil && (len(takes) == 0 || c.anyTyped(w, args)):
		return input(err)
	case err == nil && out.Reading == nil:
		return fault.New(fault.Invalid, "This gives nothing that can be recorded.", "Use it to work something out.")
	case err == nil:
		if err := c.believe(w, out.Reading.Value, out.Ask, args["sure"] != ""); err != nil {
			return err
		}
		takes = append(takes, *out.Reading)
	}
	if args["again"] != "" {
		return c.keepTake(ctx, w, takes)
	}
	return c.recordMean(ctx, w, takes, out.Ask, args)
}

// believe refuses a value that nothing can have, and asks about one that looks
// wrong until the person is sure.
func (c *Client) believe(w wanted, value int64, ask string, sure bool) error {
	if outside := method.Outside(w.q, value, c.units); outside != "" {
		return fault.New(fault.Invalid, outside, "Nothing was recorded.")
	}
	if ask != "" && !sure {
		return fault.New(fault.Invalid, ask, "Measure again. If it is so, say so and record it; nothing was recorded yet.")
	}
	return nil
}

func (c *Client) recordMean(ctx context.Context, w wanted, takes []method.Reading, ask string, args map[string]string) error {
	mean, err := method.Average(takes)
	if err != nil {
		return input(err)
	}
	questions := slices.DeleteFunc([]string{ask, c.apart(w, takes)}, func(s string) bool { return s == "" })
	if err := c.believe(w, mean.Value, strings.Join(questions, " "), args["sure"] != ""); err != nil {
		return err
	}
	p := reading(w, mean)
	p.Inputs, p.Load = w.method.Answers(args, c.lookup(w.at)).Inputs(), loadTyped(args["load"])
	for _, q := range questions {
		p.Inputs = append(p.Inputs, event.Input{Name: method.Questioned, Text: q})
	}
	for _, t := range takes {
		if len(takes) > 1 {
			p.Takes = append(p.Takes, t.Value)
		}
	}
	if err := c.record(ctx, p); err != nil {
		return err
	}
	c.dropDrafts(ctx, append(c.spent(w), c.takesKey(w))...)
	if c.view.Place == "reading" {
		c.view.Place = "measure"
	}
	return nil
}

// anyTyped reports whether something that one take needs is typed: then an
// error in it is shown, rather than recording the takes before it.
func (c *Client) anyTyped(w wanted, args map[string]string) bool {
	filled := w.method.Answers(nil, c.lookup(w.at))
	return slices.ContainsFunc(w.method.Fields, func(f method.Field) bool {
		return !f.Keep && args[f.Name] != "" && args[f.Name] != filled.Typed(f.Name)
	})
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
	c.drafts[c.takesKey(w)] = string(text)
	c.dropDrafts(ctx, c.spent(w)...)
	c.message = &templates.Message{Text: lang.F("Kept as take %d. Take the instrument away, put it back, and read again.", len(takes)), Hint: lang.T("Not recorded yet.")}
	return nil
}

func (c *Client) forgetTakes(ctx context.Context, w wanted) error {
	n := len(c.takes(w))
	c.dropDrafts(ctx, c.takesKey(w))
	c.message = &templates.Message{Text: lang.N(n, "Forgotten: %d take. Nothing was recorded.", "Forgotten: %d takes. Nothing was recorded.", n), Hint: lang.T("Read again from the start.")}
	return nil
}

// spent lists the fields that the next reading asks anew.
func (c *Client) spent(w wanted) []string {
	var out []string
	for _, f := range w.method.Fields {
		if !f.Keep {
			out = append(out, c.key(w, f))
		}
	}
	return out
}
