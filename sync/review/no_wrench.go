package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// noWrench: a pass was made without a wrench whose range covers it.
func noWrench(r record) []Finding {
	var out []Finding
	for i := range r.Sheet.Fasteners {
		f := &r.Sheet.Fasteners[i]
		var facts []job.N
		for _, p := range f.Passes {
			if made, ok := r.State.Fasteners[f.ID].Passes[p.ID]; ok && p.Kind != sheet.Snug && made.Wrench == "" {
				facts = append(facts, made.N)
			}
		}
		if len(facts) > 0 {
			out = append(out, Finding{Severity: Ask, Fastener: f.ID, facts: facts,
				Text: lang.F("%s: tightened, but no listed wrench covers its torque.", f.Name()),
				Todo: lang.T("Tighten it again with a wrench in its range."),
				Look: lang.T("Ask what it was tightened with, and have it checked with a wrench in its range.")})
		}
	}
	return out
}
