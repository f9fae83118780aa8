package event

// KindPartCounted records what was in the box.
const KindPartCounted Kind = "part_counted"

// PartCounted is one line of the box count. Counting again replaces the line.
type PartCounted struct {
	Part    PartID `json:"part"`
	Found   int64  `json:"found"`
	Damaged int64  `json:"damaged,omitempty"`
	Note    string `json:"note,omitempty"`
}

func (*PartCounted) Kind() Kind { return KindPartCounted }

func (p *PartCounted) check() string {
	return first(name("part", string(p.Part)), within("count", p.Found, 0, 10_000, count),
		within("damaged count", p.Damaged, 0, p.Found, count), text("note", p.Note))
}
