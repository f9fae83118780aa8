package review

import "strutcard/sync/guide"

// noPhoto: a picture that the sheet requires, or that would have shown a hold
// point, was left out.
func noPhoto(g guide.Guide) []Finding {
	var out []Finding
	for _, step := range g.Sheet.Steps() {
		rec := g.State.Steps[step.ID]
		for _, p := range step.Photos {
			if why, left := rec.LeftOut[p.ID]; left && p.Must {
				out = append(out, Finding{Severity: Ask, Step: step.ID,
					Text: "“" + step.Title + "”: no photo of " + p.What + ": " + why,
					Todo: "Take it now if it can still be seen."})
			}
		}
		if why, left := rec.LeftOut[guide.HoldPhoto]; left && step.Hold {
			out = append(out, Finding{Severity: Ask, Step: step.ID,
				Text: "“" + step.Title + "” was released without a photo: " + why,
				Todo: "Show the work to someone competent as soon as you can."})
		}
	}
	return out
}
