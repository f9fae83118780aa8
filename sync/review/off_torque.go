package review

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// near is how far what was set may be off where no tolerance is stated: a wrench
// has marks. Common practice, no source.
const near quantity.Torque = 0.1

// offTorque: a pass that counts was not made to what its spec asks: another
// torque or angle was on the screen, or another one was set on the wrench.
func offTorque(r record) []Finding {
	var out []Finding
	for i := range r.Sheet.Fasteners {
		f := &r.Sheet.Fasteners[i]
		for j := range f.Passes {
			p := &f.Passes[j]
			if p.Kind != sheet.Final && p.Kind != sheet.Angle && p.Kind != sheet.Recheck || !r.PassHolds(sheet.PassRef{Fastener: f.ID, Pass: p.ID}) {
				continue
			}
			made := r.State.Fasteners[f.ID].Passes[p.ID]
			if text := off(r, f, p, made); text != "" {
				out = append(out, Finding{Severity: Stop, Fastener: f.ID, about: string(p.ID), facts: []job.N{made.N, r.State.Tools[made.Wrench].N, r.State.Tools[made.Adapter].N},
					Text: f.Name() + ": " + text,
					Todo: lang.T("Set the wrench to what its spec asks. If it was too loose: tighten it again. If it was too tight: loosen it, look at the thread, fit a new one if it is one-use, and tighten it again."),
					Look: lang.T("Compare what was set with the spec and the adapter. Have it made again, with new hardware if it was far too tight.")})
			}
		}
	}
	return out
}

// off says how a pass misses its spec, or "".
func off(r record, f *sheet.Fastener, p *sheet.Pass, made job.Pass) string {
	spec, known := r.Spec(f, p)
	if !known {
		return ""
	}
	asked, tolerated := quantity.TorqueFromCNM(spec.TorqueCNM), quantity.TorqueFromCNM(spec.TolCNM)
	if tolerated == 0 {
		tolerated = near * asked
	}
	switch got := delivered(r, f, p, made); {
	case p.Kind == sheet.Angle && made.AngleMdeg != spec.AngleMdeg:
		return lang.F("turned by %s, and its spec asks for %s.", degrees(made.AngleMdeg), degrees(spec.AngleMdeg))
	case p.Kind == sheet.Angle:
		return ""
	case beyond(quantity.TorqueFromCNM(made.TorqueCNM), asked, tolerated):
		return lang.F("tightened to %s, and its spec asks for %s.", newtonMetres(quantity.TorqueFromCNM(made.TorqueCNM)), newtonMetres(asked))
	case got > 0 && beyond(got, asked, tolerated):
		return lang.F("the wrench was set so that it got %s, and its spec asks for %s.", newtonMetres(got), newtonMetres(asked))
	}
	return ""
}

// delivered is what the fastener got from what was set; 0 where nothing was set
// or it cannot be told. With an adapter it grows as what is set.
func delivered(r record, f *sheet.Fastener, p *sheet.Pass, made job.Pass) quantity.Torque {
	set := quantity.TorqueFromCNM(made.SetCNM)
	if made.Adapter == "" || set == 0 {
		return set
	}
	should, err := r.Setting(f, p, made.Wrench, made.Adapter)
	if err != nil || should.Set == 0 {
		return 0
	}
	return should.Target * set / should.Set
}

func beyond(got, asked, tolerated quantity.Torque) bool {
	return max(got-asked, asked-got) > tolerated+quantity.TorqueFromCNM(1)
}

func newtonMetres(t quantity.Torque) string { return quantity.FormatTorque(t, quantity.NewtonMetre) }

func degrees(mdeg int64) string {
	return quantity.FormatAngle(quantity.AngleFromMdeg(mdeg), quantity.Degree)
}
