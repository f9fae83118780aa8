package review

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/calc/lift"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// weakEquipment: an axle was lifted with a jack or stands of which the plan
// cannot tell that they are strong enough.
func weakEquipment(r record) []Finding {
	var out []Finding
	for _, axle := range event.Axles {
		lifts := lifted(r, axle)
		if len(lifts) == 0 {
			continue
		}
		for i := range r.Sheet.Tools {
			t := &r.Sheet.Tools[i]
			if t.Kind != sheet.Jack && t.Kind != sheet.Stands || !r.State.Tools[t.ID].Have {
				continue
			}
			rated := r.Rating(t, axle)
			if rated.Most == 0 || rated.Marked == 0 || rated.Fit == lift.Enough {
				continue
			}
			out = append(out, Finding{Severity: Ask, about: fmt.Sprint(axle, t.ID), facts: append([]job.N{r.State.Tools[t.ID].N}, lifts...),
				Text: lang.F("The %s was lifted with %s, marked %v each; up to %v may rest on one: %s.", guide.EndWords(axle), rated.Name, rated.Marked, rated.Most, rated.Fit.Words()),
				Todo: lang.T("Lift with stronger equipment next time: one and a half times the load is usual (common practice, no source)."),
				Look: lang.T("Ask for a picture of the rating plates. Ask where the stands stood.")})
		}
	}
	return out
}

// lifted lists the lifts of an axle.
func lifted(r record, axle event.Axle) []job.N {
	var out []job.N
	for _, l := range r.State.Lifts {
		if l.Axle == axle {
			out = append(out, l.RaisedN)
		}
	}
	return out
}
