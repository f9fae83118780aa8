package review

import (
	"strutcard/calc/lang"
	"strutcard/calc/torque"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// wrenchRange: a pass was made with a wrench that, as it is listed now, cannot be
// set for it, or whose range nobody recorded.
func wrenchRange(r record) []Finding {
	var out []Finding
	for i := range r.Sheet.Fasteners {
		f := &r.Sheet.Fasteners[i]
		for j := range f.Passes {
			p := &f.Passes[j]
			made, ok := r.State.Fasteners[f.ID].Passes[p.ID]
			if !ok || made.Wrench == "" || p.Kind == sheet.Snug || p.Kind == sheet.BackOff || p.Kind == sheet.Angle {
				continue
			}
			if _, known := r.Spec(f, p); !known {
				continue
			}
			should, err := r.Setting(f, p, made.Wrench, made.Adapter)
			if err == nil && should.Fit == torque.Within {
				continue
			}
			text := lang.F("%s to set, %s.", newtonMetres(should.Set), should.Fit.Words())
			if err != nil {
				text = err.Error()
			}
			out = append(out, Finding{Severity: Ask, Fastener: f.ID, about: string(p.ID), facts: []job.N{made.N, r.State.Tools[made.Wrench].N, r.State.Tools[made.Adapter].N},
				Text: lang.F("%s: made with %s. %s", f.Name(), r.ToolName(made.Wrench), text),
				Todo: lang.T("Correct its range if it is wrong. If not, tighten it again with a wrench in its range."),
				Look: lang.T("Ask for a picture of the wrench's scale, and which wrench it really was.")})
		}
	}
	return out
}
