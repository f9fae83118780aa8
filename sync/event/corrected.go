package event

import "strutcard/sync/fault"

// KindCorrected takes an earlier event back.
const KindCorrected Kind = "corrected"

// Corrected names the event that no longer counts. The old one stays in the log.
type Corrected struct {
	Event  ID     `json:"event"`
	Reason string `json:"reason"`
}

func (*Corrected) Kind() Kind { return KindCorrected }

func (p *Corrected) check() string {
	if !isUUID(string(p.Event)) {
		return fault.T("The event it takes back is not named.")
	}
	return first(name("reason", p.Reason), text("reason", p.Reason))
}
