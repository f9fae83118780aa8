// Package store is the contract for keeping events, an implementation in memory,
// and, in storetest, the suite that every implementation passes.
package store

import (
	"context"

	"strutcard/calc/lang"
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
	Mark     string      `json:"-"`               // random, of this storing: a log that was set back and grew again has others
}

// Scope limits what a reader sees. The zero Scope sees everything.
type Scope struct {
	Job   event.JobID // only this job
	Actor string      // only jobs to which this actor has brought events
}

// Log is what every store can read.
type Log interface {
	// Job returns one job's events in fold order; none is not an error.
	Job(ctx context.Context, job event.JobID) ([]event.Event, error)
	// Jobs lists every job that has events, in order of first arrival.
	Jobs(ctx context.Context) ([]event.JobID, error)
}

// Store is a server's: it takes in what its phones bring.
type Store interface {
	Log
	// Append stores the new events among those given, all in one durable
	// transaction, and returns a verdict for each in order. It refuses only an id
	// that is stored with another line: two events at one place of a chain are both
	// facts, and both are kept. An error means that nothing was stored and the
	// caller may try again.
	Append(ctx context.Context, actor string, events []event.Event) ([]Verdict, error)
	// After returns at most limit records with Pos above pos, in order of Pos.
	After(ctx context.Context, scope Scope, pos int64, limit int) ([]Record, error)
	// Last returns the position and the mark of the newest record; 0 and "" when
	// there is none. Mark returns the mark of the record at pos, or "".
	Last(ctx context.Context) (pos int64, mark string, err error)
	Mark(ctx context.Context, pos int64) (string, error)
	// Late lists, sorted, the jobs that held events of others before the actor first
	// brought one: records that the actor may read may lie behind its cursor.
	Late(ctx context.Context, actor string) ([]event.JobID, error)
}

// Device is a phone's: it also knows what the server has not yet acknowledged.
type Device interface {
	Log
	// Write stores what was recorded here, like Append, and it is pending from then
	// on. It also refuses a place in a chain that is taken: another tab was faster.
	Write(ctx context.Context, events []event.Event) ([]Verdict, error)
	// Pending returns the oldest events without a verdict from the server, in order of arrival.
	Pending(ctx context.Context, limit int) ([]event.Event, error)
	// Waiting counts all of them.
	Waiting(ctx context.Context) (int, error)
	// Take carries out a change in one durable transaction: all of it or nothing. It
	// returns the events that are new here. It fails with a conflict, and changes
	// nothing, when Was does not hold.
	Take(ctx context.Context, change Change) ([]event.Event, error)
	// Troubled lists the events that the server refused, with its reasons.
	Troubled(ctx context.Context) ([]Verdict, error)
	// Meta and SetMeta keep small named values: cursor, epoch, token, drafts.
	// A name never set is "".
	Meta(ctx context.Context, name string) (string, error)
	SetMeta(ctx context.Context, name, value string) error
}

// Change is what came from elsewhere. Its parts are carried out in their order.
type Change struct {
	Was      map[string]string // small values that must still be so: no other tab has been here
	Forget   bool              // every event is pending again: the server lost some
	Verdicts []Verdict         // these events are no longer pending; refused ones are kept with their reason
	Events   []event.Event     // what other devices wrote; a place in a chain may be taken
	Carry    bool              // the new ones among Events are pending: they came in a file
	Meta     map[string]string // small values to keep
}

// Moved is the conflict of a Change that came too late.
func Moved() error {
	return fault.New(fault.Conflict, "Another tab has synced in the meantime. Nothing is lost.", "It goes on by itself.")
}

// Conflict is the verdict on what is taken: an "id", or a "number in its chain".
func Conflict(id event.ID, what string) Verdict {
	return Verdict{ID: id, Outcome: Refused, Reason: fault.New(fault.Conflict,
		lang.F("The record holds another event with the same %s.", lang.T(what)),
		"Nothing was overwritten. Export this job from the phone and show it to the shop.")}
}
