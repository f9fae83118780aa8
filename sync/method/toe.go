package method

import (
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/toe"
	"strutcard/sync/event"
)

var toeMethods = []Method{toeMarks, toeEdges, toeStrings, toeWheelAngle, toeConvert, trackRod, toeRunout}

// toeMarks is the tape to the same marks behind and in front: the wobble of the
// rims cancels, so this is the usual way.
var toeMarks = Method{
	ID: "toe_marks", Group: Toe, Title: "Same marks, half a turn", Sets: event.TotalToe,
	Words:  "Mark both tyres behind, at hub height, and measure between the marks. Roll forward half a turn of the wheel and measure between the same marks in front. Never reach or go under the car.",
	Fields: acrossFields("Between the marks, behind", "Between the same marks, in front", "Diameter at which the marks sit"),
	Work: func(in *In) (Result, error) {
		return toeAcross(in, toe.Across{Method: toe.SameMarks})
	},
}

// toeEdges is the tape to two places of standing wheels.
var toeEdges = Method{
	ID: "toe_edges", Group: Toe, Title: "Rim edge to rim edge", Sets: event.TotalToe,
	Words: "Measure between the rim edges behind, then in front, both at hub height. The car does not move. A wobbling rim spoils it: better use the same marks.",
	Fields: append(acrossFields("Between the rim edges, behind", "Between the rim edges, in front", "Diameter at which the rim edges sit"), Field{Name: "runout", Label: "Wobble of the worse rim", Optional: true, Kind: Length,
		Hint: "Lowest to highest over one turn. Leave it empty if nobody measured it."}),
	Work: func(in *In) (Result, error) {
		return toeAcross(in, toe.Across{Method: toe.TwoPlaces, Runout: in.Length("runout")})
	},
}

func acrossFields(behind, ahead, diameter string) []Field {
	return []Field{
		{Name: "rear", Label: behind, Kind: Length},
		{Name: "front", Label: ahead, Kind: Length},
		{Name: "diameter", Label: diameter, Hint: "Measured along the wheel, not taken from the tyre size.", Kind: Length, Keep: true},
		{Name: "mark", Label: "Smallest mark of the tape", Kind: Length, Keep: true, Instrument: true},
		{Name: "diameter_mark", Label: "Smallest mark of what measured the diameter", Kind: Length, Keep: true, Instrument: true},
	}
}

// notInToe is what no uncertainty of a toe covers.
const notInToe = "The uncertainty does not cover play in the joints, a sagging tape, or tyres that have not rolled since the jack."

func toeAcross(in *In, a toe.Across) (Result, error) {
	a.Rear, a.Front, a.Diameter = in.Length("rear"), in.Length("front"), in.Length("diameter")
	a.Resolution, a.DiameterResolution = in.Length("mark"), in.Length("diameter_mark")
	if in.Err() != nil {
		return Result{}, in.Err()
	}
	b, err := toe.FromAcross(a)
	if err != nil {
		return Result{}, err
	}
	out := Result{Figure: lang.F("%s total", in.worded(event.TotalToe, b.Total)), Words: totalWords(b.Total.Value), Rows: in.totalRows(b, a.Diameter),
		Ask: toe.Question(b), Warn: []string{lang.T(notInToe), lang.T(toe.AfterCamber)}, Picture: in.acrossPicture(a, b),
		Reading: angleReading(b.Total, toe.FormulaAcross, kept("tape marked every %s", in.Units.FormatLength(a.Resolution)))}
	if wobble := toe.QuestionRunout(b); wobble != "" {
		out.Warn = append([]string{wobble}, out.Warn...)
	}
	out.Line = lang.F("asin((behind %s − in front %s) ÷ %s) = %s total", in.lengthFigure(a.Rear), in.Units.FormatLength(a.Front), in.Units.FormatLength(a.Diameter), in.toe(b.Total.Value))
	return out, nil
}

