package event

const (
	KindHoldAsked    Kind = "hold_asked"
	KindHoldReleased Kind = "hold_released"
)

// HoldAsked says that work waits at a hold point for someone competent to look.
type HoldAsked struct {
	Step StepID `json:"step"`
}

func (*HoldAsked) Kind() Kind { return KindHoldAsked }

func (p *HoldAsked) check() string { return name("step", string(p.Step)) }

// HoldReleased lets work go on after a hold point. Released by the installer
// it becomes a finding; the server knows who really sent it.
type HoldReleased struct {
	Step   StepID `json:"step"`
	By     string `json:"by"` // "mentor" or "installer"
	Reason string `json:"reason"`
	Done   ID     `json:"done,omitempty"` // the step_done that was looked at: a release from afar is none of work done since
}

func (*HoldReleased) Kind() Kind { return KindHoldReleased }

func (p *HoldReleased) check() string {
	return first(name("step", string(p.Step)), among("releaser", p.By, "mentor", "installer"), name("reason", p.Reason), text("reason", p.Reason), text("event", string(p.Done)))
}
