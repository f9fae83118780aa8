package event

import "strutcard/sync/fault"

// KindPositionNoted records where an adjuster stands, without moving it.
const KindPositionNoted Kind = "position_noted"

// PositionNoted is where an adjuster stood as found, or stands as set. Moving it
// is AdjustmentMade.
type PositionNoted struct {
	Adjuster Quantity `json:"adjuster"` // what it sets
	Corner   Corner   `json:"corner"`
	Purpose  Purpose  `json:"purpose"`             // Before: as found; Setting: as set
	Text     string   `json:"text"`                // in the owner's words
	LengthUM int64    `json:"length_um,omitempty"` // of a perch, from the point that the sheet names
}

func (*PositionNoted) Kind() Kind { return KindPositionNoted }

func (p *PositionNoted) check() string {
	if !p.Corner.Valid() {
		return fault.T("Its corner is not one of the four.")
	}
	return first(among("adjuster", p.Adjuster, RideHeight, Camber, Caster, Toe), among("purpose", p.Purpose, Before, Setting),
		name("position", p.Text), within("length", p.LengthUM, 0, 1_000_000, UM))
}
