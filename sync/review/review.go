// Package review computes what a reviewer should look at. The phone shows the
// same list before the job is finished.
package review

import (
	"sort"

	"strutcard/sync/event"
	"strutcard/sync/guide"
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

// Words returns the severity as shown.
func (s Severity) Words() string { return [...]string{"note", "ask", "stop"}[s] }

// Finding is one thing that a rule saw in the record.
type Finding struct {
	Rule     string           `json:"rule"`
	Severity Severity         `json:"severity"`
	Text     string           `json:"text"` // what was seen
	Todo     string           `json:"todo"` // what the installer can do about it
	Step     event.StepID     `json:"step,omitempty"`
	Fastener event.FastenerID `json:"fastener,omitempty"`
}

// rule looks for one kind of trouble.
type rule struct {
	name string
	find func(guide.Guide) []Finding
}

// rules is every rule, one per file.
var rules = []rule{
	{"air_final", airFinal},
	{"not_final", notFinal},
	{"self_released", selfReleased},
	{"override", overridden},
	{"out_of_target", outOfTarget},
	{"reused", reused},
	{"own_torque", ownTorque},
	{"no_wrench", noWrench},
	{"part_short", partShort},
	{"skipped", skipped},
	{"withdrawn_sheet", withdrawnSheet},
	{"hurried", hurried},
	{"weak_equipment", weakEquipment},
	{"passed_over", passedOver},
	{"no_photo", noPhoto},
	{"different", different},
	{"newer_app", newerApp},
}

// Findings returns what the rules see, gravest first. Without the sheet only
// the log itself can be judged.
func Findings(s *sheet.Sheet, st *job.State, events []event.Event) []Finding {
	out := chainGaps(events)
	if s != nil {
		g := guide.New(s, st)
		for _, r := range rules {
			for _, f := range r.find(g) {
				f.Rule = r.name
				out = append(out, f)
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Severity > out[j].Severity })
	return out
}

func place(f *sheet.Fastener) string { return f.Place + ", " + f.Corner.Words() }
