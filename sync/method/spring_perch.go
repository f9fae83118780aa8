package method

import (
	"slices"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/spring"
	"strutcard/sync/event"
)

const (
	fromTurns = "turns"
	fromCross = "cross"
)

// perchTurn is what turning one spring seat does to all four corners.
var perchTurn = Method{
	ID: "perch_turn", Group: Ride, Title: "One collar, four weights",
	Words: "Turning one collar moves load at all four wheels. Weigh first, anti-roll bars disconnected, and learn the height per turn of this corner alone. Turn with the axle on stands, then weigh again.",
	Fields: slices.Concat(cornerScales, []Field{scaleField,
		{Name: "corner", Label: "Collar to turn", Kind: Choice, Options: []Option{
			{string(spring.FrontLeft), "front left"}, {string(spring.FrontRight), "front right"}, {string(spring.RearLeft), "rear left"}, {string(spring.RearRight), "rear right"}}},
		{Name: "per_turn", Label: "Height at that arch for one turn of this collar alone", Hint: "From the turns of a collar, this corner only.", Kind: Length},
		{Name: "per_turn_within", Label: "The ± that came with it", Kind: Length},
		{Name: "front_rate", Label: "Rate at each front wheel", Hint: "At the wheel, not of the spring.", Kind: Stiffness, Keep: true},
		{Name: "rear_rate", Label: "Rate at each rear wheel", Hint: "At the wheel, not of the spring.", Kind: Stiffness, Keep: true},
		{Name: "find", Label: "Find out", Kind: Choice, Options: []Option{{fromTurns, "what turns do"}, {fromCross, "turns for a wanted cross"}}},
		{Name: "way", Label: "Turned to", Kind: Choice, Options: []Option{{string(spring.Raise), "raise the car"}, {string(spring.Lower), "lower the car"}}, When: "find=" + fromTurns},
		{Name: "turns", Label: "Turns", Kind: Count, When: "find=" + fromTurns},
		{Name: "wanted", Label: "Share wanted of front right and rear left", Kind: Percent, When: "find=" + fromCross},
	}),
	Fill: cornerWeights.Fill,
	Work: func(in *In) (Result, error) {
		front, rear := in.Stiffness("front_rate"), in.Stiffness("rear_rate")
		c := spring.CrossChange{Scales: in.scales(), Wanted: in.Percent("wanted"), At: spring.Corner(in.Choice("corner")),
			Rates: spring.Four[quantity.Stiffness]{FrontLeft: front, FrontRight: front, RearLeft: rear, RearRight: rear}}
		seen := length{Value: in.Length("per_turn"), Standard: in.Length("per_turn_within") / measure.Coverage}
		find, way, turns := in.Choice("find"), spring.Way(in.Choice("way")), in.Count("turns")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		w, err := spring.CornerWeights(c.Scales)
		if err != nil {
			return Result{}, err
		}
		if c.PerTurn, err = spring.PerchFromSeen(seen, c.At, c.Rates); err != nil {
			return Result{}, err
		}
		if find == fromCross {
			return in.perchTurns(c, w)
		}
		return in.perchShift(c, w, way, turns)
	},
}

// perchShift is what some turns do.
func (in *In) perchShift(c spring.CrossChange, w spring.Weights, way spring.Way, turns quantity.Turns) (Result, error) {
	by, err := spring.CollarTravel(turns, c.PerTurn.Value) // the move at the wheel, turn by turn
	if err != nil {
		return Result{}, err
	}
	s, err := spring.MovePerch(spring.Perch{At: c.At, Way: way, By: by, Rates: c.Rates})
	if err != nil {
		return Result{}, err
	}
	out, err := in.perchResult(c, w, s)
	out.Line = lang.F("turns: %v × %s = %s at the %s wheel, body held; load across %s", turns, in.Units.FormatLength(c.PerTurn.Value), in.Units.FormatLength(by), lang.T(string(c.At)), in.force(size(s.Load.FrontLeft)))
	return out, err
}

// perchTurns is how many turns bring the cross to what is wanted.
func (in *In) perchTurns(c spring.CrossChange, w spring.Weights) (Result, error) {
	t, err := spring.TurnsForCross(c)
	if err != nil {
		return Result{}, err
	}
	out, err := in.perchResult(c, w, t.Shift)
	many, corner := around(t.Turns.Value.Count(), t.Turns.Expanded().Count()), lang.T(string(c.At))
	switch t.Way {
	case spring.Raise:
		out.Figure = lang.F("%s turns to raise the %s", many, corner)
	case spring.Lower:
		out.Figure = lang.F("%s turns to lower the %s", many, corner)
	default:
		out.Figure = lang.T("Nothing to turn")
	}
	out.Words = lang.T("A quarter of these turns at each corner, raising one diagonal and lowering the other, changes the cross as much and nearly keeps the heights.")
	out.Line = lang.F("Cross from %s to %v: %s at the wheel ÷ %s per turn = %v turns", in.share(w.Cross), c.Wanted, in.Units.FormatLength(t.By), in.Units.FormatLength(c.PerTurn.Value), t.Turns.Value)
	return out, err
}

// perchResult is what a shift does to cross, loads and heights.
func (in *In) perchResult(c spring.CrossChange, w spring.Weights, s spring.Shift) (Result, error) {
	cross, err := s.Cross(w.Total.Value)
	if err != nil {
		return Result{}, err
	}
	points := lang.F("%s %% of the car", decimal(size(cross).Percent(), 2))
	words := lang.F("Cross up by %s", points)
	if cross < 0 {
		words = lang.F("Cross down by %s", points)
	}
	load := func(f quantity.Force) string {
		return plusOrMinus(f >= 0) + in.weight(quantity.Kilograms(size(f).KilogramsForce()))
	}
	height := func(l quantity.Length) string {
		if l < 0 {
			return lang.F("%s lower", in.Units.FormatLength(-l))
		}
		return lang.F("%s higher", in.Units.FormatLength(l))
	}
	loads := [4]string{load(s.Load.FrontLeft), load(s.Load.FrontRight), load(s.Load.RearLeft), load(s.Load.RearRight)}
	out := Result{Figure: words, Ask: spring.QuestionScales(c.Scales),
		Words: lang.T("The turned corner and the one across from it change together, the other two the opposite way. The total stays."),
		Rows:  []Row{{lang.F("Cross now, %s", lang.T(spring.CrossDiagonal)), in.share(w.Cross)}, {lang.T("Change of cross"), words}},
		Warn: []string{lang.F("Right for a stiff body, equal tracks, left and right springs alike, and %s. Weigh again before you believe it.", lang.T(spring.Bars)),
			lang.T("Ride height, camber and toe change with it: measure them again.")}}
	for i, l := range []quantity.Length{s.Height.FrontLeft, s.Height.FrontRight, s.Height.RearLeft, s.Height.RearRight} {
		name := lang.T(event.Corners[i].Words())
		out.Rows = append(out.Rows, Row{capital(name), lang.F("%s, body %s", loads[i], height(l))})
	}
	view := fourView(lang.F("The car from above with the change of load: front left %s, front right %s, rear left %s, rear right %s.", loads[0], loads[1], loads[2], loads[3]), loads, words)
	view.crossLine()
	out.Picture = view.picture()
	return out, nil
}

func plusOrMinus(up bool) string {
	if up {
		return "+"
	}
	return "−"
}
