package review

import (
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
)

// hurried: a pass came faster than hands can work, was asked about, and kept.
func hurried(g guide.Guide) []Finding {
	var out []Finding
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		for _, p := range f.Passes {
			if g.State.Fasteners[f.ID].Passes[p.ID].Hurried && g.PassHolds(sheet.PassRef{Fastener: f.ID, Pass: p.ID}) {
				out = append(out, Finding{Severity: Ask, Fastener: f.ID,
					Text: place(f) + ": pass “" + string(p.ID) + "” was recorded faster than hands can work.",
					Todo: "Put the wrench on it once more."})
			}
		}
	}
	return out
}
