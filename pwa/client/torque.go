package client

import (
	"cmp"
	"context"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/method"
	"strutcard/sync/plausible"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// torque is the sheet for one pass: the number to set on the wrench.
func (c *Client) torque(g guide.Guide, f *sheet.Fastener, p *sheet.Pass) *templates.Torque {
	spec, known := g.Spec(f, p)
	t := &templates.Torque{Place: f.Name(), Pass: passVerb(p), Why: p.Why, Source: spec.Source,
		Count: f.Count, Turn: f.Turn, Unknown: !known, Fastener: string(f.ID), PassID: string(p.ID), Invented: c.sheet.Invented}
	if f.Wheel {
		t.Turn = "" // there is no other side to hold
	}
	if spec.TorqueCNM > 0 {
		t.Done = g.Counted(sheet.PassRef{Fastener: f.ID, Pass: p.ID})
	}
	if spec.Unverified() && p.Kind != sheet.Snug {
		t.Unverified = spec.Questioned
	}
	if t.Unknown || t.Unverified != "" {
		t.Form = c.specForm(g, f, f.Final())
		return t
	}
	if spec.AngleMdeg > 0 && p.Kind == sheet.Angle {
		t.Angle = angleWords(spec.AngleMdeg)
		return t
	}
	if spec.TorqueCNM == 0 {
		t.Source = ""
		return t
	}
	t.Figure, t.Unit = c.units.TorqueFigure(quantity.TorqueFromCNM(spec.TorqueCNM)), string(c.units.OrDefault().Torque)
	if spec.TolCNM > 0 {
		t.Band = lang.F("Allowed: %s to %s", c.units.FormatTorque(quantity.TorqueFromCNM(spec.TorqueCNM-spec.TolCNM)), c.units.FormatTorque(quantity.TorqueFromCNM(spec.TorqueCNM+spec.TolCNM)))
	}
	c.withWrench(t, g, f, p)
	return t
}

func (c *Client) specForm(g guide.Guide, f *sheet.Fastener, p *sheet.Pass) *templates.SpecForm {
	form := &templates.SpecForm{Fastener: string(f.ID), Pass: string(p.ID), Place: f.Name(),
		Unit: c.drafts["spec.unit"], Units: torqueUnits()}
	if spec, known := g.Spec(f, p); known && spec.GivenN > 0 {
		form.Value, form.Source, form.Question = c.units.TorqueFigure(quantity.TorqueFromCNM(spec.TorqueCNM)), spec.Source, spec.Questioned
		form.Unit = pick(form.Unit, string(c.units.OrDefault().Torque))
	}
	return form
}

// giveSpec records a torque that was looked up, with its source. What looks
// implausible, or cannot be judged, is recorded as a question that the person
// must settle: until then there is no final pass.
func giveSpec(c *Client, ctx context.Context, args map[string]string) error {
	f := c.findFastener(args["fastener"])
	if f == nil {
		return fault.New(fault.NotFound, "This sheet has no such fastener.", "Go back to the step.")
	}
	if strings.TrimSpace(args["source"]) == "" {
		return fault.New(fault.Invalid, "A torque needs its source.", "Write the document and the page. If you have none, do not guess: ask.")
	}
	cnm, err := torqueIn(args["value"], args["unit"])
	if err != nil {
		return err
	}
	pass := f.Pass(event.PassID(args["pass"]))
	if pass == nil {
		return fault.New(fault.NotFound, "This sheet has no such pass.", "Go back to the step.")
	}
	typed := *pass
	typed.TorqueCNM, typed.TolCNM = cnm, 0 // a tolerance belongs to the number it came with
	p := &event.SpecGiven{Fastener: f.ID, Pass: pass.ID, TorqueCNM: cnm, Source: strings.TrimSpace(args["source"]),
		Questioned: cmp.Or(plausible.Torque(f, &typed), plausible.ReadBack(f, &typed))}
	// Only the number that was asked about can be kept, and only after the question.
	asked := c.log.State().Specs[f.ID][pass.ID]
	p.Confirmed = args["confirm"] == "yes" && p.Questioned != "" && asked.TorqueCNM == cnm && asked.Questioned == p.Questioned
	if err := c.record(ctx, p); err != nil {
		return err
	}
	if p.Questioned == "" || p.Confirmed { // until then the value stands as it was typed
		c.dropDrafts(ctx, "spec.value", "spec.source", "spec.unit")
	}
	return nil
}

func (c *Client) findFastener(id string) *sheet.Fastener {
	if c.sheet == nil {
		return nil
	}
	return c.sheet.Fastener(event.FastenerID(id))
}

// withAdapter opens the calculator with the torque that stands on the screen.
func withAdapter(c *Client, ctx context.Context, args map[string]string) error {
	g, ok := c.guide()
	if !ok {
		return fault.New(fault.NotFound, "There is no job open.", "Open one first.")
	}
	f := c.sheet.Fastener(event.FastenerID(args["fastener"]))
	if f == nil || f.Pass(event.PassID(args["pass"])) == nil {
		return fault.New(fault.NotFound, "This sheet has no such pass.", "Go back to the step.")
	}
	spec, known := g.Spec(f, f.Pass(event.PassID(args["pass"])))
	if !known || spec.TorqueCNM == 0 || spec.Unverified() {
		return fault.New(fault.Invalid, "The torque of this pass is not known for sure.", "Look it up first, with its source.")
	}
	m := method.Find("torque_adapter")
	c.drafts[draftMethod+m.ID+".target"] = c.units.TorqueFigure(quantity.TorqueFromCNM(spec.TorqueCNM))
	c.saveJSON(ctx, metaDrafts, c.drafts)
	return goMethod(c, ctx, map[string]string{"method": m.ID})
}
