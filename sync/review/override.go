package review

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
)

// overridden: a lift check was passed over with a reason.
func overridden(r record) []Finding {
	var out []Finding
	for _, lift := range r.State.Lifts {
		for _, c := range r.Sheet.Checks {
			answer := given(lift, c.Move)[c.ID]
			if answer.Answer == event.Override {
				out = append(out, Finding{Severity: Ask, about: fmt.Sprint(lift.Axle, c.ID), facts: []job.N{answer.N},
					Text: lang.F("Lift of the %s, “%s” was overridden: %s", guide.AxleWords(lift.Axle), c.Ask, answer.Reason),
					Todo: lang.T("Next time, do it before you go on."),
					Look: lang.T("Ask how the car was kept safe without it.")})
			}
		}
	}
	return out
}

func given(l job.Lift, move event.Move) map[event.CheckID]job.Answer {
	if move == event.Raise {
		return l.Raise
	}
	return l.Lower
}
