package exchange_test

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/job"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

var long = flag.Bool("long", false, "let the model run deep: many more actions a run")

// TestModel: phones, their tabs and copies of them write, sync, die, are set back,
// cleared and barred, over a network that loses, repeats and delays, with a server
// that is set back as well. Nothing that anybody still holds may be missing once
// it is quiet, and everybody then has the same.
//
//	go test ./sync/exchange -run TestModel -rapid.checks=50000
func TestModel(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w := newWorld(t, rt)
		most := 40
		if *long {
			most = 200
		}
		for range rapid.IntRange(1, most).Draw(rt, "actions") {
			w.act()
			w.check()
		}
		w.quiet()
	})
}

// world is everything that can go wrong.
type world struct {
	t       *testing.T
	rt      *rapid.T
	s       *server
	phones  []*handset
	backups []backup
	jobs    []event.JobID
	under   []exchangeUnderWay // requests that the network may deliver again
	replies []exchange.Reply
	said    map[event.ID]string // what a person was told is saved, and some disk still holds
	turns   int                 // times the server was set back
	nonce   int
}

type backup struct {
	store *store.Memory
	epoch string
}

type exchangeUnderWay struct {
	actor string
	req   exchange.Request
}

// handset is one phone: a disk, two tabs over it, and copies of the disk.
type handset struct {
	actor  string // whose token it has
	disk   *store.Memory
	tabs   [2]*tab
	copies []*store.Memory
	barred bool // token expired, or revoked
	turn   int  // of the server, at its last round
}

// tab is what one open page has in memory: it may be out of date.
type tab struct {
	device event.DeviceID
	chains map[event.JobID]event.Chain
}

func newWorld(t *testing.T, rt *rapid.T) *world {
	w := &world{t: t, rt: rt, s: newServer(t), said: map[event.ID]string{}}
	for range 2 {
		w.jobs = append(w.jobs, storetest.NewID[event.JobID]())
	}
	for i := range rapid.IntRange(2, 4).Draw(rt, "phones") {
		w.phones = append(w.phones, w.newHandset(fmt.Sprint("device:", i), newStore()))
	}
	return w
}

func (w *world) newHandset(actor string, disk *store.Memory) *handset {
	h := &handset{actor: actor, disk: disk}
	w.restart(h)
	return h
}

// restart opens the pages anew: all they know comes from the disk.
func (w *world) restart(h *handset) {
	for i := range h.tabs {
		h.tabs[i] = &tab{}
		w.wake(h, h.tabs[i])
	}
}

func (w *world) wake(h *handset, tb *tab) {
	id, err := h.disk.Meta(ctx, "device")
	if err == nil && id == "" {
		id = string(storetest.NewID[event.DeviceID]())
		err = h.disk.SetMeta(ctx, "device", id)
	}
	if err != nil {
		w.rt.Fatal(err)
	}
	tb.device, tb.chains = event.DeviceID(id), map[event.JobID]event.Chain{}
}

// pick draws a number, which a failure prints, and not what stands behind it.
func pick[T any](w *world, from []T, label string) T {
	return from[rapid.IntRange(0, len(from)-1).Draw(w.rt, label)]
}

