package client

import (
	"context"
	"fmt"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
	"strutcard/templates"
)

// export hands over the open job: the lines that are synced, and its sheet. It
// needs no storage, so that it works when the phone's has failed.
func export(c *Client, ctx context.Context, _ map[string]string) error {
	if c.log == nil {
		return fault.New(fault.NotFound, "No job is open.", "Open a job first.")
	}
	f := exchange.File{Events: c.log.Events()}
	if c.made != nil {
		f.Sheets = append(f.Sheets, c.made.Encode())
	}
	c.cfg.Platform.Download("strutcard-"+string(c.log.State().Job)+".jsonl.txt", "text/plain", f.String())
	c.copiedIfOnly(ctx)
	return nil
}

// exportAll hands over every job with its sheet.
func exportAll(c *Client, ctx context.Context, args map[string]string) error {
	f, err := c.everything(ctx)
	if err != nil && c.log != nil {
		if err := export(c, ctx, args); err != nil {
			return err
		}
		return fault.Wrap(err, fault.Storage, "Only the open job was saved: the phone's storage does not answer. Nothing was changed.", "Keep that file. Then close the app fully and open it again.")
	}
	if err != nil {
		return unread(err)
	}
	c.cfg.Platform.Download(fmt.Sprintf("strutcard-all-%s.jsonl.txt", c.cfg.Now().Format("2006-01-02")), "text/plain", f.String())
	c.copied()
	return nil
}

func (c *Client) everything(ctx context.Context) (exchange.File, error) {
	var f exchange.File
	jobs, err := c.cfg.Log.Jobs(ctx)
	if err != nil {
		return f, err
	}
	had := map[event.SheetHash]bool{}
	for _, id := range jobs {
		log, err := c.readLog(ctx, id)
		if err != nil {
			return f, err
		}
		f.Events = append(f.Events, log.Events()...)
		o := log.State().Opened
		if o == nil || had[o.Sheet] {
			continue
		}
		had[o.Sheet] = true
		if s := c.findSheet(ctx, string(o.Sheet)); s != nil {
			f.Sheets = append(f.Sheets, s.Encode())
		}
	}
	return f, nil
}

// bringIn takes in a saved copy, of this phone or of another. What is here
// already stays as it is; what is new waits to be sent to the shop.
func bringIn(c *Client, ctx context.Context, args map[string]string) error {
	if !c.cfg.Platform.Env().Leader {
		return fault.New(fault.Conflict, "The app is open in another tab, which writes the record. Nothing was brought in here.", "Do it in that tab.")
	}
	f := exchange.ReadFile([]byte(args["text"]))
	if len(f.Events) == 0 {
		return fault.New(fault.Invalid, "This file holds no record of this app. Nothing was changed.", "Choose a file that was saved with “Save a copy”.")
	}
	for _, raw := range f.Sheets {
		if s, err := sheet.Decode(raw); err == nil { // one that cannot be read is fetched from the shop, or missed at opening
			if err := c.takeSheet(ctx, s); err != nil {
				return err
			}
		}
	}
	fresh, err := c.cfg.Log.Take(ctx, store.Change{Events: f.Events, Carry: true})
	if err != nil {
		return fault.Wrap(err, fault.Storage, "The copy was not brought in: the phone's storage did not take it. What was here before is safe.", "Make room on the phone, then try again.")
	}
	c.countWaiting(ctx)
	if err := c.twin(ctx, fresh); err != nil {
		return err
	}
	if len(fresh) > 0 {
		c.cfg.Platform.Persist()
	}
	if len(fresh) > 0 || c.log == nil {
		if err := c.openJob(ctx, f.Events[0].Job); err != nil {
			return err
		}
		c.view.Place = "card"
	}
	m := broughtWords(f, fresh)
	if twin := c.message; twin != nil {
		m.Text, m.Hint = twin.Text+" "+m.Text, twin.Hint+" "+m.Hint
	}
	c.message = m
	return nil
}

// takeSheet keeps a sheet of a file. One that was made on a phone is offered here
// too, and goes to the shop: its job is read there as well.
func (c *Client) takeSheet(ctx context.Context, s *sheet.Sheet) error {
	if s.Own {
		return c.keepSheet(ctx, s)
	}
	return c.pinSheet(ctx, s)
}

func broughtWords(f exchange.File, fresh []event.Event) *templates.Message {
	said := []string{lang.N(len(fresh), "%d entry brought in.", "%d entries brought in.", len(fresh))}
	if n := len(event.Sort(f.Events)) - len(fresh); n > 0 {
		said = append(said, lang.N(n, "%d was here already.", "%d were here already.", n))
	}
	m := &templates.Message{Hint: lang.T("Look at the record before you go on with this job. Photos do not come with the file.")}
	if f.Broken > 0 {
		said = append(said, lang.N(f.Broken, "%d line could not be read.", "%d lines could not be read.", f.Broken))
		m.Hint = lang.T("The file is damaged: entries are missing. Go by what you see at the car, not by this record, until the other phone has synced.")
	}
	m.Text = strings.Join(said, " ")
	return m
}
