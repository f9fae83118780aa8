package sheet

import "strutcard/sync/event"

// Withdrawal says that a published sheet should not be used any more. The sheet
// itself never changes.
type Withdrawal struct {
	Reason string       `json:"reason"`
	Before event.StepID `json:"before,omitempty"` // stop before this step; "" at once
	At     int64        `json:"at"`               // ms UTC
}
