package event

import "strutcard/sync/fault"

// KindCheckAnswered records one answer before raising or lowering.
const KindCheckAnswered Kind = "check_answered"

// Move is what the checks guard.
type Move string

const (
	Raise Move = "raise"
	Lower Move = "lower"
)

// Answer is the person's word.
type Answer string

const (
	Yes      Answer = "yes"
	No       Answer = "no"
	Override Answer = "override" // only for a "should" check, with a reason
)

// CheckAnswered is one answer, given fresh for this move of this axle.
type CheckAnswered struct {
	Axle   Axle    `json:"axle"`
	Move   Move    `json:"move"`
	Check  CheckID `json:"check"`
	Answer Answer  `json:"answer"`
	Reason string  `json:"reason,omitempty"`
}

func (*CheckAnswered) Kind() Kind { return KindCheckAnswered }

func (p *CheckAnswered) check() string {
	if !p.Axle.Valid() {
		return fault.T("Its axle is not front or rear.")
	}
	if p.Answer == Override {
		if reason := name("reason", p.Reason); reason != "" {
			return reason
		}
	}
	return first(among("move", p.Move, Raise, Lower), name("check", string(p.Check)),
		among("answer", p.Answer, Yes, No, Override), text("reason", p.Reason))
}
