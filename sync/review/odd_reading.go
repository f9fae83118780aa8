package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/plausible"
	"strutcard/sync/sheet"
)

// oddReading: the last word on a quantity is a value that would be asked about
// if a sheet gave it as a target. The phone asked, and it was kept.
func oddReading(r record) []Finding {
	var out []Finding
	for _, last := range latest(r) {
		if !odd(last) {
			continue
		}
		out = append(out, Finding{Severity: Ask, about: where(last), facts: []job.N{last.N},
			Text: lang.F("%s is unusual for a road car.", words(last)),
			Todo: lang.T("Measure it once more. Look at its sign, its unit, and what was measured from."),
			Look: lang.T("Look at the raw numbers of the reading, and ask for a second one.")})
	}
	return out
}

// odd asks about the value alone, as about a target without a tolerance.
func odd(r *job.Reading) bool {
	value, _ := r.Amount()
	t := sheet.Target{Quantity: r.Quantity, Axle: r.Place().Axle()}
	switch r.Quantity.Unit() {
	case event.UM:
		t.UM = value
	case event.Mdeg:
		t.Mdeg = value
	}
	return plausible.Target(&t) != ""
}
