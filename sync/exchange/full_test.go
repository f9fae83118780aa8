package exchange_test

import (
	"context"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

// fullDisk is a phone without room: it can be read, and nothing can be written.
type fullDisk struct{ *store.Memory }

var errFull = fault.New(fault.Full, "No room.", "Make room.")

func (fullDisk) Take(context.Context, store.Change) ([]event.Event, error) { return nil, errFull }
func (fullDisk) SetMeta(context.Context, string, string) error             { return errFull }

// TestFullPhoneSends: a phone without room for a reply has sent its events all the
// same, and each is stored once when there is room again (pitfall 12).
func TestFullPhoneSends(t *testing.T) {
	s, p := newServer(t), newPhone(t, storetest.NewID[event.JobID]())
	p.notes(3, "n")
	for range 2 {
		_, _, err := exchange.Round(ctx, fullDisk{p.store}, "nonce", 0, s.from(p.actor()))
		if !fault.Is(err, fault.Full) || p.waiting() != 3 {
			t.Errorf("a round without room: %v, %d wait, want an %s fault and 3", err, p.waiting(), fault.Full)
		}
		if got := len(events(t, s.store, p.chain.Job)); got != 3 {
			t.Errorf("the server has %d events, want 3", got)
		}
	}
	p.sync(s.from(p.actor()))
	if got := len(events(t, s.store, p.chain.Job)); got != 3 || p.waiting() != 0 {
		t.Errorf("with room again the server has %d events and %d wait, want 3 and none", got, p.waiting())
	}
}
