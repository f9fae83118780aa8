package client

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/templates"
)

// keepsakeKey names what the page keeps beside the record, in another place: a
// browser may clear the record and leave it.
const keepsakeKey = "sc-phone"

// keepsake is enough to notice that the record was cleared, and to fetch what the
// shop has of it.
type keepsake struct {
	Token  string `json:"token"`
	Shop   string `json:"shop"`
	Unsent int    `json:"unsent"`
	Alone  alone  `json:"alone"`
	// Mine are this phone's numbers until now: what it recorded under them is its own.
	Mine []event.DeviceID `json:"mine,omitempty"`
}

// loss is a record that the browser cleared, until its owner has understood it.
type loss struct {
	Unsent int  `json:"unsent"` // entries that no shop had
	Back   bool `json:"back"`   // the shop's copy is here again
}

// loadIdentity reads who this phone is and whose: another tab may have changed it.
func (c *Client) loadIdentity(ctx context.Context) error {
	if err := c.loadDevice(ctx); err != nil {
		return fmt.Errorf("load device: %w", err)
	}
	for name, into := range map[string]*string{metaToken: &c.token, metaShop: &c.shop} {
		value, err := c.cfg.Log.Meta(ctx, name)
		if err != nil {
			return fmt.Errorf("load %s: %w", name, err)
		}
		*into = value
	}
	c.lost = nil
	return c.loadJSON(ctx, metaLost, &c.lost)
}

// wroteHere reports whether a number is, or was, this phone's own.
func (c *Client) wroteHere(id event.DeviceID) bool {
	return id == c.device || slices.Contains(c.former, id)
}

// loadDevice makes this phone's identity at its first start. A phone whose record
// was cleared takes a fresh one: what it does not remember having written must not
// be written over.
func (c *Client) loadDevice(ctx context.Context) error {
	id, err := c.cfg.Log.Meta(ctx, metaDevice)
	if err != nil {
		return err
	}
	c.former = nil
	if err := c.loadJSON(ctx, metaFormer, &c.former); err != nil {
		return err
	}
	var k keepsake
	kept := json.Unmarshal([]byte(c.cfg.Platform.Recall(keepsakeKey)), &k) == nil // else there never was a record
	if id != "" {
		c.device, c.alone = event.DeviceID(id), k.Alone
		return nil
	}
	if kept {
		if err := c.recallCleared(ctx, k); err != nil {
			return err
		}
	}
	return c.freshDevice(ctx, k.Mine...)
}

// recallCleared restores what the keepsake holds into an empty store.
func (c *Client) recallCleared(ctx context.Context, k keepsake) error {
	lost, err := json.Marshal(loss{Unsent: k.Unsent})
	if err != nil {
		return fmt.Errorf("write loss: %w", err)
	}
	for name, value := range map[string]string{metaToken: k.Token, metaShop: k.Shop, metaLost: string(lost)} {
		if err := c.cfg.Log.SetMeta(ctx, name, value); err != nil {
			return err
		}
	}
	return nil
}

// freshDevice takes a new number and keeps the ones that this phone had.
func (c *Client) freshDevice(ctx context.Context, had ...event.DeviceID) error {
	id := newID()
	c.former = append(c.former, had...)
	c.saveJSON(ctx, metaFormer, c.former)
	if err := c.cfg.Log.SetMeta(ctx, metaDevice, id); err != nil {
		return err
	}
	c.device = event.DeviceID(id)
	return nil
}

// keep writes the keepsake anew. A phone without any record keeps none.
func (c *Client) keep() {
	if c.token == "" && c.log == nil && c.waiting == 0 {
		return
	}
	c.alone.see(c.token != "", c.waiting, c.cfg.Now())
	text, err := json.Marshal(keepsake{Token: c.token, Shop: c.shop, Unsent: c.waiting, Alone: c.alone, Mine: append(slices.Clone(c.former), c.device)})
	if err == nil {
		c.cfg.Platform.Remember(keepsakeKey, string(text))
	}
}

// twin takes a fresh identity when events came that this phone wrote and does not
// have: it is an old copy of itself, or there is another copy. Both stay in the
// record; going on under one name would make a chain that nobody can check.
func (c *Client) twin(ctx context.Context, came []event.Event) error {
	for _, e := range came {
		if e.Device != c.device {
			continue
		}
		if err := c.freshDevice(ctx, c.device); err != nil {
			return fault.Wrap(err, fault.Storage, "The phone could not take a new number. Nothing was recorded under the old one.", "Reload the app.")
		}
		if c.log != nil {
			c.chain = event.ChainOf(c.log.State().Job, c.device, c.log.Events())
		}
		c.message = &templates.Message{Text: lang.T("This phone's record had been set back, or there is a copy of it elsewhere. Everything that was written is kept."),
			Hint: lang.T("Look at the last steps before you go on: some may have been done since.")}
		return nil
	}
	return nil
}

// broughtBack notes that the shop's copy of a cleared record is complete here.
func (c *Client) broughtBack(ctx context.Context) {
	if c.lost != nil && !c.lost.Back {
		c.lost.Back = true
		c.saveJSON(ctx, metaLost, c.lost)
	}
}

// understood ends the warning about a cleared record.
func understood(c *Client, ctx context.Context, _ map[string]string) error {
	c.lost = nil
	c.cfg.Platform.Remember(keepsakeKey, "") // what was lost is not lost a second time
	c.keep()
	return c.cfg.Log.SetMeta(ctx, metaLost, "")
}

// lostView says what became of a cleared record; nil when none was.
func (c *Client) lostView() *templates.Lost {
	if c.lost == nil {
		return nil
	}
	v := &templates.Lost{Back: c.lost.Back, Shop: c.shop, Joined: c.token != ""}
	if n := c.lost.Unsent; n > 0 {
		v.Missing = lang.N(n, "%d entry had not reached a shop. Only a saved copy, another tab or another phone can still have them.",
			"%d entries had not reached a shop. Only a saved copy, another tab or another phone can still have them.", n)
	}
	return v
}
