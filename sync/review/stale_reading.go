package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// staleReading: the job was called finished on a reading that something later
// made worthless.
func staleReading(r record) []Finding {
	if r.State.Finished == nil {
		return nil
	}
	var out []Finding
	for _, last := range latest(r) {
		why := r.Stale(last)
		if why == "" {
			continue
		}
		out = append(out, Finding{Severity: Ask, about: where(last), facts: append(changedSince(r, last), last.N, r.State.Finished.N),
			Text: lang.F("%s was measured before the car was changed: %s.", words(last), why),
			Todo: lang.T("Settle the car and measure it again."),
			Look: lang.T("Do not rely on this value. Ask for a new reading.")})
	}
	return out
}

// changedSince lists what was done after a reading and may reach it.
func changedSince(r record, last *job.Reading) []job.N {
	var out []job.N
	after := func(n job.N) {
		if n > last.N {
			out = append(out, n)
		}
	}
	for _, a := range r.State.Adjusted {
		if job.Moves(a.Quantity, a.Corner, &last.ReadingTaken) {
			after(a.N)
		}
	}
	for _, l := range r.State.Lifts {
		if l.Axle == last.Place().Axle() || last.Quantity == event.CornerWeight {
			after(l.RaisedN)
		}
	}
	for i := range r.Sheet.Fasteners {
		f := &r.Sheet.Fasteners[i]
		if f.Holds == "" || !job.Moves(f.Holds, f.Corner, &last.ReadingTaken) {
			continue
		}
		for _, p := range r.State.Fasteners[f.ID].Passes {
			after(p.N)
		}
	}
	return out
}
