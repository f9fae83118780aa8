package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// mentorHere: a hold point was released in a mentor's name from a phone that the
// work was recorded with. Only devices are compared; who held the phone is not
// in the record.
func mentorHere(r record) []Finding {
	var out []Finding
	for _, step := range r.Sheet.Steps() {
		rec := r.State.Steps[step.ID]
		released, ok := r.event(rec.ReleasedN)
		if !ok || rec.ReleaseBy != "mentor" {
			continue
		}
		worked := r.numbers(func(e event.Event) bool { return e.Device == released.Device && isWork(e) })
		if len(worked) == 0 {
			continue
		}
		out = append(out, Finding{Severity: Ask, Step: step.ID, facts: []job.N{worked[0], rec.ReleasedN},
			Text: lang.F("“%s” was released as by a mentor, from a phone that the work was recorded with: %s", step.Title, rec.Released),
			Todo: lang.T("Have it released from the mentor's own link, or release it as yourself with your reason."),
			Look: lang.T("Ask the mentor whether they looked.")})
	}
	return out
}

// isWork reports whether an event records work of the hands.
func isWork(e event.Event) bool {
	switch e.Kind {
	case event.KindFastenerLoosened, event.KindFastenerFitted, event.KindPassDone, event.KindStepDone:
		return true
	}
	return false
}
