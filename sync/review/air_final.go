package review

import (
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
)

// airFinal: a pass that belongs on the ground was made with an axle up.
func airFinal(g guide.Guide) []Finding {
	var out []Finding
	for i := range g.Sheet.Fasteners {
		f := &g.Sheet.Fasteners[i]
		for _, p := range f.Passes {
			made, ok := g.State.Fasteners[f.ID].Passes[p.ID]
			if ok && (p.Car == sheet.AtRide || p.Car == sheet.OnWheels) && !g.PassHolds(sheet.PassRef{Fastener: f.ID, Pass: p.ID}) && (made.FrontUp || made.RearUp) {
				out = append(out, Finding{Severity: Stop, Fastener: f.ID,
					Text: place(f) + ": a pass that belongs at ride height was made while an axle was up.",
					Todo: "Loosen it, settle the car, and tighten it again with the weight on the wheels."})
			}
		}
	}
	return out
}
