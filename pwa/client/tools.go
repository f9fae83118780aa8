package client

import (
	"context"
	"slices"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/kit"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// draftTool begins the names of what is half typed for one tool of a job.
func draftTool(id event.ToolID) string { return "tool." + string(id) + "." }

// toolKind is what a tool of the job is: the sheet's word, or what was recorded.
func (c *Client) toolKind(id event.ToolID) sheet.ToolKind {
	if t := c.sheet.Tool(id); t != nil {
		return t.Kind
	}
	return sheet.ToolKind(c.log.State().Tools[id].Type)
}

// toolFormOf asks for one tool, with what is recorded of it and what the owner
// keeps that could be it.
func (c *Client) toolFormOf(g guide.Guide, id event.ToolID) *templates.ToolForm {
	kind := c.toolKind(id)
	form := &templates.ToolForm{ID: string(id), Name: g.ToolName(id), Kind: string(kind), Keeps: slices.Contains(kit.Kinds, kind),
		Listed: c.view.Tool == id, Fields: c.toolFields(kind, draftTool(id))}
	if t := c.sheet.Tool(id); t != nil {
		form.Name, form.Why, form.Must = t.Name, t.Why, t.Must
	}
	if got, listed := g.State.Tools[id]; listed {
		form.Fields.Typed = c.itemOf(kind, got).Typed(c.units)
	}
	if !form.Keeps {
		return form
	}
	for _, x := range c.kit.Of(kind) {
		if at := c.listedAs(g, x); at == "" || at == id {
			form.Offers = append(form.Offers, templates.Choice{Value: string(x.ID), Label: x.Offer(c.units)})
		}
	}
	return form
}

// itemOf is a tool of a job as the register would keep it.
func (c *Client) itemOf(kind sheet.ToolKind, t job.Tool) kit.Item {
	return kit.Item{Kind: kind, Label: t.Label, Checked: t.Checked, RatingG: t.RatingG, Pair: t.Pair, LowCNM: t.LowCNM, HighCNM: t.HighCNM,
		Unit: string(c.units.OrDefault().Torque), Class: t.Class, Tolerance: t.Tolerance, LengthUM: t.LengthUM, Across: t.Across}
}

// listedAs is the place that a tool of the owner's has in this job, or "".
func (c *Client) listedAs(g guide.Guide, x kit.Item) event.ToolID {
	for _, id := range c.answeredFor(g) {
		if got := g.State.Tools[id]; got.Have && c.toolKind(id) == x.Kind {
			if m := c.kit.Match(id, got); m != nil && m.ID == x.ID {
				return id
			}
		}
	}
	return ""
}

// answeredFor is every tool that was answered for: the sheet's, then the owner's own.
func (c *Client) answeredFor(g guide.Guide) []event.ToolID {
	var out []event.ToolID
	for _, t := range c.sheet.Tools {
		if _, known := g.State.Tools[t.ID]; known {
			out = append(out, t.ID)
		}
	}
	for _, kind := range kit.Kinds {
		for _, id := range g.AtHand(kind) {
			if c.sheet.Tool(id) == nil {
				out = append(out, id)
			}
		}
	}
	return out
}

func listTool(c *Client, ctx context.Context, args map[string]string) error {
	g, ok := c.guide()
	if !ok {
		return fault.New(fault.NotFound, "No job is open.", "Open a job first.")
	}
	id, keep := event.ToolID(args["tool"]), args["have"] == "keep"
	kind, before := c.toolKind(id), g.State.Tools[id]
	if c.sheet.Tool(id) == nil && kind == sheet.Plain {
		return fault.New(fault.NotFound, "This job has no such tool.", "Look at the list again.")
	}
	p := &event.ToolListed{Tool: id, Type: before.Type}
	var x kit.Item
	if args["have"] == "yes" || keep {
		var err error
		if x, err = kit.Read(kind, args, c.units); err != nil {
			return err
		}
		p = x.Listed(id)
		if c.sheet.Tool(id) == nil {
			p.Type = string(kind)
		}
	}
	if err := c.record(ctx, p); err != nil {
		return err
	}
	c.leaveTool(ctx, id)
	if !keep {
		return nil
	}
	if x.Label == "" {
		x.Label = g.ToolName(id)
	}
	return c.changeKit(ctx, func(r kit.Register) (kit.Register, error) { return r.Put(c.kept(r, x, id, before)) })
}

// kept gives a tool the id that it has in the register already, with what a job
// does not ask about, or a new one.
func (c *Client) kept(r kit.Register, x kit.Item, as event.ToolID, before job.Tool) kit.Item {
	x.ID = event.ToolID(newID())
	if old := r.Match(as, before); old != nil && old.Kind == x.Kind {
		x.ID, x.StepCNM, x.Unit = old.ID, old.StepCNM, pick(old.Unit, x.Unit)
	}
	return x
}

// useItem copies a tool of the owner's into the job.
func useItem(c *Client, ctx context.Context, args map[string]string) error {
	if c.sheet == nil {
		return fault.New(fault.NotFound, "No job is open.", "Open a job first.")
	}
	x, as := c.kit.Find(event.ToolID(args["item"])), event.ToolID(args["tool"])
	switch {
	case x == nil:
		return fault.New(fault.NotFound, "This tool is not among yours any more.", "Type what is marked on it, or choose another.")
	case as != x.ID && c.toolKind(as) != x.Kind:
		return fault.New(fault.Invalid, "This is another kind of tool than is asked for.", "Choose one of those offered.")
	}
	if err := c.record(ctx, x.Listed(as)); err != nil {
		return err
	}
	c.leaveTool(ctx, as)
	return nil
}

// changeTool opens what is recorded of a tool, at the step that checks the tools.
func changeTool(c *Client, _ context.Context, args map[string]string) error {
	if c.sheet == nil {
		return fault.New(fault.NotFound, "No job is open.", "Open a job first.")
	}
	c.view.Place, c.view.Tool = "work", event.ToolID(args["tool"])
	if step := c.kitStep(); step != nil {
		c.view.Step = step.ID
	}
	return nil
}

func leaveTool(c *Client, ctx context.Context, _ map[string]string) error {
	c.leaveTool(ctx, c.view.Tool)
	return nil
}

func (c *Client) leaveTool(ctx context.Context, id event.ToolID) {
	c.view.Tool = ""
	c.dropDraftsOf(ctx, draftTool(id))
}

func (c *Client) kitStep() *sheet.Step {
	for _, step := range c.sheet.Steps() {
		if step.Kit {
			return step
		}
	}
	return nil
}

// prepare says at the tools step what the sheet asks of them, and at the step
// for the torques where to read them all.
func (c *Client) prepare(v *templates.Step, step *sheet.Step, g guide.Guide) {
	if step == nil || !step.Kit && !step.Specs {
		return
	}
	v.Prepare = &templates.Prepare{Draft: c.drafts}
	if !step.Kit {
		return
	}
	v.Prepare.Sections = c.sections(g)
	if g.State.Finished != nil {
		return
	}
	v.Prepare.Listed, v.Prepare.Own = c.listedRows(g), c.ownRows(g)
	if _, known := g.State.Tools[c.view.Tool]; !known {
		return
	}
	if form := c.toolFormOf(g, c.view.Tool); v.Ask != nil && v.Ask.Kind == "tool" {
		v.Ask = &templates.Ask{Kind: "tool", Text: lang.F("Correct: %s", form.Name), Tool: form}
	} else {
		v.Prepare.Again = form
	}
}

func (c *Client) sections(g guide.Guide) []templates.PrepareSection {
	var out []templates.PrepareSection
	for _, s := range g.Prepare().Sections(g, c.units) {
		out = append(out, templates.PrepareSection{Title: s.Title, Lines: s.Lines, Stop: s.Stop})
	}
	return out
}

// listedRows are the tools whose numbers the job keeps, and those that are not here.
func (c *Client) listedRows(g guide.Guide) []templates.PrepareTool {
	var out []templates.PrepareTool
	for _, id := range c.answeredFor(g) {
		got, kind := g.State.Tools[id], c.toolKind(id)
		row := templates.PrepareTool{Label: g.ToolName(id), Words: lang.T("not here"), Do: "tool_change", Tool: string(id), Press: lang.T("Correct")}
		switch {
		case got.Have && slices.Contains(kit.Kinds, kind):
			row.Words = c.itemOf(kind, got).Words(c.units)
		case got.Have:
			continue
		}
		out = append(out, row)
	}
	return out
}

// ownRows are the owner's wrenches and adapters that are not in the job yet.
func (c *Client) ownRows(g guide.Guide) []templates.PrepareTool {
	var out []templates.PrepareTool
	for _, kind := range []sheet.ToolKind{sheet.TorqueWrench, sheet.Adapter} {
		for _, x := range c.kit.Of(kind) {
			if c.listedAs(g, x) == "" {
				out = append(out, templates.PrepareTool{Label: x.Label, Words: x.Words(c.units), Do: "tool_use", Tool: string(x.ID), Item: string(x.ID), Press: lang.T("Use it in this job")})
			}
		}
	}
	return out
}
