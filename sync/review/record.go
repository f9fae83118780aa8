package review

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"sort"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// record is a job as the rules see it: what the guide makes of it, and the
// events that each fact came from.
type record struct {
	guide.Guide
	events []event.Event     // of this job in fold order: the fact of number n came from events[n-1]
	gone   map[event.ID]bool // taken back: they say nothing any more
}

func recordOf(s *sheet.Sheet, st *job.State, events []event.Event) record {
	own := slices.DeleteFunc(event.Sort(events), func(e event.Event) bool { return e.Job != st.Job })
	return record{Guide: guide.New(s, st), events: own, gone: job.TakenBack(own)}
}

// event returns the event of a fact. It is not ok for 0, what never happened.
func (r record) event(n job.N) (event.Event, bool) {
	if n < 1 || int(n) > len(r.events) {
		return event.Event{}, false
	}
	return r.events[n-1], true
}

// ids names the events of facts in fold order, each once. What never happened is left out.
func (r record) ids(facts []job.N) []event.ID {
	var out []event.ID
	for _, n := range inOrder(facts) {
		if e, ok := r.event(n); ok {
			out = append(out, e.ID)
		}
	}
	return out
}

// numbers lists the events that stand and fit, for facts that the state keeps
// without their number.
func (r record) numbers(fits func(event.Event) bool) []job.N {
	return r.all(func(e event.Event) bool { return !r.gone[e.ID] && fits(e) })
}

// last is the last of them, or none.
func (r record) last(fits func(event.Event) bool) []job.N {
	all := r.numbers(fits)
	return all[max(0, len(all)-1):]
}

// opened is the event that pins the sheet: the evidence for what the sheet says.
func (r record) opened() []job.N {
	all := r.numbers(func(e event.Event) bool { return e.Kind == event.KindJobOpened })
	return all[:min(1, len(all))]
}

// inOrder sorts facts, each once: rules gather them as maps give them.
func inOrder(facts []job.N) []job.N {
	facts = slices.Clone(facts)
	sort.Slice(facts, func(i, j int) bool { return facts[i] < facts[j] })
	return slices.Compact(facts)
}

// sign names the evidence and gives the finding its id, of which the words are no part.
func (r record) sign(f *Finding, again int) {
	f.facts = inOrder(f.facts)
	f.Evidence = r.ids(f.facts)
	sum := sha256.Sum256(fmt.Appendf(nil, "%q %q %q %q %q %d", f.Rule, f.Step, f.Fastener, f.about, f.Evidence, again))
	f.ID = hex.EncodeToString(sum[:8])
}

// all lists the events that fit, also those taken back: for what is wrong with
// the log itself.
func (r record) all(fits func(event.Event) bool) []job.N {
	var out []job.N
	for i, e := range r.events {
		if fits(e) {
			out = append(out, job.N(i+1))
		}
	}
	return out
}
