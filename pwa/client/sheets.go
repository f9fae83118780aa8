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

// listSheets reads the sheets to choose from, once, the newest first; the
// invented demos are part of the app and stand last.
func (c *Client) listSheets(ctx context.Context) error {
	if c.sheets != nil {
		return nil
	}
	var hashes []string
	if err := c.loadJSON(ctx, metaSheets, &hashes); err != nil {
		return err
	}
	var sheets []held
	for _, hash := range hashes {
		s, err := c.storedSheet(ctx, hash)
		if err != nil {
			return err
		}
		if s != nil {
			sheets = append([]held{{Sheet: s, hash: hash}}, sheets...)
		}
	}
	for _, s := range sheet.Demo() {
		sheets = append(sheets, hold(s))
	}
	c.sheets = sheets
	return nil
}

// storedSheet reads one sheet from disk; nil when it is not there, or damaged:
// then the next sync fetches it again.
func (c *Client) storedSheet(ctx context.Context, hash string) (*sheet.Sheet, error) {
	body, err := c.cfg.Log.Meta(ctx, sheetKey(hash))
	if err != nil || body == "" {
		return nil, err
	}
	s, err := sheet.Decode([]byte(body))
	if err != nil || string(s.Hash()) != hash {
		return nil, nil
	}
	return s, nil
}

// findSheet returns the sheet with that hash, or nil. A job's own sheet stands
// on disk by itself, so that opening a job need not read all the others.
func (c *Client) findSheet(ctx context.Context, hash string) *sheet.Sheet {
	if s := c.listed(hash); s != nil {
		return s
	}
	if s, err := c.storedSheet(ctx, hash); err == nil && s != nil {
		return s
	}
	if err := c.listSheets(ctx); err != nil {
		return nil
	}
	return c.listed(hash)
}

func (c *Client) listed(hash string) *sheet.Sheet {
	for _, s := range c.sheets {
		if s.hash == hash {
			return s.Sheet
		}
	}
	return nil
}

// pinSheet writes a job's sheet to disk: a later version of the app may bring
// other demos, and the job keeps its own.
func (c *Client) pinSheet(ctx context.Context, s *sheet.Sheet) error {
	if err := c.cfg.Log.SetMeta(ctx, sheetKey(string(s.Hash())), string(s.Encode())); err != nil {
		return notKept(err)
	}
	return nil
}

// keepSheet adds a sheet to those to choose from. The body is written before
// the list that names it.
func (c *Client) keepSheet(ctx context.Context, s *sheet.Sheet) error {
	if err := c.listSheets(ctx); err != nil {
		return notKept(err)
	}
	h := hold(s)
	if c.listed(h.hash) != nil {
		return nil
	}
	if err := c.pinSheet(ctx, s); err != nil {
		return err
	}
	var hashes []string
	if err := c.loadJSON(ctx, metaSheets, &hashes); err != nil {
		return notKept(err)
	}
	list, err := json.Marshal(append(hashes, h.hash))
	if err != nil {
		return notKept(err)
	}
	if err := c.cfg.Log.SetMeta(ctx, metaSheets, string(list)); err != nil {
		return notKept(err)
	}
	c.sheets = append([]held{h}, c.sheets...)
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
