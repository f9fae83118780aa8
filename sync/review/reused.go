package review

import "strutcard/sync/guide"

// reused: a one-use fastener went in again.
func reused(g guide.Guide) []Finding {
	var out []Finding
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		if rec := g.State.Fasteners[f.ID]; f.Renew && rec.FittedN > 0 && !rec.Renewed {
			out = append(out, Finding{Severity: Ask, Fastener: f.ID,
				Text: place(f) + ": one-use hardware was fitted again.",
				Todo: "Renew it, one at a time, with the maker's part."})
		}
	}
	return out
}
