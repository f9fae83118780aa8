package storetest

import (
	"context"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// RunDevice checks what a phone's store promises beside what Run checks.
func RunDevice(t *testing.T, open func(*testing.T) store.Device) {
	tests := map[string]func(*testing.T, store.Device){
		"PendingUntilSettled": testSettle,
		"RefusedIsKept":       testRefused,
		"AdoptIsNotPending":   testAdopt,
		"Forget":              testForget,
		"Meta":                testMeta,
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) { test(t, open(t)) })
	}
}

func testSettle(t *testing.T, s store.Device) {
	events := Notes(t, NewID[event.JobID](), NewID[event.DeviceID](), 3)
	appendAll(t, s, events...)
	pending(t, s, events...)
	settle(t, s, store.Verdict{ID: events[0].ID, Outcome: store.Stored}, store.Verdict{ID: events[2].ID, Outcome: store.Duplicate})
	pending(t, s, events[1])
	appendAll(t, s, events...) // seen before: must not become pending again
	pending(t, s, events[1])
}

func testRefused(t *testing.T, s store.Device) {
	events := Notes(t, NewID[event.JobID](), NewID[event.DeviceID](), 2)
	appendAll(t, s, events...)
	settle(t, s, store.Verdict{ID: events[1].ID, Outcome: store.Refused, Reason: fault.New(fault.Denied, "no", "ask")})
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
	appendAll(t, s, mine...)
	records := []store.Record{{Event: theirs[0], Pos: 90, Received: 5, Actor: "device:other"}, {Event: mine[0], Pos: 91, Received: 6}, {Event: theirs[1], Pos: 92, Received: 7}}
	for range 2 {
		if err := s.Adopt(context.Background(), records); err != nil {
			t.Fatal(err)
		}
	}
	pending(t, s, mine...)
	sameLines(t, jobOf(t, s, job), event.Sort(append(mine, theirs...)))
}

func testForget(t *testing.T, s store.Device) {
	job, device := NewID[event.JobID](), NewID[event.DeviceID]()
	mine, theirs := Notes(t, job, device, 2), Notes(t, job, NewID[event.DeviceID](), 1)
	appendAll(t, s, mine...)
	settle(t, s, store.Verdict{ID: mine[0].ID, Outcome: store.Stored}, store.Verdict{ID: mine[1].ID, Outcome: store.Stored})
	if err := s.Adopt(context.Background(), []store.Record{{Event: theirs[0], Pos: 3, Received: 5}}); err != nil {
		t.Fatal(err)
	}
	pending(t, s)
	if err := s.Forget(context.Background(), device); err != nil {
		t.Fatal(err)
	}
	pending(t, s, mine...)
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

func settle(t *testing.T, s store.Device, verdicts ...store.Verdict) {
	t.Helper()
	if err := s.Settle(context.Background(), verdicts); err != nil {
		t.Fatal(err)
	}
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
