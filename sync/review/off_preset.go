package review

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// perchRead is how far a perch may be off its preset unasked: a tape reads to a
// millimetre. Common practice, no source.
const perchRead quantity.Length = 0.001

// offPreset: a damper or a spring perch does not stand where the sheet sets it. A
// perch whose move is recorded was set by height and is not asked about.
func offPreset(r record) []Finding {
	var out []Finding
	for _, corner := range event.Corners {
		for _, knob := range []string{"", "bump", "rebound"} {
			d, set := r.Sheet.Damper(corner.Axle(), knob), r.State.Clicks(corner, knob, event.Setting)
			if d == nil || set == nil || clicksMatch(d, set) {
				continue
			}
			out = append(out, Finding{Severity: Note, about: fmt.Sprint("damper ", corner, " ", knob), facts: []job.N{set.N},
				Text: lang.F("Damper, %s: %d clicks from %s, and the sheet asks for %d from %s.", knobWords(corner, knob), set.DamperSet.Clicks, lang.T(event.StopWords(set.From)), d.Clicks, lang.T(event.StopWords(d.From))),
				Todo: lang.T("Count once more from the stop that the sheet names. Keep another setting only on purpose, and say so in a note."),
				Look: lang.T("Ask whether it was set otherwise on purpose, and how the stop was counted.")})
		}
		p, set := r.Sheet.Perch(corner.Axle()), r.State.Position(event.RideHeight, corner, event.Setting)
		if p == nil || set == nil || set.LengthUM == 0 || moved(r, corner) {
			continue
		}
		by := quantity.LengthFromUM(set.LengthUM) - quantity.LengthFromUM(p.UM)
		if max(by, -by) <= perchRead {
			continue
		}
		out = append(out, Finding{Severity: Note, about: fmt.Sprint("perch ", corner), facts: []job.N{set.N},
			Text: lang.F("Spring perch, %s: at %v, and the sheet sets it to %v. No move of it is recorded.", lang.T(corner.Words()), quantity.LengthFromUM(set.LengthUM), quantity.LengthFromUM(p.UM)),
			Todo: lang.F("Measure it again %s. If it was moved, record the move.", p.From),
			Look: lang.T("Compare it with the ride height and with the other side. Ask when it was moved.")})
	}
	return out
}

// clicksMatch compares how far each stands from one stop, however the stop is
// counted. From the other stop only the whole travel can tell.
func clicksMatch(d *sheet.Damper, set *job.Damper) bool {
	want, got := d.Clicks-d.StopCounts, set.DamperSet.Clicks-set.StopCount
	if set.From == d.From {
		return got == want
	}
	total := set.Total
	if total == 0 {
		total = d.Total
	}
	return total > 0 && total-got == want
}

func knobWords(corner event.Corner, knob string) string {
	if knob == "" {
		return lang.T(corner.Words())
	}
	return lang.T(knob) + ", " + lang.T(corner.Words())
}

func moved(r record, corner event.Corner) bool {
	for _, a := range r.State.Adjusted {
		if a.Quantity == event.RideHeight && a.Corner == corner {
			return true
		}
	}
	return false
}
