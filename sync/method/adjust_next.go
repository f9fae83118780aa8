package method

import (
	"slices"

	"strutcard/calc/adjust"
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
)

type (
	trial   = adjust.Trial[turns, turns]
	learned = adjust.Learned[turns, turns]
	advice  = adjust.Advice[turns, turns]
)

// car stands for the one car that the form is about.
const car = "this"

var (
	cornerField = Field{Name: "corner", Label: "Which wheel", Kind: Choice,
		Options: []Option{{string(event.FL), event.FL.Words()}, {string(event.FR), event.FR.Words()}, {string(event.RL), event.RL.Words()}, {string(event.RR), event.RR.Words()}}}
	angleField = Field{Name: "of", Label: "What is adjusted", Kind: Choice,
		Options: []Option{{string(event.Camber), "camber"}, {string(event.Caster), "caster"}, {string(event.Toe), "toe of this wheel"}}}
	snug = Option{string(adjust.Snug), "snug, before the final torque"}
	firm = Option{string(adjust.FinalTorque), "at the final torque"}
	ends = []Field{
		{Name: "low", Label: "Position at its lower end", Hint: "Both ends, or neither.", Kind: Count, Optional: true, Keep: true},
		{Name: "high", Label: "Position at its upper end", Kind: Count, Optional: true, Keep: true},
		{Name: "fine", Label: "Finest step you can read a position to", Hint: "Left empty: 0.5 mm, an eighth of a turn, half a graduation.", Kind: Count, Optional: true, Keep: true},
	}
	effectField = Field{Name: "effect", Label: "Counting up should bring the reading", Hint: "Minus: top of the wheel in, less caster, toe out, lower.", Kind: Choice, Keep: true,
		Options: []Option{{string(adjust.Raises), "to plus"}, {string(adjust.Lowers), "to minus"}}}
	signHint = "Minus: top of the wheel leans in, caster leans forward, toe out."
)

// adjustAmount reads an angle or a length in the record's unit.
func adjustAmount(in *In, name string) turns {
	if in.field(name).Kind == Length {
		return turns(in.Length(name).Millimetres() * 1000)
	}
	return turns(in.Angle(name).Degrees() * 1000)
}

// adjusterOf reads what an adjuster is, and how it is counted.
func adjusterOf(in *In, q event.Quantity) (adjust.Adjuster[turns], scale) {
	s := scale{in: in, q: q, unit: in.Choice("unit"), up: in.Choice("up")}
	a := adjust.Adjuster[turns]{Place: adjust.Place{Car: car, Corner: in.Choice("corner")}, Of: adjust.Read(q), Effect: adjust.Effect(in.Choice("effect")),
		Low: in.Count("low"), High: in.Count("high"), Resolution: readTo[s.unit]}
	if in.Has("fine") {
		a.Resolution = in.Count("fine")
	}
	if q == event.RideHeight {
		a.Of = adjust.Height
	}
	if a.Effect == "" {
		a.Effect = adjust.Unknown
	}
	if in.Has("low") != in.Has("high") {
		in.fail(quantity.Inputf("Enter both, or neither.", "Only one end of the adjuster is entered."))
	}
	a.Step = max(finest[s.unit], a.Resolution)
	return a, s
}

// nextMove is the advice: what learning and a stated effect have in common.
func nextMove(s scale, l learned, trials []trial, target turns) (Result, error) {
	a, err := l.Next(target)
	if err != nil {
		return Result{}, err
	}
	where := event.Corner(l.Adjuster.Place.Corner)
	alone, effect := s.effect(l.Line.Slope, l.Line.SlopeStandard)
	now := l.Line.At(l.Last.Setting).Value
	out := Result{
		Figure: lang.T("leave it where it is"),
		Words:  lang.F("At the %s, leave it at %s.", lang.T(where.Words()), s.setting(a.Setting)),
		Line: lang.F("(%s − %s) ÷ (%s) = %s to go; in steps of %s: %s", s.reading(target), s.reading(now), alone,
			s.setting(a.Exact-l.Last.Setting), s.setting(a.Step), s.setting(a.Move)),
		Rows: []Row{{lang.T("Effect"), effect}, {lang.T("Target"), s.reading(target)},
			{lang.T("Other angles"), lang.T(others[s.q])}, {lang.T("Position read to"), s.setting(l.Adjuster.Resolution)}},
		Picture: s.graph(l, a, trials, target),
	}
	if a.Move != 0 {
		out.Figure = lang.F("%s, to %s", s.move(a.Move), s.setting(a.Setting))
		out.Words = lang.F("At the %s, move it %s, so that it stands at %s.", lang.T(where.Words()), s.move(a.Move), s.setting(a.Setting))
	}
	out.Words += " " + lang.F("Expect %s of %s there.", lang.T(s.q.Words()), s.within(a.Expected))
	if l.Source != "" {
		out.Rows = append(out.Rows, Row{lang.T("Source of the effect"), l.Source})
	}
	for _, c := range a.Cautions {
		out.Warn = append(out.Warn, c.Words())
	}
	return out, nil
}

