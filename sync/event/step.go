package event

const (
	KindStepStarted Kind = "step_started" // somebody went to this step
	KindStepDone    Kind = "step_done"    // everything the step asks for is recorded
	KindStepSkipped Kind = "step_skipped" // left out on purpose, with a reason
)

// StepStarted says where the person is; the next open returns there.
type StepStarted struct {
	Step StepID `json:"step"`
}

func (*StepStarted) Kind() Kind { return KindStepStarted }

func (p *StepStarted) check() string { return name("step", string(p.Step)) }

// StepDone closes a step.
type StepDone struct {
	Step StepID `json:"step"`
}

func (*StepDone) Kind() Kind { return KindStepDone }

func (p *StepDone) check() string { return name("step", string(p.Step)) }

// StepSkipped leaves a step out; it becomes a finding.
type StepSkipped struct {
	Step   StepID `json:"step"`
	Reason string `json:"reason"`
}

func (*StepSkipped) Kind() Kind { return KindStepSkipped }

func (p *StepSkipped) check() string {
	return first(name("step", string(p.Step)), name("reason", p.Reason), text("reason", p.Reason))
}
