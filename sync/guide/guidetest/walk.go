package guidetest

import (
	"slices"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
)

// enough is more actions than any sheet of today takes.
const enough = 1500

// Walk carries out a whole sheet, in the guide's order and with each answer
// allowed by the guide, and returns the record of the finished job.
func Walk(t testing.TB, s *sheet.Sheet) []event.Event {
	t.Helper()
	j := New(t, s)
	j.Until("")
	return j.Events()
}

// Until walks on until the named step is the one to do next, or, with "", until
// nothing is left.
func (j *Job) Until(stop event.StepID) {
	j.T.Helper()
	for range enough {
		step := j.Guide().Next()
		switch {
		case step == nil && stop == "":
			return
		case step == nil:
			j.T.Fatalf("the job ended before step %s", stop)
		case step.ID == stop:
			return
		}
		j.Do(j.next(step))
	}
	j.T.Fatalf("the walk finds no end; at %s", j.Log.State().Here)
}

// Ask answers all that a step asks for, up to what the person is left to do
// with stop; with nil it answers everything.
func (j *Job) Ask(id event.StepID, stop func(guide.Ask) bool) {
	j.T.Helper()
	step := j.Sheet.Step(id)
	for range enough {
		todo := j.Guide().Todo(step)
		if len(todo) == 0 || todo[0] == (guide.Ask{Text: todo[0].Text}) || stop != nil && stop(todo[0]) {
			return
		}
		j.Do(j.Answer(step, todo[0]))
	}
	j.T.Fatalf("step %s never stops asking", id)
}

// Finish answers all that a step asks for and closes it.
func (j *Job) Finish(id event.StepID) {
	j.T.Helper()
	j.Ask(id, nil)
	j.Do(&event.StepDone{Step: id})
}

// next is what a careful installer does at a step.
func (j *Job) next(step *sheet.Step) event.Payload {
	g := j.Guide()
	status, _ := g.Status(step)
	if step.Later && j.Log.State().Finished == nil {
		return &event.JobFinished{}
	}
	if status == guide.Waiting {
		return &event.HoldReleased{Step: step.ID, By: "mentor", Reason: "seen by picture"}
	}
	if j.Log.State().Here != step.ID {
		return &event.StepStarted{Step: step.ID}
	}
	for _, item := range g.Tally() {
		if item.Phase == guide.FinalDone {
			return &event.FastenerMarked{Fastener: item.Fastener.ID}
		}
	}
	if asks := g.Todo(step); len(asks) > 0 {
		return j.Answer(step, asks[0])
	}
	return &event.StepDone{Step: step.ID}
}

// Rescue brings a job to its end from wherever it is, by any action that the
// guide allows. It reports false when there is none: the installer is stuck.
func (j *Job) Rescue() bool {
	j.T.Helper()
	for range enough {
		if j.Log.State().Finished != nil && len(j.Guide().FinishBlockers()) == 0 {
			return true
		}
		if !j.Advance() {
			return false
		}
	}
	return false
}

// Advance does one allowed thing that brings the job on, and reports whether there was one.
func (j *Job) Advance() bool {
	j.T.Helper()
	try := func(p event.Payload) bool { return j.Try(p) == nil }
	// What is open in the tally first: the steps would lower the car before it is done.
	for _, way := range []func(func(event.Payload) bool) bool{j.fasteners, j.steps, j.again, j.down, j.up, j.giveUp, j.missed} {
		if way(try) {
			return true
		}
	}
	return false
}

// fasteners makes the next pass of something not final, also where its step was skipped.
func (j *Job) fasteners(try func(event.Payload) bool) bool {
	g := j.Guide()
	for _, item := range g.NotFinal() {
		f := item.Fastener
		if item.Next == nil {
			if try(&event.FastenerFitted{Fastener: f.ID, Renewed: f.Renew}) {
				return true
			}
			continue
		}
		spec, known := g.Spec(f, item.Next)
		if try(j.Pass(f.ID, item.Next.ID)) || (!known || spec.Unverified()) && try(j.LookUp(f.ID)) {
			return true
		}
	}
	return false
}

