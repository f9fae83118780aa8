package event

import "fmt"

// KindReadingTaken records one measurement.
const KindReadingTaken Kind = "reading_taken"

// Quantity is what a reading measures.
type Quantity string

const (
	RideHeight Quantity = "ride_height" // hub centre to arch edge, um
	Camber     Quantity = "camber"      // millidegrees, negative = top of the wheel leans in
)

// Purpose says why a reading was taken.
type Purpose string

const (
	Before  Purpose = "before"  // the car as found
	Setting Purpose = "setting" // while adjusting
	Final   Purpose = "final"   // after the last tightening
)

// ReadingTaken keeps the raw numbers, the computed value and the formula's
// version, so that mending a formula never rewrites history.
type ReadingTaken struct {
	Quantity Quantity `json:"quantity"`
	Corner   Corner   `json:"corner"`
	Purpose  Purpose  `json:"purpose"`
	Method   string   `json:"method"`            // "tape", "level and ruler" …
	Formula  string   `json:"formula,omitempty"` // name and version of the calculation
	Load     string   `json:"load,omitempty"`    // fuel, people, ballast, in words

	ValueUM int64  `json:"value_um,omitempty"`
	ValueMD int64  `json:"value_mdeg,omitempty"`
	U95UM   int64  `json:"u95_um,omitempty"`   // expanded uncertainty, k = 2
	U95Mdeg int64  `json:"u95_mdeg,omitempty"` // expanded uncertainty, k = 2
	GapUM   int64  `json:"gap_um,omitempty"`
	SpanUM  int64  `json:"span_um,omitempty"`
	ResUM   int64  `json:"resolution_um,omitempty"` // smallest division of the ruler
	GapAt   string `json:"gap_at,omitempty"`        // "top" or "bottom"
	Along   string `json:"along,omitempty"`         // span measured along the "rim" or the "level"
}

func (*ReadingTaken) Kind() Kind { return KindReadingTaken }

func (p *ReadingTaken) check() string {
	if !p.Corner.Valid() {
		return "Its corner is not one of the four."
	}
	if reason := p.checkValue(); reason != "" {
		return reason
	}
	return first(among("purpose", p.Purpose, Before, Setting, Final), name("method", p.Method),
		text("formula", p.Formula), text("load", p.Load),
		within("uncertainty", p.U95UM, 0, 1_000_000), within("uncertainty", p.U95Mdeg, 0, 45_000),
		within("gap", p.GapUM, 0, 1_000_000), within("span", p.SpanUM, 0, 3_000_000), within("resolution", p.ResUM, 0, 100_000),
		among("gap end", p.GapAt, "", "top", "bottom"), among("span direction", p.Along, "", "rim", "level"))
}

func (p *ReadingTaken) checkValue() string {
	switch p.Quantity {
	case RideHeight:
		return within("height", p.ValueUM, 50_000, 1_500_000)
	case Camber:
		return within("camber", p.ValueMD, -15_000, 15_000)
	}
	return fmt.Sprintf("Its quantity %q is not known.", p.Quantity)
}
