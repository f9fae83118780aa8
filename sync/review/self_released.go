package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/job"
)

// selfReleased: a hold point was released by the person who did the work.
func selfReleased(r record) []Finding {
	var out []Finding
	for _, step := range r.Sheet.Steps() {
		if rec := r.State.Steps[step.ID]; rec.ReleasedN > 0 && rec.ReleaseBy == "installer" {
			out = append(out, Finding{Severity: Ask, Step: step.ID, facts: []job.N{rec.ReleasedN},
				Text: lang.F("“%s” was released by the installer: %s", step.Title, rec.Released),
				Todo: lang.T("Show the work to someone competent as soon as you can."),
				Look: lang.T("Look at the pictures of this step, or at the car, as the second pair of eyes.")})
		}
	}
	return out
}
