package templates

// Me is somebody's own account.
type Me struct {
	Desk
	Runs          bool // an administrator: the places of the whole shop are shown
	Roles         []string
	Sessions      []SessionRow
	Changed       bool // the password was changed just now
	Problem, Hint string
}

// SessionRow is one place where somebody is signed in.
type SessionRow struct {
	Name, Since, Used string
	Here              bool // this browser
}

// StaffList is the list of staff and the place to invite somebody.
type StaffList struct {
	Desk
	Link  string // shown once, right after it was made
	Code  string // the same as a QR code: its modules, a row a line, "1" is dark
	Ends  string
	Reset bool // the link sets a new password
	Roles []RoleChoice
	Rows  []StaffRow
}

// StaffRow is one member of staff.
type StaffRow struct {
	ID, Name, Since string
	Roles           []RoleChoice
	Ended           string // when access was ended; "" while it holds
}

// RoleChoice is a role that somebody has or may be given.
type RoleChoice struct {
	Role, Words string
	Chosen      bool
}

// Audit is who did what, newest first.
type Audit struct {
	Desk
	Rows  []AuditRow
	Older string // link to the page after; ""
}

// AuditRow is one line of the audit.
type AuditRow struct {
	At, Who, What, About, Reason string
}

// Data is how long the shop keeps finished jobs, and the export of everything.
type Data struct {
	Desk
	Days string
}

// JobData is the export and the deletion of one job.
type JobData struct {
	Desk
	Job, Vehicle, Reason string
	Events               int
	Problem, Hint        string
}