func (w *world) act() {
	h := pick(w, w.phones, "phone")
	tb := h.tabs[rapid.IntRange(0, 1).Draw(w.rt, "tab")]
	type action struct {
		weight int
		name   string
		do     func()
	}
	actions := []action{
		{8, "write", func() { w.write(h, tb, true) }},
		{1, "killed before the disk", func() { w.restart(h) }},
		{1, "killed after the disk", func() { w.write(h, tb, false); w.restart(h) }},
		{1, "page wakes", func() { w.wake(h, tb) }},
		{6, "sync", func() { w.round(h, tb, w.s.from(h.actor)) }},
		{2, "request lost", func() { w.round(h, tb, lose) }},
		{3, "reply lost", func() { w.round(h, tb, w.loseReply(h)) }},
		{1, "sign-in page", func() { w.round(h, tb, portal) }},
		{1, "old reply", func() { w.round(h, tb, w.oldReply) }},
		{2, "overtaken by the other tab", func() { w.round(h, tb, w.overtaken(h, tb)) }},
		{2, "request comes again", w.repeat},
		{1, "backup", func() { w.backups = append(w.backups, backup{w.s.store.Copy(), w.s.epoch}) }},
		{1, "server restored", func() { w.setServerBack(true) }},
		{1, "server file put back by hand", func() { w.setServerBack(false) }},
		{1, "copy of a phone", func() { h.copies = append(h.copies, h.disk.Copy()) }},
		{1, "phone set back", func() { w.setPhoneBack(h) }},
		{1, "phone cloned", func() { w.clone(h) }},
		{1, "phone cleared", func() { h.disk = newStore(); w.restart(h); w.holdOn() }},
		{2, "file to another phone", func() { w.carry(h) }},
		{1, "barred", func() { h.barred = true }},
		{1, "let in again", func() { h.barred = false }},
	}
	var names []string
	for _, a := range actions {
		for range a.weight {
			names = append(names, a.name)
		}
	}
	name := rapid.SampledFrom(names).Draw(w.rt, "action")
	actions[slices.IndexFunc(actions, func(a action) bool { return a.name == name })].do()
}

// write records one event, as the client does: a page that is behind looks again
// and the person presses once more.
func (w *world) write(h *handset, tb *tab, told bool) {
	id := rapid.SampledFrom(w.jobs).Draw(w.rt, "job")
	at := time.UnixMilli(now).AddDate(rapid.IntRange(-9, 30).Draw(w.rt, "years"), 0, 0)
	f := event.FastenerID(rapid.SampledFrom([]string{"a", "b"}).Draw(w.rt, "fastener"))
	what := rapid.SampledFrom([]event.Payload{&event.FastenerLoosened{Fastener: f}, &event.FastenerFitted{Fastener: f},
		&event.CarRaised{Axle: event.Rear}, &event.CarLowered{Axle: event.Rear}, &event.NoteAdded{Text: "n"}}).Draw(w.rt, "what")
	for range 2 {
		if _, ok := tb.chains[id]; !ok {
			tb.chains[id] = event.ChainOf(id, tb.device, events(w.t, h.disk, id))
		}
		e, err := tb.chains[id].Seal(storetest.NewID[event.ID](), at, what)
		if err != nil {
			w.rt.Fatal(err)
		}
		verdicts, err := h.disk.Write(ctx, []event.Event{e})
		if err != nil {
			w.rt.Fatal(err)
		}
		if verdicts[0].Outcome == store.Stored {
			tb.chains[id] = tb.chains[id].See(e)
			if told {
				w.said[e.ID] = e.Line()
			}
			return
		}
		w.wake(h, tb)
	}
	w.rt.Fatal("a page that has just looked again is refused")
}

// round is one round of sync, and what the client makes of it.
func (w *world) round(h *handset, tb *tab, send exchange.Send) exchange.Progress {
	w.nonce++
	if h.barred {
		send = barred
	}
	pace := rapid.SampledFrom([]exchange.Pace{0, 700, 4096}).Draw(w.rt, "pace")
	turn := w.turns
	p, _, err := exchange.Round(ctx, h.disk, fmt.Sprint("nonce ", w.nonce), pace, func(ctx context.Context, req exchange.Request) (exchange.Reply, error) {
		w.under = append(w.under, exchangeUnderWay{h.actor, req})
		reply, err := send(ctx, req)
		if err == nil {
			w.replies = append(w.replies, reply)
		}
		return reply, err
	})
	if err != nil {
		return p
	}
	h.turn = max(h.turn, turn) // a reply that was overtaken must not set it back
	if p.Refused > 0 {
		w.rt.Fatalf("%d events were refused", p.Refused)
	}
	for _, e := range p.Got {
		if chain, ok := tb.chains[e.Job]; ok {
			tb.chains[e.Job] = chain.See(e)
		}
	}
	w.twin(h, tb, p.Got)
	return p
}

// twin gives a phone a fresh identity once it meets what it does not remember.
func (w *world) twin(h *handset, tb *tab, came []event.Event) {
	if !slices.ContainsFunc(came, func(e event.Event) bool { return e.Device == tb.device }) {
		return
	}
	if err := h.disk.SetMeta(ctx, "device", string(storetest.NewID[event.DeviceID]())); err != nil {
		w.rt.Fatal(err)
	}
	w.wake(h, tb)
}

