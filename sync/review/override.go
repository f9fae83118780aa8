package review

import (
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
)

// overridden: a lift check was passed over with a reason.
func overridden(g guide.Guide) []Finding {
	var out []Finding
	for _, lift := range g.State.Lifts {
		for _, c := range g.Sheet.Checks {
			answer := given(lift, c.Move)[c.ID]
			if answer.Answer == event.Override {
				out = append(out, Finding{Severity: Ask,
					Text: "Lift of the " + string(lift.Axle) + " axle, “" + c.Ask + "” was passed over: " + answer.Reason,
					Todo: "Do not do without it next time."})
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
