package job

import "strutcard/sync/event"

// decide keeps a reviewer's word. What is to be done again is open again: the
// step with its pictures, and the passes of the fastener. The facts of before stay
// in the log.
func (s *State) decide(e event.Event, p *event.DecisionMade, n N) {
	s.Decisions = append(s.Decisions, Decision{DecisionMade: *p, ID: e.ID, By: e.Device, At: e.At, N: n})
	if p.Decision == event.Redo || p.Decision == event.Return {
		s.Finished = nil
	}
	if p.Decision != event.Redo {
		return
	}
	s.amend(p.Step, func(st *Step) {
		*st = Step{StartedN: st.StartedN, StartedAt: st.StartedAt, ReopenedN: n, ReopenedAs: p.Name + ": " + p.Text}
	})
	if f, touched := s.Fasteners[p.Fastener]; touched {
		f.Passes, f.MarkedN = map[event.PassID]Pass{}, 0
		s.Fasteners[p.Fastener] = f
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
