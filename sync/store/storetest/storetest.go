// Package storetest is the suite that every store passes: memory and SQLite on
// the host, IndexedDB in a real browser.
package storetest

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

	"strutcard/sync/event"
	"strutcard/sync/store"
)

// Actor is who the suite writes as.
const Actor = "device:suite"

// NewID returns a fresh event, job or device id.
func NewID[T ~string]() T { return T(uuid.Must(uuid.NewV7()).String()) }

// Notes returns n sealed events by one device in one job.
func Notes(t testing.TB, job event.JobID, device event.DeviceID, n int) []event.Event {
	t.Helper()
	chain := event.Chain{Job: job, Device: device}
	out := make([]event.Event, 0, n)
	for i := range n {
		e, err := chain.Seal(NewID[event.ID](), time.UnixMilli(1_790_000_000_000+int64(i)), &event.NoteAdded{Text: fmt.Sprintf("note %d <&> é", i)})
		if err != nil {
			t.Fatalf("seal: %v", err)
		}
		chain = chain.See(e)
		out = append(out, e)
	}
	return out
}

// Run checks what every store promises.
func Run(t *testing.T, open func(*testing.T) store.Store) {
	tests := map[string]func(*testing.T, store.Store){
		"Append":           testAppend,
		"Again":            testAgain,
		"ErrSameID":        testSameID,
		"SamePlace":        testSamePlace,
		"MixedBatch":       testMixedBatch,
		"JobInFoldOrder":   testFoldOrder,
		"JobsInArrival":    testJobs,
		"AfterPages":       testAfterPages,
		"AfterScope":       testAfterScope,
		"Mark":             testMark,
		"Late":             testLate,
		"NoSuchJobIsEmpty": testNoJob,
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) { test(t, open(t)) })
	}
}

func testAppend(t *testing.T, s store.Store) {
	job := NewID[event.JobID]()
	want := Notes(t, job, NewID[event.DeviceID](), 3)
	expect(t, appendAll(t, s, want...), store.Stored, store.Stored, store.Stored)
	sameLines(t, jobOf(t, s, job), want)
}

func testAgain(t *testing.T, s store.Store) {
	job := NewID[event.JobID]()
	events := Notes(t, job, NewID[event.DeviceID](), 2)
	appendAll(t, s, events...)
	expect(t, appendAll(t, s, events...), store.Duplicate, store.Duplicate)
	expect(t, appendAll(t, s, events[1], events[1]), store.Duplicate, store.Duplicate)
	sameLines(t, jobOf(t, s, job), events)
}

func testSameID(t *testing.T, s store.Store) {
	job, device := NewID[event.JobID](), NewID[event.DeviceID]()
	first := Notes(t, job, device, 1)[0]
	appendAll(t, s, first)
	expect(t, appendAll(t, s, other(t, first)), store.Refused)
	sameLines(t, jobOf(t, s, job), []event.Event{first})
}

