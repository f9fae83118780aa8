package guidetest

import (
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
)

// enough is more actions than any sheet of today takes.
const enough = 4000

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

// next is what a careful installer does at a step.
func (j *Job) next(step *sheet.Step) event.Payload {
	g := j.Guide()
	status, _ := g.Status(step)
	if step.After && j.Log.State().Finished == nil {
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
	for _, candidates := range []func() []event.Payload{j.steps, j.fasteners, j.down, j.up} {
		for _, p := range candidates() {
			if j.Try(p) == nil {
				return true
			}
		}
	}
	return false
}

// steps are the answers to every step that is not behind, and the end.
func (j *Job) steps() []event.Payload {
	g := j.Guide()
	out := []event.Payload{}
	if j.Log.State().Finished == nil {
		out = append(out, &event.JobFinished{})
	}
	for _, step := range j.Sheet.Steps() {
		status, _ := g.Status(step)
		switch {
		case status == guide.Waiting:
			out = append(out, &event.HoldReleased{Step: step.ID, By: "mentor", Reason: "seen"})
		case status == guide.Open:
			asks := g.Todo(step)
			for _, ask := range asks {
				out = append(out, j.Answer(step, ask))
			}
			if len(asks) == 0 {
				out = append(out, &event.StepDone{Step: step.ID})
			}
		}
	}
	return out
}

// fasteners are the next passes of all that is not final, also where its step was skipped.
func (j *Job) fasteners() []event.Payload {
	var out []event.Payload
	for _, item := range j.Guide().NotFinal() {
		f := item.Fastener
		if item.Next == nil {
			out = append(out, &event.FastenerFitted{Fastener: f.ID, Renewed: f.Renew})
			continue
		}
		out = append(out, j.Pass(f.ID, item.Next.ID))
		spec, known := j.Guide().Spec(f, item.Next)
		if !known || spec.Unverified() {
			out = append(out, j.LookUp(f.ID))
		}
	}
	return out
}

// down answers the checks of lowering what is up, and lowers it.
func (j *Job) down() []event.Payload {
	var out []event.Payload
	for _, axle := range event.Axles {
		if j.Log.State().Axles[axle].Up {
			out = append(out, &event.CarLowered{Axle: axle})
			out = append(out, j.checks(axle, event.Lower)...)
		}
	}
	return out
}

// up answers the checks of raising an axle that has work to be done in the air, and raises it.
func (j *Job) up() []event.Payload {
	var out []event.Payload
	for _, item := range j.Guide().NotFinal() {
		axle := item.Fastener.Corner.Axle()
		if j.Log.State().Axles[axle].Up || item.Next != nil && item.Next.Car != sheet.Up {
			continue
		}
		out = append(out, &event.CarRaised{Axle: axle})
		out = append(out, j.checks(axle, event.Raise)...)
	}
	return out
}

// checks answers the first question that has no yes yet.
func (j *Job) checks(axle event.Axle, move event.Move) []event.Payload {
	for _, c := range j.Sheet.ChecksFor(axle, move) {
		if j.Log.State().Axles[axle].Answers[move][c.ID].Answer != event.Yes {
			return []event.Payload{&event.CheckAnswered{Axle: axle, Move: move, Check: c.ID, Answer: event.Yes}}
		}
	}
	return nil
}
