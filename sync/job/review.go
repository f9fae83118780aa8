package job

import (
	"slices"

	"strutcard/sync/event"
)

// decide keeps a reviewer's word. What is to be done again is an open step again,
// its passes and pictures with it. The facts of before stay in the log.
func (s *State) decide(e event.Event, p *event.DecisionMade, n N) {
	s.Decisions = append(s.Decisions, Decision{DecisionMade: *p, ID: e.ID, By: e.Device, At: e.At, N: n})
	if p.Decision == event.Redo || p.Decision == event.Return {
		s.Finished = nil
	}
	if p.Decision == event.Redo {
		s.reopen(p.Step, n, p.Name+": "+p.Text, nil)
	}
}

// DecisionOn returns the last decision on a finding, or on the whole job for "";
// nil when there is none.
func (s *State) DecisionOn(finding string) *Decision {
	for i := len(s.Decisions) - 1; i >= 0; i-- {
		if d := &s.Decisions[i]; d.Finding == finding && (finding != "" || d.Step == "" && d.Fastener == "") {
			return d
		}
	}
	return nil
}

// Accepted reports whether a reviewer has settled a finding.
func (s *State) Accepted(finding string) bool {
	d := s.DecisionOn(finding)
	return d != nil && d.Decision == event.Accept
}

// Standing is the shop's word on the whole job as it stands: Accept, Return, or ""
// while it waits for one. Work that was called finished since waits for another word,
// and so does a job of which something is to be done again after it was accepted.
func (s *State) Standing() event.Decision {
	whole := s.DecisionOn("")
	if whole == nil || s.Finished != nil && s.Finished.N > whole.N {
		return ""
	}
	again := func(d Decision) bool { return d.Decision == event.Redo && d.N > whole.N }
	if whole.Decision == event.Accept && slices.ContainsFunc(s.Decisions, again) {
		return ""
	}
	return whole.Decision
}
