package field

import (
	"time"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
)

// Bounds of what counts as time at a step; see the package's words.
const (
	longRest = 4 * time.Hour
	setBack  = time.Minute
)

// Step is what jobs show of one step. Counts are of jobs where nothing else is said.
type Step struct {
	Step    *sheet.Step
	Done    int    // it stands as called done
	Skipped int    // it stands as skipped
	Stopped int    // not finished, and this is where they stand
	Time    Sample // ms
	LeftOut LeftOut

	AgainInstaller int // how often it was opened again after it was done
	AgainReviewer  int
	Findings       int // in finished jobs, all of them

	Wait        Sample // ms, at a hold point
	Alone       int    // released by the installer alone
	Waiting     int    // not released
	WaitLeftOut int    // released before it was reached, by the clocks
}

// LeftOut is how many jobs' time of a step is not known, by its first cause.
type LeftOut struct{ Break, LongRest, Clock, NoStart int }

// All is how many there are.
func (l LeftOut) All() int { return l.Break + l.LongRest + l.Clock + l.NoStart }

// cause is why a time is not known.
type cause int

const (
	known cause = iota
	unannounced
	tooLong
	clockBack
	noStart
)

func (l *LeftOut) count(c cause) {
	switch c {
	case unannounced:
		l.Break++
	case tooLong:
		l.LongRest++
	case clockBack:
		l.Clock++
	case noStart:
		l.NoStart++
	}
}

// phone follows one phone through a job: where it is, and how long it was where.
type phone struct {
	at     event.StepID // "" at none
	parked bool         // until its next entry that is more than words
	last   event.Event
	spent  map[event.StepID]stay
}

// stay is the time at one step so far.
type stay struct {
	ms   int64
	lost cause // why the time is not known
}

// hear takes in the phone's next entry: the time since the one before belongs to
// the step that the phone is at.
func (p *phone) hear(e event.Event) {
	if p.at != "" && !p.parked {
		s := p.spent[p.at]
		gap := e.Time().Sub(p.last.Time())
		switch {
		case s.lost != known:
		case gap < -setBack:
			s.lost = clockBack
		case e.Kind == event.KindWorkResumed:
			s.lost = unannounced
		case gap > longRest:
			s.lost = tooLong
		default:
			s.ms += max(0, gap.Milliseconds())
		}
		p.spent[p.at] = s
	}
	p.last = e
	if e.Kind != event.KindCommentAdded {
		p.parked = e.Kind == event.KindWorkParked
	}
}

// goTo has the phone be at a step.
func (p *phone) goTo(id event.StepID) {
	p.at = id
	if _, was := p.spent[id]; !was {
		p.spent[id] = stay{}
	}
}

// addSteps counts what became of each step, and how often it was opened again.
func (f *Field) addSteps(r record) {
	phones := map[event.DeviceID]*phone{}
	done := map[event.StepID]bool{}  // now
	timed := map[event.StepID]bool{} // its first time is counted
	for _, e := range r.events {
		p := phones[e.Device]
		if p == nil {
			p = &phone{spent: map[event.StepID]stay{}}
			phones[e.Device] = p
		}
		p.hear(e)
		if r.gone[e.ID] {
			continue
		}
		switch what := e.Payload().(type) {
		case *event.StepStarted:
			p.goTo(what.Step)
		case *event.StepReopened:
			f.again(what.Step, done, func(s *Step) { s.AgainInstaller++ })
			p.goTo(what.Step)
		case *event.DecisionMade:
			if what.Decision == event.Redo {
				f.again(what.Step, done, func(s *Step) { s.AgainReviewer++ })
			}
		case *event.StepDone:
			if !timed[what.Step] {
				f.time(what.Step, p)
			}
			done[what.Step], timed[what.Step] = true, true
			if p.at == what.Step {
				p.at = ""
			}
		}
	}
	g := guide.New(r.sheet, r.state)
	for id, step := range f.steps {
		switch rec := r.state.Steps[id]; {
		case rec.SkippedN > 0 && isSkipped(g, step.Step):
			step.Skipped++
		case rec.DoneN > 0:
			step.Done++
		}
	}
}

func isSkipped(g guide.Guide, step *sheet.Step) bool {
	status, _ := g.Status(step)
	return status == guide.Skipped
}

// again counts that a step was opened again, once until it is done again.
func (f *Field) again(id event.StepID, done map[event.StepID]bool, count func(*Step)) {
	if step := f.steps[id]; step != nil && done[id] {
		count(step)
	}
	done[id] = false
}

// time counts the first time of a step, by the phone that called it done.
func (f *Field) time(id event.StepID, p *phone) {
	step := f.steps[id]
	if step == nil {
		return
	}
	s, begun := p.spent[id]
	if !begun {
		s.lost = noStart
	}
	if s.lost != known {
		step.LeftOut.count(s.lost)
		return
	}
	step.Time.add(s.ms)
}

// addWaits counts how long work waited at each hold point.
func (f *Field) addWaits(r record) {
	for _, step := range f.steps {
		rec := r.state.Steps[step.Step.ID]
		switch {
		case !step.Step.Hold || rec.DoneN == 0:
			continue
		case rec.ReleasedN < rec.DoneN:
			step.Waiting++
			continue
		case rec.ReleaseBy == "installer":
			step.Alone++
		}
		wait := r.events[rec.ReleasedN-1].At - rec.DoneAt
		if wait < 0 {
			step.WaitLeftOut++
			continue
		}
		step.Wait.add(wait)
	}
}
