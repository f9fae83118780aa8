package review

import "strutcard/sync/guide"

// selfReleased: a hold point was released by the person who did the work.
func selfReleased(g guide.Guide) []Finding {
	var out []Finding
	for _, step := range g.Sheet.Steps() {
		if rec := g.State.Steps[step.ID]; rec.ReleasedN > 0 && rec.ReleaseBy == "installer" {
			out = append(out, Finding{Severity: Ask, Step: step.ID,
				Text: "“" + step.Title + "” was released by the installer: " + rec.Released,
				Todo: "Show the work to someone competent as soon as you can."})
		}
	}
	return out
}
