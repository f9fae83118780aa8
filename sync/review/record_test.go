package review

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

const (
	thisJob  event.JobID = "01900000-0000-7000-8000-0000000000ff"
	otherJob event.JobID = "01900000-0000-7000-8000-0000000000fe"
)

var phones = []event.DeviceID{"01900000-0000-7000-8000-00000000000a", "01900000-0000-7000-8000-00000000000b"}

func id(n int) event.ID { return event.ID(fmt.Sprintf("01900000-0000-7000-8000-%012d", n)) }

// randomLog draws a log by two phones that see only part of each other's work:
// events taken back, of a newer app, of another job, forks and clocks that jump.
func randomLog(t *rapid.T, s *sheet.Sheet) []event.Event {
	count := rapid.IntRange(1, 50).Draw(t, "count")
	chains := map[event.DeviceID]event.Chain{}
	for _, phone := range phones {
		chains[phone] = event.Chain{Job: thisJob, Device: phone}
	}
	opening := &event.JobOpened{Sheet: s.Hash(), Title: s.Title, Vehicle: "a car"}
	var all []event.Event
	for n := 1; n <= count; n++ {
		phone := rapid.SampledFrom(phones).Draw(t, "phone")
		chain := chains[phone]
		if rapid.IntRange(0, 19).Draw(t, "elsewhere") == 0 {
			chain.Job = otherJob
		}
		if rapid.IntRange(0, 19).Draw(t, "set back") == 0 {
			chain.Seq, chain.Head = 0, ""
		}
		p := randomPayload(t, s, count)
		if n == 1 {
			p = opening
		}
		e, err := chain.Seal(id(n), time.UnixMilli(rapid.Int64Range(0, 9e8).Draw(t, "clock")), p)
		if err == nil && rapid.IntRange(0, 19).Draw(t, "newer") == 0 {
			e, err = event.Decode([]byte(strings.Replace(e.Line(), `"kind":"`+string(e.Kind), `"kind":"wing_flapped`, 1)))
		}
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, e)
		for _, other := range phones {
			if other == phone || rapid.Bool().Draw(t, "seen") {
				chains[other] = chains[other].See(e)
			}
		}
	}
	return all
}

