package review

import (
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// setBack is how far a phone's clock may fall back without a word: the network
// puts it right by seconds. Common practice, no source.
const setBack = time.Minute

// clockBack: the clock of one phone ran backwards from one of its events to the
// next. The order of the record does not depend on it; the times beside it do.
func clockBack(r record) []Finding {
	var out []Finding
	before := map[event.DeviceID]job.N{}
	for i, e := range r.events {
		n := job.N(i + 1)
		if last, ok := r.event(before[e.Device]); ok && last.Time().Sub(e.Time()) > setBack {
			out = append(out, Finding{Severity: Note, facts: []job.N{before[e.Device], n},
				Text: lang.F("The clock of a phone was set back by %s. The times around it are not to be trusted; the order is.", last.Time().Sub(e.Time()).Round(time.Minute).String()),
				Todo: lang.T("Let the phone set its clock by itself."),
				Look: lang.T("Do not judge by the times around these events. Ask why the clock was set.")})
		}
		before[e.Device] = n
	}
	return out
}
