package shop

import (
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/fault"
)

// Role is what a member of staff may do. One person may have several.
type Role string

const (
	Anyone        Role = ""              // whoever is of the shop's staff
	Reviewer      Role = "reviewer"      // looks at jobs and decides on them
	Author        Role = "author"        // writes fitting sheets and withdraws them
	Administrator Role = "administrator" // lets people and phones in, exports and deletes; includes the others
)

// AllRoles lists the roles that somebody may be given.
func AllRoles() []Role { return []Role{Reviewer, Author, Administrator} }

// Roles are those of one person.
type Roles []Role

// May reports whether somebody with these roles may do what needs a role.
func (r Roles) May(need Role) bool {
	return need == Anyone || slices.Contains(r, Administrator) || slices.Contains(r, need)
}

// String is how roles are kept: words with a space between.
func (r Roles) String() string {
	var words []string
	for _, role := range AllRoles() { // in one order, each once
		if slices.Contains(r, role) {
			words = append(words, string(role))
		}
	}
	return strings.Join(words, " ")
}

// Words names a role as it is shown.
func (r Role) Words() string {
	switch r {
	case Reviewer:
		return lang.T("reviewer")
	case Author:
		return lang.T("author")
	case Administrator:
		return lang.T("administrator")
	}
	return string(r)
}

// ParseRoles reads what a person chose, or what String wrote. There must be one at
// least, and none that nobody knows.
func ParseRoles(words []string) (Roles, error) {
	var roles Roles
	for _, word := range words {
		role := Role(word)
		if !slices.Contains(AllRoles(), role) {
			return nil, fault.New(fault.Invalid, lang.F("There is no role “%s”. Nothing was changed.", word), lang.F("The roles are: %s.", Roles(AllRoles()).String()))
		}
		roles = append(roles, role)
	}
	if len(roles) == 0 {
		return nil, fault.New(fault.Invalid, "No role was chosen. Nothing was changed.", "Choose one at least. To shut somebody out, end their access.")
	}
	return roles, nil
}
