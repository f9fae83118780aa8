package event

// KindCarLowered says that an axle is back on its wheels.
const KindCarLowered Kind = "car_lowered"

// CarLowered ends a lift. The checks of the next one start fresh.
type CarLowered struct {
	Axle Axle `json:"axle"`
}

func (*CarLowered) Kind() Kind { return KindCarLowered }

func (p *CarLowered) check() string { return among("axle", p.Axle, Front, Rear) }