// others says what else moves: nothing is set alone. Common practice, no source.
var others = map[event.Quantity]string{
	event.Camber:     "toe follows, caster can: read both again",
	event.Caster:     "camber and toe follow: read both again",
	event.Toe:        "the steering wheel goes off centre: set both wheels of the axle",
	event.RideHeight: "camber, caster and toe follow, at the other wheels too: set height first",
}

// gauge reads how far a reading can be off, as a standard uncertainty.
func gauge(in *In) turns {
	u := adjustAmount(in, "gauge")
	if in.Has("gauge") && u <= 0 {
		in.fail(quantity.Inputf("Enter it as a size.", "%s is not above zero.", lang.T(in.field("gauge").Label)))
	}
	if in.Choice("gauge_is") == "within" {
		return u / measure.Coverage
	}
	return measure.Resolution(u)
}

var gaugeAsked = []Field{
	{Name: "gauge_is", Label: "Of the readings is known", Kind: Choice, Keep: true, Options: []Option{{"step", "the smallest step that the gauge shows"}, {"within", "the ± of each"}}},
	{Name: "gauge", Label: "That step, or that ±", Hint: "The largest, when they differ.", Keep: true},
}

func gaugeFields(kind Kind) []Field {
	out := slices.Clone(gaugeAsked)
	out[1].Kind = kind
	return out
}

// adjustPerStep takes the effect of a step from a manual.
var adjustPerStep = Method{
	ID: "adjust_per_step", Group: Adjusting, Title: "Effect from a manual",
	Words: "One graduation is something else on every car: take it from the manual of this car only. If in doubt, move one step, read, and learn from this corner. Never reach under a car held only by a jack.",
	Fields: append(append([]Field{angleField, cornerField, unitField, upField, effectField,
		{Name: "by", Label: "The source says: changes by", Hint: "A size, such as 15′.", Kind: Angle, Keep: true},
		{Name: "per", Label: "for how many mm, turns or graduations", Kind: Count, Keep: true},
		{Name: "digit", Label: "Last digit that the source gives", Hint: "Such as 1′ or 0.01°.", Kind: Angle, Keep: true},
		{Name: "source", Label: "Source, with its page", Kind: Text, Keep: true},
		{Name: "source_car", Label: "The source is for", Kind: Choice, Keep: true, Options: []Option{{car, "this very model"}, {"another", "another car"}}},
		{Name: "stage", Label: "At the reading, the bolts were", Kind: Choice, Options: []Option{snug, firm}},
		{Name: "reading", Label: "Reading now", Hint: signHint, Kind: Angle}}, gaugeFields(Angle)...),
		append([]Field{{Name: "now", Label: "Position now", Hint: "Left empty: 0, counted from here.", Kind: Count, Optional: true},
			{Name: "target", Label: "Target", Hint: signHint, Kind: Angle}}, ends...)...),
	Fill: func(r Record) map[string]string { return cornerFill(r) },
	Work: func(in *In) (Result, error) {
		a, s := adjusterOf(in, event.Quantity(in.Choice("of")))
		stated := adjust.Stated[turns, turns]{By: adjustAmount(in, "by"), Per: in.Count("per"), Digit: adjustAmount(in, "digit"), Source: in.Text("source"), Car: in.Choice("source_car")}
		now := trial{Setting: in.Count("now"), Place: a.Place, Stage: adjust.Stage(in.Choice("stage")),
			Reading: measure.Value[turns]{Value: adjustAmount(in, "reading"), Standard: gauge(in)}}
		target := adjustAmount(in, "target")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		l, err := adjust.State(a, stated, now)
		if err != nil {
			return Result{}, err
		}
		return nextMove(s, l, []trial{now}, target)
	},
}

func cornerFill(r Record) map[string]string {
	out := map[string]string{}
	if c := r.At.Corner(); c != "" {
		out["corner"] = string(c)
	}
	return out
}
