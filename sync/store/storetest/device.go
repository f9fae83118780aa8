package storetest

import (
	"context"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// RunDevice checks what a phone's store promises.
func RunDevice(t *testing.T, open func(*testing.T) store.Device) {
	tests := map[string]func(*testing.T, store.Device){
		"Write":               testWrite,
		"ErrPlaceTaken":       testPlaceTaken,
		"PendingUntilSettled": testSettle,
		"RefusedIsKept":       testRefused,
		"AdoptIsNotPending":   testAdopt,
		"AdoptTwin":           testAdoptTwin,
		"Carry":               testCarry,
		"Forget":              testForget,
		"ErrMoved":            testMoved,
		"JobsInArrival":       testDeviceJobs,
		"NoSuchJobIsEmpty":    func(t *testing.T, s store.Device) { sameLines(t, jobOf(t, s, NewID[event.JobID]()), nil) },
		"Meta":                testMeta,
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) { test(t, open(t)) })
	}
}

func testWrite(t *testing.T, s store.Device) {
	job := NewID[event.JobID]()
	a, b := Notes(t, job, NewID[event.DeviceID](), 3), Notes(t, job, NewID[event.DeviceID](), 2)
	expect(t, write(t, s, b[1], a[0], b[0], a[2], a[1]), store.Stored, store.Stored, store.Stored, store.Stored, store.Stored)
	sameLines(t, jobOf(t, s, job), event.Sort(append(a, b...)))
	expect(t, write(t, s, a[1], other(t, a[1])), store.Duplicate, store.Refused)
	sameLines(t, jobOf(t, s, job), event.Sort(append(a, b...)))
}

// testPlaceTaken: of two tabs that write the same next event, one has to look again.
func testPlaceTaken(t *testing.T, s store.Device) {
	job, device := NewID[event.JobID](), NewID[event.DeviceID]()
	first, second := Notes(t, job, device, 2), Notes(t, job, device, 1)
	write(t, s, first[0])
	expect(t, write(t, s, second[0], first[1]), store.Refused, store.Stored)
	sameLines(t, jobOf(t, s, job), first)
	pending(t, s, first...)
}

