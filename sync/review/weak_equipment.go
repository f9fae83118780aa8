package review

import (
	"fmt"

	"strutcard/calc/lift"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
)

// weakEquipment: an axle was lifted with a jack or stands of which the plan
// cannot tell that they are strong enough.
func weakEquipment(g guide.Guide) []Finding {
	var out []Finding
	for _, axle := range event.Axles {
		if !lifted(g, axle) {
			continue
		}
		for i := range g.Sheet.Tools {
			t := &g.Sheet.Tools[i]
			if t.Kind != sheet.Jack && t.Kind != sheet.Stands || !g.State.Tools[t.ID].Have {
				continue
			}
			r := g.Rating(t, axle)
			if r.Most == 0 || r.Marked == 0 || r.Fit == lift.Enough {
				continue
			}
			out = append(out, Finding{Severity: Ask,
				Text: fmt.Sprintf("The %s was lifted with %s, marked %v each; up to %v may rest on one: %s.", axle, r.Name, r.Marked, r.Most, r.Fit.Words()),
				Todo: "Lift with stronger equipment next time: one and a half times the load is usual (common practice, no source)."})
		}
	}
	return out
}

func lifted(g guide.Guide, axle event.Axle) bool {
	for _, l := range g.State.Lifts {
		if l.Axle == axle {
			return true
		}
	}
	return false
}
