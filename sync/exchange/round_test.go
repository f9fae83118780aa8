package exchange_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/job"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

// server answers over JSON, as a real one would.
type server struct {
	t     testing.TB
	store *store.Memory
	epoch string
	sizes []int // bytes of each request
}

func newServer(t testing.TB) *server { return &server{t: t, store: newStore(), epoch: "first"} }

// from carries the requests of one actor.
func (s *server) from(actor string) exchange.Send {
	return func(ctx context.Context, req exchange.Request) (exchange.Reply, error) {
		return s.answer(ctx, actor, req)
	}
}

func (s *server) answer(ctx context.Context, actor string, req exchange.Request) (exchange.Reply, error) {
	raw, err := json.Marshal(req)
	if err != nil {
		return exchange.Reply{}, err
	}
	s.sizes = append(s.sizes, len(raw))
	var got exchange.Request
	if err := json.Unmarshal(raw, &got); err != nil {
		return exchange.Reply{}, err
	}
	reply, err := exchange.Serve(ctx, s.store, s.epoch, exchange.Sender{Actor: actor, Role: exchange.Installer}, now, got)
	if err != nil {
		return exchange.Reply{}, err
	}
	if raw, err = json.Marshal(reply); err != nil {
		return exchange.Reply{}, err
	}
	var back exchange.Reply
	return back, json.Unmarshal(raw, &back)
}

// phone is a device with its store and its place in one job.
type phone struct {
	t      testing.TB
	store  *store.Memory
	device event.DeviceID
	chain  event.Chain
	nonce  int
}

func newPhone(t testing.TB, job event.JobID) *phone {
	device := storetest.NewID[event.DeviceID]()
	return &phone{t: t, store: newStore(), device: device, chain: event.Chain{Job: job, Device: device}}
}

func (p *phone) write(payloads ...event.Payload) {
	p.t.Helper()
	for _, payload := range payloads {
		e, err := p.chain.Seal(storetest.NewID[event.ID](), time.UnixMilli(now), payload)
		if err != nil {
			p.t.Fatal(err)
		}
		if _, err := p.store.Write(ctx, []event.Event{e}); err != nil {
			p.t.Fatal(err)
		}
		p.chain = p.chain.See(e)
	}
}

func (p *phone) notes(n int, text string) {
	p.t.Helper()
	for range n {
		p.write(&event.NoteAdded{Text: text})
	}
}

func (p *phone) round(send exchange.Send) (exchange.Progress, error) {
	p.nonce++
	progress, _, err := exchange.Round(ctx, p.store, fmt.Sprint("nonce ", p.nonce), 0, send)
	for _, e := range progress.Got {
		p.chain = p.chain.See(e)
	}
	return progress, err
}

func (p *phone) actor() string { return "device:" + string(p.device) }

// sync rounds until nothing is left.
func (p *phone) sync(send exchange.Send) (sent int) {
	p.t.Helper()
	for range 50 {
		progress, err := p.round(send)
		if err != nil {
			p.t.Fatal(err)
		}
		if sent += progress.Sent; !progress.More {
			return sent
		}
	}
	p.t.Fatal("sync finds no end")
	return sent
}

func (p *phone) waiting() int {
	p.t.Helper()
	n, err := p.store.Waiting(ctx)
	if err != nil {
		p.t.Fatal(err)
	}
	return n
}

