package client

import (
	"context"
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/fault"
	"strutcard/sync/plausible"
	"strutcard/sync/sheet"
)

const (
	metaOwn     = "own"      // own sheets as they are edited
	metaOwnLost = "own.lost" // a list that could not be read in full, as it was
)

// own is a sheet that its owner writes: its source, and what was made of it last.
type own struct {
	ID    string      `json:"id"`
	Start sheet.Start `json:"start"`
	Made  int         `json:"made,omitempty"` // how many versions were made
	Hash  string      `json:"hash,omitempty"` // of the last one

	Units map[string]quantity.TorqueUnit `json:"units,omitempty"` // in which a torque was typed, to show it as the page has it

	// Said is who has compared an implausible value with its source. Its key is
	// the form with all that stands in it, so that a confirmation never outlives
	// the number that it was given for.
	Said map[string]string `json:"said,omitempty"`
}

// owns is the list as it was read last.
type owns struct {
	list []own
	text string // as it is kept
	lost bool   // some of it could not be read
}

func (l owns) find(id string) (own, bool) {
	i := slices.IndexFunc(l.list, func(o own) bool { return o.ID == id })
	if i < 0 {
		return own{}, false
	}
	return l.list[i].clone(), true
}

// clone is a copy that can be changed without changing the list.
func (o own) clone() own {
	var out own
	text, err := json.Marshal(o)
	if err == nil {
		err = json.Unmarshal(text, &out)
	}
	if err != nil {
		panic("client: an own sheet does not survive JSON: " + err.Error())
	}
	if out.Start.Torques == nil {
		out.Start.Torques = map[string]sheet.Torque{}
	}
	if out.Units == nil {
		out.Units = map[string]quantity.TorqueUnit{}
	}
	if out.Said == nil {
		out.Said = map[string]string{}
	}
	return out
}

// readOwn reads the list. What cannot be read never keeps the app from opening.
func (c *Client) readOwn(ctx context.Context) error {
	text, err := c.cfg.Log.Meta(ctx, metaOwn)
	if err != nil {
		return fault.Wrap(err, fault.Storage, "Your own sheets could not be read just now. Nothing was changed.", "Close the app fully and open it again.")
	}
	c.own = owns{text: text}
	var entries []json.RawMessage
	if text != "" && json.Unmarshal([]byte(text), &entries) != nil {
		c.own.lost = true
	}
	for _, entry := range entries {
		var o own
		if json.Unmarshal(entry, &o) != nil || o.ID == "" {
			c.own.lost = true
			continue
		}
		c.own.list = append(c.own.list, o)
	}
	return nil
}

// changeOwn changes the list as it is on the disk now and keeps what could not
// be read of it beside the new one.
func (c *Client) changeOwn(ctx context.Context, change func([]own) []own) error {
	if !c.cfg.Platform.Env().Leader {
		return fault.New(fault.Conflict, "The app is open in another tab, which writes. Nothing was changed here.", "Work in that tab, or close it and reload this one.")
	}
	if err := c.readOwn(ctx); err != nil {
		return err
	}
	list := change(slices.Clone(c.own.list))
	text, err := json.Marshal(list)
	if err == nil && c.own.lost {
		err = c.cfg.Log.SetMeta(ctx, metaOwnLost, c.own.text)
	}
	if err == nil {
		err = c.cfg.Log.SetMeta(ctx, metaOwn, string(text))
	}
	if err != nil {
		return fault.Wrap(err, fault.Storage, "Not kept. The phone could not write to its storage. What was kept before is safe.", "Make room on the phone, then try again. What you typed is still here.")
	}
	c.own = owns{list: list, text: string(text)}
	return nil
}

func (c *Client) keepOwn(ctx context.Context, o own) error {
	return c.changeOwn(ctx, func(list []own) []own {
		if i := slices.IndexFunc(list, func(p own) bool { return p.ID == o.ID }); i >= 0 {
			list[i] = o
			return list
		}
		return append(list, o)
	})
}

// build makes the sheet as it stands, as version n.
func (o own) build(n int) (*sheet.Sheet, error) {
	start := o.Start
	start.Own, start.Version = true, versionName(n)
	start.Torques, start.Targets = maps.Clone(start.Torques), slices.Clone(start.Targets)
	for kind, t := range start.Torques {
		t.Confirmed = o.said(formTorque + kind)
		start.Torques[kind] = t
	}
	for i, t := range start.Targets {
		start.Targets[i].Confirmed = o.said(formTarget + string(t.Axle) + "." + string(t.Quantity))
	}
	s, err := sheet.Build(start)
	if err != nil {
		f := fault.Of(err)
		return nil, fault.Wrap(err, f.Kind, strings.TrimPrefix(f.Message, lang.F("This fitting sheet cannot be used. %s", "")), "Nothing was changed. Look at what you typed and mend it.")
	}
	return s, nil
}

// forSheet is what the sheet is made from. A torque that nothing here can judge
// and that was not read back is left out: the job asks for it again.
func (o own) forSheet() own {
	o = o.clone()
	s, err := o.build(1)
	if err != nil {
		return o
	}
	for kind := range o.Start.Torques {
		piece := pieceOf(s, formTorque+kind)
		for _, d := range plausible.Sheet(&piece) {
			if d.Unchecked && o.said(formTorque+kind) == "" {
				delete(o.Start.Torques, kind)
			}
		}
	}
	return o
}

// made reports whether the last version made is what stands here now.
func (o own) made() bool {
	if o.Made == 0 {
		return false
	}
	s, err := o.forSheet().build(o.Made)
	return err == nil && string(s.Hash()) == o.Hash
}

// said is who confirmed what stands in a form, or "".
func (o own) said(form string) string { return o.Said[o.content(form)] }
