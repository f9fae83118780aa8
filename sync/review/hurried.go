package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// hurried: a pass came faster than hands can work, was asked about, and kept.
func hurried(r record) []Finding {
	var out []Finding
	for i := range r.Sheet.Fasteners {
		f := &r.Sheet.Fasteners[i]
		for _, p := range f.Passes {
			made := r.State.Fasteners[f.ID].Passes[p.ID]
			if made.Hurried && r.PassHolds(sheet.PassRef{Fastener: f.ID, Pass: p.ID}) {
				out = append(out, Finding{Severity: Ask, Fastener: f.ID, about: string(p.ID), facts: []job.N{made.N},
					Text: lang.F("%s: pass “%s” was recorded faster than hands can work.", f.Name(), guide.PassName(p.ID)),
					Todo: lang.T("Put the wrench on it once more."),
					Look: lang.T("Ask whether the wrench was on it, and how the presses came so fast.")})
			}
		}
	}
	return out
}