func randomPayload(t *rapid.T, s *sheet.Sheet, count int) event.Payload {
	corner := rapid.SampledFrom(event.Corners).Draw(t, "corner")
	axle := corner.Axle()
	f := rapid.SampledFrom([]event.FastenerID{"wheel_nuts_FL", "link_RL", "arm_inner_RL"}).Draw(t, "fastener")
	pass := rapid.SampledFrom(s.Fastener(f).Passes).Draw(t, "pass")
	step := rapid.SampledFrom([]event.StepID{"box", "special", "photos_before", "heights_final", "look_over", "first_drive", "nuts_round"}).Draw(t, "step")
	n := int64(rapid.IntRange(1, 9).Draw(t, "number"))
	answer := rapid.SampledFrom([]event.Answer{event.Yes, event.No, event.Override}).Draw(t, "answer")
	back := func(name string) *event.Corrected {
		return &event.Corrected{Event: id(rapid.IntRange(1, count).Draw(t, name)), Reason: "r"}
	}
	if rapid.IntRange(0, 3).Draw(t, "second thoughts") == 0 {
		return back("takes back")
	}
	return rapid.SampledFrom([]event.Payload{
		&event.PartCounted{Part: "rear_damper", Found: n, Damaged: n / 2},
		&event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: 1000 * (n - 1), HighCNM: 2000 * (n - 1)},
		&event.ToolListed{Tool: "stands", Have: true, RatingG: 300_000 * n},
		&event.SpecGiven{Fastener: f, Pass: pass.ID, TorqueCNM: 5000 * n, Source: "s", Questioned: "q", Confirmed: n > 4},
		&event.ReadingTaken{Quantity: event.Camber, Corner: corner, Purpose: event.Final, Method: "m", ValueMD: -1000 * n, U95Mdeg: 100},
		&event.ReadingTaken{Quantity: event.RideHeight, Corner: corner, Purpose: event.Setting, Method: "m", ValueUM: 345_000 + 2000*n},
		&event.CheckAnswered{Axle: axle, Move: event.Raise, Check: "eyes", Answer: answer, Reason: "r"},
		&event.CarRaised{Axle: axle}, &event.CarLowered{Axle: axle},
		&event.StepStarted{Step: step}, &event.StepDone{Step: step}, &event.StepSkipped{Step: step, Reason: "r"},
		&event.StepReopened{Step: step, Reason: "r"}, &event.StepChecked{Step: "special", Check: "room", Answer: answer, Reason: "r"},
		&event.PhotoTaken{Step: "photos_before", Photo: "dash", SHA256: strings.Repeat("0f", 32), Bytes: n, Width: 1, Height: 1},
		&event.PhotoLeftOut{Step: "photos_before", Photo: "dash", Reason: "r"},
		&event.FastenerLoosened{Fastener: f}, &event.FastenerFitted{Fastener: f, Renewed: n > 4},
		&event.PassDone{Fastener: f, Pass: pass.ID, TorqueCNM: pass.TorqueCNM, SetCNM: 3000 * n, Wrench: "wrench_large", Count: 5, Hurried: n > 6},
		&event.AdjustmentMade{Quantity: event.RideHeight, Corner: corner, After: "a"},
		&event.DamperSet{Corner: corner, From: "full_soft", Clicks: n},
		&event.PositionNoted{Adjuster: event.RideHeight, Corner: corner, Purpose: event.Setting, Text: "p", LengthUM: 10_000 * n},
		&event.HoldReleased{Step: "look_over", By: rapid.SampledFrom([]string{"mentor", "installer"}).Draw(t, "by"), Reason: "r"},
		&event.WorkResumed{AsLeft: n > 4, Note: "x"}, &event.WithdrawalSeen{Reason: "r"}, &event.JobFinished{},
	}).Draw(t, "payload")
}

// TestFactsAndEvents: the number of a fact leads to its event, whatever was taken
// back, repeated, of another job or of a newer app.
func TestFactsAndEvents(t *testing.T) {
	s := sheet.Demo()[0]
	rapid.Check(t, func(rt *rapid.T) {
		events := randomLog(rt, s)
		st := job.Fold(thisJob, events)
		r := recordOf(s, st, append(slices.Clone(events), events...))
		if job.N(len(r.events)) != st.Count {
			rt.Fatalf("%d events, and the fold counts %d", len(r.events), st.Count)
		}
		gone := 0
		for _, e := range r.events {
			if r.gone[e.ID] {
				gone++
			}
		}
		if gone != st.Withdrawn {
			rt.Errorf("%d taken back, and the fold says %d", gone, st.Withdrawn)
		}
		same := func(n job.N, id event.ID) {
			if got := r.ids([]job.N{n}); len(got) != 1 || got[0] != id || r.gone[id] {
				rt.Errorf("fact %d leads to %v, want %v", n, got, id)
			}
		}
		for _, x := range st.Readings {
			same(x.N, x.ID)
		}
		for _, x := range st.Photos {
			same(x.N, x.ID)
		}
		for _, f := range st.Fasteners {
			for _, p := range f.Passes {
				same(p.N, p.Event)
			}
		}
		kind := func(n job.N, want event.Kind) {
			if e, ok := r.event(n); n > 0 && (!ok || e.Kind != want || r.gone[e.ID]) {
				rt.Errorf("fact %d leads to %s %v, want %s", n, e.Kind, e.ID, want)
			}
		}
		for _, step := range st.Steps {
			kind(step.DoneN, event.KindStepDone)
			kind(step.SkippedN, event.KindStepSkipped)
			kind(step.ReleasedN, event.KindHoldReleased)
			kind(step.ReopenedN, event.KindStepReopened)
		}
		for _, l := range st.Lifts {
			kind(l.RaisedN, event.KindCarRaised)
		}
		if got := r.ids([]job.N{0, st.Count + 1, -1}); got != nil {
			rt.Errorf("what never happened leads to %v", got)
		}
	})
}

