package templates

import "strutcard/calc/lang"

// Review is what reviewer and mentor say about a job, and what they may still say.
type Review struct {
	Job      string
	Findings []JudgedRow
	Whole    string // the last word on the whole job; ""
	Holds    []HoldRow
	Owed     []string // what is to be done again, and is not yet
	Comments []CommentRow
	Now      string   // the step that the work stands at; "" without the sheet
	Loose    []string // what is not final now, each with its reason
	Measured []Plot   // what was read before and after
	Abouts   []Abouts // what a comment can be about
	Blind    bool     // the sheet is not here: the work could not be judged
	Seen     string   // decisions that the page shows: one that came since is not overruled unread
	Decide   bool     // its reader may decide
	Speak    bool     // its reader may comment
	Release  bool     // its reader may release hold points
	At       string   // where its forms go
}

// Abouts is one sort of thing that a comment can be about.
type Abouts struct {
	Sort string
	Rows []Choice
}

// JudgedRow is one finding, and what was decided about it.
type JudgedRow struct {
	ID, Severity, Text, Look, Todo string
	Where                          string // step or fastener; ""
	Events                         string // how many events show it
	Decided                        string // in words; "" while open
	Accepted                       bool
	CanRedo                        bool
}

// HoldRow is a hold point that waits for somebody to look.
type HoldRow struct {
	Step, Title string
	Photos      []PhotoRow
}

// CommentRow is one comment.
type CommentRow struct {
	Name, At, About, Text string
}

// lookWords say what the holder of a link may do, and until when.
func lookWords(v Review, until string) string {
	switch {
	case v.Release:
		return lang.F("You look at one job, may comment, and may release hold points. This link ends %s.", until)
	case v.Speak:
		return lang.F("You look at one job and may comment. This link ends %s.", until)
	}
	return lang.F("You look at one job and can change nothing. This link ends %s.", until)
}

func notFinalWords(n int) string {
	return lang.N(n, "%d fastener is not final", "%d fasteners are not final", n)
}
