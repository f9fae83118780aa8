// Package review computes what a reviewer should look at. The phone shows the
// same list before the job is finished.
package review

import (
	"sort"

	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// Severity ranks findings.
type Severity int

const (
	Note Severity = iota // worth knowing
	Ask                  // ask the installer
	Stop                 // the car should not be driven until it is settled
)

// Words returns the severity by its name in a card and in a page's style. It is
// shown as lang.C(name, "a finding").
func (s Severity) Words() string { return [...]string{"note", "ask", "stop"}[s] }

// Finding is one thing that a rule saw in the record. Its ID stays as long as
// the same rule sees the same evidence; a decision about it holds no longer.
type Finding struct {
	ID       string           `json:"id"` // no other finding of the job has it
	Rule     string           `json:"rule"`
	Severity Severity         `json:"severity"`
	Text     string           `json:"text"` // what was seen
	Todo     string           `json:"todo"` // what the installer does about it before finishing
	Look     string           `json:"look"` // what the reviewer looks at or asks
	Step     event.StepID     `json:"step,omitempty"`
	Fastener event.FastenerID `json:"fastener,omitempty"`
	Evidence []event.ID       `json:"evidence"` // the events that it rests on, in fold order

	about string  // what else tells it from its like, never in words: a corner, a quantity, a tool
	facts []job.N // the numbers of the events that it rests on
}

// rule looks for one kind of trouble.
type rule struct {
	name string
	log  bool // it looks at the log alone and needs no sheet
	find func(record) []Finding
}

// rules is every rule, one per file.
var rules = []rule{
	{"chain_gap", true, chainGaps},
	{"clock_back", true, clockBack},
	{"newer_app", true, newerApp},
	{"raised", true, raised},
	{"air_final", false, airFinal},
	{"off_torque", false, offTorque},
	{"not_final", false, notFinal},
	{"self_released", false, selfReleased},
	{"mentor_here", false, mentorHere},
	{"override", false, overridden},
	{"out_of_target", false, outOfTarget},
	{"sides_apart", false, sidesApart},
	{"odd_reading", false, oddReading},
	{"stale_reading", false, staleReading},
	{"no_reading", false, noReading},
	{"reused", false, reused},
	{"own_torque", false, ownTorque},
	{"unverified", false, unverified},
	{"no_wrench", false, noWrench},
	{"wrench_range", false, wrenchRange},
	{"wrench_unchecked", false, wrenchUnchecked},
	{"wrench_twice", false, wrenchTwice},
	{"part_short", false, partShort},
	{"skipped", false, skipped},
	{"withdrawn_sheet", false, withdrawnSheet},
	{"hurried", false, hurried},
	{"fast_step", false, fastStep},
	{"clock_jump", false, clockJump},
	{"weak_equipment", false, weakEquipment},
	{"passed_over", false, passedOver},
	{"changed_answer", false, changedAnswer},
	{"no_photo", false, noPhoto},
	{"different", false, different},
	{"off_preset", false, offPreset},
	{"recheck_due", false, recheckDue},
}

// Findings returns what the rules see, gravest first. Without the sheet only
// the log itself can be judged.
func Findings(s *sheet.Sheet, st *job.State, events []event.Event) []Finding {
	r := recordOf(s, st, events)
	var out []Finding
	taken := map[string]bool{}
	for _, rule := range rules {
		if s == nil && !rule.log {
			continue
		}
		for _, f := range rule.find(r) {
			f.Rule = rule.name
			r.sign(&f, 0)
			for again := 1; taken[f.ID]; again++ { // two doubts about one number of the sheet
				r.sign(&f, again)
			}
			taken[f.ID] = true
			out = append(out, f)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Severity > out[j].Severity })
	return out
}
