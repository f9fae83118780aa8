package job_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"strutcard/sync/event"
	v1 "strutcard/sync/event/testdata/v1"
	"strutcard/sync/job"
)

// TestFrozen folds the logs of version 1 into the states that version 1 saw.
func TestFrozen(t *testing.T) {
	for name, lines := range v1.Logs() {
		t.Run(name, func(t *testing.T) {
			var events []event.Event
			for _, line := range lines {
				e, err := event.Decode([]byte(line))
				if err != nil {
					t.Fatal(err)
				}
				events = append(events, e)
			}
			var want bytes.Buffer
			if err := json.Compact(&want, []byte(v1.State(name))); err != nil {
				t.Fatal(err)
			}
			if got := jsonOf(t, job.Fold(events[0].Job, events)); got != want.String() {
				t.Error("the state of a frozen log changed:", diff(got, want.String()))
			}
		})
	}
}

// randomLog draws a log of up to 60 events by three devices that see only part
// of each other's work, with corrections of anything, itself and later events included.
func randomLog(t *rapid.T) []event.Event {
	devices := []event.DeviceID{phone, helper, thirdly}
	chains := map[event.DeviceID]event.Chain{}
	for _, d := range devices {
		chains[d] = event.Chain{Job: jobID, Device: d}
	}
	count := rapid.IntRange(1, 60).Draw(t, "count")
	var all []event.Event
	for n := 1; n <= count; n++ {
		device := rapid.SampledFrom(devices).Draw(t, "device")
		chain := chains[device]
		e := unknown(n, device, chain.Seq+1, chain.Tick+1, chain.Head)
		if p := randomPayload(t, count); p != nil {
			var err error
			if e, err = chain.Seal(id(n), time.UnixMilli(rapid.Int64Range(0, 9e12).Draw(t, "clock")), p); err != nil {
				t.Fatal(err)
			}
		}
		all = append(all, e)
		for _, d := range devices {
			if d == device || rapid.Bool().Draw(t, "seen by another") {
				chains[d] = chains[d].See(e)
			}
		}
	}
	return all
}

func randomPayload(t *rapid.T, count int) event.Payload {
	axle := rapid.SampledFrom(event.Axles).Draw(t, "axle")
	corner := rapid.SampledFrom(event.Corners).Draw(t, "corner")
	fastener := event.FastenerID(rapid.SampledFrom([]string{"arm", "nuts"}).Draw(t, "fastener"))
	step := event.StepID(rapid.SampledFrom([]string{"free", "settle"}).Draw(t, "step"))
	move := rapid.SampledFrom([]event.Move{event.Raise, event.Lower}).Draw(t, "move")
	n := int64(rapid.IntRange(1, 9).Draw(t, "number"))
	return rapid.SampledFrom([]event.Payload{
		nil, // a kind from a newer app
		&event.JobOpened{Sheet: event.SheetHash(fmt.Sprintf("%064x", n)), Title: "t", Vehicle: "v"},
		&event.PartCounted{Part: "p", Found: n},
		&event.ToolListed{Tool: "w", Have: n > 4, HighCNM: n},
		&event.SpecGiven{Fastener: fastener, Pass: "final", TorqueCNM: n, Source: "s"},
		&event.ReadingTaken{Quantity: event.Camber, Corner: corner, Purpose: event.Setting, Method: "m", ValueMD: n},
		&event.ReadingTaken{Quantity: event.RideHeight, Corner: corner, Purpose: event.Before, Method: "m", ValueUM: 300_000 + n},
		&event.CheckAnswered{Axle: axle, Move: move, Check: "ground", Answer: event.Yes},
		&event.CarRaised{Axle: axle}, &event.CarLowered{Axle: axle},
		&event.StepStarted{Step: step}, &event.StepDone{Step: step}, &event.StepSkipped{Step: step, Reason: "r"},
		&event.FastenerLoosened{Fastener: fastener}, &event.FastenerFitted{Fastener: fastener, Renewed: n > 4},
		&event.PassDone{Fastener: fastener, Pass: "final", TorqueCNM: n, Count: 1}, &event.FastenerMarked{Fastener: fastener},
		&event.AdjustmentMade{Quantity: event.Camber, Corner: corner, After: "a"},
		&event.AdjustmentMade{Quantity: event.RideHeight, Corner: corner, After: "a"},
		&event.DamperSet{Corner: corner, From: "full_soft", Clicks: n},
		&event.NoteAdded{Step: step, Text: text(int(n))},
		&event.HoldAsked{Step: step}, &event.HoldReleased{Step: step, By: "mentor", Reason: "r"},
		&event.JobFinished{},
		&event.Corrected{Event: id(rapid.IntRange(1, count).Draw(t, "takes back")), Reason: "r"},
		&event.Corrected{Event: id(rapid.IntRange(1, count).Draw(t, "takes back too")), Reason: "r"},
	}).Draw(t, "payload")
}