// steps answers the first step that is not behind and can be worked on, and finishes at the end.
func (j *Job) steps(try func(event.Payload) bool) bool {
	g := j.Guide()
	for _, step := range j.Sheet.Steps() {
		status, _ := g.Status(step)
		if status == guide.Waiting && try(&event.HoldReleased{Step: step.ID, By: "mentor", Reason: "seen"}) {
			return true
		}
		if status != guide.Open {
			continue
		}
		asks := g.Todo(step)
		for _, ask := range asks {
			if try(j.Answer(step, ask)) {
				return true
			}
		}
		if len(asks) == 0 && try(&event.StepDone{Step: step.ID}) {
			return true
		}
	}
	return j.Log.State().Finished == nil && try(&event.JobFinished{})
}

// again opens a skipped step that holds what is needed to make something final.
func (j *Job) again(try func(event.Payload) bool) bool {
	for _, item := range j.Guide().NotFinal() {
		for _, step := range j.Sheet.Steps() {
			status, _ := j.Guide().Status(step)
			if status == guide.Skipped && slices.Contains(step.Fit, item.Fastener.ID) && try(&event.StepReopened{Step: step.ID, Reason: "needed after all"}) {
				return true
			}
		}
	}
	return false
}

// giveUp ends an attempt to raise that was begun and left.
func (j *Job) giveUp(try func(event.Payload) bool) bool {
	axle := j.Guide().Lifting()
	return axle != "" && try(&event.CarLowered{Axle: axle})
}

// down answers the checks of lowering what is up, and lowers it.
func (j *Job) down(try func(event.Payload) bool) bool {
	for _, axle := range event.Axles {
		if j.Log.State().Axles[axle].Up && (try(&event.CarLowered{Axle: axle}) || j.check(axle, event.Lower, try)) {
			return true
		}
	}
	return false
}

// up answers the checks of raising an axle that has work to be done in the air, and raises it.
func (j *Job) up(try func(event.Payload) bool) bool {
	for _, axle := range event.Axles {
		if j.wantsUp(axle) && (try(&event.CarRaised{Axle: axle}) || j.check(axle, event.Raise, try)) {
			return true
		}
	}
	return false
}

// wantsUp reports whether something at the axle can only be done with it up.
func (j *Job) wantsUp(axle event.Axle) bool {
	if j.Log.State().Axles[axle].Up {
		return false
	}
	for _, item := range j.Guide().NotFinal() {
		if item.Fastener.Corner.Axle() == axle && (item.Next == nil || item.Next.Car == sheet.Up) {
			return true
		}
	}
	for _, step := range j.Sheet.Steps() {
		if status, why := j.Guide().Status(step); status == guide.Blocked && step.Axle == axle && step.Car == sheet.Up && len(why) == 1 {
			return true
		}
	}
	return false
}

// check answers the first question that has no yes yet.
func (j *Job) check(axle event.Axle, move event.Move, try func(event.Payload) bool) bool {
	for _, c := range j.Sheet.ChecksFor(axle, move) {
		if j.Log.State().Axles[axle].Answers[move][c.ID].Answer != event.Yes {
			return try(&event.CheckAnswered{Axle: axle, Move: move, Check: c.ID, Answer: event.Yes})
		}
	}
	return false
}

// missed skips what cannot be made up for: the car as it was found, once it is
// changed; and a step with nothing left to do whose state of the car has passed.
func (j *Job) missed(try func(event.Payload) bool) bool {
	for _, step := range j.Sheet.Steps() {
		status, _ := j.Guide().Status(step)
		if status != guide.Open && status != guide.Blocked || step.Later {
			continue
		}
		asks := j.Guide().Todo(step)
		found := len(asks) > 0 && asks[0].Reading != nil && asks[0].Reading.Purpose == event.Before
		if (found || len(asks) == 0) && try(&event.StepSkipped{Step: step.ID, Reason: "the car is not as it was any more"}) {
			return true
		}
	}
	return false
}
