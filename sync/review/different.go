package review

import "strutcard/sync/guide"

// different: after a pause the car did not stand as the record says.
func different(g guide.Guide) []Finding {
	var out []Finding
	for _, p := range g.State.Pauses {
		if p.ResumedN > 0 && !p.AsLeft {
			out = append(out, Finding{Severity: Ask, Text: "After a pause something was different: " + p.Different,
				Todo: "Record what is true now, and look at each fastener that may be concerned."})
		}
	}
	return out
}