// other is an event under the same id with another line.
func other(t *testing.T, e event.Event) event.Event {
	t.Helper()
	o, err := event.Chain{Job: e.Job, Device: e.Device}.Seal(e.ID, e.Time(), &event.NoteAdded{Text: "another"})
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// testSamePlace: a phone that was restored from an old copy wrote on. Both of
// what stands at that place happened.
func testSamePlace(t *testing.T, s store.Store) {
	job, device := NewID[event.JobID](), NewID[event.DeviceID]()
	first, twin := Notes(t, job, device, 1)[0], Notes(t, job, device, 1)[0]
	appendAll(t, s, first)
	expect(t, appendAll(t, s, twin), store.Stored)
	expect(t, appendAll(t, s, first, twin), store.Duplicate, store.Duplicate)
	sameLines(t, jobOf(t, s, job), event.Sort([]event.Event{first, twin}))
}

func testMixedBatch(t *testing.T, s store.Store) {
	job, device := NewID[event.JobID](), NewID[event.DeviceID]()
	events := Notes(t, job, device, 3)
	appendAll(t, s, events[0])
	expect(t, appendAll(t, s, other(t, events[0]), events[0], events[1], events[2]), store.Refused, store.Duplicate, store.Stored, store.Stored)
	sameLines(t, jobOf(t, s, job), events)
}

func testFoldOrder(t *testing.T, s store.Store) {
	job := NewID[event.JobID]()
	a, b := Notes(t, job, NewID[event.DeviceID](), 3), Notes(t, job, NewID[event.DeviceID](), 3)
	appendAll(t, s, b[2], a[1], b[0], a[2], a[0], b[1])
	sameLines(t, jobOf(t, s, job), event.Sort(append(a, b...)))
}

func testJobs(t *testing.T, s store.Store) {
	one, two := NewID[event.JobID](), NewID[event.JobID]()
	device := NewID[event.DeviceID]()
	appendAll(t, s, Notes(t, two, device, 2)...)
	appendAll(t, s, Notes(t, one, device, 1)...)
	jobs, err := s.Jobs(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if len(jobs) != 2 || jobs[0] != two || jobs[1] != one {
		t.Errorf("Jobs = %v, want %v in order of arrival", jobs, []event.JobID{two, one})
	}
}

func testAfterPages(t *testing.T, s store.Store) {
	events := Notes(t, NewID[event.JobID](), NewID[event.DeviceID](), 7)
	appendAll(t, s, events...)
	var got []event.Event
	var pos int64
	for {
		page, err := s.After(context.Background(), store.Scope{}, pos, 3)
		if err != nil {
			t.Fatal(err)
		}
		if len(page) == 0 {
			break
		}
		for _, r := range page {
			if r.Pos <= pos {
				t.Fatalf("Pos %d does not rise above %d", r.Pos, pos)
			}
			if r.Actor != Actor || r.Received == 0 {
				t.Errorf("record has actor %q, received %d", r.Actor, r.Received)
			}
			pos = r.Pos
			got = append(got, r.Event)
		}
	}
	sameLines(t, got, events)
}

// testAfterScope: what a sender may read goes by what it brought, whoever wrote it.
func testAfterScope(t *testing.T, s store.Store) {
	mine, theirs := NewID[event.JobID](), NewID[event.JobID]()
	helper, stranger := NewID[event.DeviceID](), NewID[event.DeviceID]()
	a, b, c := Notes(t, mine, NewID[event.DeviceID](), 1), Notes(t, mine, helper, 1), Notes(t, theirs, stranger, 2)
	bring(t, s, "device:stranger", c[0])
	bring(t, s, "device:me", a[0])
	bring(t, s, "device:helper", b[0])
	bring(t, s, "device:stranger", c[1])
	for actor, want := range map[string][]event.Event{"device:me": {a[0], b[0]}, "device:helper": {a[0], b[0]}, "device:stranger": c, "device:nobody": nil} {
		got, err := s.After(context.Background(), store.Scope{Actor: actor}, 0, 10)
		if err != nil {
			t.Fatal(err)
		}
		sameLines(t, eventsOf(got), want)
	}
	byJob, err := s.After(context.Background(), store.Scope{Job: theirs}, 0, 10)
	if err != nil {
		t.Fatal(err)
	}
	sameLines(t, eventsOf(byJob), c)
}

func testMark(t *testing.T, s store.Store) {
	if pos, mark, err := s.Last(context.Background()); pos != 0 || mark != "" || err != nil {
		t.Errorf("Last of an empty store = %d, %q, %v", pos, mark, err)
	}
	appendAll(t, s, Notes(t, NewID[event.JobID](), NewID[event.DeviceID](), 2)...)
	records, err := s.After(context.Background(), store.Scope{}, 0, 10)
	if err != nil {
		t.Fatal(err)
	}
	if records[0].Mark == "" || records[0].Mark == records[1].Mark {
		t.Errorf("marks %q and %q, want two different ones", records[0].Mark, records[1].Mark)
	}
	if pos, mark, err := s.Last(context.Background()); pos != records[1].Pos || mark != records[1].Mark || err != nil {
		t.Errorf("Last = %d, %q, %v, want %d, %q", pos, mark, err, records[1].Pos, records[1].Mark)
	}
	for pos, want := range map[int64]string{records[0].Pos: records[0].Mark, records[1].Pos: records[1].Mark, records[1].Pos + 1: "", 0: "", -1: ""} {
		if got, err := s.Mark(context.Background(), pos); err != nil || got != want {
			t.Errorf("Mark(%d) = %q, %v, want %q", pos, got, err, want)
		}
	}
}

// testLate: only a job that others had begun counts, and only once.
func testLate(t *testing.T, s store.Store) {
	one, two, device := NewID[event.JobID](), NewID[event.JobID](), NewID[event.DeviceID]()
	a, b := Notes(t, one, device, 2), Notes(t, two, device, 3)
	late := func(want ...event.JobID) {
		t.Helper()
		if got, err := s.Late(context.Background(), "device:me"); err != nil || !slices.Equal(got, want) {
			t.Errorf("Late = %v, %v, want %v", got, err, want)
		}
	}
	late()
	bring(t, s, "device:me", a...)
	late()
	bring(t, s, "device:other", b[0])
	late()
	bring(t, s, "device:me", b[1])
	late(two)
	bring(t, s, "device:me", b[0], b[2])
	bring(t, s, "device:other", a[1], b[1])
	late(two)
	// What somebody else had brought already counts as much as something new.
	three := NewID[event.JobID]()
	c := Notes(t, three, device, 1)
	bring(t, s, "device:other", c...)
	bring(t, s, "device:me", c...)
	late(two, three)
}

func testNoJob(t *testing.T, s store.Store) {
	if got := jobOf(t, s, NewID[event.JobID]()); len(got) != 0 {
		t.Errorf("an unknown job has %d events", len(got))
	}
}

func appendAll(t *testing.T, s store.Store, events ...event.Event) []store.Verdict {
	t.Helper()
	return bring(t, s, Actor, events...)
}

func bring(t *testing.T, s store.Store, actor string, events ...event.Event) []store.Verdict {
	t.Helper()
	verdicts, err := s.Append(context.Background(), actor, events)
	return checked(t, verdicts, err, events)
}

// checked wants a verdict for each event, in order.
func checked(t *testing.T, verdicts []store.Verdict, err error, events []event.Event) []store.Verdict {
	t.Helper()
	if err != nil {
		t.Fatalf("append: %v", err)
	}
	if len(verdicts) != len(events) {
		t.Fatalf("got %d verdicts for %d events", len(verdicts), len(events))
	}
	for i := range verdicts {
		if verdicts[i].ID != events[i].ID {
			t.Fatalf("verdict %d is for %s, want %s", i, verdicts[i].ID, events[i].ID)
		}
	}
	return verdicts
}

func expect(t *testing.T, got []store.Verdict, want ...store.Outcome) {
	t.Helper()
	for i, w := range want {
		if got[i].Outcome != w {
			t.Errorf("verdict %d = %s, want %s", i, got[i].Outcome, w)
		}
		if (got[i].Reason != nil) != (w == store.Refused) {
			t.Errorf("verdict %d: %s with reason %v", i, w, got[i].Reason)
		}
	}
}

func jobOf(t *testing.T, s store.Log, job event.JobID) []event.Event {
	t.Helper()
	events, err := s.Job(context.Background(), job)
	if err != nil {
		t.Fatalf("job: %v", err)
	}
	return events
}

func eventsOf(records []store.Record) []event.Event {
	var out []event.Event
	for _, r := range records {
		out = append(out, r.Event)
	}
	return out
}

func sameLines(t *testing.T, got, want []event.Event) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("got %d events, want %d", len(got), len(want))
	}
	for i := range want {
		if got[i].Line() != want[i].Line() {
			t.Errorf("event %d:\n got %s\nwant %s", i, got[i].Line(), want[i].Line())
		}
	}
}
