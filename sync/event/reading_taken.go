package event

// KindReadingTaken records one measurement.
const KindReadingTaken Kind = "reading_taken"

// Purpose says why a reading was taken.
type Purpose string

const (
	Before  Purpose = "before"  // the car as found
	Setting Purpose = "setting" // while adjusting
	Final   Purpose = "final"   // after the last tightening
)

// ReadingTaken keeps the raw numbers, the computed value and the formula's
// version, so that mending a formula never rewrites history. Version 2 brought
// the axle, weights and pressures, Inputs, Takes and Instrument; from then on
// the raw numbers of every method stand in Inputs.
type ReadingTaken struct {
	Quantity   Quantity `json:"quantity"`
	Corner     Corner   `json:"corner"`         // "" for what belongs to an axle
	Axle       Axle     `json:"axle,omitempty"` // "" for what belongs to a corner
	Purpose    Purpose  `json:"purpose"`
	Method     string   `json:"method"`               // "tape", "level and ruler" …
	Formula    string   `json:"formula,omitempty"`    // name and version of the calculation
	Instrument string   `json:"instrument,omitempty"` // what was measured with, in words
	Load       string   `json:"load,omitempty"`       // fuel, people, ballast, in words

	ValueUM int64   `json:"value_um,omitempty"`
	ValueMD int64   `json:"value_mdeg,omitempty"`
	ValueG  int64   `json:"value_g,omitempty"`
	ValuePa int64   `json:"value_pa,omitempty"`
	U95UM   int64   `json:"u95_um,omitempty"` // expanded uncertainty, k = 2
	U95Mdeg int64   `json:"u95_mdeg,omitempty"`
	U95G    int64   `json:"u95_g,omitempty"`
	U95Pa   int64   `json:"u95_pa,omitempty"`
	GapUM   int64   `json:"gap_um,omitempty"` // this and the next four: version 1 only
	SpanUM  int64   `json:"span_um,omitempty"`
	ResUM   int64   `json:"resolution_um,omitempty"` // smallest division of the ruler
	GapAt   string  `json:"gap_at,omitempty"`        // "top" or "bottom"
	Along   string  `json:"along,omitempty"`         // span measured along the "rim" or the "level"
	Inputs  []Input `json:"inputs,omitempty"`        // what was typed, in the order of the form
	Takes   []int64 `json:"takes,omitempty"`         // the readings that were averaged, in the value's unit
}

// Input is one raw number or choice, as it was typed.
type Input struct {
	Name string `json:"name"`
	Text string `json:"text"`
	Unit string `json:"unit,omitempty"`
}

func (*ReadingTaken) Kind() Kind { return KindReadingTaken }

// Place is what the reading belongs to.
func (p *ReadingTaken) Place() Place {
	if p.Axle != "" {
		return p.Axle.Place()
	}
	return p.Corner.Place()
}

// Amount is the value and its expanded uncertainty, in the quantity's unit.
func (p *ReadingTaken) Amount() (value, u95 int64) {
	v, u := p.amount()
	return *v, *u
}

// SetAmount is the inverse of Amount.
func (p *ReadingTaken) SetAmount(value, u95 int64) {
	v, u := p.amount()
	*v, *u = value, u95
}

func (p *ReadingTaken) amount() (value, u95 *int64) {
	switch p.Quantity.Unit() {
	case UM:
		return &p.ValueUM, &p.U95UM
	case G:
		return &p.ValueG, &p.U95G
	case Pa:
		return &p.ValuePa, &p.U95Pa
	}
	return &p.ValueMD, &p.U95Mdeg
}

const (
	maxInputs = 40
	maxTakes  = 50
)

func (p *ReadingTaken) check() string {
	value, _ := p.Amount()
	for _, in := range p.Inputs {
		if reason := first(name("input", in.Name), text("input's text", in.Text), text("input's unit", in.Unit)); reason != "" {
			return reason
		}
	}
	return first(p.Quantity.check(p.Corner, p.Axle, value),
		among("purpose", p.Purpose, Before, Setting, Final), name("method", p.Method),
		text("formula", p.Formula), text("instrument", p.Instrument), text("load", p.Load),
		within("uncertainty", p.U95UM, 0, 1_000_000, UM), within("uncertainty", p.U95Mdeg, 0, 45_000, Mdeg),
		within("uncertainty", p.U95G, 0, 1_000_000, G), within("uncertainty", p.U95Pa, 0, 500_000, Pa),
		within("gap", p.GapUM, 0, 1_000_000, UM), within("span", p.SpanUM, 0, 3_000_000, UM), within("resolution", p.ResUM, 0, 100_000, UM),
		among("gap end", p.GapAt, "", "top", "bottom"), among("span direction", p.Along, "", "rim", "level"),
		within("number of inputs", int64(len(p.Inputs)), 0, maxInputs, count), within("number of takes", int64(len(p.Takes)), 0, maxTakes, count))
}
