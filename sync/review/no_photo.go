package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
)

// noPhoto: a picture that the sheet requires, or that would have shown a hold
// point, was left out or is not there.
func noPhoto(r record) []Finding {
	var out []Finding
	for _, step := range r.Sheet.Steps() {
		rec := r.State.Steps[step.ID]
		for i := range step.Photos {
			p := &step.Photos[i]
			why, left := rec.LeftOut[p.ID]
			switch {
			case !p.Must:
			case left:
				out = append(out, Finding{Severity: Ask, Step: step.ID, about: string(p.ID), facts: leftOut(r, step.ID, p.ID),
					Text: lang.F("“%s”: no photo of %s: %s", step.Title, p.What, why),
					Todo: lang.T("Take it now if it can still be seen."),
					Look: lang.T("Ask what the picture would have shown, and for another one now.")})
			case rec.DoneN > 0 && !r.Photographed(step, p):
				out = append(out, Finding{Severity: Ask, Step: step.ID, about: string(p.ID), facts: []job.N{rec.DoneN},
					Text: lang.F("“%s” was closed without the photo of %s.", step.Title, p.What),
					Todo: lang.T("Take it now if it can still be seen, or say why not."),
					Look: lang.T("Ask for the picture. See in the timeline whether one was taken back.")})
			}
		}
		if why, left := rec.LeftOut[guide.HoldPhoto]; left && step.Hold {
			out = append(out, Finding{Severity: Ask, Step: step.ID, about: string(guide.HoldPhoto), facts: append(leftOut(r, step.ID, guide.HoldPhoto), rec.ReleasedN),
				Text: lang.F("“%s” was released without a photo: %s", step.Title, why),
				Todo: lang.T("Show the work to someone competent as soon as you can."),
				Look: lang.T("Look at the work itself, or ask for pictures of each corner.")})
		}
	}
	return out
}

func leftOut(r record, step event.StepID, photo event.PhotoID) []job.N {
	return r.last(func(e event.Event) bool {
		p, ok := e.Payload().(*event.PhotoLeftOut)
		return ok && p.Step == step && p.Photo == photo
	})
}