// TestFindingIDs: every finding has an id of its own, which depends neither on
// the order of arrival nor on words, and stays while its evidence does.
func TestFindingIDs(t *testing.T) {
	s, other := sheet.Demo()[0], reworded()
	seen := map[string]bool{}
	rapid.Check(t, func(rt *rapid.T) {
		events := randomLog(rt, s)
		st := job.Fold(thisJob, events)
		found, r := Findings(s, st, events), recordOf(s, st, events)
		ids := map[string]bool{}
		for _, f := range found {
			seen[f.Rule] = true
			if ids[f.ID] {
				rt.Errorf("two findings share an id: %+v", f)
			}
			ids[f.ID] = true
			if alone := f; f.Rule != "unverified" {
				if r.sign(&alone, 0); alone.ID != f.ID {
					rt.Errorf("nothing but its place in the list tells it from another: %+v", f)
				}
			}
			if aboutLog := f.Rule == "chain_gap" || strings.HasPrefix(f.Rule, "clock_"); !aboutLog && slices.ContainsFunc(f.Evidence, func(id event.ID) bool { return r.gone[id] }) {
				rt.Errorf("it rests on what was taken back: %+v", f)
			}
			if len(f.Evidence) == 0 || !slices.IsSortedFunc(f.Evidence, func(a, b event.ID) int { return orderOf(events, a) - orderOf(events, b) }) {
				rt.Errorf("evidence is missing or out of order: %+v", f)
			}
		}
		mixed := rapid.Permutation(append(slices.Clone(events), events[0])).Draw(rt, "order")
		if again := Findings(s, job.Fold(thisJob, mixed), mixed); !reflect.DeepEqual(again, found) {
			rt.Errorf("in another order: %+v\nwant %+v", again, found)
		}
		for _, f := range Findings(other, job.Fold(thisJob, events), events) {
			if !ids[f.ID] {
				rt.Errorf("in other words it has another id: %+v", f)
			}
		}
		last := events[len(events)-1]
		note, err := event.ChainOf(thisJob, "01900000-0000-7000-8000-00000000000c", events).Seal(id(len(events)+1), last.Time(), &event.NoteAdded{Text: "x"})
		if err != nil {
			rt.Fatal(err)
		}
		later := append(slices.Clone(events), note)
		for _, f := range Findings(s, job.Fold(thisJob, later), later) {
			if !ids[f.ID] {
				rt.Errorf("a note that says nothing about it changes its id: %+v", f)
			}
		}
	})
	for _, rule := range []string{"chain_gap", "newer_app", "not_final", "reused", "skipped", "out_of_target", "no_photo", "weak_equipment"} {
		if !seen[rule] {
			t.Errorf("no random log made %s speak", rule)
		}
	}
}

func orderOf(events []event.Event, id event.ID) int {
	return slices.IndexFunc(event.Sort(events), func(e event.Event) bool { return e.ID == id })
}

// reworded is the same sheet in other words.
func reworded() *sheet.Sheet {
	s := sheet.Demo()[0]
	for _, step := range s.Steps() {
		step.Title = "other"
		for i := range step.Checks {
			step.Checks[i].Ask = "other"
		}
		for i := range step.Photos {
			step.Photos[i].What = "other"
		}
	}
	for i := range s.Fasteners {
		s.Fasteners[i].Place = "other"
	}
	for i := range s.Parts {
		s.Parts[i].Name = "other"
	}
	for i := range s.Tools {
		s.Tools[i].Name = "other"
	}
	for i := range s.Checks {
		s.Checks[i].Ask = "other"
	}
	return s
}
