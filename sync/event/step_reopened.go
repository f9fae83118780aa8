package event

// KindStepReopened sends a step back to be done again.
const KindStepReopened Kind = "step_reopened"

// StepReopened opens a step that was done or skipped: its questions, readings
// and tightening passes are asked again.
type StepReopened struct {
	Step   StepID `json:"step"`
	Reason string `json:"reason"`
}

func (*StepReopened) Kind() Kind { return KindStepReopened }

func (p *StepReopened) check() string {
	return first(name("step", string(p.Step)), name("reason", p.Reason), text("reason", p.Reason))
}
