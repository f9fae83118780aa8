package client

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// held is a sheet on this phone with its hash, which takes a while to compute.
type held struct {
	*sheet.Sheet
	hash string
}

func hold(s *sheet.Sheet) held { return held{Sheet: s, hash: string(s.Hash())} }

func sheetKey(hash string) string { return "sheet." + hash }

// loadSheets reads the sheets on this phone, the newest first; the invented
// demos are part of the app and stand last.
func (c *Client) loadSheets(ctx context.Context) error {
	c.sheets = nil
	for _, s := range sheet.Demo() {
		c.sheets = append(c.sheets, hold(s))
	}
	var hashes []string
	if err := c.loadJSON(ctx, metaSheets, &hashes); err != nil {
		return err
	}
	for _, hash := range hashes {
		body, err := c.cfg.Log.Meta(ctx, sheetKey(hash))
		if err != nil {
			return err
		}
		s, err := sheet.Decode([]byte(body))
		if err != nil {
			continue // damaged on this phone; the next sync fetches it again
		}
		if h := hold(s); h.hash == hash {
			c.sheets = append([]held{h}, c.sheets...)
		}
	}
	return nil
}

func (c *Client) findSheet(hash string) *sheet.Sheet {
	for _, s := range c.sheets {
		if s.hash == hash {
			return s.Sheet
		}
	}
	return nil
}

// keepSheet stores a sheet for good. The body is written before the list that names it.
func (c *Client) keepSheet(ctx context.Context, s *sheet.Sheet) error {
	hash := string(s.Hash())
	if c.findSheet(hash) != nil {
		return nil
	}
	if err := c.cfg.Log.SetMeta(ctx, sheetKey(hash), string(s.Encode())); err != nil {
		return notKept(err)
	}
	var hashes []string
	if err := c.loadJSON(ctx, metaSheets, &hashes); err != nil {
		return notKept(err)
	}
	list, err := json.Marshal(append(hashes, hash))
	if err != nil {
		return notKept(err)
	}
	if err := c.cfg.Log.SetMeta(ctx, metaSheets, string(list)); err != nil {
		return notKept(err)
	}
	c.sheets = append([]held{hold(s)}, c.sheets...)
	return nil
}

func notKept(err error) error {
	return fault.Wrap(err, fault.Storage, "The fitting sheet could not be saved on this phone. Nothing else was changed.", "Make room on the phone, then try again.")
}

func (c *Client) sheetRow(s held) templates.SheetRow {
	row := templates.SheetRow{Hash: s.hash, Title: s.Title, Version: s.Version, From: "from your shop", Invented: s.Invented}
	switch {
	case s.Invented:
		row.From = "demo"
	case s.Own:
		row.From = "made on a phone"
	}
	return row
}

func patternChoices() (front, rear []templates.Choice) {
	for _, p := range sheet.Patterns() {
		for _, axle := range p.Axles {
			choice := templates.Choice{Value: string(p.ID), Label: p.Title}
			if axle == event.Front {
				front = append(front, choice)
			} else {
				rear = append(rear, choice)
			}
		}
	}
	return front, rear
}

// makeOwn builds a sheet without any torque and opens its job at once.
func makeOwn(c *Client, ctx context.Context, args map[string]string) error {
	vehicle, kit := strings.TrimSpace(args["vehicle"]), strings.TrimSpace(args["kit"])
	if vehicle == "" || kit == "" {
		return fault.New(fault.Invalid, "The car or the parts have no name yet.", "Write both in your own words.")
	}
	s, err := sheet.Build(sheet.Start{Title: kit, Version: "own 1", Own: true, Vehicle: sheet.Vehicle{Name: vehicle},
		Front: sheet.PatternID(args["front"]), Rear: sheet.PatternID(args["rear"]),
		Parts: []sheet.Part{{ID: "kit", Name: kit, Count: 1}}})
	if err != nil {
		return err
	}
	if err := c.keepSheet(ctx, s); err != nil {
		return err
	}
	if err := c.newJob(ctx, string(s.Hash()), vehicle); err != nil {
		return err
	}
	c.dropDrafts(ctx, "own.vehicle", "own.kit")
	return nil
}

func (c *Client) readLog(ctx context.Context, id event.JobID) (*job.Log, error) {
	if c.log != nil && c.log.State().Job == id {
		return c.log, nil
	}
	events, err := c.cfg.Log.Job(ctx, id)
	if err != nil {
		return nil, fmt.Errorf("read job: %w", err)
	}
	log := job.NewLog(id)
	log.Add(events...)
	return log, nil
}
