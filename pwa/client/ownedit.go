package client

import (
	"context"
	"maps"
	"slices"

	"strutcard/calc/lang"
	"strutcard/sync/fault"
)

// goOwn opens an own sheet's list of forms.
func goOwn(c *Client, ctx context.Context, args map[string]string) error {
	if err := c.readOwn(ctx); err != nil {
		return err
	}
	if _, ok := c.own.find(args["own"]); !ok {
		return noOwn()
	}
	c.view = view{Place: "own", Own: args["own"]}
	return nil
}

func noOwn() error {
	return fault.New(fault.NotFound, "This sheet is not in your list.", "Go back to all jobs and choose another.")
}

// goOwnForm opens one form; without a sheet, the form that begins a new one.
func goOwnForm(c *Client, ctx context.Context, args map[string]string) error {
	if err := c.readOwn(ctx); err != nil {
		return err
	}
	c.view = view{Place: "own", Own: args["own"], Form: pick(args["form"], formBasics)}
	return nil
}

// saveOwn keeps what was typed into a form. What looks implausible is kept too,
// unverified, until a second press says that the page says so: the question was
// then about these numbers and no others.
func saveOwn(c *Client, ctx context.Context, args map[string]string) error {
	o, isNew, err := c.ownFor(ctx, args["own"])
	if err != nil {
		return err
	}
	key := pick(args["form"], formBasics)
	f := formOf(&o, key)
	if f == nil {
		return fault.New(fault.NotFound, "This form is gone.", "Go back to the sheet.")
	}
	drafts := ownDrafts(args["own"], key, f)
	c.keepTyped(ctx, drafts, args)
	was := o.content(f.key)
	for _, field := range f.fields {
		if err := field.read(c.units, args); err != nil {
			return err
		}
	}
	if err := f.keep(); err != nil {
		return err
	}
	s, err := o.build(1)
	if err != nil {
		return err
	}
	now := o.content(f.key)
	open := questionOf(s, f.key) != "" && o.Said[now] == ""
	if open && args["confirm"] == "yes" && now == was {
		o.Said[now], open = confirmedBy+f.source(), false
	}
	if err := c.keepOwn(ctx, o); err != nil {
		return err
	}
	c.dropDrafts(ctx, slices.Collect(maps.Keys(drafts))...)
	c.view = view{Place: "own", Own: o.ID}
	if open && !isNew {
		c.view.Form = f.key
	}
	return nil
}

// ownFor is the own sheet to change, or a new one.
func (c *Client) ownFor(ctx context.Context, id string) (o own, isNew bool, err error) {
	if err := c.readOwn(ctx); err != nil {
		return own{}, false, err
	}
	if id == "" {
		return own{ID: newID()}.clone(), true, nil
	}
	o, ok := c.own.find(id)
	if !ok {
		return own{}, false, noOwn()
	}
	return o, false, nil
}

// ownDrafts are the names under which a form's half-typed answers are kept, each
// with its field.
func ownDrafts(id, key string, f *ownForm) map[string]ownField {
	out := map[string]ownField{}
	for _, field := range f.fields {
		out[ownDraft(field.kind, id+"."+key, field.name)] = field
	}
	return out
}

// keepTyped keeps what was typed in a form that may be refused, and differs from
// what stood there.
func (c *Client) keepTyped(ctx context.Context, drafts map[string]ownField, args map[string]string) {
	for draft, field := range drafts {
		delete(c.drafts, draft)
		if typed := args[field.name]; typed != "" && typed != field.shown(c.units) {
			c.drafts[draft] = typed
		}
	}
	c.saveJSON(ctx, metaDrafts, c.drafts)
}

// dropPiece takes away what a form holds: a torque is looked up later, a target
// or a part is gone.
func dropPiece(c *Client, ctx context.Context, args map[string]string) error {
	o, _, err := c.ownFor(ctx, args["own"])
	if err != nil {
		return err
	}
	f := formOf(&o, args["form"])
	if f == nil || f.drop == nil {
		return fault.New(fault.NotFound, "There is nothing to take away.", "Go back to the sheet.")
	}
	f.drop()
	if err := c.keepOwn(ctx, o); err != nil {
		return err
	}
	c.dropDrafts(ctx, slices.Collect(maps.Keys(ownDrafts(o.ID, args["form"], f)))...)
	c.view = view{Place: "own", Own: o.ID}
	return nil
}

// makeOwn makes the next version of the sheet and offers it in place of the one
// before. A version that was made never changes, and its jobs keep it.
func makeOwn(c *Client, ctx context.Context, args map[string]string) error {
	o, isNew, err := c.ownFor(ctx, args["own"])
	if err != nil {
		return err
	}
	if isNew {
		return noOwn()
	}
	if o.made() && c.findSheet(ctx, o.Hash) != nil {
		return nil
	}
	s, err := o.forSheet().build(o.Made + 1)
	if err != nil {
		return err
	}
	if err := c.keepSheet(ctx, s); err != nil {
		return err
	}
	old := o.Hash
	o.Made, o.Hash = o.Made+1, string(s.Hash())
	if err := c.keepOwn(ctx, o); err != nil {
		return err
	}
	return c.unlistSheet(ctx, old)
}

// copyOwn begins another sheet with all that stands in this one.
func copyOwn(c *Client, ctx context.Context, args map[string]string) error {
	o, isNew, err := c.ownFor(ctx, args["own"])
	if err != nil {
		return err
	}
	if isNew {
		return noOwn()
	}
	o.ID, o.Made, o.Hash = newID(), 0, ""
	o.Start.Title = lang.F("%s, copy", o.Start.Title)
	if err := c.keepOwn(ctx, o); err != nil {
		return err
	}
	c.view = view{Place: "own", Own: o.ID}
	return nil
}

// dropOwn removes an own sheet from the list. Its jobs keep their version.
func dropOwn(c *Client, ctx context.Context, args map[string]string) error {
	o, isNew, err := c.ownFor(ctx, args["own"])
	if err != nil || isNew {
		return noOwn()
	}
	if err := c.changeOwn(ctx, func(list []own) []own {
		return slices.DeleteFunc(list, func(p own) bool { return p.ID == o.ID })
	}); err != nil {
		return err
	}
	c.view = view{Place: "home"}
	return c.unlistSheet(ctx, o.Hash)
}
