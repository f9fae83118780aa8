package exchange_test

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

const now = 1_790_000_000_000

var ctx = context.Background()

func lines(events ...event.Event) (out []json.RawMessage) {
	for _, e := range events {
		out = append(out, json.RawMessage(e.Line()))
	}
	return out
}

func newStore() *store.Memory {
	return store.NewMemory(func() time.Time { return time.UnixMilli(now) })
}

func TestMay(t *testing.T) {
	// What others than the installer may write, and what is the reviewer's alone. All
	// else is the installer's alone.
	others := map[event.Kind][]exchange.Role{
		event.KindNoteAdded:     {exchange.Mentor, exchange.Reviewer},
		event.KindCommentAdded:  {exchange.Mentor, exchange.Reviewer},
		event.KindHoldReleased:  {exchange.Mentor},
		event.KindFindingRaised: {exchange.Reviewer},
		event.KindDecisionMade:  {exchange.Reviewer},
	}
	reviewers := []event.Kind{event.KindFindingRaised, event.KindDecisionMade}
	for _, kind := range append(event.Kinds(), "kind_of_a_newer_app") {
		if got, want := exchange.May(exchange.Installer, kind), !slices.Contains(reviewers, kind); got != want {
			t.Errorf("May(installer, %s) = %v, want %v", kind, got, want)
		}
		for _, role := range []exchange.Role{exchange.Mentor, exchange.Reviewer, "", "stranger"} {
			if got, want := exchange.May(role, kind), slices.Contains(others[kind], role); got != want {
				t.Errorf("May(%q, %s) = %v, want %v", role, kind, got, want)
			}
		}
	}
}

func TestServe(t *testing.T) {
	s := newStore()
	me := storetest.NewID[event.DeviceID]()
	mine := storetest.Notes(t, storetest.NewID[event.JobID](), me, 3)
	strangers := storetest.Notes(t, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), 2)
	if _, err := s.Append(ctx, "device:other", strangers); err != nil {
		t.Fatal(err)
	}
	reply, err := exchange.Serve(ctx, s, "e1", exchange.Sender{Actor: "device:me", Role: exchange.Installer}, now,
		exchange.Request{Nonce: "n", Events: lines(mine[0], mine[1], mine[0])})
	if err != nil {
		t.Fatal(err)
	}
	if reply.Epoch != "e1" || reply.Nonce != "n" || reply.ServerTime != now || reply.Cursor != 4 || reply.More {
		t.Errorf("reply = %+v", reply)
	}
	for i, want := range []store.Outcome{store.Stored, store.Stored, store.Duplicate} {
		if v := reply.Verdicts[i]; v.Outcome != want || v.ID != []event.Event{mine[0], mine[1], mine[0]}[i].ID {
			t.Errorf("verdict %d = %+v, want %s", i, v, want)
		}
	}
	if len(reply.Events) != 0 {
		t.Errorf("events = %+v, want none: it has just sent them", reply.Events)
	}
	for name, test := range map[string]struct {
		req  exchange.Request
		want int
	}{
		"from the cursor":            {exchange.Request{Epoch: "e1", Cursor: reply.Cursor, Head: reply.Head, Mark: reply.Mark}, 0},
		"cursor of another database": {exchange.Request{Epoch: "e0", Cursor: reply.Cursor, Head: reply.Head, Mark: reply.Mark}, 2},
		"cursor without an epoch":    {exchange.Request{Cursor: reply.Cursor, Head: reply.Head, Mark: reply.Mark}, 2},
		"of a log that grew again":   {exchange.Request{Epoch: "e1", Cursor: reply.Cursor, Head: reply.Head, Mark: "another"}, 2},
		"came late to a job since":   {exchange.Request{Epoch: "e1", Cursor: reply.Cursor, Head: reply.Head, Mark: reply.Mark, Late: "others"}, 2},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := exchange.Serve(ctx, s, "e1", exchange.Sender{Actor: "device:me", Role: exchange.Installer}, now, test.req)
			if err != nil || len(got.Events) != test.want || got.Cursor != 4 {
				t.Fatalf("got %d events, cursor %d, %v, want %d, 4", len(got.Events), got.Cursor, err, test.want)
			}
			if test.want > 0 && (got.Events[0].Actor != "device:me" || got.Events[0].Received != now) {
				t.Errorf("record %+v lacks who brought it and when", got.Events[0])
			}
		})
	}
}

