package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/job"
)

// different: after a pause the car did not stand as the record says.
func different(r record) []Finding {
	var out []Finding
	for _, p := range r.State.Pauses {
		if p.ResumedN > 0 && !p.AsLeft {
			out = append(out, Finding{Severity: Ask, facts: []job.N{p.N, p.ResumedN}, Text: lang.F("After a pause something was different: %s", p.Different),
				Todo: lang.T("Record what is true now, and look at each fastener that may be concerned."),
				Look: lang.T("Ask who was at the car, and what was looked at again.")})
		}
	}
	return out
}
