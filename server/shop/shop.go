// Package shop names what a server keeps beside the log: the shop, its people
// and phones, the links it handed out, its sheets and the rows of its queue.
package shop

import (
	"slices"
	"time"

	"strutcard/sync/event"
)

// ID names a shop.
type ID string

// Shop is one tenant.
type Shop struct {
	ID       ID
	Name     string
	KeepDays int // how long finished jobs are kept; 0: for ever
	Created  time.Time
}

// Staff is someone who signs in at the desk. Password is an argon2id digest.
type Staff struct {
	ID       string
	Shop     ID
	ShopName string
	Name     string
	Password string
	Roles    Roles
	Created  time.Time
	Ended    time.Time // when access was ended; zero while it holds
}

// Session is a signed-in browser: of a member of staff, or of someone who opened
// a share. Digest is the SHA-256 of the cookie, never the cookie.
type Session struct {
	Digest  string
	Staff   string // "" for a share
	Share   string // "" for staff
	Created time.Time
	Used    time.Time // to some minutes
	Expires time.Time
}

// Name tells sessions of one person apart on a page. It opens nothing.
func (s Session) Name() string { return s.Digest[:16] }

// Phone is a device that joined a shop. TokenID is the jti of its token.
type Phone struct {
	Shop     ID
	ShopName string
	Device   event.DeviceID
	Name     string
	TokenID  string
	Joined   time.Time
	Heard    time.Time // last sync; zero before the first
	Revoked  time.Time // zero while the phone may sync
}

// Invitation lets one phone join.
type Invitation struct {
	Digest  string
	Shop    ID
	By      string // staff id
	Created time.Time
	Expires time.Time
}

// ShareRole is what the holder of a link may do.
type ShareRole string

const (
	Look    ShareRole = "look"
	Comment ShareRole = "comment" // and look
	Release ShareRole = "release" // hold points, and comment
)

// ShareRoles in the order of what they allow.
var ShareRoles = []ShareRole{Look, Comment, Release}

// May reports whether a role allows what another one does.
func (r ShareRole) May(what ShareRole) bool {
	return slices.Index(ShareRoles, r) >= slices.Index(ShareRoles, what) && slices.Contains(ShareRoles, what)
}

// Share lets somebody look into one job.
type Share struct {
	ID      string
	Digest  string
	Shop    ID
	Job     event.JobID
	Role    ShareRole
	By      string         // staff id; "" for one that a phone made
	Device  event.DeviceID // the phone that made it; "" for staff
	Created time.Time
	Expires time.Time
	Revoked time.Time // zero while it holds
	Opened  int       // times redeemed
	Visits  []Visit   // who opened it
}

// Visit is one opening of a link.
type Visit struct {
	Name string
	At   time.Time
}

// Ended reports whether the share no longer opens anything.
func (s Share) Ended(now time.Time) bool { return !s.Revoked.IsZero() || !now.Before(s.Expires) }

// Sheet is a fitting sheet as kept: its canonical bytes under their hash.
type Sheet struct {
	Hash      event.SheetHash
	Title     string
	Version   string
	Vehicle   string
	Published bool           // every phone of the shop sees it; otherwise it is one installer's own
	Device    event.DeviceID // who made it; "" for the shop's
	Body      []byte
	Received  time.Time
	By        string // staff id of who published it; "" for one that was not written here
	ByName    string
	Jobs      int        // how many jobs pin it
	Withdrawn *Withdrawn // nil while it stands
}

// Row is one job as the queue shows it, computed from the log and never the truth.
type Row struct {
	Job       event.JobID
	Sheet     event.SheetHash
	Title     string
	Vehicle   string
	Opened    time.Time // the phone's clock; zero until job_opened arrived
	Heard     time.Time // the server's clock
	Up        bool      // an axle is off its wheels
	NotFinal  int       // fasteners touched and not final; -1 without the sheet
	Stops     int       // findings by severity
	Asks      int
	Notes     int
	Finished  bool
	Decision  event.Decision // of the shop on the whole job: Accept, Return, or "" while it waits for one
	Withdrawn time.Time      // when its sheet was taken back from use; zero while it stands
}

// Summary is what the server keeps of a job beside its log: all of it is computed
// from the log, and can be computed again.
type Summary struct {
	Row
	Findings map[string]int // open ones by their rule
	Text     string         // what people typed in it, for the search
}

// Work is how far a job is.
type Work string

const (
	WorkOn   Work = "on"       // not called finished
	WorkUp   Work = "up"       // an axle is off its wheels
	WorkDone Work = "finished" // called finished
)

// Undecided stands in a filter for jobs that wait for the shop's word.
const Undecided event.Decision = "none"

// Filter narrows the queue; what is zero narrows nothing. Rows come gravest first,
// then last heard first, and after them those that the shop has decided on.
type Filter struct {
	Words    []string // each begins a word of what people typed in the job
	Work     Work
	Decision event.Decision // Accept, Return or Undecided
	Severity string         // there are open findings of it: "stop", "ask" or "note"
	Rule     string         // it has something open
	Limit    int
	Offset   int
}

// Totals is how much a filter leaves.
type Totals struct {
	Jobs, Stops, Asks, Notes int
}

// OpenRule is a rule with something open, and in how many jobs.
type OpenRule struct {
	Rule string
	Jobs int
}
