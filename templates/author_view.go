package templates

import "strings"

// Link is a word that leads to one of our own pages.
type Link struct{ Href, Words string }

// SheetList is the shop's fitting sheets and the drafts of new ones.
type SheetList struct {
	Desk
	Rows          []SheetListRow
	Drafts        []DraftRow
	Front, Rear   []Choice
	Start         DraftStart
	Problem, Hint string
}

// SheetListRow is one published sheet.
type SheetListRow struct {
	Hash, Title, Version, Vehicle string
	Published, By                 string
	Uses                          int    // how many jobs pin it
	Withdrawn                     string // when; "" while it stands
}

// DraftRow is one draft.
type DraftRow struct{ ID, Title, Version, Vehicle, Changed, By string }

// DraftStart is what a new draft begins with, as typed.
type DraftStart struct{ Title, Version, Vehicle, Front, Rear string }

// Typed reports whether anything was typed.
func (s DraftStart) Typed() bool { return s != DraftStart{} }

// SheetPage is one published sheet.
type SheetPage struct {
	Desk
	SheetListRow
	Invented  bool
	Note      string
	Doubts    []DoubtRow // left unverified when it was published
	Jobs      []SheetJob
	Others    []Choice // the other versions: hash, words
	Steps     []Choice
	Withdrawn *WithdrawnView
	Reason    string // as typed
	Problem   string
	Hint      string
}

// SheetJob is one job that uses a sheet.
type SheetJob struct{ Job, Vehicle, State, Heard string }

// WithdrawnView is a withdrawal in words.
type WithdrawnView struct{ Reason, Before, At, By string }

// DoubtRow is one number that looks wrong.
type DoubtRow struct {
	Path, Where string
	Text        string
	Confirmed   string // who checked it against what; "" while it is unverified
	Confirmable bool   // it can carry who checked it
}

// Key names the doubt, with its words: another question is another doubt.
func (d DoubtRow) Key() string { return d.Path + ": " + d.Text }

// DraftPage is one place of a draft: a list, or the form of one thing.
type DraftPage struct {
	Desk
	ID, Name      string
	Revision      int64
	Path          string
	Heading       string
	Text          string // what the place is for
	Crumbs        []Link
	Saved         bool
	Problem, Hint string
	Sections      []SectionRow // on the draft's first page
	Fields        []PieceField
	Lists         []PieceList
	Names         []NameGroup
	Raw           string // the piece as JSON
	Check         DraftCheck
	Preview       *Step
	Invented      bool
}

// Near lists the doubts about what the page shows.
func (v DraftPage) Near() []DoubtRow { return v.doubts(true) }

// Elsewhere lists all other doubts.
func (v DraftPage) Elsewhere() []DoubtRow { return v.doubts(false) }

func (v DraftPage) doubts(near bool) []DoubtRow {
	var out []DoubtRow
	for _, d := range v.Check.Doubts {
		if near == (v.Path == "" || d.Path == v.Path || strings.HasPrefix(d.Path, v.Path+"/")) {
			out = append(out, d)
		}
	}
	return out
}

// SectionRow is one part of a draft with how much is in it.
type SectionRow struct {
	Link
	Count      string
	Unverified bool
}

// PieceField is one question of a form. Unit and Units belong to numbers that
// are typed with a unit.
type PieceField struct {
	Name, Label, Kind, Hint string
	Value, Unit             string
	Options                 []Choice
	Units                   []string
	Problem                 string
}

// PieceList is a list of things, to be added to and put in order.
type PieceList struct {
	Path, Title, One, Hint string
	Rows                   []PieceRow
}

// PieceRow is one of them; Inner lists what stands inside it, where that is
// shown with it.
type PieceRow struct {
	Path, Words, Note string
	At                int
	Unverified        bool
	Inner             *PieceList
}

// NameGroup is a list of ids that can be referred to.
type NameGroup struct {
	Title string
	Rows  []Choice // id, words
}

// DraftCheck is what is wrong and what is doubtful.
type DraftCheck struct {
	Fault  string // what stops it from being published; "" when it is sound
	Doubts []DoubtRow
}

// Unverified lists the doubts that nobody has confirmed.
func (c DraftCheck) Unverified() []DoubtRow {
	var out []DoubtRow
	for _, d := range c.Doubts {
		if d.Confirmed == "" {
			out = append(out, d)
		}
	}
	return out
}

// DraftConflict says that somebody else changed the draft, and shows what was
// typed so that it can be typed again.
type DraftConflict struct {
	Desk
	Message, Hint string
	Back          string
	Typed         []PieceField
}

// PublishPage shows what will be published before it is.
type PublishPage struct {
	Desk
	ID            string
	Revision      int64
	Title         string
	Version       string
	Vehicle       string
	Note          string
	Base          string // the version that it is compared with, in words; "" for a first one
	Changes       []ChangeRow
	Check         DraftCheck
	Left          map[string]bool // doubts ticked to stay unverified
	Problem, Hint string
}

// ChangeRow is one difference between two sheets.
type ChangeRow struct {
	What, Where, Was, Now string
	Grave                 bool // can hurt somebody who goes on working by the older version
	Unverified            bool // a number there looks wrong, and nobody has confirmed it
}

// ChangesPage compares two published sheets.
type ChangesPage struct {
	Desk
	Was, Now Link
	Rows     []ChangeRow
}
