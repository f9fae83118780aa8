// Package store is the contract for keeping events, an implementation in memory,
// and, in storetest, the suite that every implementation passes.
package store

import (
	"context"

	"strutcard/sync/event"
	"strutcard/sync/fault"
)

// Outcome says what became of one event.
type Outcome string

const (
	Stored    Outcome = "stored"    // on disk now
	Duplicate Outcome = "duplicate" // was there already, byte for byte
	Refused   Outcome = "refused"   // will never be stored; Reason says why
)

// Verdict answers for one event.
type Verdict struct {
	ID      event.ID     `json:"id"`
	Outcome Outcome      `json:"outcome"`
	Reason  *fault.Error `json:"reason,omitempty"`
}

// Record is a stored event with what the store knows about it.
type Record struct {
	Event    event.Event `json:"event"`
	Pos      int64       `json:"pos"`             // arrival order in this store, from 1
	Received int64       `json:"received_at"`     // ms UTC; on a server, its own clock
	Actor    string      `json:"actor,omitempty"` // who the server authenticated
}

// Scope limits what a reader sees. The zero Scope sees everything.
type Scope struct {
	Job    event.JobID    // only this job
	Device event.DeviceID // only jobs in which this device has written
}

// Store keeps events for ever.
type Store interface {
	// Append stores the new events among those given, all in one durable
	// transaction, and returns a verdict for each in order. It refuses an id that
	// is stored with another line, and a (job, device, seq) that another id holds.
	// An error means that nothing was stored and the caller may try again.
	Append(ctx context.Context, actor string, events []event.Event) ([]Verdict, error)
	// Job returns one job's events in fold order; none is not an error.
	Job(ctx context.Context, job event.JobID) ([]event.Event, error)
	// Jobs lists every job that has events, in order of first arrival.
	Jobs(ctx context.Context) ([]event.JobID, error)
	// After returns at most limit records with Pos above pos, in order of Pos.
	After(ctx context.Context, scope Scope, pos int64, limit int) ([]Record, error)
}

// Device is a Store on a phone: it also knows what the server has not yet acknowledged.
type Device interface {
	Store
	// Pending returns the oldest events without a verdict from the server, in order of Pos.
	Pending(ctx context.Context, limit int) ([]event.Event, error)
	// Waiting counts all of them.
	Waiting(ctx context.Context) (int, error)
	// Settle keeps the server's verdicts: these events leave Pending. Refused
	// ones are kept and listed by Troubled.
	Settle(ctx context.Context, verdicts []Verdict) error
	// Adopt stores events that came from the server; they are never pending.
	Adopt(ctx context.Context, records []Record) error
	// Forget makes every event of this device pending again, after the server's epoch changed.
	Forget(ctx context.Context, device event.DeviceID) error
	// Troubled lists the events that the server refused, with its reasons.
	Troubled(ctx context.Context) ([]Verdict, error)
	// Meta and SetMeta keep small named values: cursor, epoch, token, drafts.
	// A name never set is "".
	Meta(ctx context.Context, name string) (string, error)
	SetMeta(ctx context.Context, name, value string) error
}

// Conflict is the verdict on an id or a place in a chain that is taken.
func Conflict(id event.ID, what string) Verdict {
	return Verdict{ID: id, Outcome: Refused, Reason: fault.New(fault.Conflict,
		"The record holds another event with the same "+what+".",
		"Nothing was overwritten. Export this job from the phone and show it to the shop.")}
}
