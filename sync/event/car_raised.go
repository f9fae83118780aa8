package event

// KindCarRaised says that an axle stands on stands.
const KindCarRaised Kind = "car_raised"

// CarRaised begins a lift.
type CarRaised struct {
	Axle Axle `json:"axle"`
}

func (*CarRaised) Kind() Kind { return KindCarRaised }

func (p *CarRaised) check() string { return among("axle", p.Axle, Front, Rear) }
