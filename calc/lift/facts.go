package lift

import (
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// place is where a support is, as far as it is known.
type place struct {
	offset span
	known  bool
}

// known is what a plan computes with: a span for each fact, as wide as the fact
// is uncertain, and the list of those that are missing.
type known struct {
	car  Car
	lift Lift

	axle          map[End]span
	total         span
	base, height  span
	radius, raise span
	share         span
	along, across span // downhill to the front, to the right positive
	at, jackAt    map[End]place
	rated         map[End]span
	ratedJack     span
	missing       []Fact
}

func (k *known) ask(key Key, bounded bool, text string) {
	k.missing = append(k.missing, Fact{key, text, bounded})
}

// know reads every fact, refuses what is impossible, lists what is missing.
func know(c Car, l Lift) (*known, error) {
	k := &known{car: c, lift: l, axle: map[End]span{}, at: map[End]place{}, jackAt: map[End]place{}, rated: map[End]span{}}
	for _, read := range []func() error{k.weights, k.lengths, k.split, k.slopes, k.places, k.ratings} {
		if err := read(); err != nil {
			return nil, err
		}
	}
	k.words()
	return k, nil
}

func (k *known) weights() error {
	w := k.car.Weights
	nothing := w.Mass == 0 && w.Front == 0 && w.Rear == 0
	if w.Basis == "" {
		if !nothing {
			k.ask("basis", true, lang.T("Was the car weighed as it stands, or is the mass from its papers? Until then it counts as from papers."))
		}
		w.Basis = Papers
	}
	if nothing && w.Resolution == 0 {
		w.Resolution = 1
	}
	if err := w.check(); err != nil {
		return err
	}
	if nothing || (w.Front > 0) != (w.Rear > 0) {
		k.ask("mass", false, lang.T("How heavy is the car, with all that is in it? Weigh both axles, or look in its papers."))
		k.unknownAxles(span{0, possibleMass.hi})
		return nil
	}
	if w.Mass > 0 && w.FrontShare == 0 {
		k.ask("front_share", true, lang.T("How much of the car stands on its front axle? Until then each axle may carry all of it."))
		total, err := w.mass(w.Mass)
		k.unknownAxles(spanOf(total))
		return err
	}
	a, err := AxleLoads(w)
	k.axle[Front], k.axle[Rear], k.total = spanOf(a.Front), spanOf(a.Rear), spanOf(a.Total)
	return err
}

func (k *known) unknownAxles(total span) {
	k.total = total
	k.axle[Front], k.axle[Rear] = span{0, total.hi}, span{0, total.hi}
}

func (k *known) lengths() error {
	var err error
	c := k.car
	if k.base, err = k.length("wheelbase", lang.T("the wheelbase"), lang.T("How long is the wheelbase?"), c.Wheelbase, c.Tape, possibleBase); err != nil {
		return err
	}
	if k.radius, err = k.length("wheel_radius", lang.T("the height of the wheel centre"), lang.T("How high is the wheel centre above the ground?"), c.WheelRadius, c.Tape, possibleRadius); err != nil {
		return err
	}
	if k.raise, err = k.length("raise", lang.T("the raise"), lang.T("By how much is the car raised, at the wheel centres?"), k.lift.Raise, k.lift.Tape, possibleRaise); err != nil {
		return err
	}
	k.height = possibleHeight
	if c.CentreHeight == (measure.Value[quantity.Length]{}) {
		k.ask(KeyCentreHeight, true, lang.T("How high is the centre of gravity above the ground? Until then the range of all road cars counts, 0.25 to 1.2 m."))
		return nil
	}
	if err := checkHeight(c.CentreHeight); err != nil {
		return err
	}
	k.height = spanOf(c.CentreHeight)
	if k.height.hi <= k.radius.lo {
		return quantity.Inputf("Check both heights and their unit.", "The centre of gravity is not above the wheel centres.")
	}
	return nil
}

func (k *known) length(key Key, what, ask string, v, resolution quantity.Length, possible span) (span, error) {
	if v == 0 {
		k.ask(key, true, ask)
		return possible, nil
	}
	if err := length(what, v, resolution, possible); err != nil {
		return span{}, err
	}
	return spanOf(measure.Value[quantity.Length]{Value: v, Standard: measure.Resolution(resolution)}), nil
}

func (k *known) split() error {
	var err error
	if k.share, err = k.car.Split.span(); err != nil {
		return err
	}
	if k.car.Split.Heavier == 0 && k.car.Split.Allow != Yes {
		k.ask(KeySplit, true, lang.T("How do the two sides share the load? Weigh them, or accept 60 % on the heavier side as common practice. Until then one side may carry all of it."))
	}
	return nil
}

func (k *known) slopes() error {
	var err error
	if k.along, err = k.slope("slope_along", lang.T("How much does the ground fall along the car, over a metre, and towards which end?"), k.lift.Along, ToFront, ToRear); err != nil {
		return err
	}
	k.across, err = k.slope("slope_across", lang.T("How much does the ground fall across the car, over a metre, and towards which side?"), k.lift.Across, ToRight, ToLeft)
	return err
}

func (k *known) slope(key Key, ask string, s Slope, positive, negative Way) (span, error) {
	if !s.said() {
		k.ask(key, false, ask)
		return possibleSlope, nil
	}
	grade, err := Grade(s)
	if err != nil {
		return span{}, err
	}
	out := spanOf(grade).clamp(possibleSlope)
	switch s.Down {
	case negative:
		return span{-out.hi, -out.lo}, nil
	case positive:
		return out, nil
	case "":
		return span{-out.hi, out.hi}, nil
	}
	return span{}, quantity.Inputf("Give the fall along the car with front or rear, and the one across with left or right.", "The way downhill does not belong to this slope.")
}

func (k *known) places() error {
	for _, end := range k.lift.Raised.ends() {
		at, err := k.place("stands_at_"+Key(end), end.of(lang.T("Where are the front stands, seen from that axle's line along the car?"), lang.T("Where are the rear stands, seen from that axle's line along the car?")), k.lift.stands(end).At)
		if err != nil {
			return err
		}
		k.at[end] = at
		if base := k.lift.stands(end).Base; base == (Base{}) {
			k.ask("stand_base_"+Key(end), true, end.of(lang.T("How wide is the foot of the front stands, and how high are they set?"), lang.T("How wide is the foot of the rear stands, and how high are they set?")))
		} else if err := base.check(); err != nil {
			return err
		}
	}
	for _, end := range k.jackedEnds() {
		at := k.lift.Jack.Front
		if end == Rear {
			at = k.lift.Jack.Rear
		}
		if k.lift.Jack.Where == SideSill {
			continue
		}
		found, err := k.place("jack_at_"+Key(end), end.of(lang.T("Where does the jack take the front end, seen from that axle's line along the car?"), lang.T("Where does the jack take the rear end, seen from that axle's line along the car?")), at)
		if err != nil {
			return err
		}
		k.jackAt[end] = found
	}
	return nil
}

func (k *known) place(key Key, ask string, s Support) (place, error) {
	if s == (Support{}) {
		k.ask(key, true, ask)
		return place{}, nil
	}
	if err := s.check(); err != nil {
		return place{}, err
	}
	return place{s.span(), true}, nil
}

func (k *known) ratings() error {
	for _, end := range k.lift.Raised.ends() {
		k.rated[end] = span{0, possibleRating.hi}
		m := k.lift.stands(end).Marking
		if m.Figure == 0 || m.Unit == "" {
			k.ask("stands_rated_"+Key(end), false, end.of(lang.T("What are the front stands marked with: the number and its unit?"), lang.T("What are the rear stands marked with: the number and its unit?")))
			continue
		}
		rated, err := m.span()
		if err != nil {
			return err
		}
		k.rated[end] = rated
		if m.For == "" {
			k.ask("stands_for_"+Key(end), false, end.of(lang.T("Is that marking of the front stands for one stand or for the pair? Say so when the stand does not tell."), lang.T("Is that marking of the rear stands for one stand or for the pair? Say so when the stand does not tell.")))
		}
	}
	k.ratedJack = span{0, possibleRating.hi}
	if r := k.lift.Jack.Rated; r.Figure == 0 || r.Unit == "" {
		k.ask("jack_rated", false, lang.T("What is the jack marked with: the number and its unit?"))
		return nil
	}
	rated, err := k.lift.Jack.Rated.span()
	if err == nil && !rated.within(possibleRating) {
		err = quantity.Inputf("Check the number and its unit on the jack.", "A rating of %s is not that of a car jack.", quantity.Mass(rated.lo))
	}
	k.ratedJack = rated
	return err
}

// words asks for what is not a number.
func (k *known) words() {
	c, l := k.car, k.lift
	for _, q := range []struct {
		key     Key
		missing bool
		bounded bool
		ask     string
	}{
		{"jack_where", l.Jack.Where == "", false, lang.T("Does the jack go under the middle of the axle, under a corner, or under the middle of a side?")},
		{"first", l.Raised == AllWheels && l.First == "", false, lang.T("Which end goes up first?")},
		{"drive", c.Drive == "", false, lang.T("Which wheels does the engine drive?")},
		{"brake", c.Brake == "", false, lang.T("On which wheels does the parking brake act?")},
		{"gearbox", c.Gearbox == "", true, lang.T("Is the gearbox manual, or automatic with a P position?")},
		{"differential", c.Differential == "", true, lang.T("Is the differential open, limited-slip or locked? With all wheels driven: all of them.")},
		{"surface", l.Surface == "", false, lang.T("What do jack and stands stand on: concrete, asphalt, or something soft?")},
		{KeyHeavyPart, l.HeavyPart == "", false, lang.T("Does the job take off a heavy part, such as an axle, a subframe or an engine?")},
		{KeyBrakeReleased, l.BrakeReleased == "", false, lang.T("Does the job release the parking brake at any time?")},
	} {
		if q.missing {
			k.ask(q.key, q.bounded, q.ask)
		}
	}
}
