package browser_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"syscall/js"
	"testing"
	"time"

	"strutcard/pwa/browser"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

// These tests run inside a page: e2e/testdata/idb.html loads the compiled test
// beside store.js and memory.js and lends it "harness".

func harness(t *testing.T) js.Value {
	t.Helper()
	h := js.Global().Get("harness")
	if h.IsUndefined() {
		t.Fatal("this test needs the page e2e/testdata/idb.html around it")
	}
	return h
}

// settled waits for a promise of the harness.
func settled(t *testing.T, promise js.Value) js.Value {
	t.Helper()
	done := make(chan js.Value, 1)
	failed := make(chan js.Value, 1)
	yes := js.FuncOf(func(_ js.Value, args []js.Value) any { done <- args[0]; return nil })
	no := js.FuncOf(func(_ js.Value, args []js.Value) any { failed <- args[0]; return nil })
	defer yes.Release()
	defer no.Release()
	promise.Call("then", yes, no)
	select {
	case v := <-done:
		return v
	case v := <-failed:
		t.Fatalf("harness: %s", v.Get("message"))
	case <-time.After(20 * time.Second):
		t.Fatal("harness: no answer")
	}
	return js.Undefined()
}

// fresh points the seam at an empty log.
func fresh(t *testing.T, kind string) browser.Log {
	t.Helper()
	settled(t, harness(t).Call("fresh", kind))
	return browser.Log{}
}

func TestLog(t *testing.T) {
	for _, kind := range []string{"indexeddb", "memory"} {
		t.Run(kind, func(t *testing.T) {
			storetest.RunDevice(t, func(t *testing.T) store.Device { return fresh(t, kind) })
		})
	}
}

func note(t *testing.T) event.Event {
	t.Helper()
	return storetest.Notes(t, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), 1)[0]
}

func kept(t *testing.T, log browser.Log, job event.JobID) int {
	t.Helper()
	events, err := log.Job(context.Background(), job)
	if err != nil {
		t.Fatal(err)
	}
	return len(events)
}

// A phone that slept comes back with a handle that is dead.
func TestWriteAfterTheHandleDied(t *testing.T) {
	log := fresh(t, "indexeddb")
	harness(t).Call("closeHandle")
	e := note(t)
	if _, err := log.Write(context.Background(), []event.Event{e}); err != nil {
		t.Fatalf("write after the handle died: %v", err)
	}
	if n := kept(t, log, e.Job); n != 1 {
		t.Errorf("kept %d events, want 1", n)
	}
}

// A commit that fails fires only abort; nothing may count as saved.
func TestErrAbort(t *testing.T) {
	for name, want := range map[string]fault.Kind{"AbortError": fault.Storage, "QuotaExceededError": fault.Full} {
		t.Run(name, func(t *testing.T) {
			log := fresh(t, "indexeddb")
			e := note(t)
			harness(t).Call("failNextWrite", name)
			_, err := log.Write(context.Background(), []event.Event{e})
			if !fault.Is(err, want) {
				t.Errorf("write = %v, want kind %s", err, want)
			}
			if n := kept(t, log, e.Job); n != 0 {
				t.Errorf("kept %d events of a write that failed", n)
			}
			if _, err := log.Write(context.Background(), []event.Event{e}); err != nil {
				t.Errorf("the next try: %v", err)
			}
		})
	}
}

// A connection that the browser lost in mid-write is tried once more, by itself.
func TestLostConnectionIsTriedAgain(t *testing.T) {
	log := fresh(t, "indexeddb")
	e := note(t)
	harness(t).Call("failNextWrite", "UnknownError")
	verdicts, err := log.Write(context.Background(), []event.Event{e})
	if err != nil || verdicts[0].Outcome != store.Stored {
		t.Errorf("write = %v, %v, want stored", verdicts, err)
	}
	if n := kept(t, log, e.Job); n != 1 {
		t.Errorf("kept %d events, want 1", n)
	}
}

func TestEveryWriteIsStrict(t *testing.T) {
	log := fresh(t, "indexeddb")
	h := harness(t)
	h.Call("watchDurability")
	ctx := context.Background()
	e := note(t)
	_, err := log.Write(ctx, []event.Event{e})
	err = errors.Join(err, log.SetMeta(ctx, "a", "b"))
	_, taking := log.Take(ctx, store.Change{Verdicts: []store.Verdict{{ID: e.ID, Outcome: store.Stored}}, Events: []event.Event{note(t)}, Meta: map[string]string{"a": "c"}})
	if err = errors.Join(err, taking); err != nil {
		t.Fatal(err)
	}
	if got := h.Call("durabilities").String(); got != "strict,strict,strict" {
		t.Errorf("durabilities = %q, want three times strict: what a reply changes is one transaction", got)
	}
}

// The event loop must go on while a batch is written.
func TestBatchIsOneTransaction(t *testing.T) {
	log := fresh(t, "indexeddb")
	h := harness(t)
	h.Call("watchDurability")
	events := storetest.Notes(t, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), 200)
	if _, err := log.Write(context.Background(), events); err != nil {
		t.Fatal(err)
	}
	if got := strings.Count(h.Call("durabilities").String(), "strict"); got != 1 {
		t.Errorf("%d transactions for one batch, want 1", got)
	}
	if n := kept(t, log, events[0].Job); n != 200 {
		t.Errorf("kept %d events, want 200", n)
	}
}

func TestOneOpenForAll(t *testing.T) {
	log := fresh(t, "indexeddb")
	h := harness(t)
	h.Call("closeHandle")
	h.Call("watchOpens")
	errs := make(chan error, 10)
	for i := range 10 {
		go func() {
			_, err := log.Meta(context.Background(), fmt.Sprint(i))
			errs <- err
		}()
	}
	for range 10 {
		if err := <-errs; err != nil {
			t.Error(err)
		}
	}
	if got := h.Call("opens").Int(); got != 1 {
		t.Errorf("%d opens for ten calls at once, want 1", got)
	}
}

func TestMissingHostIsAnError(t *testing.T) {
	held := js.Global().Get("host")
	defer js.Global().Set("host", held)
	for _, missing := range []js.Value{js.ValueOf(map[string]any{}), js.Undefined()} {
		js.Global().Set("host", missing)
		if _, err := (browser.Log{}).Jobs(context.Background()); !fault.Is(err, fault.Storage) {
			t.Errorf("Jobs with the host %v = %v, want kind %s", missing.Type(), err, fault.Storage)
		}
	}
}
