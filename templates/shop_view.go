package templates

// Desk frames a page for people at a desk: who sees it, and where they are.
type Desk struct {
	Title string
	Shop  string
	Staff string // "" when nobody is signed in: no places, no sign-out
	Here  string // "queue", "sheets", "phones"
}

// Queue is the shop's list of jobs.
type Queue struct {
	Desk
	Text     string // what is looked for
	Selects  []Select
	Words    string // what the list is narrowed to; "" when it is not
	Problem  string // why nothing can be looked for; ""
	Totals   string // jobs and findings on all pages; "" for none
	Rows     []QueueRow
	Newer    string // link to the page before; ""
	Older    string // link to the page after; ""
	NoPhones bool   // nobody has joined yet
}

// Select is one list to choose from.
type Select struct {
	Name, Label string
	Choices     []Choice
	Chosen      string // the value of one of them
}

// QueueRow is one job in the queue.
type QueueRow struct {
	Job, Vehicle, Sheet string
	Opened, Heard       string
	State               string
	Up                  bool
	Decision            string // of the shop on the whole job; "" while it waits for one
	Withdrawn           string // when its sheet was taken back from use; "" while it stands
	NotFinal            string
	Unjudged            string // why the rules could not look; what a person or the log itself says is counted all the same
	Stops, Asks, Notes  int
}

// DeskJob is one job as the shop or a mentor sees it.
type DeskJob struct {
	Desk
	Job       string
	Card      Card
	Review    Review
	Timeline  []Moment
	Heard     string // when the newest event reached the server
	Shop      bool   // the shop's own controls are shown
	Links     []LinkRow
	NewLink   string // shown once, right after it was made
	NewCode   string // the same as a QR code: its modules, a row a line, "1" is dark
	Until     string // a mentor's link ends then
	Withdrawn string // when and why its sheet was taken back from use; "" while it stands
}

// Moment is one event of the timeline.
type Moment struct {
	At, Words, By string
	Late          string // when it reached the server, if that was much later
	Photo         *PhotoRow
}

// LinkRow is one mentor's link; the link itself is not kept.
type LinkRow struct {
	ID, Made, Ends, Opened string
	May                    string // what its holder may do
	Holds                  bool
}

// Phones is the list of phones and the place to invite one.
type Phones struct {
	Desk
	Invitation string // shown once, right after it was made
	Code       string // the same as a QR code: its modules, a row a line, "1" is dark
	Ends       string
	Rows       []PhoneRow
}

// PhoneRow is one phone that joined.
type PhoneRow struct {
	Device, Name, Joined, Heard string
	Ended                       string // when its access was ended; "" while it holds
}

// SetUp is the form behind the one-time link. Problem says why it did not work.
type SetUp struct {
	Desk
	Shop, Name, Token string
	Problem, Hint     string
}

// SignIn is the sign-in form.
type SignIn struct {
	Desk
	Name, Problem, Hint string
	NoStaff             bool // the server was never set up
}

// Look is the page behind a mentor's link, before it is redeemed.
type Look struct {
	Desk
}

// Fault is a page that says what happened, what is safe and what to do next.
type Fault struct {
	Desk
	Message, Hint string
	Link, Words   string // a way on; "" for none
	Look          bool   // a mentor's page: words that were not sent still stand there
}
