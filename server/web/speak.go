package web

import (
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"

	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// voice is somebody who writes in a job from a browser without a record of its
// own: the server keeps their chain.
type voice struct {
	actor string // as the record names who brought an event
	name  string // as people read it
}

func staffVoice(who shop.Staff) voice { return voice{actor: "staff:" + who.ID, name: who.Name} }

func shareVoice(share shop.Share, visitor string) voice {
	return voice{actor: "share:" + share.ID, name: visitor}
}

// voices is the namespace of the device ids below.
var voices = uuid.NewSHA1(uuid.NameSpaceURL, []byte("strutcard:voice"))

// device is the writer's place in the chains of all jobs.
func (v voice) device() event.DeviceID {
	return event.DeviceID(uuid.NewSHA1(voices, []byte(v.actor)).String())
}

// named is the id of an event that its writer has a name for.
func (v voice) named(once string) event.ID {
	return event.ID(uuid.NewSHA1(voices, []byte(v.actor+"\n"+once)).String())
}

// say writes in a job, in the name of somebody at a browser.
func (s *site) say(ctx context.Context, id shop.ID, job event.JobID, v voice, p event.Payload) error {
	return s.sayOnce(ctx, id, job, v, "", p)
}

// sayOnce writes what a browser may send again because no answer came: once is its
// own name for these words, "" for none. One at a time: each event follows the one
// before.
func (s *site) sayOnce(ctx context.Context, id shop.ID, job event.JobID, v voice, once string, p event.Payload) error {
	s.speaking.Lock()
	defer s.speaking.Unlock()
	records, err := s.allRecords(ctx, id, job)
	if err != nil {
		return err
	}
	if len(records) == 0 {
		return fault.New(fault.NotFound, "This server knows no such job. Nothing was written.", "Go back to the list of jobs.")
	}
	name := event.ID(newID())
	if once != "" {
		name = v.named(once)
	}
	if slices.ContainsFunc(records, func(r store.Record) bool { return r.Event.ID == name }) {
		return nil // it came the first time
	}
	e, err := s.seal(event.ChainOf(job, v.device(), eventsOf(records)), name, p)
	if err != nil {
		return err
	}
	verdicts, err := s.Store.Shop(id).Append(ctx, v.actor, []event.Event{e})
	if err != nil {
		return err
	}
	for _, verdict := range verdicts {
		if verdict.Outcome != store.Stored {
			return fmt.Errorf("write event %s: %s", verdict.ID, verdict.Outcome)
		}
	}
	return nil
}

func (s *site) seal(c event.Chain, id event.ID, p event.Payload) (event.Event, error) {
	if proven, ok := p.(event.Proven); ok {
		return s.Notary.Seal(c, id, s.Now(), proven)
	}
	return c.Seal(id, s.Now(), p)
}

func eventsOf(records []store.Record) []event.Event {
	events := make([]event.Event, len(records))
	for i, r := range records {
		events[i] = r.Event
	}
	return events
}