func events(t testing.TB, s store.Log, job event.JobID) []event.Event {
	t.Helper()
	out, err := s.Job(ctx, job)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func stateOf(t testing.TB, s store.Log, id event.JobID) string {
	t.Helper()
	data, err := json.Marshal(job.Fold(id, events(t, s, id)))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestRoundIsIdempotent(t *testing.T) {
	s, p := newServer(t), newPhone(t, storetest.NewID[event.JobID]())
	p.notes(3, "n")
	for i, want := range []int{3, 0, 0} {
		progress, err := p.round(s.from(p.actor()))
		if err != nil || progress.Sent != want || progress.Refused != 0 || progress.More || len(progress.Got) != 0 || progress.Epoch != "first" {
			t.Errorf("round %d: %+v, %v, want %d sent", i, progress, err, want)
		}
	}
	if got := len(events(t, s.store, p.chain.Job)); got != 3 || p.waiting() != 0 {
		t.Errorf("server has %d events, %d wait, want 3, 0", got, p.waiting())
	}
}

func TestReplyLost(t *testing.T) {
	s, p := newServer(t), newPhone(t, storetest.NewID[event.JobID]())
	p.notes(3, "n")
	lost := errors.New("connection lost")
	for range 2 {
		_, err := p.round(func(ctx context.Context, req exchange.Request) (exchange.Reply, error) {
			_, _ = s.answer(ctx, p.actor(), req) // it arrives; its reply does not
			return exchange.Reply{}, lost
		})
		if !errors.Is(err, lost) || p.waiting() != 3 {
			t.Errorf("lost reply: %v, %d wait, want the error and 3", err, p.waiting())
		}
	}
	p.sync(s.from(p.actor()))
	if got := len(events(t, s.store, p.chain.Job)); got != 3 || p.waiting() != 0 {
		t.Errorf("server has %d events, %d wait, want each stored once and none waiting", got, p.waiting())
	}
}

func TestErrReplyIsNotOurs(t *testing.T) {
	var stray store.Record
	if err := json.Unmarshal([]byte(`{"pos":9}`), &stray); err != nil {
		t.Fatal(err)
	}
	stray.Event = storetest.Notes(t, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), 1)[0]
	tests := map[string]func(*exchange.Reply){
		"wrong nonce":      func(r *exchange.Reply) { r.Nonce = "nonce 0" },
		"sign-in page":     func(r *exchange.Reply) { *r = exchange.Reply{} }, // HTML read as JSON leaves nothing
		"no epoch":         func(r *exchange.Reply) { r.Epoch = "" },
		"a verdict short":  func(r *exchange.Reply) { r.Verdicts = r.Verdicts[1:] },
		"a verdict extra":  func(r *exchange.Reply) { r.Verdicts = append(r.Verdicts, r.Verdicts[0]) },
		"repeated earlier": func(r *exchange.Reply) { r.Nonce = "" },
	}
	for name, spoil := range tests {
		t.Run(name, func(t *testing.T) {
			s, p := newServer(t), newPhone(t, storetest.NewID[event.JobID]())
			p.notes(3, "n")
			_, err := p.round(func(ctx context.Context, req exchange.Request) (exchange.Reply, error) {
				reply, err := s.answer(ctx, p.actor(), req)
				reply.Events = append(reply.Events, stray)
				spoil(&reply)
				return reply, err
			})
			if !fault.Is(err, fault.Unreachable) || fault.Of(err).Hint == "" {
				t.Errorf("got %v, want an %s fault with a hint", err, fault.Unreachable)
			}
			if got := len(events(t, p.store, stray.Event.Job)); p.waiting() != 3 || got != 0 {
				t.Errorf("%d wait, %d stray events adopted, want 3, 0", p.waiting(), got)
			}
			if epoch, _ := p.store.Meta(ctx, "sync.epoch"); epoch != "" {
				t.Errorf("epoch %q was kept from a reply that is not ours", epoch)
			}
			if p.sync(s.from(p.actor())) != 3 || p.waiting() != 0 {
				t.Error("the next true reply does not settle them")
			}
		})
	}
}

func TestBrokenEventIsSetAside(t *testing.T) {
	s, p := newServer(t), newPhone(t, storetest.NewID[event.JobID]())
	p.notes(4, "n")
	mine := events(t, p.store, p.chain.Job)
	progress, err := p.round(func(ctx context.Context, req exchange.Request) (exchange.Reply, error) {
		req.Events = slices.Clone(req.Events)
		req.Events[1] = json.RawMessage(`{"nothing":"of ours"}`)
		req.Events[2] = json.RawMessage(`{"id":"` + string(mine[3].ID) + `"}`) // names another's id
		return s.answer(ctx, p.actor(), req)
	})
	if err != nil || progress.Refused != 2 || progress.Sent != 4 {
		t.Fatalf("%+v, %v, want 2 of 4 refused", progress, err)
	}
	troubled, err := p.store.Troubled(ctx)
	if err != nil {
		t.Fatal(err)
	}
	var got []event.ID
	for _, v := range troubled {
		got = append(got, v.ID)
	}
	if want := []event.ID{mine[1].ID, mine[2].ID}; !slices.Equal(got, want) || p.waiting() != 0 {
		t.Errorf("Troubled = %v, %d wait, want %v by position and none waiting", got, p.waiting(), want)
	}
	if here, there := len(events(t, p.store, p.chain.Job)), len(events(t, s.store, p.chain.Job)); here != 4 || there != 2 {
		t.Errorf("phone has %d events, server %d, want 4 and the 2 good ones", here, there)
	}
}

func TestEpochChange(t *testing.T) {
	jobID := storetest.NewID[event.JobID]()
	s, a, b := newServer(t), newPhone(t, jobID), newPhone(t, jobID)
	a.notes(3, "by a")
	a.sync(s.from(a.actor()))
	b.notes(2, "by b")
	b.sync(s.from(b.actor()))
	a.sync(s.from(a.actor()))
	before := stateOf(t, a.store, jobID)

	// The server comes back from a backup that holds only a's first event.
	backup := newStore()
	if _, err := backup.Append(ctx, "device:a", events(t, s.store, jobID)[:1]); err != nil {
		t.Fatal(err)
	}
	s.store, s.epoch = backup, "second"

	progress, err := a.round(s.from(a.actor()))
	if err != nil || !progress.More || progress.Sent != 0 {
		t.Fatalf("first round after a restore: %+v, %v, want word of more to do", progress, err)
	}
	if a.waiting() != 5 {
		t.Errorf("%d events wait on a, want all 5 that it holds: b may never come back", a.waiting())
	}
	a.notes(1, "by a, since") // sent in the same rounds as the old ones
	if sent := a.sync(s.from(a.actor())); sent != 6 {
		t.Errorf("%d events sent, want 6", sent)
	}
	if got, want := stateOf(t, s.store, jobID), stateOf(t, a.store, jobID); got != want {
		t.Errorf("server before b has come back:\n got %s\nwant %s", got, want)
	}
	b.sync(s.from(b.actor()))
	a.sync(s.from(a.actor()))
	if got, want := stateOf(t, s.store, jobID), stateOf(t, a.store, jobID); got != want || got == before {
		t.Errorf("server after the restore:\n got %s\nwant %s", got, want)
	}
	if a.waiting()+b.waiting() != 0 {
		t.Errorf("%d + %d events wait for ever", a.waiting(), b.waiting())
	}
	if progress, err := a.round(s.from(a.actor())); err != nil || progress.More || progress.Sent != 0 {
		t.Errorf("later round: %+v, %v, want quiet", progress, err)
	}
}

// TestEpochChangeWithEventsUnderWay: what the new database has just acknowledged is not sent twice.
func TestEpochChangeWithEventsUnderWay(t *testing.T) {
	s, p := newServer(t), newPhone(t, storetest.NewID[event.JobID]())
	p.notes(2, "old")
	p.sync(s.from(p.actor()))
	s.store, s.epoch = newStore(), "second"
	p.notes(1, "new")
	progress, err := p.round(s.from(p.actor()))
	if err != nil || progress.Sent != 1 || !progress.More || p.waiting() != 2 {
		t.Fatalf("%+v, %v, %d wait, want 1 sent, more, and the 2 old ones waiting", progress, err, p.waiting())
	}
	if p.sync(s.from(p.actor())) != 2 || len(events(t, s.store, p.chain.Job)) != 3 {
		t.Error("the restored server does not hold all three")
	}
}

func TestManyRounds(t *testing.T) {
	t.Run("ByCount", func(t *testing.T) {
		jobID := storetest.NewID[event.JobID]()
		s, a, b := newServer(t), newPhone(t, jobID), newPhone(t, jobID)
		a.notes(2*exchange.MaxEvents+100, "n")
		if sent := a.sync(s.from(a.actor())); sent != 1100 || len(s.sizes) != 3 {
			t.Errorf("%d events in %d rounds, want 1100 in 3", sent, len(s.sizes))
		}
		b.notes(1, "joins")
		b.sync(s.from(b.actor()))
		if got, want := stateOf(t, b.store, jobID), stateOf(t, s.store, jobID); got != want || a.waiting() != 0 {
			t.Errorf("another device does not get all of it; %d wait", a.waiting())
		}
	})
	t.Run("BySize", func(t *testing.T) {
		s, p := newServer(t), newPhone(t, storetest.NewID[event.JobID]())
		p.notes(400, strings.Repeat("x", 4000))
		if sent := p.sync(s.from(p.actor())); sent != 400 || len(s.sizes) != 2 {
			t.Errorf("%d events in %d rounds, want 400 in 2", sent, len(s.sizes))
		}
		for i, size := range s.sizes {
			if size > exchange.MaxBytes { // the server's limit stands a little above it
				t.Errorf("request %d has %d bytes, more than %d", i, size, exchange.MaxBytes)
			}
		}
	})
}
