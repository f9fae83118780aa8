package client

import (
	"context"
	"time"

	"strutcard/calc/lang"
)

// longAlone is how long entries may be on this phone alone before it says so: some
// browsers clear what a site stored when nobody opens it for a week.
const longAlone = 3 * 24 * time.Hour

// alone is what is nowhere but on this phone: the waiting entries, and without a
// shop those of them that no saved copy holds.
type alone struct {
	Copied int   `json:"copied,omitempty"` // of the waiting entries; counts without a shop
	Since  int64 `json:"since,omitempty"`  // ms UTC; 0 while there is nothing
}

func (a *alone) see(joined bool, waiting int, now time.Time) {
	if joined || waiting < a.Copied {
		a.Copied = 0
	}
	switch {
	case waiting == a.Copied:
		a.Since = 0
	case a.Since == 0:
		a.Since = now.UnixMilli()
	}
}

// days is for how many whole days, once that is long; 0 before.
func (a *alone) days(now time.Time) int {
	d := now.Sub(time.UnixMilli(a.Since))
	if a.Since == 0 || d < longAlone {
		return 0
	}
	return int(d / (24 * time.Hour))
}

// copied notes that the person was handed everything. Whether they kept the file,
// no browser tells. Where there is a shop, only what it has is safe.
func (c *Client) copied() {
	if c.token != "" {
		return
	}
	c.alone = alone{Copied: c.waiting}
	c.keep()
}

// copiedIfOnly is copied when there is no other job than the open one.
func (c *Client) copiedIfOnly(ctx context.Context) {
	if jobs, err := c.cfg.Log.Jobs(ctx); err == nil && len(jobs) == 1 {
		c.copied()
	}
}

// syncWords is the line about the shop in the strip.
func (c *Client) syncWords() string {
	days := c.alone.days(c.cfg.Now())
	switch {
	case c.shut:
		return lang.T("Access to the shop has ended")
	case c.waiting > 0 && days > 0 && c.token == "":
		return lang.F("Only on this phone for %d days", days)
	case c.waiting > 0 && days > 0:
		return lang.F("Waiting to sync: %d, for %d days", c.waiting, days)
	case c.waiting > 0 && c.token == "":
		return lang.F("Only on this phone: %d", c.waiting)
	case c.waiting > 0:
		return lang.F("Waiting to sync: %d", c.waiting)
	case c.refusedHere() > 0:
		return lang.F("Not taken by the shop: %d", c.refusedHere())
	case c.token != "":
		return lang.T("All synced")
	}
	if c.cfg.Platform.Env().MemoryOnly {
		return lang.T("In this page only")
	}
	return lang.T("On this phone")
}

// aloneWords warns that entries have been on this phone alone for long.
func (c *Client) aloneWords() string {
	days := c.alone.days(c.cfg.Now())
	switch {
	case days == 0:
		return ""
	case c.token == "":
		return lang.F("For %d days entries have been nowhere but on this phone. Some browsers clear what a site stored after a week. Save a copy.", days)
	}
	return lang.F("For %d days entries have been waiting to sync. Some browsers clear what a site stored after a week. Go where there is a signal, or save a copy.", days)
}
