package guide

import (
	"slices"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// Stops reports whether the sheet's withdrawal stands and has not been talked over.
func (g Guide) Stops() bool { return g.Withdrawn != nil && g.State.Withdrawal == nil }

// withdrawnFor says why a step is not begun because its sheet was withdrawn, or
// "". What makes the car safe, fitting, tightening and lowering, goes on.
func (g Guide) withdrawnFor(step *sheet.Step) string {
	if !g.Stops() || step.Move != event.Raise && len(step.Loosen) == 0 && !step.Drive {
		return ""
	}
	before := slices.IndexFunc(g.Sheet.Steps(), func(s *sheet.Step) bool { return s.ID == g.Withdrawn.Before })
	if before >= 0 && slices.Index(g.Sheet.Steps(), step) < before {
		return ""
	}
	return lang.F("This sheet was withdrawn: %s", g.Withdrawn.Reason)
}

// WithdrawalWords says what the withdrawal means for this job, or "".
func (g Guide) WithdrawalWords() string {
	switch {
	case g.Withdrawn == nil:
		return ""
	case g.State.Withdrawal != nil:
		return lang.F("This sheet was withdrawn (%s) You went on: %s", g.Withdrawn.Reason, g.State.Withdrawal.Reason)
	case g.Sheet.Step(g.Withdrawn.Before) != nil:
		return lang.F("This sheet was withdrawn: stop before “%s”. %s", g.Sheet.Step(g.Withdrawn.Before).Title, g.Withdrawn.Reason)
	}
	return lang.F("This sheet was withdrawn: stop. %s", g.Withdrawn.Reason)
}

func (g Guide) allowOverWithdrawal() error {
	if !g.Stops() {
		return refuse(lang.T("This sheet was not withdrawn, or you went on already."), lang.T("Go on with the work."))
	}
	return nil
}
