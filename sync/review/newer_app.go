package review

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
)

// newerApp: the record holds events that this app cannot read.
func newerApp(r record) []Finding {
	facts := r.numbers(func(e event.Event) bool { return e.Payload() == nil })
	if len(facts) == 0 {
		return nil
	}
	return []Finding{{Severity: Ask, facts: facts, Text: lang.N(len(facts), "%d entry needs a newer app. What it says is not shown here.", "%d entries need a newer app. What they say is not shown here.", len(facts)),
		Todo: lang.T("Update this app, then look again."),
		Look: lang.T("Update this server or ask for the newer app's card before you decide.")}}
}
