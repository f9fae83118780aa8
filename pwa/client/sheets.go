package client

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"sync"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// held is a sheet on this phone as a list shows it, with its hash, which takes a
// while to compute.
type held struct {
	hash, title, version string
	invented, own        bool
	sheet                func() *sheet.Sheet
}

func hold(s *sheet.Sheet) held { return holdAs(string(s.Hash()), s) }

func holdAs(hash string, s *sheet.Sheet) held {
	return held{hash: hash, title: s.Title, version: s.Version, invented: s.Invented, own: s.Own, sheet: func() *sheet.Sheet { return s }}
}

func holdExample(e sheet.Example) held {
	return held{hash: string(e.Hash), title: e.Title, version: e.Version, invented: true, sheet: sync.OnceValue(e.Sheet)}
}

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
			sheets = append([]held{holdAs(hash, s)}, sheets...)
		}
	}
	for _, e := range append(slices.Clone(sheet.Examples), sheet.Minute) {
		sheets = append(sheets, holdExample(e))
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
			return s.sheet()
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

// unlistSheet no longer offers a sheet. Its body stays for the jobs that have it.
func (c *Client) unlistSheet(ctx context.Context, hash string) error {
	if hash == "" {
		return nil
	}
	var hashes []string
	if err := c.loadJSON(ctx, metaSheets, &hashes); err != nil {
		return notKept(err)
	}
	list, err := json.Marshal(slices.DeleteFunc(hashes, func(h string) bool { return h == hash }))
	if err == nil {
		err = c.cfg.Log.SetMeta(ctx, metaSheets, string(list))
	}
	if err != nil {
		return notKept(err)
	}
	c.sheets = slices.DeleteFunc(c.sheets, func(s held) bool { return s.hash == hash })
	return nil
}

// keepWithdrawn notes which sheets the shop took back. None is ever forgotten: a
// withdrawal cannot be undone, and the phone may leave the shop.
func (c *Client) keepWithdrawn(ctx context.Context, list []listed) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	all := map[string]sheet.Withdrawal{}
	maps.Copy(all, c.gone)
	for _, l := range list {
		if _, known := all[l.Hash]; l.Withdrawn != nil && !known {
			all[l.Hash] = *l.Withdrawn
		}
	}
	if len(all) == 0 {
		return nil
	}
	c.gone = all // it counts from now on, kept or not
	text, err := json.Marshal(all)
	if err == nil {
		err = c.cfg.Log.SetMeta(ctx, metaGone, string(text))
	}
	if err != nil {
		return fault.Wrap(err, fault.Storage, "The shop withdrew a fitting sheet, and this phone could not keep that. It counts until the app is closed.", "Make room on the phone, then sync again.")
	}
	return nil
}

// offered are the sheets that a new job can start from.
func (c *Client) offered() []held {
	return slices.DeleteFunc(slices.Clone(c.sheets), func(s held) bool { return c.withdrawn(s.hash) != nil })
}

// withdrawn is why a sheet was taken back, or nil while it stands.
func (c *Client) withdrawn(hash string) *sheet.Withdrawal {
	if w, gone := c.gone[hash]; gone {
		return &w
	}
	return nil
}

// standing refuses a sheet that was taken back.
func (c *Client) standing(hash string) error {
	w := c.withdrawn(hash)
	if w == nil {
		return nil
	}
	return fault.New(fault.Blocked, lang.F("The shop withdrew this fitting sheet. Its reason: %s No job was opened.", w.Reason), "Choose another sheet, or ask the shop.")
}

func notKept(err error) error {
	return fault.Wrap(err, fault.Storage, "The fitting sheet could not be saved on this phone. Nothing else was changed.", "Make room on the phone, then try again.")
}

func (c *Client) sheetRow(s held) templates.SheetRow {
	row := templates.SheetRow{Hash: s.hash, Title: s.title, Version: s.version, From: lang.T("from your shop"), Invented: s.invented}
	switch {
	case s.invented:
		row.Title, row.From = lang.T(s.title), lang.C("demo", "a sheet")
	case s.own:
		row.Version, row.From = sheet.VersionWords(s.version), lang.T("made on a phone")
	}
	return row
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
