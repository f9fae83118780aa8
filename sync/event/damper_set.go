package event

import "strutcard/sync/fault"

// KindDamperSet records a damper's clicks.
const KindDamperSet Kind = "damper_set"

// DamperSet counts from a stated end stop; whether the stop itself is 0 or 1 is
// kept. Version 2 brought the purpose and the knob.
type DamperSet struct {
	Corner    Corner `json:"corner"`
	From      string `json:"from"` // "full_hard" or "full_soft"
	Clicks    int64  `json:"clicks"`
	StopCount int64  `json:"stop_counts"`     // 0 or 1: how the stop itself is counted
	Total     int64  `json:"total,omitempty"` // from one end stop to the other, as counted on this damper

	Purpose Purpose `json:"purpose,omitempty"` // Before: as found; Setting, or "" at version 1: as set
	Knob    string  `json:"knob,omitempty"`    // "", "bump" or "rebound" where there are two
}

// StopWords names the end stop that clicks are counted from.
func StopWords(from string) string {
	if from == "full_soft" {
		return "full soft"
	}
	return "full hard"
}

func (*DamperSet) Kind() Kind { return KindDamperSet }

func (p *DamperSet) check() string {
	if !p.Corner.Valid() {
		return fault.T("Its corner is not one of the four.")
	}
	if p.Total > 0 && p.Clicks > p.Total {
		return fault.T("It has more clicks than there are from stop to stop.")
	}
	return first(among("purpose", p.Purpose, "", Before, Setting), among("knob", p.Knob, "", "bump", "rebound"), among("end stop", p.From, "full_hard", "full_soft"), within("clicks", p.Clicks, 0, 100, count),
		within("stop count", p.StopCount, 0, 1, count), within("total", p.Total, 0, 100, count))
}