func TestServeRefusesOneByOne(t *testing.T) {
	me, job := storetest.NewID[event.DeviceID](), storetest.NewID[event.JobID]()
	mine := storetest.Notes(t, job, me, 2)
	pass, err := event.ChainOf(job, me, mine).Seal(storetest.NewID[event.ID](), time.UnixMilli(now), &event.PassDone{Fastener: "f", Pass: "final", TorqueCNM: 9400, Count: 1})
	if err != nil {
		t.Fatal(err)
	}
	newer := json.RawMessage(strings.Replace(pass.Line(), "pass_done", "kind_of_a_newer_app", 1))
	altered := json.RawMessage(strings.Replace(mine[1].Line(), "note 1", "note 9", 1))
	tests := map[string]struct {
		role exchange.Role
		bad  json.RawMessage
		id   event.ID // of the verdict
		want fault.Kind
	}{
		"mentor makes a pass":        {exchange.Mentor, lines(pass)[0], pass.ID, fault.Denied},
		"reviewer makes a pass":      {exchange.Reviewer, lines(pass)[0], pass.ID, fault.Denied},
		"mentor writes a newer kind": {exchange.Mentor, newer, pass.ID, fault.Denied},
		"not an event":               {exchange.Installer, json.RawMessage(`{"hello":1}`), "", fault.Invalid},
		"not even an object":         {exchange.Installer, json.RawMessage(`7`), "", fault.Invalid},
		"broken, with an id":         {exchange.Installer, json.RawMessage(`{"id":"abc","seq":-1}`), "abc", fault.Invalid},
		"the same id, other words":   {exchange.Installer, altered, mine[1].ID, fault.Conflict},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s := newStore()
			reply, err := exchange.Serve(ctx, s, "e", exchange.Sender{Actor: "a", Role: test.role}, now,
				exchange.Request{Events: []json.RawMessage{lines(mine[0])[0], lines(mine[1])[0], test.bad, lines(mine[0])[0]}})
			if err != nil {
				t.Fatal(err)
			}
			v := reply.Verdicts[2]
			if v.Outcome != store.Refused || v.ID != test.id || v.Reason == nil || v.Reason.Kind != test.want || v.Reason.Hint == "" {
				t.Errorf("verdict = %+v (%v), want %s refused as %s", v, v.Reason, test.id, test.want)
			}
			for i, want := range map[int]store.Outcome{0: store.Stored, 3: store.Duplicate} {
				if reply.Verdicts[i].Outcome != want {
					t.Errorf("verdict %d = %s, want %s: one bad event held up the others", i, reply.Verdicts[i].Outcome, want)
				}
			}
			for _, r := range reply.Events {
				if r.Event.Line() == string(test.bad) {
					t.Error("the refused event was stored")
				}
			}
		})
	}
}

func TestErrServe(t *testing.T) {
	me := storetest.NewID[event.DeviceID]()
	events := storetest.Notes(t, storetest.NewID[event.JobID](), me, exchange.MaxEvents+1)
	t.Run("TooMany", func(t *testing.T) {
		s := newStore()
		_, err := exchange.Serve(ctx, s, "e", exchange.Sender{Actor: "a", Role: exchange.Installer}, now, exchange.Request{Events: lines(events...)})
		if !fault.Is(err, fault.TooLarge) {
			t.Errorf("got %v, want a %s fault", err, fault.TooLarge)
		}
		if n, _ := s.Waiting(ctx); n != 0 {
			t.Errorf("%d events were stored", n)
		}
	})
	t.Run("StoreFails", func(t *testing.T) {
		_, err := exchange.Serve(ctx, brokenStore{newStore()}, "e", exchange.Sender{Actor: "a", Role: exchange.Installer}, now, exchange.Request{Events: lines(events[0])})
		if !errors.Is(err, errDisk) {
			t.Errorf("got %v, want the store's error and no verdict", err)
		}
	})
}

