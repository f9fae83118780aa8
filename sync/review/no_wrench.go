package review

import (
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
				Text: place(f) + ": tightened, but no listed wrench covers its torque.",
				Todo: "Tighten it again with a wrench in its range.",
				Look: "Ask what it was tightened with, and have it checked with a wrench in its range."})
		}
	}
	return out
}
