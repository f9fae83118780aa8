package templates

import "fmt"

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

// besideLooking says what the holder of a link may do beside looking.
func besideLooking(v Review) string {
	switch {
	case v.Release:
		return ", may comment, and may release hold points"
	case v.Speak:
		return " and may comment"
	}
	return " and can change nothing"
}

func notFinalWords(n int) string {
	if n == 1 {
		return "1 fastener is not final"
	}
	return fmt.Sprintf("%d fasteners are not final", n)
}
