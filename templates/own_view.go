package templates

// OwnRow is one own sheet in the list at home.
type OwnRow struct{ ID, Title, Vehicle, State string }

// Own is one own sheet: what stands in it and what is still missing.
type Own struct {
	ID, Title, Vehicle string
	Sections           []OwnSection
	Open               []OwnPiece // what to look at before the sheet is made: where it is mended, and why
	Torques            string     // how many are known
	Made               string     // the version that was made last, "" before
	Hash               string     // of that one
	Changed            bool       // since then
}

// OwnSection is one part of an own sheet.
type OwnSection struct {
	Title string
	Rows  []OwnPiece
	Add   *Choice // a form that adds to it: its key and words
}

// OwnPiece is one form of an own sheet and what it holds.
type OwnPiece struct {
	Key, Label, Words string
	Unverified        bool
}

// OwnForm is one form of an own sheet.
type OwnForm struct {
	Sheet, Key, Title string
	Words             []string
	Fields            []OwnField
	Question          string // what looks implausible and is not confirmed
	Confirmed         string // who has compared what looks implausible with what
	Save              string
	Drop              string // what takes it away again; "" where nothing does
}

// OwnField is one question of it.
type OwnField struct {
	Name, Label, Hint, Unit, Mode string
	Value, Draft                  string
	Options                       []Choice
}