// TestAnyOrder: two copies of a log give the same state, in whatever order and
// however often its events came, all at once or bit by bit.
func TestAnyOrder(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		events := randomLog(rt)
		want := jsonOf(t, job.Fold(jobID, events))
		repeats := rapid.SliceOfN(rapid.SampledFrom(events), 0, 10).Draw(rt, "repeats")
		mixed := rapid.Permutation(append(append([]event.Event{}, events...), repeats...)).Draw(rt, "order")
		if got := jsonOf(t, job.Fold(jobID, mixed)); got != want {
			rt.Fatal("another order gives another state:", diff(got, want))
		}
		log := job.NewLog(jobID)
		for from := 0; from < len(mixed); {
			to := min(len(mixed), from+rapid.IntRange(1, 8).Draw(rt, "batch"))
			log.Add(mixed[from:to]...)
			if got, want := jsonOf(t, log.State()), jsonOf(t, job.Fold(jobID, mixed[:to])); got != want {
				rt.Fatal("bit by bit gives another state:", diff(got, want))
			}
			from = to
		}
		if got := len(log.Events()); got != len(events) {
			rt.Fatalf("the log keeps %d events, want %d", got, len(events))
		}
	})
}

func TestOtherJobsDoNoHarm(t *testing.T) {
	r := newRecord(t)
	r.do(&event.NoteAdded{Text: "mine"})
	want := jsonOf(t, r.state())
	other := newRecord(t)
	other.chain.Job = "01900000-0000-7000-8000-0000000000ee"
	other.events = make([]event.Event, 5) // other ids than r's
	other.do(&event.CarRaised{Axle: event.Front})
	if got := jsonOf(t, job.Fold(jobID, append(other.events[5:], r.events...))); got != want {
		t.Error("an event of another job changed the state:", diff(got, want))
	}
	if got := job.Fold(jobID, nil); got.Count != 0 || got.Up() || got.Finished != nil || got.Opened != nil {
		t.Errorf("an empty log folds into %+v", got)
	}
}

func TestCorrected(t *testing.T) {
	loosen := &event.FastenerLoosened{Fastener: "arm"}
	tests := map[string]struct {
		write func(*record)
		check func(*job.State) bool
		gone  int
	}{
		"taken back": {func(r *record) {
			r.undo(r.do(loosen))
		}, func(s *job.State) bool { return !s.Fasteners["arm"].Touched() }, 1},
		"the correction is taken back too": {func(r *record) {
			r.undo(r.undo(r.do(loosen)))
		}, func(s *job.State) bool { return s.Fasteners["arm"].LoosenedN == 1 }, 1},
		"and taken back again": {func(r *record) {
			slip := r.do(loosen)
			r.undo(r.undo(slip))
			r.undo(slip)
		}, func(s *job.State) bool { return !s.Fasteners["arm"].Touched() }, 2},
		"three deep": {func(r *record) {
			r.undo(r.undo(r.undo(r.do(loosen))))
		}, func(s *job.State) bool { return !s.Fasteners["arm"].Touched() }, 2},
		"a correction of nothing known": {func(r *record) {
			r.do(loosen)
			r.undo(id(99))
		}, func(s *job.State) bool { return s.Fasteners["arm"].LoosenedN == 1 }, 0},
		"what stood before holds again": {func(r *record) {
			r.do(&event.SpecGiven{Fastener: "arm", Pass: "final", TorqueCNM: 9400, Source: "p. 12"})
			r.undo(r.do(&event.SpecGiven{Fastener: "arm", Pass: "final", TorqueCNM: 940, Source: "slip"}))
		}, func(s *job.State) bool { return s.Specs["arm"]["final"].TorqueCNM == 9400 }, 1},
		"a finish taken back": {func(r *record) {
			r.undo(r.do(&event.JobFinished{}))
		}, func(s *job.State) bool { return s.Finished == nil }, 1},
		"a stale reading holds again": {func(r *record) {
			r.do(camber(event.FL, event.Setting))
			r.undo(r.do(&event.AdjustmentMade{Quantity: event.Camber, Corner: event.FL, After: "a"}))
		}, func(s *job.State) bool { return s.Readings[0].Stale == "" && len(s.Adjusted) == 0 }, 1},
		"raising cannot be taken back": {func(r *record) {
			r.undo(r.do(&event.CarRaised{Axle: event.Front}))
		}, func(s *job.State) bool { return s.Axles[event.Front].Up && len(s.Lifts) == 1 }, 0},
		"lowering cannot be taken back": {func(r *record) {
			r.undo(r.do(&event.CarRaised{Axle: event.Front}, &event.CarLowered{Axle: event.Front}))
		}, func(s *job.State) bool { return !s.Up() && s.LoweredN == 2 }, 0},
		"the opening cannot be taken back": {func(r *record) {
			r.undo(r.do(opened("a")))
		}, func(s *job.State) bool { return s.Opened != nil }, 0},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			r := newRecord(t)
			test.write(r)
			s := r.state()
			if !test.check(s) {
				t.Errorf("state = %s", jsonOf(t, s))
			}
			if s.Withdrawn != test.gone || int(s.Count) != len(r.events) {
				t.Errorf("Withdrawn = %d, Count = %d, want %d, %d", s.Withdrawn, s.Count, test.gone, len(r.events))
			}
		})
	}
}