var errLost = errors.New("lost")

func lose(context.Context, exchange.Request) (exchange.Reply, error) {
	return exchange.Reply{}, errLost
}

func portal(context.Context, exchange.Request) (exchange.Reply, error) { return exchange.Reply{}, nil }

func barred(context.Context, exchange.Request) (exchange.Reply, error) {
	return exchange.Reply{}, fault.New(fault.SignIn, "no", "ask")
}

func (w *world) loseReply(h *handset) exchange.Send {
	return func(ctx context.Context, req exchange.Request) (exchange.Reply, error) {
		_, _ = w.s.answer(ctx, h.actor, req)
		return exchange.Reply{}, errLost
	}
}

func (w *world) oldReply(context.Context, exchange.Request) (exchange.Reply, error) {
	if len(w.replies) == 0 {
		return exchange.Reply{}, errLost
	}
	return pick(w, w.replies, "which reply"), nil
}

// overtaken answers, but before the reply is taken in the other tab syncs, and the
// server may be set back in between.
func (w *world) overtaken(h *handset, tb *tab) exchange.Send {
	return func(ctx context.Context, req exchange.Request) (exchange.Reply, error) {
		reply, err := w.s.answer(ctx, h.actor, req)
		if rapid.Bool().Draw(w.rt, "server set back meanwhile") {
			w.setServerBack(true)
		}
		other := h.tabs[0]
		if other == tb {
			other = h.tabs[1]
		}
		w.round(h, other, w.s.from(h.actor))
		return reply, err
	}
}

// repeat delivers a request again, however old; nobody waits for the reply.
func (w *world) repeat() {
	if len(w.under) > 0 {
		u := pick(w, w.under, "which request")
		_, _ = w.s.answer(ctx, u.actor, u.req)
	}
}

// setServerBack puts a backup in place: properly, with a new epoch, or by hand.
func (w *world) setServerBack(properly bool) {
	if len(w.backups) == 0 {
		return
	}
	b := pick(w, w.backups, "which backup")
	w.turns++
	w.s.store, w.s.epoch = b.store.Copy(), b.epoch
	if properly {
		w.s.epoch = fmt.Sprint("restored ", w.turns)
	}
	w.holdOn()
}

func (w *world) setPhoneBack(h *handset) {
	if len(h.copies) == 0 {
		return
	}
	h.disk = pick(w, h.copies, "which copy").Copy()
	h.turn = -1 // it may remember a server that has been set back since
	w.restart(h)
	w.holdOn()
}

func (w *world) clone(h *handset) {
	if len(w.phones) < 6 {
		c := w.newHandset(h.actor, h.disk.Copy())
		c.turn = h.turn
		w.phones = append(w.phones, c)
	}
}

// carry brings a file of one job to another phone; some lines may be missing.
func (w *world) carry(h *handset) {
	to := pick(w, w.phones, "to")
	f := exchange.File{Events: events(w.t, h.disk, rapid.SampledFrom(w.jobs).Draw(w.rt, "job"))}
	text := f.String()
	if cut := rapid.IntRange(0, 3).Draw(w.rt, "cut"); cut == 0 && len(text) > 0 {
		text = text[rapid.IntRange(0, len(text)-1).Draw(w.rt, "from"):]
	}
	fresh, err := to.disk.Take(ctx, store.Change{Events: exchange.ReadFile([]byte(text)).Events, Carry: true})
	if err != nil {
		w.rt.Fatal(err)
	}
	w.twin(to, to.tabs[0], fresh)
}

// held is every event on any disk.
func (w *world) held() map[event.ID]string {
	out := map[event.ID]string{}
	for _, s := range w.logs() {
		for _, id := range w.jobs {
			for _, e := range events(w.t, s, id) {
				if line, ok := out[e.ID]; ok && line != e.Line() {
					w.rt.Fatalf("one id, two lines:\n%s\n%s", line, e.Line())
				}
				out[e.ID] = e.Line()
			}
		}
	}
	return out
}

func (w *world) logs() []store.Log {
	logs := []store.Log{w.s.store}
	for _, h := range w.phones {
		logs = append(logs, h.disk)
	}
	return logs
}

