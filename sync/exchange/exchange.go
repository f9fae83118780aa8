// Package exchange is how a phone's log and the server's become the same: one
// request, one reply, a verdict for each event. It knows no transport.
package exchange

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// Version of the protocol. A server goes on answering every version that it was
// ever released with, or says what to do.
const (
	Version = 1
	oldest  = 1
)

// Limits of one request, and of one reply.
const (
	MaxEvents = 500
	MaxBytes  = 1 << 20
)

// Request is what a phone sends: its unacknowledged events and where it stands
// in the server's order.
type Request struct {
	V      int               `json:"v"`      // Version; 0 is 1
	Epoch  string            `json:"epoch"`  // the server database the cursor belongs to; "" at first
	Nonce  string            `json:"nonce"`  // random; the reply repeats it, which no captive portal does
	Cursor int64             `json:"cursor"` // the last record that the phone took in
	Head   int64             `json:"head"`   // the newest record that the server has told of
	Mark   string            `json:"mark"`   // of that one; another there means that the server was set back
	Late   string            `json:"late"`   // what the server last said of it
	Max    int               `json:"max"`    // bytes of events that the reply may carry; 0: MaxBytes
	Events []json.RawMessage `json:"events"` // lines
}

// Reply is the server's answer.
type Reply struct {
	Epoch      string          `json:"epoch"`
	Nonce      string          `json:"nonce"`
	Cursor     int64           `json:"cursor"`
	Head       int64           `json:"head"`
	Mark       string          `json:"mark"`
	Late       string          `json:"late"`            // names the jobs that the sender came late to
	Reset      bool            `json:"reset,omitempty"` // the server lacks what it once acknowledged: send everything again
	Verdicts   []store.Verdict `json:"verdicts"`        // one per event sent, in order
	Events     []store.Record  `json:"events"`          // without those of this request
	More       bool            `json:"more"`            // ask again at once
	ServerTime int64           `json:"server_time"`
	Token      string          `json:"token,omitempty"` // a fresh one; the old one holds as well
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
	event.KindHoldReleased:  {Installer, Mentor},
	event.KindNoteAdded:     {Installer, Mentor, Reviewer},
	event.KindCommentAdded:  {Installer, Mentor, Reviewer},
	event.KindFindingRaised: {Reviewer},
	event.KindDecisionMade:  {Reviewer},
}

// Sender is who brings events, as the caller has checked. Wrote tells whether this
// server wrote an event itself: such a one may come back on any phone, after a
// restore.
type Sender struct {
	Actor string
	Role  Role
	Wrote func(event.Event) bool
}

func (s Sender) may(e event.Event) bool { return May(s.Role, e.Kind) || s.Wrote != nil && s.Wrote(e) }

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

// Serve answers a request from an authenticated sender. now is ms UTC.
//
// A sender may bring events of other devices: a phone may hold what its owner's
// lost phone wrote, or what a restored server forgot. The record says who brought
// each of them.
func Serve(ctx context.Context, s store.Store, epoch string, from Sender, now int64, req Request) (Reply, error) {
	if err := acceptable(req); err != nil {
		return Reply{}, err
	}
	verdicts, err := ingest(ctx, s, from, req)
	if err != nil {
		return Reply{}, err
	}
	reply := Reply{Epoch: epoch, Nonce: req.Nonce, Verdicts: verdicts, ServerTime: now}
	if err := position(ctx, s, from.Actor, req, &reply); err != nil {
		return Reply{}, err
	}
	records, err := s.After(ctx, store.Scope{Actor: from.Actor}, reply.Cursor, MaxEvents)
	if err != nil {
		return Reply{}, fmt.Errorf("read after cursor: %w", err)
	}
	reply.fill(records, limit(req.Max))
	return reply, nil
}

func acceptable(req Request) error {
	switch {
	case req.V != 0 && req.V < oldest:
		return fault.New(fault.Outdated, "This app is too old for the shop's server. Nothing was sent; everything is still on the phone.",
			"Go on working. When there is a good signal, start the new version of the app, then sync again.")
	case req.V > Version:
		return fault.New(fault.Outdated, "The shop's server is older than this app. Nothing was sent; everything is still on the phone.",
			"Go on working. Ask the shop to update its server.")
	case len(req.Events) > MaxEvents:
		return fault.New(fault.TooLarge, lang.F("More than %d events came at once. None was stored.", MaxEvents),
			"Nothing is lost: they are still on the phone. Update the app and sync again.")
	}
	return nil
}

// position finds where the sender stands. Its cursor counts only while the log
// that it belongs to is still this one, and while the sender has not come late to
// a further job: then records that it may read lie behind it.
func position(ctx context.Context, s store.Store, actor string, req Request, reply *Reply) error {
	mark, err := s.Mark(ctx, req.Head)
	if err != nil {
		return fmt.Errorf("look at head: %w", err)
	}
	late, err := s.Late(ctx, actor)
	if err != nil {
		return fmt.Errorf("list late jobs: %w", err)
	}
	reply.Late = nameOf(late)
	known := req.Epoch != ""
	reply.Reset = known && (req.Epoch != reply.Epoch || mark != req.Mark)
	if known && !reply.Reset && req.Late == reply.Late {
		reply.Cursor = req.Cursor
	}
	if reply.Head, reply.Mark, err = s.Last(ctx); err != nil { // after what was stored just now
		return fmt.Errorf("look at the newest record: %w", err)
	}
	return nil
}

// nameOf names a set of jobs: a count would take one set for another after the
// server was set back.
func nameOf(jobs []event.JobID) string {
	if len(jobs) == 0 {
		return ""
	}
	sum := sha256.New()
	for _, id := range jobs {
		sum.Write([]byte(id))
	}
	return hex.EncodeToString(sum.Sum(nil)[:16])
}

func limit(asked int) int {
	if asked <= 0 {
		return MaxBytes
	}
	return min(asked, MaxBytes)
}

// fill takes records in as far as they fit; at least one, so that the cursor
// always moves. What the sender has just brought it need not be told.
func (r *Reply) fill(records []store.Record, room int) {
	sent := map[event.ID]bool{}
	for _, v := range r.Verdicts {
		sent[v.ID] = v.Outcome != store.Refused
	}
	r.Events = []store.Record{}
	r.More = len(records) == MaxEvents
	for _, record := range records {
		if !sent[record.Event.ID] {
			if room -= len(record.Event.Line()); room < 0 && len(r.Events) > 0 {
				r.More = true
				return
			}
			r.Events = append(r.Events, record)
		}
		r.Cursor = record.Pos
	}
}

// ingest gives each event its verdict: a broken one never holds up the others.
func ingest(ctx context.Context, s store.Store, from Sender, req Request) ([]store.Verdict, error) {
	verdicts := make([]store.Verdict, len(req.Events))
	var good []event.Event
	var place []int
	for i, line := range req.Events {
		e, err := event.Decode(line)
		if err == nil && !from.may(e) {
			err = mayNot(from.Role, e)
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
	stored, err := s.Append(ctx, from.Actor, good)
	if err != nil {
		return nil, fmt.Errorf("append events: %w", err)
	}
	for i, v := range stored {
		verdicts[place[i]] = v
	}
	return verdicts, nil
}

func mayNot(role Role, e event.Event) error {
	if _, proven := e.Payload().(event.Proven); proven {
		return fault.New(fault.Denied, "A decision of another shop was not taken over.", "It stays on this phone. This shop decides for itself.")
	}
	return fault.New(fault.Denied, lang.F("The %s may not record %q. It was not stored.", lang.T(string(role)), e.Kind), "Ask the installer to record it.")
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
