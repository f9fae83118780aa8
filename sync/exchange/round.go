package exchange

import (
	"context"
	"encoding/json"
	"fmt"
	"strconv"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// Names of what a phone remembers about its server.
const (
	metaEpoch  = "sync.epoch"
	metaCursor = "sync.cursor"
)

// Progress is what one round changed.
type Progress struct {
	Sent    int
	Refused int
	Got     []event.Event // events that other devices wrote
	More    bool          // another round has work to do
}

// Send carries one request to the server and brings its reply.
type Send func(context.Context, Request) (Reply, error)

// Round sends the oldest pending events and takes in what is new. It may be
// cut off at any point and repeated for ever: each part is idempotent.
func Round(ctx context.Context, local store.Device, device event.DeviceID, nonce string, send Send) (Progress, error) {
	req, sent, err := next(ctx, local, device, nonce)
	if err != nil {
		return Progress{}, fmt.Errorf("gather events: %w", err)
	}
	reply, err := send(ctx, req)
	if err != nil {
		return Progress{}, err
	}
	if reply.Nonce != req.Nonce || reply.Epoch == "" || len(reply.Verdicts) != len(req.Events) {
		return Progress{}, fault.New(fault.Unreachable, "Something answered, but not the shop's server. Nothing was marked as sent.",
			"Check whether this network wants a sign-in page, then sync again.")
	}
	for i := range reply.Verdicts { // by position: a line the server cannot read has no id there
		reply.Verdicts[i].ID = sent[i]
	}
	return apply(ctx, local, req, reply)
}

func next(ctx context.Context, local store.Device, device event.DeviceID, nonce string) (Request, []event.ID, error) {
	epoch, err := local.Meta(ctx, metaEpoch)
	if err != nil {
		return Request{}, nil, err
	}
	text, err := local.Meta(ctx, metaCursor)
	if err != nil {
		return Request{}, nil, err
	}
	cursor, _ := strconv.ParseInt(text, 10, 64) // never set means from the start
	pending, err := local.Pending(ctx, MaxEvents)
	if err != nil {
		return Request{}, nil, err
	}
	req := Request{Epoch: epoch, Nonce: nonce, Device: device, Cursor: cursor, Events: []json.RawMessage{}}
	size := 1 << 10 // the envelope around the events
	var sent []event.ID
	for _, e := range pending {
		if size += len(e.Line()) + 1; size > MaxBytes {
			break
		}
		req.Events = append(req.Events, json.RawMessage(e.Line()))
		sent = append(sent, e.ID)
	}
	return req, sent, nil
}

func apply(ctx context.Context, local store.Device, req Request, reply Reply) (Progress, error) {
	p := Progress{Sent: len(req.Events)}
	if req.Epoch != "" && reply.Epoch != req.Epoch {
		// The server came back from a backup: it may lack what it once acknowledged.
		if err := local.Forget(ctx, req.Device); err != nil {
			return p, fmt.Errorf("mark all as unsent: %w", err)
		}
		p.More = true
	}
	if err := local.Settle(ctx, reply.Verdicts); err != nil {
		return p, fmt.Errorf("keep verdicts: %w", err)
	}
	if err := local.Adopt(ctx, reply.Events); err != nil {
		return p, fmt.Errorf("keep events: %w", err)
	}
	for _, v := range reply.Verdicts {
		if v.Outcome == store.Refused {
			p.Refused++
		}
	}
	for _, r := range reply.Events {
		if r.Event.Device != req.Device {
			p.Got = append(p.Got, r.Event)
		}
	}
	if err := local.SetMeta(ctx, metaEpoch, reply.Epoch); err != nil {
		return p, fmt.Errorf("keep epoch: %w", err)
	}
	if err := local.SetMeta(ctx, metaCursor, strconv.FormatInt(reply.Cursor, 10)); err != nil {
		return p, fmt.Errorf("keep cursor: %w", err)
	}
	left, err := local.Waiting(ctx)
	if err != nil {
		return p, fmt.Errorf("count unsent events: %w", err)
	}
	p.More = p.More || reply.More || (left > 0 && len(req.Events) > 0)
	return p, nil
}
