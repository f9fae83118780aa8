package field

import (
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/review"
	"strutcard/sync/sheet"
)

// Field is what is known so far of one version of a sheet in the field.
type Field struct {
	sheet   *sheet.Sheet
	hash    event.SheetHash
	jobs    Jobs
	steps   map[event.StepID]*Step
	torques map[event.FastenerID]*Torque
	reads   map[spot]*Reading
}

// Jobs is how many jobs there are and where they stand.
type Jobs struct {
	All      int
	Finished int
	Between  int // not finished, and no step under way
}

// Open is how many are not finished.
func (j Jobs) Open() int { return j.All - j.Finished }

// Result is everything that was counted, in the order of the sheet.
type Result struct {
	Jobs     Jobs
	Steps    []Step    // every step
	Torques  []Torque  // every fastener with a final pass
	Readings []Reading // those of which there is any
}

// New begins to count for one version of a sheet.
func New(s *sheet.Sheet) *Field {
	f := &Field{sheet: s, hash: s.Hash(), steps: map[event.StepID]*Step{}, torques: map[event.FastenerID]*Torque{}, reads: map[spot]*Reading{}}
	for _, step := range s.Steps() {
		f.steps[step.ID] = &Step{Step: step}
	}
	for i := range s.Fasteners {
		if fastener := &s.Fasteners[i]; fastener.Final() != nil {
			f.torques[fastener.ID] = &Torque{Fastener: fastener}
		}
	}
	return f
}

// Add takes in the events of a job, each job once; in any order they come to the
// same. It reports false, and counts nothing, for a job that pins another sheet.
func (f *Field) Add(id event.JobID, events []event.Event) bool {
	log := job.NewLog(id)
	log.Add(events...)
	st := log.State()
	if st.Opened == nil || st.Opened.Sheet != f.hash {
		return false
	}
	r := record{sheet: f.sheet, state: st, events: log.Events(), gone: job.TakenBack(log.Events())}
	f.jobs.All++
	f.addSteps(r)
	f.addWaits(r)
	f.addTorques(r)
	f.addReadings(r)
	if st.Finished == nil {
		f.stop(r)
		return true
	}
	f.jobs.Finished++
	for _, found := range review.Findings(f.sheet, st, r.events) {
		if step := f.steps[found.Step]; step != nil {
			step.Findings++
		}
	}
	return true
}

// Result returns what was counted so far.
func (f *Field) Result() Result {
	out := Result{Jobs: f.jobs}
	for _, step := range f.sheet.Steps() {
		s := *f.steps[step.ID]
		s.Time, s.Wait = s.Time.sorted(), s.Wait.sorted()
		out.Steps = append(out.Steps, s)
	}
	for i := range f.sheet.Fasteners {
		if t := f.torques[f.sheet.Fasteners[i].ID]; t != nil {
			sorted := *t
			sorted.Off = t.Off.sorted()
			out.Torques = append(out.Torques, sorted)
		}
	}
	for _, q := range event.Quantities() {
		for _, at := range q.Places() {
			if r := f.reads[spot{q, at}]; r != nil {
				out.Readings = append(out.Readings, r.sorted())
			}
		}
	}
	return out
}

// record is one job while it is taken in.
type record struct {
	sheet  *sheet.Sheet
	state  *job.State
	events []event.Event     // of this job in fold order: the fact of number n came from events[n-1]
	gone   map[event.ID]bool // taken back
}

// stop counts where a job that is not finished stands.
func (f *Field) stop(r record) {
	if step := f.steps[r.last()]; step != nil {
		step.Stopped++
		return
	}
	f.jobs.Between++
}

// last is the step that was gone to last of those neither done nor skipped, or a
// hold point that waits, or "".
func (r record) last() event.StepID {
	for i := len(r.events) - 1; i >= 0; i-- {
		if id := went(r.events[i].Payload()); id != "" && !r.gone[r.events[i].ID] && r.sheet.Step(id) != nil {
			if rec := r.state.Steps[id]; rec.DoneN == 0 && rec.SkippedN == 0 {
				return id
			}
		}
	}
	for _, step := range r.sheet.Steps() {
		if rec := r.state.Steps[step.ID]; step.Hold && rec.DoneN > 0 && rec.ReleasedN < rec.DoneN {
			return step.ID
		}
	}
	return ""
}

// went is the step that somebody at the car went to, or "".
func went(p event.Payload) event.StepID {
	switch p := p.(type) {
	case *event.StepStarted:
		return p.Step
	case *event.StepReopened:
		return p.Step
	}
	return ""
}
