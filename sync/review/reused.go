package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/job"
)

// reused: a one-use fastener went in again.
func reused(r record) []Finding {
	var out []Finding
	for i := range r.Sheet.Fasteners {
		f := &r.Sheet.Fasteners[i]
		if rec := r.State.Fasteners[f.ID]; f.Renew && rec.FittedN > 0 && !rec.Renewed {
			out = append(out, Finding{Severity: Ask, Fastener: f.ID, facts: []job.N{rec.FittedN},
				Text: lang.F("%s: one-use hardware was fitted again.", f.Name()),
				Todo: lang.T("Renew it, one at a time, with the maker's part."),
				Look: lang.T("Ask why, and whether the new part is at hand. The maker's rule for this fastener counts.")})
		}
	}
	return out
}
