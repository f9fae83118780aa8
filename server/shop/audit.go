package shop

import (
	"time"

	"strutcard/sync/event"
)

// Entry is a line of the audit: who did what to whom or what, and why. It is kept
// for ever, so it names no customer.
type Entry struct {
	ID     int64
	Shop   ID
	At     time.Time
	Who    string
	What   string
	About  string
	Reason string
}

// What stands for those who sign in nowhere in the audit.
const (
	AtTheServer = "at the server's command line"
	ByItself    = "the server, by itself"
)

// StaffLink lets one person make an account, or set a new password. Digest is the
// SHA-256 of its secret.
type StaffLink struct {
	Digest  string
	Shop    ID
	Staff   string // whose password it sets; "" makes an account
	Roles   Roles  // of the account that it makes
	By      string // staff id; "" for one made at the server's command line
	Expires time.Time
}

// Finished is a job that was called finished.
type Finished struct {
	Shop ID
	Job  event.JobID
}
