package job

import "strutcard/sync/event"

func (s *State) answer(e event.Event, p *event.CheckAnswered, n N) {
	axle := s.Axles[p.Axle]
	if axle.Answers[p.Move] == nil {
		axle.Answers[p.Move] = map[event.CheckID]Answer{}
	}
	axle.Answers[p.Move][p.Check] = Answer{Answer: p.Answer, Reason: p.Reason, At: e.At, N: n}
	s.Axles[p.Axle] = axle
}

// raise begins a lift and takes the answers with it: the next lift asks afresh.
// A second raise of an axle that is up says nothing new.
func (s *State) raise(e event.Event, a event.Axle, n N) {
	axle := s.Axles[a]
	if axle.Up {
		return
	}
	s.Lifts = append(s.Lifts, Lift{Axle: a, RaisedAt: e.At, RaisedN: n, Raise: axle.Answers[event.Raise]})
	axle = fresh()
	axle.Up = true
	s.Axles[a] = axle
	s.stale("the axle was raised", func(r Reading) bool { return raised(a, &r.ReadingTaken) })
}

// lower ends the axle's open lift, or an attempt to raise it that was given up
// half way: then too the springs may have hung.
func (s *State) lower(e event.Event, a event.Axle, n N) {
	axle := s.Axles[a]
	if !axle.Up && len(axle.Answers[event.Raise]) == 0 {
		return
	}
	for i := range s.Lifts {
		if l := &s.Lifts[i]; l.Axle == a && l.LoweredN == 0 {
			l.LoweredAt, l.LoweredN, l.Lower = e.At, n, axle.Answers[event.Lower]
		}
	}
	s.Axles[a] = fresh()
	s.LoweredN = n
}
