package event

import "strutcard/sync/fault"

// KindAdjustmentMade records that an adjuster was moved, or that something else
// was changed that readings depend on.
const KindAdjustmentMade Kind = "adjustment_made"

// AdjustmentMade makes readings that depend on it stale; a change of ride
// height also reopens every bushed fastener. Version 2 brought the further
// quantities and the counted position.
type AdjustmentMade struct {
	Quantity Quantity `json:"quantity"`         // what the adjuster sets
	Corner   Corner   `json:"corner"`           // "" for the load, which is on all four
	Before   string   `json:"before,omitempty"` // position, in the owner's words
	After    string   `json:"after"`
	Unit     string   `json:"unit,omitempty"`           // of the counted position: "mm", "turn", "graduation"
	Position int64    `json:"position_milli,omitempty"` // thousandths of the unit, from where it stood as found
}

func (*AdjustmentMade) Kind() Kind { return KindAdjustmentMade }

func (p *AdjustmentMade) check() string {
	if (p.Quantity == Load) != (p.Corner == "") || p.Corner != "" && !p.Corner.Valid() {
		return fault.T("Its corner is not one of the four.")
	}
	return first(among("quantity", p.Quantity, RideHeight, Camber, Caster, Toe, Spring, TyrePressure, Load),
		text("position before", p.Before), name("position after", p.After),
		among("unit", p.Unit, "", "mm", "turn", "graduation"), within("position", p.Position, -1_000_000, 1_000_000, milli))
}
