package review

import (
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
					Text: "“" + step.Title + "”: no photo of " + p.What + ": " + why,
					Todo: "Take it now if it can still be seen.",
					Look: "Ask what the picture would have shown, and for another one now."})
			case rec.DoneN > 0 && !r.Photographed(step, p):
				out = append(out, Finding{Severity: Ask, Step: step.ID, about: string(p.ID), facts: []job.N{rec.DoneN},
					Text: "“" + step.Title + "” was closed without the photo of " + p.What + ".",
					Todo: "Take it now if it can still be seen, or say why not.",
					Look: "Ask for the picture. See in the timeline whether one was taken back."})
			}
		}
		if why, left := rec.LeftOut[guide.HoldPhoto]; left && step.Hold {
			out = append(out, Finding{Severity: Ask, Step: step.ID, about: string(guide.HoldPhoto), facts: append(leftOut(r, step.ID, guide.HoldPhoto), rec.ReleasedN),
				Text: "“" + step.Title + "” was released without a photo: " + why,
				Todo: "Show the work to someone competent as soon as you can.",
				Look: "Look at the work itself, or ask for pictures of each corner."})
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
