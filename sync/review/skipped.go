package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/guide"
	"strutcard/sync/job"
)

// skipped: a step was left out with a reason.
func skipped(r record) []Finding {
	var out []Finding
	for _, step := range r.Sheet.Steps() {
		if status, _ := r.Status(step); status == guide.Skipped {
			rec := r.State.Steps[step.ID]
			out = append(out, Finding{Severity: Ask, Step: step.ID, facts: []job.N{rec.SkippedN},
				Text: lang.F("“%s” was skipped: %s", step.Title, rec.Reason),
				Todo: lang.T("Do it now if it can still be done."),
				Look: lang.T("Judge the reason, and what is not known without this step.")})
		}
	}
	return out
}