// holdOn forgives what the last loss of a disk took with it.
func (w *world) holdOn() {
	held := w.held()
	for id := range w.said {
		if _, ok := held[id]; !ok {
			delete(w.said, id)
		}
	}
}

// check: nothing that was said to be saved is gone, and what a phone takes for
// sent is on the server.
func (w *world) check() {
	held := w.held()
	for id, line := range w.said {
		if held[id] != line {
			w.rt.Fatalf("said to be saved, and gone: %s", line)
		}
	}
	there := w.on(w.s.store)
	for i, h := range w.phones {
		if h.turn != w.turns {
			continue // it has not heard of the server's setback yet
		}
		waits := map[event.ID]bool{}
		pending, err := h.disk.Pending(ctx, 1<<20)
		if err != nil {
			w.rt.Fatal(err)
		}
		for _, e := range pending {
			waits[e.ID] = true
		}
		for id, line := range w.on(h.disk) {
			if _, ok := there[id]; !ok && !waits[id] {
				w.rt.Fatalf("phone %d takes this for sent, and the server lacks it: %s", i, line)
			}
		}
	}
}

func (w *world) on(s store.Log) map[event.ID]string {
	out := map[event.ID]string{}
	for _, id := range w.jobs {
		for _, e := range events(w.t, s, id) {
			out[e.ID] = e.Line()
		}
	}
	return out
}

// quiet lets everybody in and sync until nothing changes; then everything that
// anybody held is everywhere it belongs, once.
func (w *world) quiet() {
	want := w.held()
	for range 3 { // the second turn brings what the others sent in the first
		for _, h := range w.phones {
			h.barred = false
			w.syncAll(h)
		}
	}
	there := w.on(w.s.store)
	if len(there) != len(want) {
		w.rt.Fatalf("the server has %d events, want %d", len(there), len(want))
	}
	for _, id := range w.jobs {
		w.sameEverywhere(id)
	}
	for i, h := range w.phones {
		n, err := h.disk.Waiting(ctx)
		troubled, err2 := h.disk.Troubled(ctx)
		if n != 0 || len(troubled) != 0 || err != nil || err2 != nil {
			w.rt.Fatalf("phone %d: %d wait, %d are set aside (%v, %v)", i, n, len(troubled), err, err2)
		}
	}
}

func (w *world) syncAll(h *handset) {
	for range 400 { // at the slowest pace a round carries one or two events
		if p := w.round(h, h.tabs[0], w.s.from(h.actor)); !p.More {
			return
		}
	}
	w.rt.Fatal("sync finds no end")
}

// sameEverywhere: one state, and breaks in the chains where there are some and
// nowhere else.
func (w *world) sameEverywhere(id event.JobID) {
	all := events(w.t, w.s.store, id)
	want := stateOf(w.t, w.s.store, id)
	for i, h := range w.phones {
		mine := events(w.t, h.disk, id)
		if len(mine) == 0 {
			continue // it has no part in this job
		}
		if got := stateOf(w.t, h.disk, id); got != want {
			w.rt.Fatalf("phone %d has %d of %d events:\n got %s\nwant %s", i, len(mine), len(all), got, want)
		}
	}
	if got, want := len(event.Gaps(all)) > 0, broken(all); got != want {
		w.rt.Fatalf("breaks are shown: %v, there are some: %v", got, want)
	}
	shuffled := slices.Clone(all)
	slices.Reverse(shuffled)
	again, err := json.Marshal(job.Fold(id, append(shuffled, all...)))
	if err != nil || string(again) != want {
		w.rt.Fatalf("another order gives another state (%v)", err)
	}
}

// broken looks for breaks in another way than event.Gaps: a link that leads to no
// event, or one number twice.
func broken(all []event.Event) bool {
	type place struct {
		device event.DeviceID
		seq    int64
	}
	hashes, places := map[event.Hash]bool{"": true}, map[place]bool{}
	for _, e := range all {
		hashes[e.Hash()] = true
		places[place{e.Device, e.Seq}] = true
	}
	return len(places) < len(all) || slices.ContainsFunc(all, func(e event.Event) bool { return !hashes[e.Prev] })
}
