package client

import (
	"context"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/torque"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/kit"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

const (
	metaKit     = "kit"      // the owner's own tools
	metaKitLost = "kit.lost" // a register that could not be read in full, as it was

	draftKit = "kit."
)

// register is the owner's tools as they were read last.
type register struct {
	kit.Register
	text string // as it is kept
	lost bool   // some of it could not be read
}

// readKit reads the register. A job never waits for it: what cannot be read is
// said on its screen, no more.
func (c *Client) readKit(ctx context.Context) error {
	text, err := c.cfg.Log.Meta(ctx, metaKit)
	if err != nil {
		c.kit.lost = true
		return fault.Wrap(err, fault.Storage, "Your tools could not be read just now. Nothing was changed.", "Try once more. A job goes on without them: type what is asked there.")
	}
	c.kit = register{text: text}
	c.kit.Register, c.kit.lost = kit.Decode(text)
	return nil
}

// changeKit changes the register as it is on the disk now, which another tab may
// have changed, and keeps what could not be read of it beside the new one.
func (c *Client) changeKit(ctx context.Context, change func(kit.Register) (kit.Register, error)) error {
	if err := c.readKit(ctx); err != nil {
		return err
	}
	next, err := change(c.kit.Register)
	if err != nil {
		return err
	}
	text := next.Encode()
	if c.kit.lost {
		err = c.cfg.Log.SetMeta(ctx, metaKitLost, c.kit.text)
	}
	if err == nil {
		err = c.cfg.Log.SetMeta(ctx, metaKit, text)
	}
	if err != nil {
		return fault.Wrap(err, fault.Storage, "Not kept in my tools. The phone could not write to its storage.", "Try once more. The record of the job is not touched.")
	}
	c.kit = register{Register: next, text: text}
	return nil
}

func goKit(c *Client, ctx context.Context, _ map[string]string) error {
	c.view.Place = "kit"
	return c.readKit(ctx)
}

// addItem opens the form for a new tool of a kind.
func addItem(c *Client, ctx context.Context, args map[string]string) error {
	if kit.KindWords(sheet.ToolKind(args["kind"])) == "" {
		return fault.New(fault.NotFound, "There is no such kind of tool.", "Choose one of those shown.")
	}
	c.view.Item, c.view.ItemKind = "", sheet.ToolKind(args["kind"])
	c.openItem(ctx, string(c.units.OrDefault().Torque))
	return nil
}

// changeItem opens the form with a tool that is kept.
func changeItem(c *Client, ctx context.Context, args map[string]string) error {
	x := c.kit.Find(event.ToolID(args["item"]))
	if x == nil {
		return fault.New(fault.NotFound, "This tool is not among yours any more.", "Look at the list again.")
	}
	c.view.Item, c.view.ItemKind = x.ID, x.Kind
	c.openItem(ctx, x.Unit)
	return nil
}

// openItem forgets what was half typed for another tool. The unit of a scale is
// the tool's own and does not follow the display.
func (c *Client) openItem(ctx context.Context, unit string) {
	c.dropDraftsOf(ctx, draftKit)
	if c.view.ItemKind == sheet.TorqueWrench {
		c.drafts[draftKit+"unit"] = pick(unit, string(c.units.OrDefault().Torque))
		c.saveJSON(ctx, metaDrafts, c.drafts)
	}
}

func closeItem(c *Client, ctx context.Context, _ map[string]string) error {
	c.view.Item, c.view.ItemKind = "", ""
	c.dropDraftsOf(ctx, draftKit)
	return nil
}

func saveItem(c *Client, ctx context.Context, args map[string]string) error {
	x, err := kit.Read(sheet.ToolKind(args["kind"]), args, c.units)
	if err != nil {
		return err
	}
	if x.ID = event.ToolID(args["item"]); x.ID == "" {
		x.ID = event.ToolID(newID())
	}
	if err := c.changeKit(ctx, func(r kit.Register) (kit.Register, error) { return r.Put(x) }); err != nil {
		return err
	}
	return closeItem(c, ctx, nil)
}

func removeItem(c *Client, ctx context.Context, args map[string]string) error {
	id := event.ToolID(args["item"])
	if err := c.changeKit(ctx, func(r kit.Register) (kit.Register, error) { return r.Remove(id), nil }); err != nil {
		return err
	}
	return closeItem(c, ctx, nil)
}

// dropDraftsOf forgets every half-typed value whose name begins so.
func (c *Client) dropDraftsOf(ctx context.Context, prefix string) {
	for key := range c.drafts {
		if strings.HasPrefix(key, prefix) {
			delete(c.drafts, key)
		}
	}
	c.saveJSON(ctx, metaDrafts, c.drafts)
}

func (c *Client) kitView() templates.Kit {
	v := templates.Kit{Lost: c.kit.lost, Job: c.log != nil, Draft: c.drafts, Form: c.kitForm()}
	for _, kind := range kit.Kinds {
		v.Kinds = append(v.Kinds, templates.Choice{Value: string(kind), Label: kit.KindWords(kind)})
		group := templates.KitGroup{Title: kit.KindWords(kind)}
		for _, x := range c.kit.Of(kind) {
			group.Rows = append(group.Rows, templates.KitRow{ID: string(x.ID), Label: x.Label, Words: x.Words(c.units)})
		}
		if len(group.Rows) > 0 {
			v.Groups = append(v.Groups, group)
		}
	}
	return v
}

func (c *Client) kitForm() *templates.KitForm {
	if c.view.ItemKind == "" {
		return nil
	}
	form := &templates.KitForm{Kind: string(c.view.ItemKind), Title: kit.KindWords(c.view.ItemKind), Fields: c.toolFields(c.view.ItemKind, draftKit)}
	form.Fields.Unit, form.Fields.Units = c.drafts[draftKit+"unit"], torqueUnits()[1:]
	if x := c.kit.Find(c.view.Item); x != nil {
		form.ID, form.Title, form.Fields.Typed = string(x.ID), lang.F("Change: %s", x.Label), x.Typed(c.units)
	}
	return form
}

// toolFields are the questions about a tool of a kind, in the units of the display.
func (c *Client) toolFields(kind sheet.ToolKind, drafts string) templates.ToolFields {
	u := c.units.OrDefault()
	return templates.ToolFields{Kind: string(kind), Drafts: drafts, Draft: c.drafts, Unit: string(u.Torque), Length: string(u.Length), Classes: wrenchClasses()}
}

func wrenchClasses() []templates.Choice {
	out := []templates.Choice{{Value: "", Label: lang.T("not marked, or not known")}}
	for _, class := range torque.Classes() {
		if !class.Screwdriver() {
			out = append(out, templates.Choice{Value: string(class), Label: string(class) + ": " + class.Words()})
		}
	}
	return out
}