var errDisk = errors.New("disk full")

// brokenStore cannot append.
type brokenStore struct{ store.Store }

func (brokenStore) Append(context.Context, string, []event.Event) ([]store.Verdict, error) {
	return nil, errDisk
}

// TestServeFitsOneReply: what one reply may carry is bounded in bytes, and the
// rest follows.
func TestServeFitsOneReply(t *testing.T) {
	ctx := context.Background()
	s := store.NewMemory(time.Now)
	device, jobID := storetest.NewID[event.DeviceID](), storetest.NewID[event.JobID]()
	chain := event.Chain{Job: jobID, Device: device}
	const count = 300
	for range count {
		e, err := chain.Seal(storetest.NewID[event.ID](), time.UnixMilli(1), &event.NoteAdded{Text: strings.Repeat("x", 4000)})
		if err != nil {
			t.Fatal(err)
		}
		chain = chain.See(e)
		if _, err := s.Append(ctx, "", []event.Event{e}); err != nil {
			t.Fatal(err)
		}
	}
	got, cursor := 0, int64(0)
	for more := true; more; {
		reply, err := exchange.Serve(ctx, s, "e", exchange.Sender{Actor: "", Role: exchange.Installer}, 1, exchange.Request{Epoch: "e", Cursor: cursor})
		if err != nil {
			t.Fatal(err)
		}
		size := 0
		for _, r := range reply.Events {
			size += len(r.Event.Line())
		}
		if size > exchange.MaxBytes {
			t.Fatalf("one reply carries %d bytes of events, more than %d", size, exchange.MaxBytes)
		}
		got, cursor, more = got+len(reply.Events), reply.Cursor, reply.More
	}
	if got != count {
		t.Errorf("%d events came, want %d", got, count)
	}
}

// TestServeTakesBackItsOwn: what only a reviewer may write comes from a phone when
// this server wrote it before, and then only.
func TestServeTakesBackItsOwn(t *testing.T) {
	chain := event.Chain{Job: storetest.NewID[event.JobID](), Device: storetest.NewID[event.DeviceID]()}
	var both []event.Event
	for _, p := range []event.Payload{
		&event.DecisionMade{Decision: event.Accept, Name: "Ann", Proof: "ours"}, &event.FindingRaised{Severity: "ask", Name: "Ann", Text: "a twist", Proof: "made up"},
	} {
		e, err := chain.Seal(storetest.NewID[event.ID](), time.UnixMilli(now), p)
		if err != nil {
			t.Fatal(err)
		}
		chain, both = chain.See(e), append(both, e)
	}
	wrote := func(e event.Event) bool { return e.ID == both[0].ID }
	for name, test := range map[string]struct {
		from exchange.Sender
		want []store.Outcome
	}{
		"a phone":                {exchange.Sender{Actor: "a", Role: exchange.Installer, Wrote: wrote}, []store.Outcome{store.Stored, store.Refused}},
		"where nothing is known": {exchange.Sender{Actor: "a", Role: exchange.Installer}, []store.Outcome{store.Refused, store.Refused}},
		"a reviewer":             {exchange.Sender{Actor: "a", Role: exchange.Reviewer}, []store.Outcome{store.Stored, store.Stored}},
	} {
		t.Run(name, func(t *testing.T) {
			s := newStore()
			reply, err := exchange.Serve(ctx, s, "e", test.from, now, exchange.Request{Events: lines(both...)})
			if err != nil {
				t.Fatal(err)
			}
			stored := 0
			for i, want := range test.want {
				v := reply.Verdicts[i]
				if v.Outcome != want || want == store.Refused && (v.Reason == nil || v.Reason.Kind != fault.Denied || !strings.Contains(v.Reason.Message, "another shop")) {
					t.Errorf("verdict %d = %+v (%v), want %s", i, v, v.Reason, want)
				}
				if want == store.Stored {
					stored++
				}
			}
			if all, err := s.Job(ctx, chain.Job); err != nil || len(all) != stored {
				t.Errorf("%d events are stored, %v, want %d", len(all), err, stored)
			}
		})
	}
}
