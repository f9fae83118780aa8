package review

import (
	"strutcard/sync/event"
	"strutcard/sync/guide"
)

// passedOver: a question of a step was passed over with a reason.
func passedOver(g guide.Guide) []Finding {
	var out []Finding
	for _, step := range g.Sheet.Steps() {
		for _, c := range step.Checks {
			if a := g.State.Steps[step.ID].Checks[c.ID]; a.Answer == event.Override {
				out = append(out, Finding{Severity: Ask, Step: step.ID,
					Text: "“" + step.Title + "”: “" + c.Ask + "” was passed over: " + a.Reason,
					Todo: "Do not do without it next time."})
			}
		}
	}
	return out
}
