package client

import (
	"context"
	"fmt"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/job"
	"strutcard/sync/store"
)

// record asks the guide, seals the events and appends them in one durable
// batch. Only then does the state change: a tick on the screen is on disk.
func (c *Client) record(ctx context.Context, payloads ...event.Payload) error {
	if c.log == nil {
		return fault.New(fault.NotFound, "No job is open.", "Open a job first.")
	}
	if !c.cfg.Platform.Env().Leader {
		return fault.New(fault.Conflict, "The app is open in another tab, which writes the record. Nothing was recorded here.", "Work in that tab, or close it and reload this one.")
	}
	if err := c.allowPaused(payloads); err != nil {
		return err
	}
	if g, ok := c.guide(); ok {
		for _, p := range payloads {
			if err := g.Allow(p); err != nil {
				return err
			}
			if err := c.hasty(g, p); err != nil {
				return err
			}
		}
	}
	events, err := c.seal(payloads)
	if err != nil {
		return err
	}
	verdicts, err := c.cfg.Log.Write(ctx, events)
	if err != nil {
		c.unsaved = true
		return fault.Wrap(err, fault.Storage, "Not saved. The phone could not write to its storage. What was saved before is safe.", "Try once more. If it fails again, save a copy of the record, then reload the app.")
	}
	for _, v := range verdicts {
		if v.Outcome == store.Refused {
			return c.resync(ctx, v)
		}
	}
	c.unsaved = false
	c.log.Add(events...)
	for _, e := range events {
		c.chain = c.chain.See(e)
	}
	c.waiting += len(events)
	c.keep()
	if c.log.State().Count == job.N(len(events)) {
		c.cfg.Platform.Persist()
	}
	return nil
}

// seal makes each event in turn the next of the chain; its id is made here, at
// the tap, before anything is awaited.
func (c *Client) seal(payloads []event.Payload) ([]event.Event, error) {
	chain := c.chain
	var events []event.Event
	for _, p := range payloads {
		e, err := chain.Seal(event.ID(newID()), c.cfg.Now(), p)
		if err != nil {
			return nil, err
		}
		chain = chain.See(e)
		events = append(events, e)
	}
	return events, nil
}

// resync reads the job anew after its stored log turned out to be ahead of ours.
func (c *Client) resync(ctx context.Context, v store.Verdict) error {
	if err := c.openJob(ctx, c.log.State().Job); err != nil {
		return err
	}
	return fault.Wrap(v.Reason, fault.Conflict, "The record had grown in another place. It was read again; this press was not recorded.", "Look at the screen and press again if it is still right.")
}

// newJob opens a job with the sheet and the car's name.
func (c *Client) newJob(ctx context.Context, hash, vehicle string) error {
	s := c.findSheet(ctx, hash)
	if s == nil {
		return fault.New(fault.NotFound, "This fitting sheet is not on the phone.", "Sync while there is a signal, then try again.")
	}
	if err := c.standing(hash); err != nil {
		return err
	}
	if err := c.pinSheet(ctx, s); err != nil {
		return err
	}
	id := event.JobID(newID())
	c.log = job.NewLog(id)
	c.show(s)
	c.chain = event.Chain{Job: id, Device: c.device}
	if err := c.record(ctx, &event.JobOpened{Sheet: s.Hash(), Title: s.Title, Vehicle: vehicle}); err != nil {
		c.log = nil
		c.show(nil)
		return fmt.Errorf("open job: %w", err)
	}
	c.view = view{Place: "work", Job: id}
	return nil
}

// lastOwn finds this phone's latest event that may still be taken back.
func (c *Client) lastOwn() (event.Event, bool) {
	g, ok := c.guide()
	if !ok {
		return event.Event{}, false
	}
	gone := map[event.ID]bool{}
	events := c.log.Events()
	for i := len(events) - 1; i >= 0; i-- {
		e := events[i]
		if p, is := e.Payload().(*event.Corrected); is {
			gone[p.Event] = true
			continue
		}
		if e.Device != c.device || gone[e.ID] || e.Kind == event.KindStepStarted {
			continue
		}
		return e, g.AllowCorrection(e) == nil
	}
	return event.Event{}, false
}
