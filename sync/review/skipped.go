package review

import "strutcard/sync/guide"

// skipped: a step was left out with a reason.
func skipped(g guide.Guide) []Finding {
	var out []Finding
	for _, step := range g.Sheet.Steps() {
		if status, _ := g.Status(step); status == guide.Skipped {
			out = append(out, Finding{Severity: Ask, Step: step.ID,
				Text: "“" + step.Title + "” was skipped: " + g.State.Steps[step.ID].Reason,
				Todo: "Do it now if it can still be done."})
		}
	}
	return out
}
