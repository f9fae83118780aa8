package job

import "strutcard/sync/event"

// step keeps what became of a step.
func (s *State) step(e event.Event, n N) {
	switch p := e.Payload().(type) {
	case *event.StepStarted:
		s.Here = p.Step
		s.amend(p.Step, func(st *Step) {
			if st.StartedN == 0 {
				st.StartedN, st.StartedAt = n, e.At
			}
		})
	case *event.StepDone:
		s.amend(p.Step, func(st *Step) { st.DoneN, st.DoneAt, st.DoneBy, st.SkippedN, st.Reason = n, e.At, e.ID, 0, "" })
	case *event.StepSkipped:
		s.amend(p.Step, func(st *Step) { st.SkippedN, st.Reason = n, p.Reason })
	case *event.StepReopened:
		s.Here = p.Step
		s.reopen(p.Step, n, p.Reason, s.Steps[p.Step].LeftOut)
	case *event.HoldAsked:
		s.amend(p.Step, func(st *Step) { st.AskedN = n })
	case *event.HoldReleased:
		if p.Done == "" || p.Done == s.Steps[p.Step].DoneBy {
			s.amend(p.Step, func(st *Step) { st.ReleasedN, st.Released, st.ReleaseBy = n, p.Reason, p.By })
		}
	case *event.StepChecked:
		s.amend(p.Step, func(st *Step) {
			st.Checks = with(st.Checks, p.Check, Answer{Answer: p.Answer, Reason: p.Reason, At: e.At, N: n})
		})
	case *event.PhotoLeftOut:
		s.amend(p.Step, func(st *Step) { st.LeftOut = with(st.LeftOut, p.Photo, p.Reason) })
	case *event.LeftoversCounted:
		s.amend(p.Step, func(st *Step) { st.Leftovers = &Leftovers{Count: p.Count, Note: p.Note, N: n} })
	}
}

// reopen has a step done again; leftOut are the pictures that still need not be taken.
func (s *State) reopen(id event.StepID, n N, why string, leftOut map[event.PhotoID]string) {
	s.amend(id, func(st *Step) {
		*st = Step{StartedN: st.StartedN, StartedAt: st.StartedAt, LeftOut: leftOut, ReopenedN: n, ReopenedAs: why}
	})
}

func (s *State) amend(id event.StepID, change func(*Step)) {
	st := s.Steps[id]
	change(&st)
	s.Steps[id] = st
}

func with[K comparable, V any](m map[K]V, key K, value V) map[K]V {
	if m == nil {
		m = map[K]V{}
	}
	m[key] = value
	return m
}

// click keeps a damper's clicks. What it was found at, and each of two knobs,
// stand beside the one setting.
func (s *State) click(e event.Event, p *event.DamperSet, n N) {
	d := Damper{DamperSet: *p, At: e.At, N: n}
	if p.Knob == "" && p.Purpose != event.Before {
		s.Dampers[p.Corner] = d
		return
	}
	s.Knobs = append(s.Knobs, d)
}

// Clicks returns the last count of a damper's knob as found or as set, or nil.
func (s *State) Clicks(at event.Corner, knob string, purpose event.Purpose) *Damper {
	if d, set := s.Dampers[at]; set && knob == "" && purpose != event.Before {
		return &d
	}
	for i := len(s.Knobs) - 1; i >= 0; i-- {
		if d := &s.Knobs[i]; d.Corner == at && d.Knob == knob && (d.Purpose == event.Before) == (purpose == event.Before) {
			return d
		}
	}
	return nil
}

// Position returns the last note of where an adjuster stood or stands, or nil.
func (s *State) Position(adjuster event.Quantity, at event.Corner, purpose event.Purpose) *Position {
	for i := len(s.Positions) - 1; i >= 0; i-- {
		if p := &s.Positions[i]; p.Adjuster == adjuster && p.Corner == at && p.Purpose == purpose {
			return p
		}
	}
	return nil
}

// resume ends the open pause, or notes one that nobody announced.
func (s *State) resume(e event.Event, p *event.WorkResumed, n N) {
	last := len(s.Pauses) - 1
	if last < 0 || s.Pauses[last].ResumedN > 0 {
		s.Pauses = append(s.Pauses, Pause{N: n, At: e.At})
		last++
	}
	pause := &s.Pauses[last]
	pause.ResumedN, pause.ResumedAt, pause.AsLeft, pause.Different = n, e.At, p.AsLeft, p.Note
}

// Parked returns the open pause, or nil.
func (s *State) Parked() *Pause {
	if last := len(s.Pauses) - 1; last >= 0 && s.Pauses[last].Parked && s.Pauses[last].ResumedN == 0 {
		return &s.Pauses[last]
	}
	return nil
}
