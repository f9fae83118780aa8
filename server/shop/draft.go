package shop

import (
	"time"

	"strutcard/sync/event"
)

// Draft is a fitting sheet that is still being written. Its body is a sheet's
// JSON that need not be sound yet.
type Draft struct {
	ID       string
	Title    string
	Version  string
	Vehicle  string
	Base     event.SheetHash // the published sheet that it was copied from; ""
	Revision int64           // from 1, one more with every save
	Body     []byte
	Created  time.Time
	Changed  time.Time
	By       string // staff id of whoever changed it last
	ByName   string
}

// Withdrawn is a sheet taken back from use: by whom, when and why. The sheet
// itself stays as it is.
type Withdrawn struct {
	Reason string
	Before event.StepID // stop before this step; "" at once
	At     time.Time
	By     string // staff id
	ByName string
}
