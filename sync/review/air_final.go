package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// airFinal: a pass that belongs on the ground was made with an axle up.
func airFinal(r record) []Finding {
	var out []Finding
	for i := range r.Sheet.Fasteners {
		f := &r.Sheet.Fasteners[i]
		for _, p := range f.Passes {
			made, ok := r.State.Fasteners[f.ID].Passes[p.ID]
			if ok && (p.Car == sheet.AtRide || p.Car == sheet.OnWheels) && !r.PassHolds(sheet.PassRef{Fastener: f.ID, Pass: p.ID}) && (made.FrontUp || made.RearUp) {
				out = append(out, Finding{Severity: Stop, Fastener: f.ID, about: string(p.ID), facts: append([]job.N{made.N}, raisedBefore(r, made.N)...),
					Text: lang.F("%s: a pass that belongs at ride height was made while an axle was up.", f.Name()),
					Todo: lang.T("Loosen it, settle the car, and tighten it again with the weight on the wheels."),
					Look: lang.T("Compare the time of the pass with the lifts. Ask how the weight was on the wheels, and see it tightened again.")})
			}
		}
	}
	return out
}

// raisedBefore lists the lifts during which something was done.
func raisedBefore(r record, n job.N) []job.N {
	var out []job.N
	for _, l := range r.State.Lifts {
		if l.RaisedN < n && (l.LoweredN == 0 || l.LoweredN > n) {
			out = append(out, l.RaisedN)
		}
	}
	return out
}