// TestCorrectionComesFirst: a correction may arrive, and even sort, before what it takes back.
func TestCorrectionComesFirst(t *testing.T) {
	r := newRecord(t)
	r.undo(id(2))
	r.do(&event.FastenerLoosened{Fastener: "arm"})
	log := job.NewLog(jobID)
	for _, e := range r.events {
		log.Add(e)
	}
	if got, want := jsonOf(t, log.State()), jsonOf(t, r.state()); got != want || log.State().Withdrawn != 1 {
		t.Error("one by one gives another state:", diff(got, want))
	}
}

func opened(digit string) *event.JobOpened {
	return &event.JobOpened{Sheet: event.SheetHash(fmt.Sprintf("%064s", digit)), Title: "sheet " + digit, Vehicle: "v"}
}

func TestFirstOpeningHolds(t *testing.T) {
	r := newRecord(t)
	r.do(opened("a"), opened("b"))
	if got := r.state().Opened.Title; got != "sheet a" {
		t.Errorf("the job follows %q, want the sheet it was opened with", got)
	}
}

func TestStep(t *testing.T) {
	const s event.StepID = "free"
	r := newRecord(t)
	r.do(&event.StepStarted{Step: s}, &event.StepSkipped{Step: s, Reason: "no tool"}, &event.StepStarted{Step: s}, &event.StepStarted{Step: "other"})
	got := r.state()
	if st := got.Steps[s]; st.StartedN != 1 || st.SkippedN != 2 || st.Reason != "no tool" || st.DoneN != 0 {
		t.Errorf("skipped step = %+v", st)
	}
	if got.Here != "other" {
		t.Errorf("Here = %q, want the step started last", got.Here)
	}
	r.do(&event.StepDone{Step: s}, &event.HoldAsked{Step: s}, &event.HoldReleased{Step: s, By: "mentor", Reason: "seen"})
	if st := r.state().Steps[s]; st.DoneN != 5 || st.SkippedN != 0 || st.Reason != "" || st.AskedN != 6 || st.ReleasedN != 7 || st.ReleaseBy != "mentor" {
		t.Errorf("done step = %+v", st)
	}
}

func TestUnknownIsCounted(t *testing.T) {
	r := newRecord(t)
	r.do(&event.NoteAdded{Text: "known"})
	s := job.Fold(jobID, append(r.events, unknown(2, phone, 2, 2, r.events[0].Hash())))
	if s.Unknown != 1 || s.Count != 2 || len(s.Notes) != 1 {
		t.Errorf("Unknown = %d, Count = %d, Notes = %d, want 1, 2, 1", s.Unknown, s.Count, len(s.Notes))
	}
}

func BenchmarkFold2000(b *testing.B) {
	r := newRecord(b)
	for i := 0; len(r.events) < 2000; i++ {
		f := event.FastenerID(fmt.Sprintf("f%d", i%60))
		r.do(&event.StepStarted{Step: event.StepID(fmt.Sprintf("s%d", i%50))}, &event.FastenerLoosened{Fastener: f}, &event.FastenerFitted{Fastener: f},
			&event.PassDone{Fastener: f, Pass: "snug", Count: 1}, &event.PassDone{Fastener: f, Pass: "final", TorqueCNM: 9400, Count: 1},
			camber(event.Corners[i%4], event.Setting), &event.AdjustmentMade{Quantity: event.Camber, Corner: event.Corners[i%4], After: "a"},
			&event.NoteAdded{Text: "note"})
	}
	b.ReportAllocs()
	for b.Loop() {
		if s := job.Fold(jobID, r.events); int(s.Count) != len(r.events) {
			b.Fatal("events were lost")
		}
	}
}
