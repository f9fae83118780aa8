package exchange

import (
	"context"
	"encoding/json"
	"fmt"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// Names of what a phone remembers about its server.
const (
	metaEpoch  = "sync.epoch"
	metaCursor = "sync.cursor"
)

// cursor is where a phone stands in the server's order, as it remembers it.
type cursor struct {
	Pos  int64  `json:"pos"`
	Head int64  `json:"head"`
	Mark string `json:"mark"`
	Late string `json:"late"`
}

// Progress is what one round changed.
type Progress struct {
	Sent    int
	Refused int
	Got     []event.Event // events that are new here
	More    bool          // another round has work to do
	Epoch   string        // the server's database
	Token   string        // a fresh token; "" keeps the one in use
}

// Pace is how many bytes of events one round carries each way. A link of 2 kB/s
// cannot carry a full round before its request times out. The zero Pace is full.
type Pace int

const slowest Pace = 4 << 10

// After returns the pace for the next round: slower after one that was not
// answered, which carried size bytes, faster after one that was.
func (p Pace) After(err error, size int) Pace {
	full := Pace(MaxBytes)
	if p == 0 {
		p = full
	}
	switch {
	case err == nil:
		return min(2*p, full)
	case fault.Is(err, fault.Unreachable):
		return max(min(p, Pace(size))/4, slowest)
	}
	return p
}

// Send carries one request to the server and brings its reply.
type Send func(context.Context, Request) (Reply, error)

// Round sends the oldest pending events and takes in what is new. It may be
// cut off at any point and repeated for ever: its outcome is one transaction, and
// it counts only if no other tab has synced in between. size is how many bytes of
// events it tried to send, also when it failed.
func Round(ctx context.Context, local store.Device, nonce string, pace Pace, send Send) (p Progress, size int, err error) {
	a, err := gather(ctx, local, nonce, pace)
	if err != nil {
		return Progress{}, 0, fmt.Errorf("gather events: %w", err)
	}
	reply, err := send(ctx, a.req)
	if err != nil {
		return Progress{}, a.size, err
	}
	if reply.Nonce != nonce || reply.Epoch == "" || len(reply.Verdicts) != len(a.sent) {
		return Progress{}, a.size, fault.New(fault.Unreachable, "Something answered, but not the shop's server. Nothing was marked as sent.",
			"Check whether this network wants a sign-in page, then sync again.")
	}
	for i := range reply.Verdicts { // by position: a line the server cannot read has no id there
		reply.Verdicts[i].ID = a.sent[i]
	}
	p, err = a.apply(ctx, local, reply)
	return p, a.size, err
}

// attempt is one request and what it was made from.
type attempt struct {
	req  Request
	sent []event.ID
	size int               // bytes of the events
	was  map[string]string // what the phone remembered of its server
}

func gather(ctx context.Context, local store.Device, nonce string, pace Pace) (attempt, error) {
	a := attempt{req: Request{V: Version, Nonce: nonce, Max: int(pace), Events: []json.RawMessage{}}, was: map[string]string{}}
	for _, name := range []string{metaEpoch, metaCursor} {
		value, err := local.Meta(ctx, name)
		if err != nil {
			return a, err
		}
		a.was[name] = value
	}
	a.req.Epoch = a.was[metaEpoch]
	var at cursor
	if json.Unmarshal([]byte(a.was[metaCursor]), &at) == nil { // never set: from the start
		a.req.Cursor, a.req.Head, a.req.Mark, a.req.Late = at.Pos, at.Head, at.Mark, at.Late
	}
	pending, err := local.Pending(ctx, MaxEvents)
	if err != nil {
		return a, err
	}
	room := limit(int(pace)) - 1<<10 // the envelope around the events
	for _, e := range pending {
		if len(a.sent) > 0 && a.size+len(e.Line()) > room {
			break
		}
		a.size += len(e.Line()) + 1 // and the comma
		a.req.Events = append(a.req.Events, json.RawMessage(e.Line()))
		a.sent = append(a.sent, e.ID)
	}
	return a, nil
}

func (a attempt) apply(ctx context.Context, local store.Device, reply Reply) (Progress, error) {
	lost := a.req.Epoch != "" && a.req.Epoch != reply.Epoch || reply.Reset
	p := Progress{Sent: len(a.sent), More: reply.More || lost, Epoch: reply.Epoch, Token: reply.Token}
	for _, v := range reply.Verdicts {
		if v.Outcome == store.Refused {
			p.Refused++
		}
	}
	at, err := json.Marshal(cursor{reply.Cursor, reply.Head, reply.Mark, reply.Late})
	if err != nil {
		return p, fmt.Errorf("write cursor: %w", err)
	}
	change := store.Change{Was: a.was, Forget: lost, Verdicts: reply.Verdicts, Meta: map[string]string{metaEpoch: reply.Epoch, metaCursor: string(at)}}
	for _, r := range reply.Events {
		change.Events = append(change.Events, r.Event)
	}
	p.Got, err = local.Take(ctx, change)
	if fault.Is(err, fault.Conflict) {
		return Progress{More: true}, nil // another tab has synced: begin again from where it is
	}
	if err != nil {
		return p, fmt.Errorf("keep reply: %w", err)
	}
	left, err := local.Waiting(ctx)
	if err != nil {
		return p, fmt.Errorf("count unsent events: %w", err)
	}
	p.More = p.More || (left > 0 && len(a.sent) > 0)
	return p, nil
}
