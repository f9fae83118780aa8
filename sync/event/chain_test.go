package event_test

import (
	"crypto/sha256"
	"fmt"
	"reflect"
	"slices"
	"testing"
	"time"

	"strutcard/sync/event"
)

// writer seals events of one device; see says that it has received one.
type writer struct {
	t     testing.TB
	chain event.Chain
}

var lastID int

func newWriter(t testing.TB, device event.DeviceID) *writer {
	return &writer{t, event.Chain{Job: jobID, Device: device}}
}

func (w *writer) note(text string) event.Event {
	w.t.Helper()
	lastID++
	e, err := w.chain.Seal(id(lastID), time.UnixMilli(int64(lastID)), &event.NoteAdded{Text: text})
	if err != nil {
		w.t.Fatal(err)
	}
	w.chain = w.chain.See(e)
	return e
}

func TestChain(t *testing.T) {
	a, b := newWriter(t, deviceA), newWriter(t, deviceB)
	a1 := a.note("one")
	a2 := a.note("two")
	b1 := b.note("before b has seen anything")
	b.chain = b.chain.See(a2).See(a1)
	b2 := b.note("after b has seen a")
	for _, test := range []struct {
		name      string
		e         event.Event
		seq, tick int64
		prev      string
	}{
		{"first", a1, 1, 1, ""},
		{"second", a2, 2, 2, a1.Line()},
		{"other device, alone", b1, 1, 1, ""},
		{"other device, after the first", b2, 2, 3, b1.Line()},
	} {
		t.Run(test.name, func(t *testing.T) {
			want := event.Hash("")
			if test.prev != "" {
				want = event.Hash(fmt.Sprintf("%x", sha256.Sum256([]byte(test.prev))))
			}
			if test.e.Seq != test.seq || test.e.Tick != test.tick || test.e.Prev != want {
				t.Errorf("seq %d tick %d prev %q, want %d %d %q", test.e.Seq, test.e.Tick, test.e.Prev, test.seq, test.tick, want)
			}
		})
	}
	if got := event.ChainOf(jobID, deviceB, []event.Event{b2, a1, b1, a2}); got != b.chain {
		t.Errorf("ChainOf = %+v, want %+v", got, b.chain)
	}
	stranger := newWriter(t, deviceB)
	stranger.chain.Job, stranger.chain.Seq, stranger.chain.Tick, stranger.chain.Head = "01900000-0000-7000-8000-0000000000ee", 8, 80, a1.Hash()
	if got := b.chain.See(stranger.note("another job")); got != b.chain {
		t.Errorf("an event of another job moved the chain to %+v", got)
	}
}

func TestSealLeavesTheChain(t *testing.T) {
	chain := event.Chain{Job: jobID, Device: deviceA}
	e, err := chain.Seal(id(1), time.UnixMilli(1), &event.NoteAdded{Text: "x"})
	if err != nil {
		t.Fatal(err)
	}
	if chain != (event.Chain{Job: jobID, Device: deviceA}) {
		t.Errorf("Seal moved the chain to %+v before the event is on disk", chain)
	}
	_, err = chain.Seal("not an id", time.UnixMilli(1), &event.NoteAdded{Text: "x"})
	refused(t, err, "id")
	if got := chain.See(e).See(e); got.Seq != 1 || got.Tick != 1 {
		t.Errorf("seeing an event twice gives %+v", got)
	}
}

func TestSort(t *testing.T) {
	a, b := newWriter(t, deviceA), newWriter(t, deviceB)
	b1, a1 := b.note("b1"), a.note("a1") // the id of b1 comes before
	a2, b2 := a.note("a2"), b.note("b2")
	want := []event.Event{a1, b1, a2, b2} // tick first, then device
	got := event.Sort([]event.Event{b2, a1, b2, a2, b1, a1})
	if !reflect.DeepEqual(got, want) {
		t.Errorf("Sort = %v, want %v", ids(got), ids(want))
	}
	late, err := event.Chain{Job: jobID, Device: deviceA}.Seal(id(1), time.UnixMilli(9e12), &event.NoteAdded{Text: "clock far ahead"})
	if err != nil {
		t.Fatal(err)
	}
	if event.Less(a2, late) || !event.Less(late, a2) {
		t.Error("wall time decided the order")
	}
	for i, x := range want {
		for j, y := range want {
			if event.Less(x, y) != (i < j) {
				t.Errorf("Less(%d, %d) = %v", i, j, event.Less(x, y))
			}
		}
	}
	twin := newWriter(t, deviceA).note("same tick, device and number, another id")
	if event.Less(a1, twin) == event.Less(twin, a1) {
		t.Error("two different events have no order")
	}
}

func ids(events []event.Event) (out []event.ID) {
	for _, e := range events {
		out = append(out, e.ID)
	}
	return out
}

func TestGaps(t *testing.T) {
	a, b := newWriter(t, deviceA), newWriter(t, deviceB)
	var whole []event.Event
	for range 4 {
		whole = append(whole, a.note("by a"), b.note("by b"))
	}
	changed := newWriter(t, deviceA)
	changed.chain.Seq, changed.chain.Tick, changed.chain.Head = 1, 1, whole[0].Hash()
	second := changed.note("by a, changed later")
	double := newWriter(t, deviceB)
	double.chain.Seq, double.chain.Tick, double.chain.Head = 3, 3, whole[5].Hash()
	twin := double.note("another fourth")
	later := double.note("a fifth, after it")

	with := func(i int, e ...event.Event) []event.Event { return slices.Concat(whole[:i], e, whole[i+1:]) }
	tests := map[string]struct {
		events []event.Event
		want   []event.Gap
	}{
		"none":             {whole, nil},
		"repeated":         {slices.Concat(whole, whole), nil},
		"in any order":     {[]event.Event{whole[3], whole[2], whole[1], whole[0]}, nil},
		"tail cut off":     {whole[:5], nil}, // a chain cannot show what was never linked
		"missing":          {with(2), []event.Gap{{Device: deviceA, Seq: 3, Reason: "the events before this one are missing"}}},
		"first missing":    {with(1), []event.Gap{{Device: deviceB, Seq: 2, Reason: "the events before this one are missing"}}},
		"altered":          {with(2, second), []event.Gap{{Device: deviceA, Seq: 3, Reason: "the event before this one was changed"}}},
		"doubled":          {slices.Concat(whole, []event.Event{twin}), []event.Gap{{Device: deviceB, Seq: 4, Reason: "two events carry this number: the phone was set back, or copied"}}},
		"doubled, went on": {slices.Concat(whole, []event.Event{twin, later}), []event.Gap{{Device: deviceB, Seq: 4, Reason: "two events carry this number: the phone was set back, or copied"}}},
		"on both devices":  {with(2)[1:], []event.Gap{{Device: deviceA, Seq: 3, Reason: "the events before this one are missing"}}},
		"altered and lost": {slices.Delete(with(2, second), 3, 4), []event.Gap{{Device: deviceA, Seq: 3, Reason: "the event before this one was changed"}, {Device: deviceB, Seq: 3, Reason: "the events before this one are missing"}}},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			if got := event.Gaps(test.events); !reflect.DeepEqual(got, test.want) {
				t.Errorf("Gaps = %v, want %v", got, test.want)
			}
		})
	}
}
