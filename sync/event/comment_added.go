package event

// KindCommentAdded keeps what a mentor, a reviewer or another installer says
// about the work.
const KindCommentAdded Kind = "comment_added"

// CommentAdded is about a step, a fastener or a reading, or about the whole job.
type CommentAdded struct {
	Step     StepID     `json:"step,omitempty"`
	Fastener FastenerID `json:"fastener,omitempty"`
	Reading  ID         `json:"reading,omitempty"` // the event that took it
	Name     string     `json:"name"`              // who says so, as they call themselves
	Text     string     `json:"text"`
}

func (*CommentAdded) Kind() Kind { return KindCommentAdded }

func (p *CommentAdded) check() string {
	return first(text("step", string(p.Step)), text("fastener", string(p.Fastener)), text("reading", string(p.Reading)),
		name("name of who speaks", p.Name), text("name of who speaks", p.Name), name("comment", p.Text), text("comment", p.Text))
}
