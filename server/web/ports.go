package web

import (
	"context"
	"time"

	"strutcard/pwa"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/store"
)

// Storage is everything that the handlers need kept.
type Storage interface {
	Log
	Sheets
	Photos
	Drafts
	Phones
	Staff
	Shares
	Audit
	Kept
}

// Log is the events and the queue computed from them.
type Log interface {
	Epoch() string
	Shop(shop.ID) store.Store
	Queue(context.Context, shop.ID, shop.Filter) ([]shop.Row, error)
	QueueTotals(context.Context, shop.ID, shop.Filter) (shop.Totals, error)
	OpenRules(context.Context, shop.ID) ([]shop.OpenRule, error)
	HasJob(context.Context, shop.ID, event.JobID) (bool, error)
	Ready(context.Context) error
}

// Sheets are the fitting sheets.
type Sheets interface {
	AddSheet(context.Context, shop.ID, shop.Sheet) error
	Sheets(context.Context, shop.ID, event.DeviceID) ([]shop.Sheet, error)
	SheetBody(context.Context, shop.ID, event.SheetHash) ([]byte, error)
	Published(context.Context, shop.ID) ([]shop.Sheet, error)
	PublishedSheet(context.Context, shop.ID, event.SheetHash) (shop.Sheet, error)
	JobsOf(ctx context.Context, id shop.ID, hash event.SheetHash, limit int) ([]shop.Row, error)
	Withdraw(context.Context, shop.ID, event.SheetHash, shop.Withdrawn) error
	Withdrawal(context.Context, shop.ID, event.SheetHash) (shop.Withdrawn, error)
}

// Drafts are the sheets that are being written. Whatever changes one names the
// revision it was made from.
type Drafts interface {
	AddDraft(context.Context, shop.ID, shop.Draft) error
	Drafts(context.Context, shop.ID) ([]shop.Draft, error)
	Draft(ctx context.Context, id shop.ID, draft string) (shop.Draft, error)
	SaveDraft(context.Context, shop.ID, shop.Draft) error
	DropDraft(context.Context, shop.ID, shop.Draft) error
	PublishDraft(context.Context, shop.ID, shop.Draft, shop.Sheet) error
}

// Phones are the devices and the invitations that let them in.
type Phones interface {
	Invite(context.Context, shop.Invitation) error
	Join(ctx context.Context, digest string, p shop.Phone, hadToken string) (shop.Phone, error)
	PhoneByToken(ctx context.Context, tokenID string) (p shop.Phone, found bool, err error)
	Phones(context.Context, shop.ID) ([]shop.Phone, error)
	Heard(context.Context, shop.Phone) error
	RevokePhone(context.Context, shop.ID, event.DeviceID) error
}

// Staff are the people at the desk, their links and sessions. Whatever takes an
// entry adds it to the audit in the same transaction; the entry names the shop.
type Staff interface {
	NeedsSetUp(context.Context) (bool, error)
	SetUp(ctx context.Context, digest string, s shop.Shop, first shop.Staff) error
	StaffByName(ctx context.Context, name string) (who shop.Staff, found bool, err error)
	StaffList(context.Context, shop.ID) ([]shop.Staff, error)
	SetRoles(ctx context.Context, staff string, roles shop.Roles, e shop.Entry) error
	EndStaff(ctx context.Context, staff string, e shop.Entry) error
	SetPassword(ctx context.Context, staff, password, keep string, e shop.Entry) error
	AddStaffLink(context.Context, shop.StaffLink, shop.Entry) error
	Welcome(ctx context.Context, digest string, s shop.Staff) error
	ResetPassword(ctx context.Context, digest, password string) (staff string, err error)
	AddSession(context.Context, shop.Session) error
	EndSession(ctx context.Context, digest string) error
	StaffBySession(ctx context.Context, digest string) (who shop.Staff, found bool, err error)
	Sessions(ctx context.Context, staff string) ([]shop.Session, error)
	EndSessionOf(ctx context.Context, staff, name string) error
}

// Audit is who did what; it is only added to.
type Audit interface {
	Note(context.Context, shop.Entry) error
	Audit(ctx context.Context, id shop.ID, before int64, limit int) ([]shop.Entry, error)
}

// Kept is how long customers' data is kept, and its deletion.
type Kept interface {
	KeepDays(context.Context, shop.ID) (int, error)
	SetKeepDays(ctx context.Context, days int, e shop.Entry) error
	DeleteJob(context.Context, event.JobID, shop.Entry) error
	JobDeleted(context.Context, shop.ID, event.JobID) (time.Time, error) // zero: it was not
	DropPhotos(context.Context, func(id shop.ID, sha256 string, named bool) error) error
}

// Shares are the links to one job.
type Shares interface {
	AddShare(context.Context, shop.Share) error
	Shares(context.Context, shop.ID, event.JobID) ([]shop.Share, error)
	OpenShare(ctx context.Context, digest, session, name string) (shop.Share, error)
	ShareBySession(ctx context.Context, digest string) (share shop.Share, visitor string, err error)
	RevokeShare(ctx context.Context, id shop.ID, share string) error
}

// Lookup finds a file of the phone's app by its exact URL path.
type Lookup func(path string) (pwa.Asset, bool)
