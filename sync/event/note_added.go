package event

import "strutcard/sync/fault"

// KindNoteAdded keeps a remark at a step.
const KindNoteAdded Kind = "note_added"

// NoteAdded is free text by whoever works.
type NoteAdded struct {
	Step StepID `json:"step,omitempty"`
	Text string `json:"text"`
}

func (*NoteAdded) Kind() Kind { return KindNoteAdded }

func (p *NoteAdded) check() string {
	if p.Text == "" {
		return fault.T("It has no text.")
	}
	return first(text("step", string(p.Step)), text("note", p.Text))
}
