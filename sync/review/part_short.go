package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/job"
)

// partShort: the box did not hold what the sheet lists.
func partShort(r record) []Finding {
	var out []Finding
	for _, p := range r.Sheet.Parts {
		got, counted := r.State.Parts[p.ID]
		if counted && got.Found-got.Damaged < p.Count {
			out = append(out, Finding{Severity: Ask, about: string(p.ID), facts: []job.N{got.N},
				Text: lang.F("Box: %s, %d good of %d.", p.Name, got.Found-got.Damaged, p.Count),
				Todo: lang.T("Get the missing part before the car is driven."),
				Look: lang.T("Ask what was fitted in its place, and send what is missing.")})
		}
	}
	return out
}
