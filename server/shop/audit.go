package shop

import (
	"regexp"
	"strings"
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/event"
)

// Entry is a line of the audit: who did what to whom or what, and why. It is kept
// for ever, so it names no customer. What the program itself puts in is kept in
// English, in every language of the server.
type Entry struct {
	ID     int64
	Shop   ID
	At     time.Time
	Who    string
	What   string
	About  string
	Reason string
}

// What stands for those who sign in nowhere in the audit, and the reason of the
// second.
const (
	AtTheServer    = "at the server's command line"
	ByItself       = "the server, by itself"
	KeptLongEnough = "finished, and kept for as long as the shop wants"
)

// What may have happened.
const (
	AccountMade      = "Account made as %s"
	Invited          = "Invited somebody as %s"
	RolesChanged     = "Roles changed from %s to %s"
	AccessEnded      = "Access ended"
	PasswordChanged  = "Password changed"
	PasswordLinkMade = "Link made to set a new password"
	PasswordSet      = "Password set by a link"
	JobDeleted       = "Job deleted"
	JobExported      = "Data of a job exported"
	ShopExported     = "Data of the whole shop exported"
	KeptForDays      = "Finished jobs are kept for %s days"
	KeptForEver      = "Finished jobs are kept for ever"
)

// Writer is who did it, as it is shown.
func (e Entry) Writer() string {
	switch e.Who {
	case AtTheServer:
		return lang.T(AtTheServer)
	case ByItself:
		return lang.T(ByItself)
	}
	return e.Who
}

// Why is the reason as it is shown: people's own words as they are.
func (e Entry) Why() string {
	if e.Who == ByItself {
		return lang.T(e.Reason)
	}
	return e.Reason
}

// Words is what happened, as it is shown.
func (e Entry) Words() string {
	for _, text := range []string{AccountMade, Invited, RolesChanged, KeptForDays} {
		form := regexp.MustCompile("^" + strings.ReplaceAll(regexp.QuoteMeta(text), "%s", "(.+)") + "$")
		if parts := form.FindStringSubmatch(e.What); parts != nil {
			said := make([]any, len(parts)-1)
			for i, part := range parts[1:] {
				said[i] = saidRoles(part)
			}
			return lang.F(text, said...)
		}
	}
	return lang.T(e.What)
}

// saidRoles says the roles that Roles.String wrote, and a number as it is.
func saidRoles(kept string) string {
	words := strings.Fields(kept)
	for i, word := range words {
		words[i] = Role(word).Words()
	}
	return strings.Join(words, " ")
}

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
