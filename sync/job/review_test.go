package job_test

import (
	"slices"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/job"
)

func word(finding string, d event.Decision, step event.StepID, fastener event.FastenerID) *event.DecisionMade {
	return &event.DecisionMade{Finding: finding, Decision: d, Step: step, Fastener: fastener, Name: "Ann", Text: "why", Proof: "-"}
}

// worked is a job that is finished, with two steps and two fasteners.
func worked(t *testing.T) *record {
	r := newRecord(t)
	for _, s := range []event.StepID{"free", "close"} {
		r.do(&event.StepStarted{Step: s}, &event.PhotoLeftOut{Step: s, Photo: "p", Reason: "dark"}, &event.StepDone{Step: s}, &event.HoldReleased{Step: s, By: "mentor", Reason: "seen"})
	}
	for _, f := range []event.FastenerID{"arm", "nuts"} {
		r.do(&event.FastenerFitted{Fastener: f, Renewed: true}, &event.PassDone{Fastener: f, Pass: "final", TorqueCNM: 9400, Count: 1}, &event.FastenerMarked{Fastener: f})
	}
	r.do(&event.JobFinished{Note: "done"})
	return r
}

// TestDecide: each decision opens again what it is about, and nothing else.
func TestDecide(t *testing.T) {
	for name, test := range map[string]struct {
		said     *event.DecisionMade
		finished bool
		step     bool // the step is still done
		holds    bool // the fastener's pass was made after the step was last opened
	}{
		"accepted":             {word("f1", event.Accept, "free", "arm"), true, true, true},
		"asked":                {word("f1", event.Query, "free", "arm"), true, true, true},
		"again":                {word("f1", event.Redo, "free", "arm"), false, false, false},
		"again, step alone":    {word("f1", event.Redo, "free", ""), false, false, false},
		"the job accepted":     {word("", event.Accept, "", ""), true, true, true},
		"the job returned":     {word("", event.Return, "", ""), false, true, true},
		"of an unknown thing":  {word("f1", event.Redo, "dream", "wing"), false, true, true},
		"fastener not touched": {word("f1", event.Redo, "free", "wing"), false, false, false},
	} {
		t.Run(name, func(t *testing.T) {
			r := worked(t)
			before := r.state()
			r.do(test.said)
			s := r.state()
			step, arm := s.Steps["free"], s.Fasteners["arm"]
			if (s.Finished != nil) != test.finished || (step.DoneN > 0) != test.step || len(arm.Passes) != 1 || (arm.Passes["final"].N > step.ReopenedN) != test.holds || arm.MarkedN == 0 {
				t.Errorf("finished %v, step %+v, fastener %+v, want finished %v, step done %v, pass made since %v, all facts kept", s.Finished, step, arm, test.finished, test.step, test.holds)
			}
			if !test.step && (step.ReopenedAs != "Ann: why" || step.ReopenedN != s.Count || step.ReleasedN != 0 || step.StartedN == 0 || len(step.LeftOut) > 0) {
				t.Errorf("the step that is done again: %+v", step)
			}
			if arm.FittedN == 0 || !arm.Renewed {
				t.Errorf("the fastener counts as taken out: %+v", arm)
			}
			if a, b := s.Steps["close"], before.Steps["close"]; a.DoneN != b.DoneN || a.ReleasedN != b.ReleasedN || len(s.Fasteners["nuts"].Passes) != 1 {
				t.Errorf("what nobody decided on changed: %+v, %+v", a, s.Fasteners["nuts"])
			}
			if _, known := s.Fasteners["wing"]; known {
				t.Error("a fastener that nobody touched is there")
			}
			if len(s.Decisions) != 1 || s.Decisions[0].ID != r.events[len(r.events)-1].ID || s.Decisions[0].By != phone || s.Decisions[0].N != s.Count {
				t.Errorf("decisions = %+v", s.Decisions)
			}
			if got, want := jsonOf(t, job.Fold(jobID, r.events[:len(r.events)-1])), jsonOf(t, before); got != want {
				t.Error("the facts of before changed:", diff(got, want))
			}
		})
	}
}

// TestDoneAgain: what was to be done again is done by doing it, not by a decision.
func TestDoneAgain(t *testing.T) {
	r := worked(t)
	r.do(word("f1", event.Redo, "free", "arm"), word("f1", event.Accept, "free", "arm"))
	if s := r.state(); s.Steps["free"].DoneN > 0 || s.Fasteners["arm"].Passes["final"].N > s.Steps["free"].ReopenedN || s.Finished != nil {
		t.Error("accepting a finding closes the step again")
	}
	r.do(&event.PassDone{Fastener: "arm", Pass: "final", TorqueCNM: 9500, Count: 1}, &event.StepDone{Step: "free"}, &event.JobFinished{})
	s := r.state()
	if s.Steps["free"].DoneN == 0 || s.Fasteners["arm"].Passes["final"].TorqueCNM != 9500 || s.Finished == nil {
		t.Errorf("done again: %+v, %+v, %+v", s.Steps["free"], s.Fasteners["arm"], s.Finished)
	}
}

