package templates

import "strutcard/calc/lang"

// People is who looks on, what they say, and how to let them.
type People struct {
	Decided string   // the shop's last word on the whole job; ""
	Said    []Said   // the newest first
	Joined  bool     // the phone belongs to a shop
	Guest   bool     // it only holds a copy of somebody else's job
	Hold    *HoldRow // that a guest may release; nil for none
	Links   []SharedLink
	Draft   map[string]string
}

// Said is one comment, release, finding or decision, as the installer reads it.
type Said struct {
	At                string // when it was said, by the clock of whoever said it
	Name, About, Text string
	Step              string // where it belongs; ""
	New               bool
}

// shareRoles in the order of what they allow; shop.ShareRoles are the same.
var shareRoles = []string{"look", "comment", "release"}

// MayWords say what the holder of a link may do, by its role.
func MayWords(role string) string {
	return map[string]string{"look": lang.T("look"), "comment": lang.T("look and comment"), "release": lang.T("look, comment and release hold points")}[role]
}

// SharedLink is one link to the open job.
type SharedLink struct {
	ID, May, State string
	Link, Code     string // "" when it was made on another device
	Opened         []string
	Holds          bool
}
