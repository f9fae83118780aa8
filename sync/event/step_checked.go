package event

// KindStepChecked records the answer to one question of a step: something that
// must be true before it, or that must be looked at before it may be closed.
const KindStepChecked Kind = "step_checked"

// StepChecked is one answer. It counts until the axle is raised or lowered
// again, or the step is reopened.
type StepChecked struct {
	Step   StepID  `json:"step"`
	Check  CheckID `json:"check"`
	Answer Answer  `json:"answer"`
	Reason string  `json:"reason,omitempty"`
}

func (*StepChecked) Kind() Kind { return KindStepChecked }

func (p *StepChecked) check() string {
	if p.Answer == Override {
		if reason := name("reason", p.Reason); reason != "" {
			return reason
		}
	}
	return first(name("step", string(p.Step)), name("check", string(p.Check)),
		among("answer", p.Answer, Yes, No, Override), text("reason", p.Reason))
}
