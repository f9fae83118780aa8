package event

const (
	KindWorkParked  Kind = "work_parked"
	KindWorkResumed Kind = "work_resumed"
)

// WorkParked says that work stops for longer: over night, until a part comes.
type WorkParked struct {
	Note string `json:"note,omitempty"`
}

func (*WorkParked) Kind() Kind { return KindWorkParked }

func (p *WorkParked) check() string { return text("note", p.Note) }

// WorkResumed says that someone came back after a pause and looked whether the
// car stands as the record says.
type WorkResumed struct {
	AsLeft bool   `json:"as_left"`
	Note   string `json:"note,omitempty"` // what is different
}

func (*WorkResumed) Kind() Kind { return KindWorkResumed }

func (p *WorkResumed) check() string {
	if !p.AsLeft {
		if reason := name("note", p.Note); reason != "" {
			return reason
		}
	}
	return text("note", p.Note)
}
