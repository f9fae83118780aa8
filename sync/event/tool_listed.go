package event

import "strutcard/sync/fault"

// KindToolListed records a tool that is at hand, or is not.
const KindToolListed Kind = "tool_listed"

// ToolListed is one line of the tool check. For a torque wrench the usable range
// is what its maker states; for jack and stands the rating is per piece. Version
// 2 brought what the owner's own register says: kind, class, lengths.
type ToolListed struct {
	Tool    ToolID `json:"tool"`
	Have    bool   `json:"have"`
	Label   string `json:"label,omitempty"`    // which one, in the owner's words
	LowCNM  int64  `json:"low_cnm,omitempty"`  // lowest usable torque, hundredths of N·m
	HighCNM int64  `json:"high_cnm,omitempty"` // highest usable torque, hundredths of N·m
	RatingG int64  `json:"rating_g,omitempty"` // rated mass of one piece, grams
	Checked string `json:"checked,omitempty"`  // when it was last checked, in words

	Type      string `json:"kind,omitempty"`               // of a tool that the sheet does not list: "torque_wrench", "adapter"
	Pair      bool   `json:"pair,omitempty"`               // its label rates a pair; rating_g is half of that
	Class     string `json:"class,omitempty"`              // as marked on it
	Tolerance int64  `json:"tolerance_permille,omitempty"` // of the set torque, either way
	LengthUM  int64  `json:"length_um,omitempty"`          // wrench: grip to drive centre; adapter: drive centre to fastener
	Across    bool   `json:"across,omitempty"`             // an adapter that stands at a right angle to the handle
}

func (*ToolListed) Kind() Kind { return KindToolListed }

func (p *ToolListed) check() string {
	if p.LowCNM > p.HighCNM {
		return fault.T("Its lowest torque is above its highest.")
	}
	return first(name("tool", string(p.Tool)), text("label", p.Label), text("last check", p.Checked),
		within("lowest torque", p.LowCNM, 0, maxTorqueCNM, cnm), within("highest torque", p.HighCNM, 0, maxTorqueCNM, cnm),
		within("rating", p.RatingG, 0, 100_000_000, G),
		among("kind", p.Type, "", "torque_wrench", "adapter"), text("class", p.Class),
		within("tolerance", p.Tolerance, 0, 500, permille), within("length", p.LengthUM, 0, 3_000_000, UM))
}
