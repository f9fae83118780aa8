package event

// KindLeftoversCounted records what lies on the bench and belongs on the car.
const KindLeftoversCounted Kind = "leftovers_counted"

// LeftoversCounted counts fasteners and small parts left over; none is 0.
type LeftoversCounted struct {
	Step  StepID `json:"step"`
	Count int64  `json:"count"`
	Note  string `json:"note,omitempty"`
}

func (*LeftoversCounted) Kind() Kind { return KindLeftoversCounted }

func (p *LeftoversCounted) check() string {
	return first(name("step", string(p.Step)), within("count", p.Count, 0, 1000, count), text("note", p.Note))
}