// totalRows are a total per wheel, and as lengths.
func (in *In) totalRows(b toe.Both, diameter quantity.Length) []Row {
	rows := []Row{{lang.T("Per wheel, if both have the same"), in.worded(event.Toe, b.Half)}}
	if l, err := b.Angles().At(diameter); err == nil {
		rows = append(rows, Row{lang.F("At %s", in.Units.FormatLength(diameter)), in.lengths(l)})
	}
	return rows
}

// worded writes a measured angle of q with its uncertainty and the word for its
// sign, as the record does.
func (in *In) worded(q event.Quantity, v measure.Value[quantity.Angle]) string {
	return in.Units.Reading(&event.ReadingTaken{Quantity: q, ValueMD: v.Value.Mdeg(), U95Mdeg: v.Expanded().Mdeg()})
}

// toe writes a toe with IN or OUT.
func (in *In) toe(a quantity.Angle) string { return in.Units.Value(event.Toe, a.Mdeg()) }

// lengths writes a toe as lengths, total and per wheel, with IN or OUT.
func (in *In) lengths(l toe.Lengths) string {
	return lang.F("%s total, %s per wheel", in.toeLength(l.Total), in.toeLength(l.PerWheel))
}

func (in *In) toeLength(l quantity.Length) string {
	amount, way := toe.Say(l)
	text := in.Units.FormatLength(amount)
	switch way {
	case toe.In:
		return text + " " + lang.T("IN")
	case toe.Out:
		return text + " " + lang.T("OUT")
	}
	return text
}

func (in *In) lengthFigure(l quantity.Length) string {
	return quantity.LengthFigure(l, in.Units.Length)
}

func totalWords(a quantity.Angle) string {
	switch mdeg := a.Mdeg(); {
	case mdeg > 0:
		return lang.T("IN: the wheels are nearer together in front than behind.")
	case mdeg < 0:
		return lang.T("OUT: the wheels are nearer together behind than in front.")
	}
	return lang.T("Straight: the wheels are as far apart in front as behind.")
}

// toeInOut asks for the word instead of a sign.
var toeInOut = []Option{{string(toe.In), "IN"}, {string(toe.Out), "OUT"}}

// toeFields ask for a toe as a size and a word.
func toeFields(name, label string, like Field) []Field {
	size, way := like, like
	size.Name, size.Label, size.Kind = name, label, Angle
	way.Name, way.Label, way.Kind, way.Options = name+"_direction", label+", IN or OUT", Choice, toeInOut
	return []Field{size, way}
}

// typedToe is a toe typed with toeFields: its size and its word.
type typedToe struct {
	size quantity.Angle
	way  toe.Direction
}

func (in *In) typedToe(name string) typedToe {
	return typedToe{in.Angle(name), toe.Direction(in.Choice(name + "_direction"))}
}

// sure gives it the expanded uncertainty that was typed beside it.
func (t typedToe) sure(u95 quantity.Angle) (measure.Value[quantity.Angle], error) {
	signed, err := toe.Signed(t.size, t.way)
	return measure.Value[quantity.Angle]{Value: signed, Standard: u95 / measure.Coverage}, err
}

// acrossPicture is the axle from above with both distances.
func (in *In) acrossPicture(a toe.Across, b toe.Both) *Picture {
	axle := in.At.Axle()
	if axle != event.Rear {
		axle = event.Front
	}
	half := b.Angles().PerWheel
	toes := map[event.Corner]quantity.Angle{}
	for _, c := range axle.Corners() {
		toes[c] = half
	}
	p := planView(toes)
	p.between(axle, true, in.Units.FormatLength(a.Front))
	p.between(axle, false, in.Units.FormatLength(a.Rear))
	p.Label("middle", planMiddle, planHigh-4, lang.F("%s total", in.toe(b.Total.Value)))
	p.Alt = lang.F("The car from above: %s between the wheels in front of the axle, %s behind it. %s", in.Units.FormatLength(a.Front), in.Units.FormatLength(a.Rear), totalWords(b.Total.Value))
	return &p.Picture
}
