// Package guide says what may be done now, what blocks the rest, and what would
// clear it. It is pure: the phone asks it before writing an event, the shop asks
// the same code what it would have said.
package guide

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// Guide joins a sheet with the state of a job that follows it.
type Guide struct {
	Sheet     *sheet.Sheet
	State     *job.State
	Withdrawn *sheet.Withdrawal // nil while the sheet stands
}

// New returns the guide for a job.
func New(s *sheet.Sheet, st *job.State) Guide { return Guide{Sheet: s, State: st} }

// Status is where a step stands.
type Status string

const (
	Done    Status = "done"
	Open    Status = "open"
	Blocked Status = "blocked"
	Skipped Status = "skipped"
	Waiting Status = "waiting" // done, but held until someone competent has looked
)

// Blocker is one reason why not, in words, and where it is cleared.
type Blocker struct {
	Text     string           `json:"text"`
	Step     event.StepID     `json:"step,omitempty"`
	Fastener event.FastenerID `json:"fastener,omitempty"`
}

// Status returns where a step stands and, when it is blocked, why. A step whose
// work was undone by something later is open again.
func (g Guide) Status(step *sheet.Step) (Status, []Blocker) {
	if status := g.behind(step); status != "" {
		return status, nil
	}
	if blockers := g.blockers(step); len(blockers) > 0 {
		return Blocked, blockers
	}
	return Open, nil
}

// behind returns Done, Waiting or Skipped, or "" for a step still to be done. It
// does not ask what blocks the step: along a chain of needs, that would double
// the work with every step.
func (g Guide) behind(step *sheet.Step) Status {
	rec := g.State.Steps[step.ID]
	done := rec.DoneN > 0 && len(g.Todo(step)) == 0
	switch {
	case done && step.Hold && rec.ReleasedN < rec.DoneN:
		return Waiting
	case done:
		return Done
	case rec.SkippedN > 0:
		return Skipped
	}
	return ""
}

// passed reports whether work may go on beyond a step.
func (g Guide) passed(step *sheet.Step) bool {
	status := g.behind(step)
	return status == Done || status == Skipped
}

func (g Guide) blockers(step *sheet.Step) []Blocker {
	var out []Blocker
	for _, id := range step.Needs {
		need := g.Sheet.Step(id)
		if g.passed(need) || g.State.Axles[step.Axle].Up && g.waitsForWheels(need) {
			continue
		}
		text := lang.F("First: %s.", need.Title)
		if g.behind(need) == Waiting {
			text = lang.F("Held: someone competent must look at “%s” first.", need.Title)
		}
		out = append(out, Blocker{Text: text, Step: id})
	}
	if reason := g.carReason(step.Car, step.Axle); reason != "" {
		out = append(out, Blocker{Text: reason})
	}
	if step.Move == event.Lower && g.State.Axles[step.Axle].Up {
		out = append(out, g.looseAt(step.Axle)...) // before the first check: the last one is answered with the car down
	}
	if reason := g.withdrawnFor(step); reason != "" {
		out = append(out, Blocker{Text: reason, Step: step.ID})
	}
	if step.Drive {
		out = append(out, g.DriveBlockers()...)
	}
	if step.Move == event.Raise {
		out = append(out, g.weakTools(step.Axle)...)
	}
	if step.Later && g.State.Finished == nil {
		out = append(out, Blocker{Text: lang.T("This comes after the job is finished.")})
	}
	return out
}

// waitsForWheels reports whether a step that was done once is to be done again, on the
// wheels, while an axle is up. It holds up nothing at that axle: the car could not be
// let down for it.
func (g Guide) waitsForWheels(step *sheet.Step) bool {
	rec := g.State.Steps[step.ID]
	again := g.behind(step) == "" && (rec.ReopenedN > 0 || rec.DoneN > 0)
	return again && (step.Car == sheet.OnWheels || step.Car == sheet.AtRide) && g.carReason(step.Car, step.Axle) != ""
}

// carReason says why the car is not in the state that is needed, or "".
func (g Guide) carReason(need sheet.CarState, axle event.Axle) string {
	switch need {
	case sheet.Up:
		if !g.State.Axles[axle].Up {
			return lang.F("The %s must stand on stands first.", AxleWords(axle))
		}
	case sheet.OnWheels:
		if axle.Valid() && g.State.Axles[axle].Up {
			return lang.F("The %s must be down on its wheels first.", AxleWords(axle))
		}
		if !axle.Valid() && g.State.Up() {
			return lang.T("The car must stand on all its wheels first.")
		}
	case sheet.AtRide:
		if g.State.Up() {
			return lang.T("The car must stand on all its wheels first.")
		}
		if !g.settled() {
			return lang.T("The car must be settled first: rolled and bounced since it was last lowered or its height was changed.")
		}
	}
	return ""
}

// settled reports whether the car was rolled and bounced after the last thing
// that disturbs its height. A sheet without such a step never claims it.
func (g Guide) settled() bool {
	for _, step := range g.Sheet.Steps() {
		done := g.State.Steps[step.ID].DoneN
		if step.Settle && done > 0 && done > g.State.LoweredN && done > g.State.HeightN {
			return true
		}
	}
	return false
}

// Next returns the step to show: where the installer is, as long as that is not
// behind them, or else the first that is not. One that the car does not allow as it
// stands, such as a measurement to be made again on the wheels, waits for the others.
// It is nil when all is done.
func (g Guide) Next() *sheet.Step {
	if here := g.Sheet.Step(g.State.Here); here != nil && !g.passed(here) {
		return here
	}
	var first *sheet.Step
	for _, step := range g.Sheet.Steps() {
		switch {
		case g.passed(step):
		case g.carReason(step.Car, step.Axle) == "":
			return step
		case first == nil:
			first = step
		}
	}
	return first
}

// Progress counts the steps that are done, those that were skipped, and all.
func (g Guide) Progress() (done, skipped, all int) {
	for _, step := range g.Sheet.Steps() {
		if step.Later {
			continue
		}
		all++
		switch g.behind(step) {
		case Done:
			done++
		case Skipped:
			skipped++
		}
	}
	return done, skipped, all
}
