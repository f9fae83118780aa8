package job

import (
	"strutcard/sync/event"
)

// Fold returns the state that a job's events add up to. It is total: any order,
// any repeats, unknown kinds and events of other jobs do no harm.
func Fold(id event.JobID, events []event.Event) *State {
	log := NewLog(id)
	log.Add(events...)
	return log.State()
}

// Log is a job's events in fold order with their state, kept up to date as
// events arrive. An event that sorts last is applied at once; any other folds anew.
type Log struct {
	id     event.JobID
	events []event.Event
	known  map[event.ID]bool
	named  map[event.ID]bool // by some correction, perhaps before they came
	state  *State
}

// NewLog returns an empty log.
func NewLog(id event.JobID) *Log {
	return &Log{id: id, known: map[event.ID]bool{}, named: map[event.ID]bool{}, state: empty(id)}
}

// State returns the current state. Read it only; the next Add changes it.
func (l *Log) State() *State { return l.state }

// Events returns the events in fold order.
func (l *Log) Events() []event.Event { return l.events }

// Add takes in events; those already known, or of another job, change nothing.
func (l *Log) Add(events ...event.Event) {
	late := false
	for _, e := range event.Sort(events) {
		if e.Job != l.id || l.known[e.ID] {
			continue
		}
		l.known[e.ID] = true
		inOrder := len(l.events) == 0 || event.Less(l.events[len(l.events)-1], e)
		l.events = append(l.events, e)
		if c, ok := e.Payload().(*event.Corrected); ok {
			l.named[c.Event], late = true, true
		}
		if late || !inOrder || l.named[e.ID] {
			late = true
			continue
		}
		apply(l.state, e, false)
	}
	if late {
		l.refold()
	}
}

func (l *Log) refold() {
	l.events = event.Sort(l.events)
	gone := TakenBack(l.events)
	l.state = empty(l.id)
	for _, e := range l.events {
		apply(l.state, e, gone[e.ID])
	}
}

// TakenBack finds the events that a standing correction names, in a job's events in
// fold order. The last word counts: a correction that is itself taken back takes
// nothing back. Raising and lowering cannot be taken back, since the car is where it
// is, nor can what a reviewer wrote: only a reviewer overrules it.
func TakenBack(events []event.Event) map[event.ID]bool {
	gone := map[event.ID]bool{}
	fixed := map[event.ID]bool{}
	for _, e := range events {
		switch e.Kind {
		case event.KindCarRaised, event.KindCarLowered, event.KindJobOpened, event.KindFindingRaised, event.KindDecisionMade:
			fixed[e.ID] = true
		}
	}
	for i := len(events) - 1; i >= 0; i-- {
		if c, ok := events[i].Payload().(*event.Corrected); ok && !gone[events[i].ID] && !fixed[c.Event] {
			gone[c.Event] = true
		}
	}
	return gone
}

// apply adds one event to the state. Withdrawn events keep their place in the order.
func apply(s *State, e event.Event, withdrawn bool) {
	s.Count++
	s.Devices[e.Device]++
	if withdrawn {
		s.Withdrawn++
		return
	}
	n := s.Count
	switch p := e.Payload().(type) {
	case nil:
		s.Unknown++
	case *event.JobOpened:
		s.open(e, p)
	case *event.PartCounted:
		s.Parts[p.Part] = Part{Found: p.Found, Damaged: p.Damaged, Note: p.Note, N: n}
	case *event.ToolListed:
		s.Tools[p.Tool] = Tool{Have: p.Have, Label: p.Label, LowCNM: p.LowCNM, HighCNM: p.HighCNM, RatingG: p.RatingG, Checked: p.Checked,
			Type: p.Type, Pair: p.Pair, Class: p.Class, Tolerance: p.Tolerance, LengthUM: p.LengthUM, Across: p.Across, N: n}
	case *event.SpecGiven:
		s.give(p, n)
	case *event.ReadingTaken:
		s.Readings = append(s.Readings, Reading{ReadingTaken: *p, ID: e.ID, At: e.At, N: n})
	case *event.AdjustmentMade:
		s.adjust(e, p, n)
	case *event.DamperSet:
		s.click(e, p, n)
	case *event.PositionNoted:
		s.Positions = append(s.Positions, Position{PositionNoted: *p, At: e.At, N: n})
	case *event.PhotoTaken:
		s.Photos = append(s.Photos, Photo{PhotoTaken: *p, ID: e.ID, At: e.At, N: n})
	case *event.WorkParked:
		s.Pauses = append(s.Pauses, Pause{Parked: true, Note: p.Note, At: e.At, N: n})
	case *event.WorkResumed:
		s.resume(e, p, n)
	case *event.WithdrawalSeen:
		s.Withdrawal = &Seen{Reason: p.Reason, At: e.At, N: n}
	case *event.CheckAnswered:
		s.answer(e, p, n)
	case *event.CarRaised:
		s.raise(e, p.Axle, n)
	case *event.CarLowered:
		s.lower(e, p.Axle, n)
	case *event.StepStarted, *event.StepDone, *event.StepSkipped, *event.StepReopened, *event.HoldAsked, *event.HoldReleased,
		*event.StepChecked, *event.PhotoLeftOut, *event.LeftoversCounted:
		s.step(e, n)
	case *event.FastenerLoosened, *event.FastenerFitted, *event.PassDone, *event.FastenerMarked:
		s.fasten(e, n)
	case *event.NoteAdded:
		s.Notes = append(s.Notes, Note{Step: p.Step, Text: p.Text, At: e.At, N: n})
	case *event.CommentAdded:
		s.Comments = append(s.Comments, Comment{CommentAdded: *p, By: e.Device, At: e.At, N: n})
	case *event.FindingRaised:
		s.Raised = append(s.Raised, Raised{FindingRaised: *p, ID: e.ID, At: e.At, N: n})
	case *event.DecisionMade:
		s.decide(e, p, n)
	case *event.JobFinished:
		s.Finished = &Finished{Note: p.Note, At: e.At, N: n}
	}
}

// open keeps the first opening: a job has one sheet for ever.
func (s *State) open(e event.Event, p *event.JobOpened) {
	if s.Opened == nil {
		s.Opened = &Opened{Sheet: p.Sheet, Title: p.Title, Vehicle: p.Vehicle, At: e.At, By: e.Device}
	}
}

func (s *State) give(p *event.SpecGiven, n N) {
	if s.Specs[p.Fastener] == nil {
		s.Specs[p.Fastener] = map[event.PassID]Spec{}
	}
	s.Specs[p.Fastener][p.Pass] = Spec{TorqueCNM: p.TorqueCNM, AngleMdeg: p.AngleMdeg, Source: p.Source,
		Questioned: p.Questioned, Confirmed: p.Confirmed, N: n}
}
