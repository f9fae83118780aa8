package method

import (
	"slices"
	"unicode"
	"unicode/utf8"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// cornerFields are the names of four fields, one for each corner, front first,
// left first.
var cornerFields = [4]string{"front_left", "front_right", "rear_left", "rear_right"}

// four asks the same at each corner. After goes to the names.
func four(k Kind, after, hint string, labels [4]string) []Field {
	var out []Field
	for i, name := range cornerFields {
		out = append(out, Field{Name: name + after, Label: labels[i], Hint: hint, Kind: k})
	}
	return out
}

func capital(s string) string {
	if s == "" {
		return s
	}
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// fours reads the four fields.
func fours[Q any](read func(string) Q, after string) (out [4]Q) {
	for i, name := range cornerFields {
		out[i] = read(name + after)
	}
	return out
}

// standing is the latest reading of q at each corner, nil where it no longer
// holds. Readings of the car as found do not mix with later ones.
func (r Record) standing(q event.Quantity) (out [4]*job.Reading) {
	later := false
	for i, c := range event.Corners {
		out[i] = r.last(q, c.Place())
		later = later || out[i] != nil && out[i].Purpose != event.Before
	}
	for i, x := range out {
		if later && x != nil && x.Purpose == event.Before {
			out[i] = nil
		}
	}
	return out
}

// found is the latest reading of q at each corner of the car as found.
func (r Record) found(q event.Quantity) (out [4]*job.Reading) {
	if r.State == nil {
		return out
	}
	for i, c := range event.Corners {
		out[i] = r.State.Reading(q, c.Place(), event.Before)
	}
	return out
}

// offer puts readings into the four fields, in the person's units.
func (r Record) offer(into map[string]string, readings [4]*job.Reading, after string) {
	u := r.Units.OrDefault()
	for i, x := range readings {
		if x == nil {
			continue
		}
		value, _ := x.Amount()
		text := quantity.LengthFigure(quantity.LengthFromUM(value), u.Length)
		switch {
		case x.Quantity == event.CornerWeight && u.Mass == quantity.Pound:
			text = decimal(quantity.MassFromG(value).Pounds(), 2)
		case x.Quantity == event.CornerWeight:
			text = decimal(quantity.MassFromG(value).Kilograms(), 2) // finer than any scale of the trade
		}
		into[cornerFields[i]+after] = text
	}
}

// offerWheelbase puts the sheet's wheelbase in.
func (r Record) offerWheelbase(into map[string]string) {
	if r.Sheet != nil && r.Sheet.Vehicle.WheelbaseUM > 0 {
		into["wheelbase"] = quantity.LengthFigure(quantity.LengthFromUM(r.Sheet.Vehicle.WheelbaseUM), r.Units.OrDefault().Length)
	}
}

// fourView is the car from above with a figure at each wheel and words below.
func fourView(alt string, figures [4]string, under string) *carPlan {
	p := planView(nil)
	p.Alt, p.Height = alt, planHigh+20
	for i, c := range event.Corners {
		p.beside(c, figures[i])
	}
	p.Label("middle", planMiddle, planHigh+10, under)
	return p
}

// picture is the drawing alone.
func (p *carPlan) picture() *Picture { return &p.Picture }

// column is one of several like figures, side by side.
type column struct {
	name, figure string
	value        float64
}

// columns draws up to three of them so that the difference shows.
func columns(alt string, of ...column) *Picture {
	p := &Picture{Height: 190, Alt: alt, Note: lang.T("Only the differences are drawn, exaggerated.")}
	value := func(a, b column) int {
		switch {
		case a.value < b.value:
			return -1
		case a.value > b.value:
			return 1
		}
		return 0
	}
	low, high := slices.MinFunc(of, value).value, slices.MaxFunc(of, value).value
	p.Line("ink", 10, 150, 310, 150)
	for i, c := range of {
		x, y := 60+100*float64(i), 90.0
		if high > low {
			y = 110 - 60*(c.value-low)/(high-low)
		}
		p.Line("heavy", x, 150, x, y)
		p.Line("accent", x-25, y, x+25, y)
		p.Label("middle", x, y-8, c.figure)
		p.Small("middle", x, 168, c.name)
	}
	return p
}

// length is short for a measured length.
type length = measure.Value[quantity.Length]