// TestDecisionOn: the last word on each finding holds, apart from the others.
func TestDecisionOn(t *testing.T) {
	r := newRecord(t)
	r.do(word("f1", event.Query, "free", ""), word("f2", event.Accept, "", "arm"), word("", event.Return, "", ""), word("f1", event.Accept, "free", ""), word("", event.Accept, "", ""))
	s := r.state()
	for finding, want := range map[string]int{"f1": 3, "f2": 1, "": 4} {
		if d := s.DecisionOn(finding); d == nil || d.ID != s.Decisions[want].ID {
			t.Errorf("on %q holds %+v, want decision %d", finding, d, want)
		}
	}
	if s.DecisionOn("f3") != nil || newRecord(t).state().DecisionOn("") != nil {
		t.Error("there is a decision where none was made")
	}
	r.do(&event.FindingRaised{Step: "free", Severity: "stop", Name: "Ann", Text: "a twist", Proof: "-"}, &event.CommentAdded{Fastener: "arm", Name: "Ben", Text: "look"})
	s = r.state()
	if last := r.events[len(r.events)-2]; len(s.Raised) != 1 || s.Raised[0].ID != last.ID || s.Raised[0].Severity != "stop" || len(s.Comments) != 1 || s.Comments[0].By != phone {
		t.Errorf("raised %+v, comments %+v", s.Raised, s.Comments)
	}
}

// TestStanding: the shop's word on the whole job holds until the job is called finished
// again, or something of it is to be done again.
func TestStanding(t *testing.T) {
	finished, accept, back := &event.JobFinished{}, word("", event.Accept, "", ""), word("", event.Return, "", "")
	for name, test := range map[string]struct {
		said []event.Payload
		want event.Decision
	}{
		"nothing":                     {[]event.Payload{&event.NoteAdded{Text: "x"}}, ""},
		"finished":                    {[]event.Payload{finished}, ""},
		"a finding accepted":          {[]event.Payload{finished, word("f1", event.Accept, "", "arm")}, ""},
		"accepted":                    {[]event.Payload{finished, accept}, event.Accept},
		"accepted unfinished":         {[]event.Payload{accept}, event.Accept},
		"returned":                    {[]event.Payload{finished, back}, event.Return},
		"returned, then finished":     {[]event.Payload{finished, back, finished}, ""},
		"returned, then accepted":     {[]event.Payload{finished, back, accept}, event.Accept},
		"accepted, then done again":   {[]event.Payload{finished, accept, word("f1", event.Redo, "free", "arm")}, ""},
		"returned, then done again":   {[]event.Payload{finished, back, word("f1", event.Redo, "free", "arm")}, event.Return},
		"done again, then accepted":   {[]event.Payload{finished, word("f1", event.Redo, "free", "arm"), finished, accept}, event.Accept},
		"accepted, then a query":      {[]event.Payload{finished, accept, word("f1", event.Query, "free", "")}, event.Accept},
		"accepted, finished, a query": {[]event.Payload{accept, finished, word("f1", event.Query, "free", "")}, ""},
	} {
		r := newRecord(t)
		r.do(test.said...)
		if got := r.state().Standing(); got != test.want {
			t.Errorf("%s: the shop's word is %q, want %q", name, got, test.want)
		}
	}
}

// TestLateDecision: a decision that arrives after work that followed it does not
// undo that work.
func TestLateDecision(t *testing.T) {
	r := worked(t)
	n := len(r.events)
	r.do(word("f1", event.Redo, "free", "arm"), &event.PassDone{Fastener: "arm", Pass: "final", TorqueCNM: 9500, Count: 1}, &event.StepDone{Step: "free"}, &event.JobFinished{})
	log := job.NewLog(jobID)
	log.Add(slices.Delete(slices.Clone(r.events), n, n+1)...)
	log.Add(r.events[n])
	if got, want := jsonOf(t, log.State()), jsonOf(t, r.state()); got != want || log.State().Finished == nil {
		t.Error("a decision that came late gives another state:", diff(got, want))
	}
}

// TestDecisionsStand: no correction takes back what a reviewer wrote.
func TestDecisionsStand(t *testing.T) {
	r := worked(t)
	r.do(word("", event.Return, "", ""), &event.FindingRaised{Severity: "stop", Name: "Ann", Text: "a twist", Proof: "-"})
	s := r.state()
	r.do(&event.Corrected{Event: s.Decisions[0].ID, Reason: "no"}, &event.Corrected{Event: s.Raised[0].ID, Reason: "no"})
	if s = r.state(); len(s.Decisions) != 1 || len(s.Raised) != 1 || s.Finished != nil || s.Withdrawn != 0 {
		t.Errorf("%d decisions, %d raised, finished %v", len(s.Decisions), len(s.Raised), s.Finished)
	}
}

// TestReleaseOfOlderWork: who looked from afar, and did not see that the step was
// done again since, has not looked at that.
func TestReleaseOfOlderWork(t *testing.T) {
	r := newRecord(t)
	r.do(&event.StepDone{Step: "look"})
	seen := r.state().Steps["look"].DoneBy
	r.do(&event.StepReopened{Step: "look", Reason: "it came apart"}, &event.StepDone{Step: "look"})
	r.do(&event.HoldReleased{Step: "look", By: "mentor", Reason: "seen", Done: seen})
	if s := r.state().Steps["look"]; s.ReleasedN != 0 {
		t.Errorf("a release of older work counts: %+v", s)
	}
	r.do(&event.HoldReleased{Step: "look", By: "mentor", Reason: "seen", Done: r.state().Steps["look"].DoneBy})
	if s := r.state().Steps["look"]; s.ReleasedN < s.DoneN {
		t.Errorf("a release of this work does not count: %+v", s)
	}
}