func testDeviceJobs(t *testing.T, s store.Device) {
	if jobs, err := s.Jobs(context.Background()); err != nil || len(jobs) > 0 {
		t.Errorf("Jobs of an empty store = %v, %v", jobs, err)
	}
	one, two, device := NewID[event.JobID](), NewID[event.JobID](), NewID[event.DeviceID]()
	write(t, s, Notes(t, two, device, 2)...)
	write(t, s, Notes(t, one, device, 1)...)
	jobs, err := s.Jobs(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if len(jobs) != 2 || jobs[0] != two || jobs[1] != one {
		t.Errorf("Jobs = %v, want %v in order of arrival", jobs, []event.JobID{two, one})
	}
}

func testSettle(t *testing.T, s store.Device) {
	events := Notes(t, NewID[event.JobID](), NewID[event.DeviceID](), 3)
	write(t, s, events...)
	pending(t, s, events...)
	settle(t, s, store.Verdict{ID: events[0].ID, Outcome: store.Stored}, store.Verdict{ID: events[2].ID, Outcome: store.Duplicate})
	pending(t, s, events[1])
	write(t, s, events...) // seen before: must not become pending again
	pending(t, s, events[1])
}

func testRefused(t *testing.T, s store.Device) {
	events := Notes(t, NewID[event.JobID](), NewID[event.DeviceID](), 2)
	write(t, s, events...)
	settle(t, s, store.Verdict{ID: events[1].ID, Outcome: store.Refused, Reason: &fault.Error{Kind: fault.Denied, Message: "no", Hint: "ask"}})
	pending(t, s, events[0])
	troubled, err := s.Troubled(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if len(troubled) != 1 || troubled[0].ID != events[1].ID || troubled[0].Reason.Message != "no" {
		t.Errorf("Troubled = %v, want the refused event with its reason", troubled)
	}
	sameLines(t, jobOf(t, s, events[0].Job), events)
}

func testAdopt(t *testing.T, s store.Device) {
	job := NewID[event.JobID]()
	mine, theirs := Notes(t, job, NewID[event.DeviceID](), 1), Notes(t, job, NewID[event.DeviceID](), 2)
	write(t, s, mine...)
	came := []event.Event{theirs[0], mine[0], theirs[1]}
	sameLines(t, adopt(t, s, false, came...), theirs)
	sameLines(t, adopt(t, s, false, came...), nil)
	pending(t, s, mine...)
	sameLines(t, jobOf(t, s, job), event.Sort(append(mine, theirs...)))
	adopt(t, s, false, other(t, theirs[0])) // what is here stays as it is
	sameLines(t, jobOf(t, s, job), event.Sort(append(mine, theirs...)))
}

// testAdoptTwin: what another copy of this phone wrote stands beside its own.
func testAdoptTwin(t *testing.T, s store.Device) {
	job, device := NewID[event.JobID](), NewID[event.DeviceID]()
	mine, twin := Notes(t, job, device, 2), Notes(t, job, device, 1)
	write(t, s, mine...)
	sameLines(t, adopt(t, s, false, twin...), twin)
	sameLines(t, jobOf(t, s, job), event.Sort(append(mine, twin...)))
	pending(t, s, mine...)
}

// testCarry: what came in a file waits to be sent, unless it was here before.
func testCarry(t *testing.T, s store.Device) {
	job := NewID[event.JobID]()
	theirs := Notes(t, job, NewID[event.DeviceID](), 3)
	adopt(t, s, false, theirs[0])
	sameLines(t, adopt(t, s, true, theirs...), theirs[1:])
	pending(t, s, theirs[1:]...)
}

func testForget(t *testing.T, s store.Device) {
	job, device := NewID[event.JobID](), NewID[event.DeviceID]()
	mine, theirs := Notes(t, job, device, 2), Notes(t, job, NewID[event.DeviceID](), 1)
	write(t, s, mine...)
	settle(t, s, store.Verdict{ID: mine[0].ID, Outcome: store.Stored}, store.Verdict{ID: mine[1].ID, Outcome: store.Refused, Reason: &fault.Error{Kind: fault.Denied, Message: "no", Hint: "ask"}})
	adopt(t, s, false, theirs...)
	pending(t, s)
	take(t, s, store.Change{Forget: true})
	pending(t, s, mine[0], mine[1], theirs[0])
	if troubled, err := s.Troubled(context.Background()); err != nil || len(troubled) != 0 {
		t.Errorf("Troubled = %v, %v, want none: they will be judged again", troubled, err)
	}
}

// testMoved: what another tab has overtaken changes nothing at all.
func testMoved(t *testing.T, s store.Device) {
	ctx, job := context.Background(), NewID[event.JobID]()
	mine, theirs := Notes(t, job, NewID[event.DeviceID](), 1), Notes(t, job, NewID[event.DeviceID](), 1)
	write(t, s, mine...)
	if err := s.SetMeta(ctx, "cursor", "2"); err != nil {
		t.Fatal(err)
	}
	change := store.Change{Was: map[string]string{"cursor": "1", "epoch": ""}, Verdicts: []store.Verdict{{ID: mine[0].ID, Outcome: store.Stored}},
		Events: theirs, Meta: map[string]string{"cursor": "3"}}
	if _, err := s.Take(ctx, change); !fault.Is(err, fault.Conflict) {
		t.Errorf("Take = %v, want a %s fault", err, fault.Conflict)
	}
	pending(t, s, mine...)
	sameLines(t, jobOf(t, s, job), mine)
	change.Was["cursor"] = "2"
	sameLines(t, take(t, s, change), theirs)
	pending(t, s)
	if got, err := s.Meta(ctx, "cursor"); err != nil || got != "3" {
		t.Errorf("cursor = %q, %v, want 3", got, err)
	}
}

func testMeta(t *testing.T, s store.Device) {
	ctx := context.Background()
	for _, want := range []string{"", "one", "two — é", ""} {
		if err := s.SetMeta(ctx, "name", want); err != nil {
			t.Fatal(err)
		}
		got, err := s.Meta(ctx, "name")
		if err != nil {
			t.Fatal(err)
		}
		if got != want {
			t.Errorf("Meta = %q, want %q", got, want)
		}
	}
	if got, err := s.Meta(ctx, "never set"); err != nil || got != "" {
		t.Errorf("Meta of an unknown name = %q, %v, want empty", got, err)
	}
}

func write(t *testing.T, s store.Device, events ...event.Event) []store.Verdict {
	t.Helper()
	verdicts, err := s.Write(context.Background(), events)
	return checked(t, verdicts, err, events)
}

func adopt(t *testing.T, s store.Device, carry bool, events ...event.Event) []event.Event {
	t.Helper()
	return take(t, s, store.Change{Events: events, Carry: carry})
}

func settle(t *testing.T, s store.Device, verdicts ...store.Verdict) {
	t.Helper()
	take(t, s, store.Change{Verdicts: verdicts})
}

func take(t *testing.T, s store.Device, c store.Change) []event.Event {
	t.Helper()
	fresh, err := s.Take(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	return fresh
}

func pending(t *testing.T, s store.Device, want ...event.Event) {
	t.Helper()
	got, err := s.Pending(context.Background(), 100)
	if err != nil {
		t.Fatal(err)
	}
	sameLines(t, got, want)
	n, err := s.Waiting(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if n != len(want) {
		t.Errorf("Waiting = %d, want %d", n, len(want))
	}
}
