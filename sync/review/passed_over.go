package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// passedOver: a question of a step was passed over with a reason.
func passedOver(r record) []Finding {
	var out []Finding
	for _, step := range r.Sheet.Steps() {
		for _, c := range step.Checks {
			if a := r.State.Steps[step.ID].Checks[c.ID]; a.Answer == event.Override {
				out = append(out, Finding{Severity: Ask, Step: step.ID, about: string(c.ID), facts: []job.N{a.N},
					Text: lang.F("“%s”: “%s” was overridden: %s", step.Title, c.Ask, a.Reason),
					Todo: lang.T("Next time, do it before you go on."),
					Look: lang.T("Judge the reason. Ask for a picture if the work can still be seen.")})
			}
		}
	}
	return out
}
