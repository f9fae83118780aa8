// Package exchange is how a phone's log and the server's become the same: one
// request, one reply, a verdict for each event. It knows no transport.
package exchange

import (
	"context"
	"encoding/json"
	"fmt"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// Limits of one request.
const (
	MaxEvents = 500
	MaxBytes  = 1 << 20
)

// Request is what a phone sends: its unacknowledged events and where it stands
// in the server's order.
type Request struct {
	Epoch  string            `json:"epoch"` // the server database the cursor belongs to; "" at first
	Nonce  string            `json:"nonce"` // random; the reply repeats it, which no captive portal does
	Device event.DeviceID    `json:"device"`
	Cursor int64             `json:"cursor"`
	Events []json.RawMessage `json:"events"` // lines
}

// Reply is the server's answer.
type Reply struct {
	Epoch      string          `json:"epoch"`
	Nonce      string          `json:"nonce"`
	Cursor     int64           `json:"cursor"`
	Verdicts   []store.Verdict `json:"verdicts"` // one per event sent, in order
	Events     []store.Record  `json:"events"`
	More       bool            `json:"more"` // ask again at once
	ServerTime int64           `json:"server_time"`
}

// Role is what a sender may do.
type Role string

const (
	Installer Role = "installer"
	Mentor    Role = "mentor"
	Reviewer  Role = "reviewer"
)

// may is the one table of which role may append which kind. A kind that is not
// listed here, such as one from a newer app, is the installer's to write.
var may = map[event.Kind][]Role{
	event.KindHoldReleased: {Installer, Mentor},
	event.KindNoteAdded:    {Installer, Mentor, Reviewer},
}

// May reports whether role may append an event of this kind.
func May(role Role, kind event.Kind) bool {
	roles, listed := may[kind]
	if !listed {
		return role == Installer
	}
	for _, r := range roles {
		if r == role {
			return true
		}
	}
	return false
}

// Serve answers a request from an authenticated device with the given role.
// The actor names who that is; the caller has checked it. now is ms UTC.
func Serve(ctx context.Context, s store.Store, epoch, actor string, role Role, scope store.Scope, now int64, req Request) (Reply, error) {
	if len(req.Events) > MaxEvents {
		return Reply{}, fault.New(fault.TooLarge, fmt.Sprintf("More than %d events came at once. None was stored.", MaxEvents),
			"Nothing is lost: they are still on the phone. Update the app and sync again.")
	}
	verdicts, err := ingest(ctx, s, actor, role, req)
	if err != nil {
		return Reply{}, err
	}
	cursor := req.Cursor
	if req.Epoch != epoch {
		cursor = 0
	}
	records, err := s.After(ctx, scope, cursor, MaxEvents)
	if err != nil {
		return Reply{}, fmt.Errorf("read after cursor: %w", err)
	}
	page := fit(records)
	if len(page) > 0 {
		cursor = page[len(page)-1].Pos
	}
	return Reply{Epoch: epoch, Nonce: req.Nonce, Cursor: cursor, Verdicts: verdicts, Events: page,
		More: len(page) < len(records) || len(records) == MaxEvents, ServerTime: now}, nil
}

// fit keeps as many records as one reply may carry; at least one, so that the
// cursor always moves.
func fit(records []store.Record) []store.Record {
	size := 0
	for i, r := range records {
		if size += len(r.Event.Line()); size > MaxBytes && i > 0 {
			return records[:i]
		}
	}
	return records
}

// ingest gives each event its verdict: a broken one never holds up the others.
func ingest(ctx context.Context, s store.Store, actor string, role Role, req Request) ([]store.Verdict, error) {
	verdicts := make([]store.Verdict, len(req.Events))
	var good []event.Event
	var place []int
	for i, line := range req.Events {
		e, err := event.Decode(line)
		if err == nil {
			err = allowed(e, role, req.Device)
		}
		if err != nil {
			verdicts[i] = store.Verdict{ID: idOf(line), Outcome: store.Refused, Reason: fault.Of(err)}
			continue
		}
		good, place = append(good, e), append(place, i)
	}
	if len(good) == 0 {
		return verdicts, nil
	}
	stored, err := s.Append(ctx, actor, good)
	if err != nil {
		return nil, fmt.Errorf("append events: %w", err)
	}
	for i, v := range stored {
		verdicts[place[i]] = v
	}
	return verdicts, nil
}

func allowed(e event.Event, role Role, device event.DeviceID) error {
	if e.Device != device {
		return fault.New(fault.Denied, "This event was made by another device, which must send it itself.",
			"It was not stored. It stays on this phone.")
	}
	if !May(role, e.Kind) {
		return fault.New(fault.Denied, fmt.Sprintf("A %s may not record %q.", role, e.Kind),
			"It was not stored. Ask the installer to record it.")
	}
	return nil
}

// idOf finds the id of a line that could not be read, so that its sender can
// set that one event aside.
func idOf(line []byte) event.ID {
	var w struct {
		ID event.ID `json:"id"`
	}
	_ = json.Unmarshal(line, &w) // an unreadable line has no id; the verdict stands by position
	return w.ID
}
