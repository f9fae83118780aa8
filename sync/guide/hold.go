package guide

import (
	"slices"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// HoldPhoto names the picture that an installer takes who releases a hold point
// alone, or leaves out with a reason.
const HoldPhoto event.PhotoID = "hold"

// allowRelease lets a hold point go. An installer who can reach no one shows
// what a second pair of eyes would have seen; it becomes a finding.
func (g Guide) allowRelease(p *event.HoldReleased) error {
	if err := g.allowStep(p.Step); err != nil {
		return err
	}
	if status, _ := g.Status(g.Sheet.Step(p.Step)); status != Waiting {
		return refuse(lang.T("Nothing waits at this step."), lang.T("Go on with the work."))
	}
	if p.By == "installer" && !g.Shown(p.Step) {
		return refuse(lang.T("Nobody has looked, and there is no picture."), lang.T("Take a picture of what they would look at, or say why you cannot. Then release it with your reason."))
	}
	return nil
}

// Shown reports whether there is a picture of a hold point, or a reason why not.
func (g Guide) Shown(id event.StepID) bool {
	rec := g.State.Steps[id]
	if _, out := rec.LeftOut[HoldPhoto]; out {
		return true
	}
	return slices.ContainsFunc(g.State.Photos, func(p job.Photo) bool { return p.Step == id && p.N > rec.ReopenedN })
}
