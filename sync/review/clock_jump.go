package review

import (
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// pauseAsked is how long one step may rest without a word: over night and the
// next day. Common practice, no source.
const pauseAsked = 24 * time.Hour

// clockJump: more than a day lies between two events of one phone within one
// step, and nobody said that the work was parked. What comes after the job waits
// for the road and is not asked about.
func clockJump(r record) []Finding {
	var out []Finding
	before := map[event.DeviceID]job.N{}
	in := map[event.DeviceID]event.StepID{}
	for i, e := range r.events {
		n := job.N(i + 1)
		previous := before[e.Device]
		last, ok := r.event(previous)
		before[e.Device] = n
		at := in[e.Device]
		switch p := e.Payload().(type) {
		case *event.StepStarted:
			in[e.Device] = p.Step
			continue
		case *event.StepDone:
			delete(in, e.Device)
		case *event.WorkResumed:
			continue
		}
		step := r.Sheet.Step(at)
		if !ok || step == nil || step.Later || last.Kind == event.KindWorkParked || e.Time().Sub(last.Time()) <= pauseAsked {
			continue
		}
		out = append(out, Finding{Severity: Note, Step: at, facts: []job.N{previous, n},
			Text: lang.F("“%s”: more than a day lies between two entries, and no pause was noted.", step.Title),
			Todo: lang.T("Check that the car stands as the record says. Park the work when you leave it."),
			Look: lang.T("Ask whether the car stood untouched, or whether the phone's clock was set.")})
	}
	return out
}
