package exchange_test

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

// counts writes a count of one part by a clock of the phone's own.
func (p *phone) counts(found int64, clock time.Time) {
	p.t.Helper()
	e, err := p.chain.Seal(storetest.NewID[event.ID](), clock, &event.PartCounted{Part: "spring", Found: found})
	if err != nil {
		p.t.Fatal(err)
	}
	if _, err := p.store.Write(ctx, []event.Event{e}); err != nil {
		p.t.Fatal(err)
	}
	p.chain = p.chain.See(e)
}

// found is the count as a log folds it.
func found(t *testing.T, s store.Log, id event.JobID) int64 {
	t.Helper()
	var st struct {
		Parts map[string]struct{ Found int64 }
	}
	if err := json.Unmarshal([]byte(stateOf(t, s, id)), &st); err != nil {
		t.Fatal(err)
	}
	return st.Parts["spring"].Found
}

// TestClocksApart: of three phones one is an hour behind and one four years ahead.
// Whoever writes after having seen the others' entries has the last word, on every
// phone and on the server (pitfalls 56 and 57).
func TestClocksApart(t *testing.T) {
	today := time.UnixMilli(now)
	jobID := storetest.NewID[event.JobID]()
	s := newServer(t)
	phones := []*phone{newPhone(t, jobID), newPhone(t, jobID), newPhone(t, jobID)}
	clocks := []time.Time{today.Add(-time.Hour), today, today.AddDate(4, 0, 0)}
	everybody := func() {
		t.Helper()
		for range 2 { // the second turn brings what the others sent in the first
			for _, p := range phones {
				p.sync(s.from(p.actor()))
			}
		}
	}
	phones[0].notes(1, "begins")
	phones[1].notes(1, "takes part")
	phones[2].notes(1, "takes part")
	everybody()
	var last int64
	for first := range phones {
		for second := range phones {
			t.Run(fmt.Sprint(first, " then ", second), func(t *testing.T) {
				for _, writer := range []int{first, second} {
					last++
					phones[writer].counts(last, clocks[writer])
					everybody()
				}
				for i, p := range phones {
					if got := found(t, p.store, jobID); got != last {
						t.Errorf("on phone %d the count is %d, want %d, which was written last", i, got, last)
					}
				}
				if got := found(t, s.store, jobID); got != last {
					t.Errorf("on the server the count is %d, want %d", got, last)
				}
			})
		}
	}
}

// TestClockSetDuringTheWork: a clock that jumps back and forth between two entries
// changes neither their order nor the chain (pitfall 58).
func TestClockSetDuringTheWork(t *testing.T) {
	p := newPhone(t, storetest.NewID[event.JobID]())
	clock := time.UnixMilli(now)
	jumps := []time.Duration{0, -2 * time.Hour, time.Minute, 30 * 24 * time.Hour, -400 * 24 * time.Hour}
	for i, jump := range jumps {
		clock = clock.Add(jump)
		p.counts(int64(i)+1, clock)
	}
	all := events(t, p.store, p.chain.Job)
	for i, e := range all {
		counted, is := e.Payload().(*event.PartCounted)
		if !is || counted.Found != int64(i)+1 || e.Seq != int64(i)+1 || i > 0 && e.Tick <= all[i-1].Tick {
			t.Errorf("at place %d stands %s", i+1, e.Line())
		}
	}
	if gaps := event.Gaps(all); len(gaps) > 0 || job.Fold(p.chain.Job, all).Parts["spring"].Found != int64(len(jumps)) {
		t.Errorf("the chain has gaps %v, and the count is %d", gaps, job.Fold(p.chain.Job, all).Parts["spring"].Found)
	}
}
