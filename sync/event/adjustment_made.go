package event

// KindAdjustmentMade records that an adjuster was moved.
const KindAdjustmentMade Kind = "adjustment_made"

// AdjustmentMade makes readings that depend on it stale; a change of ride
// height also reopens every bushed fastener.
type AdjustmentMade struct {
	Quantity Quantity `json:"quantity"` // what the adjuster sets
	Corner   Corner   `json:"corner"`
	Before   string   `json:"before,omitempty"` // position, in the owner's words
	After    string   `json:"after"`
}

func (*AdjustmentMade) Kind() Kind { return KindAdjustmentMade }

func (p *AdjustmentMade) check() string {
	if !p.Corner.Valid() {
		return "Its corner is not one of the four."
	}
	return first(among("quantity", p.Quantity, RideHeight, Camber), text("position before", p.Before), name("position after", p.After))
}
