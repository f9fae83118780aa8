package client

import (
	"context"

	"strutcard/calc/lang"
	"strutcard/sync/fault"
	"strutcard/sync/store"
	"strutcard/templates"
)

func (c *Client) syncView(ctx context.Context) templates.Sync {
	env := c.cfg.Platform.Env()
	v := templates.Sync{Waiting: lang.T("Everything recorded here is on this phone's disk."), Last: c.last, Shop: c.shop, Offline: offlineWords(env),
		Device: string(c.device), Theme: c.theme, Units: c.units.Settings(),
		Senses: c.senses(), Install: c.install(c.log != nil || c.waiting > 0),
		Update: env.UpdateReady, Invite: pick(c.drafts["join.invite"], c.view.Invite), Joined: c.token != "", Shut: c.shut, Open: c.log != nil, Draft: c.drafts}
	if env.MemoryOnly {
		v.Waiting = lang.T("Nothing recorded here stays: this browser keeps nothing.")
	} else if c.waiting > 0 && c.shut {
		v.Waiting = lang.N(c.waiting, "%d entry waits to sync. It is safe on this phone.", "%d entries wait to sync. They are safe on this phone.", c.waiting)
	} else if c.waiting > 0 && v.Joined {
		v.Waiting = lang.N(c.waiting, "%d entry waits to sync. It is safe on this phone and goes by itself when there is a signal.",
			"%d entries wait to sync. They are safe on this phone and go by themselves when there is a signal.", c.waiting)
	}
	v.Alone = c.aloneWords()
	v.Photos, v.PhotoTrouble = c.photosSent()
	switch {
	case env.MemoryOnly:
		v.Waiting = lang.T("What is recorded here is in the memory of this open page, nowhere else.")
		if v.Joined {
			v.Waiting = lang.N(c.waiting, "%d entry waits to sync. What has not synced is in the memory of this open page, nowhere else.",
				"%d entries wait to sync. What has not synced is in the memory of this open page, nowhere else.", c.waiting)
		}
		v.Storage = lang.T("This browser refuses to store anything. Save a copy before you close it.")
	case env.Persisted:
		v.Storage = lang.T("The browser has promised to keep this app's storage.")
	default:
		v.Storage = lang.T("The browser may clear this app's storage when space runs short. Sync, or save a copy, often. Put the app on the home screen before the next job: on some phones it starts empty there, and this record stays in the browser.")
	}
	if troubled, err := c.cfg.Log.Troubled(ctx); err == nil {
		v.Refused = refusedWords(troubled)
	}
	return v
}

// refusedWords says why the server set entries aside: a line for each reason, not for
// each entry. A job that the shop deleted has hundreds of them, with one reason.
func refusedWords(troubled []store.Verdict) (lines []string) {
	entries := map[string]int{}
	for _, t := range troubled {
		words := t.Reason.Message + " " + t.Reason.Hint
		if entries[words]++; entries[words] == 1 {
			lines = append(lines, words)
		}
	}
	for i, words := range lines {
		lines[i] = words + lang.N(entries[words], " (%d entry)", " (%d entries)", entries[words])
	}
	return lines
}

func pick(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

func set(c *Client, ctx context.Context, args map[string]string) error {
	switch args["name"] {
	case "theme":
		c.theme = args["value"]
		c.cfg.Platform.Theme(c.theme)
		if err := c.cfg.Log.SetMeta(ctx, metaTheme, c.theme); err != nil {
			return fault.Wrap(err, fault.Storage, "The theme could not be kept for the next start.", "Go on; nothing else is affected.")
		}
	case "glove", "tick", "sounds", "aloud":
		c.cfg.Platform.Remember("sc-"+args["name"], args["value"])
	case "language":
		return c.speak(ctx, args["value"])
	default:
		was := c.units
		c.units = c.units.With(args["name"], args["value"])
		c.convertDrafts(was, c.units)
		c.saveJSON(ctx, metaDrafts, c.drafts)
	}
	c.saveJSON(ctx, metaUnits, c.units)
	return nil
}

func update(c *Client, _ context.Context, _ map[string]string) error {
	c.cfg.Platform.ApplyUpdate()
	return nil
}

// exportState hands over the state as this phone folds it, so that support, and
// the tests, can compare it with the server's.
func exportState(c *Client, _ context.Context, _ map[string]string) error {
	if c.log == nil {
		return fault.New(fault.NotFound, "No job is open.", "Open a job first.")
	}
	c.cfg.Platform.Download("strutcard-state.json.txt", "text/plain", c.log.State().JSON())
	return nil
}

// State returns the folded state of the open job as JSON; "" when none is open.
// Tests and support compare it with the server's.
func (c *Client) State() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.log == nil {
		return ""
	}
	return c.log.State().JSON()
}
