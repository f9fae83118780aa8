package review

import (
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
)

// noWrench: a final pass was made without a wrench whose range covers it.
func noWrench(g guide.Guide) []Finding {
	var out []Finding
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		for _, p := range f.Passes {
			made, ok := g.State.Fasteners[f.ID].Passes[p.ID]
			if ok && p.Kind != sheet.Snug && made.Wrench == "" {
				out = append(out, Finding{Severity: Ask, Fastener: f.ID,
					Text: place(f) + ": tightened, but no listed wrench covers its torque.",
					Todo: "Tighten it again with a wrench in its range."})
				break
			}
		}
	}
	return out
}
