package method

import (
	"cmp"
	"math"
	"slices"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/toe"
	"strutcard/sync/event"
)

// What is known of the front toe before the rods are turned.
const (
	eachWheel = "wheels"
	onlyTotal = "total"
)

// trackRod is how far to turn each rod, the steering wheel staying straight or
// being put straight.
var trackRod = Method{
	ID: "track_rod", Group: Toe, Title: "Turns of the track rods",
	Words: "Set camber first, then the rear axle, and hold the steering wheel straight. Turn the rods and tighten the lock nuts as the manual says. No part of your body goes under a car held only by a jack. Roll the car and measure again.",
	Fields: slices.Concat(
		[]Field{{Name: "now", Label: "What was read in front", Kind: Choice, Options: []Option{{eachWheel, "each wheel"}, {onlyTotal, "only the total"}}}},
		toeFields("left", "Left front wheel", Field{When: "now=" + eachWheel}), toeFields("right", "Right front wheel", Field{When: "now=" + eachWheel}),
		toeFields("total", "Front total", Field{When: "now=" + onlyTotal}),
		[]Field{{Name: "within", Label: "What was read is sure to ±", Hint: "The ± that stands beside each reading. If the two differ, the larger one.", Kind: Angle}},
		steeringFields, toeFields("want", "The wanted toe", Field{}),
		[]Field{{Name: "want_scope", Label: "The wanted toe is", Kind: Choice, Options: scopes}}, rodFields),
	Fill: fillRod,
	Work: func(in *In) (Result, error) {
		job := in.rodJob()
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		now, change, err := job.change()
		if err != nil {
			return Result{}, err
		}
		advice, err := toe.Advise(now, change, job.rod)
		if err != nil {
			return Result{}, err
		}
		out := Result{Figure: lang.F("Left: %s. Right: %s.", rodWords(advice.Left), rodWords(advice.Right)), Words: rotationWords(advice),
			Line: lang.F("left %s; right %s", in.rodLine(job.rod, change.Left.Value, advice.Left), in.rodLine(job.rod, change.Right.Value, advice.Right)),
			Rows: in.rodRows(job.rod, advice), Ask: cmp.Or(toe.QuestionAdvice(advice), toe.Question(now)), Picture: in.rodPicture(job.rod, now, advice),
			Warn: []string{lang.T("Front wheels are set to the line that the rear axle drives along. If the rear pushes to a side, use the toe to the thrust line."), lang.T(toe.AfterCamber)}}
		return out, in.rodLengths(&out, job, advice)
	},
}

var steeringFields = []Field{
	{Name: "turned", Label: "Driving straight, the steering wheel sits", Kind: Choice, When: "now=" + onlyTotal,
		Options: []Option{{string(toe.Straight), "straight"}, {string(toe.TurnedLeft), "turned left"}, {string(toe.TurnedRight), "turned right"}}},
	{Name: "turned_by", Label: "Turned by", Kind: Angle, When: "turned=left|right"},
	{Name: "turned_step", Label: "Read to", Hint: "How finely the angle of the steering wheel could be read, such as 5°.", Kind: Angle, When: "turned=left|right"},
	{Name: "ratio", Label: "Steering ratio", Hint: "Degrees at the steering wheel for one at the road wheels.", Kind: Count, Keep: true, When: "turned=left|right"},
}

var rodFields = []Field{
	{Name: "thread", Label: "The rod turns in", Kind: Choice, Keep: true, Options: []Option{{string(toe.OneThread), "one thread"}, {string(toe.OppositeThreads), "a sleeve with opposite threads"}}},
	{Name: "joint", Label: "The rod is joined", Kind: Choice, Keep: true, Options: []Option{{string(toe.Ahead), "ahead of the wheel centre"}, {string(toe.Behind), "behind the wheel centre"}}},
	{Name: "pitch", Label: "Pitch of the thread", Hint: "Measure ten threads and divide by ten.", Kind: Length, Keep: true},
	{Name: "arm", Label: "Steering arm", Hint: "Square from the line of ball joint and top mount to the rod.", Kind: Length, Keep: true},
	{Name: "arm_mark", Label: "Smallest mark of what measured the arm", Kind: Length, Keep: true, Instrument: true},
	{Name: "rod_left", Label: "Left rod now", Hint: "Its length, or the thread that shows. Measure before anything turns.", Kind: Length, Optional: true},
	{Name: "rod_right", Label: "Right rod now, at the same places", Kind: Length, Optional: true},
	{Name: "rod_mark", Label: "Smallest mark of what measured the rods", Kind: Length, Optional: true, Keep: true, Instrument: true},
	{Name: "rod_limit", Label: "The rods may differ by, from the manual", Kind: Length, Optional: true, Keep: true},
}

// rodJob is what was typed of trackRod.
type rodJob struct {
	now                string
	left, right, total typedToe
	within             quantity.Angle
	steering           toe.Wheel
	want               typedToe
	scope              toe.Scope
	rod                toe.Rod
	lengths            toe.RodLengths
	limit              quantity.Length
}

func (in *In) rodJob() rodJob {
	return rodJob{now: in.Choice("now"), left: in.typedToe("left"), right: in.typedToe("right"), total: in.typedToe("total"), within: in.Angle("within"),
		steering: toe.Wheel{Turned: toe.Turned(in.Choice("turned")), By: in.Angle("turned_by"), Resolution: in.Angle("turned_step"), Ratio: quantity.Ratio(in.Count("ratio"))},
		want:     in.typedToe("want"), scope: toe.Scope(in.Choice("want_scope")),
		rod:     toe.Rod{Thread: toe.Thread(in.Choice("thread")), Joint: toe.Joint(in.Choice("joint")), Pitch: in.Length("pitch"), Arm: in.Length("arm"), Resolution: in.Length("arm_mark")},
		lengths: toe.RodLengths{Left: in.Length("rod_left"), Right: in.Length("rod_right"), Resolution: in.Length("rod_mark")}, limit: in.Length("rod_limit")}
}

// change is the toe now and what each wheel has to change by.
func (j rodJob) change() (toe.Both, toe.Correction, error) {
	want, err := toe.FromAngle(j.want.size, j.want.way, j.scope)
	if err != nil {
		return toe.Both{}, toe.Correction{}, err
	}
	if j.now == onlyTotal {
		now, err := j.total.total(j.within)
		if err != nil {
			return toe.Both{}, toe.Correction{}, err
		}
		c, err := toe.ForTotal(now, want, j.steering)
		return now, c, err
	}
	now, err := twoToes(j.left, j.right, j.within)
	if err != nil {
		return toe.Both{}, toe.Correction{}, err
	}
	c, err := toe.ForWheels(now, want)
	return now, c, err
}

// twoToes joins two typed toes.
func twoToes(left, right typedToe, u95 quantity.Angle) (toe.Both, error) {
	l, err := left.sure(u95)
	if err != nil {
		return toe.Both{}, err
	}
	r, err := right.sure(u95)
	if err != nil {
		return toe.Both{}, err
	}
	return toe.FromWheels(l, r, toe.RunoutMissing)
}

// rodWords is what to do with one rod.
func rodWords(t toe.Turn) string {
	switch t.Rod {
	case toe.Longer:
		return lang.F("%s longer", turnWords(t.Eighths))
	case toe.Shorter:
		return lang.F("%s shorter", turnWords(t.Eighths))
	}
	return lang.T("no turn")
}

// turnWords writes eighths of a turn as people say them.
func turnWords(eighths quantity.Turns) string {
	whole, part := math.Floor(eighths.Count()/8), int(math.Mod(eighths.Count(), 8))
	text := []string{"", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"}[part]
	switch {
	case whole == 0:
		return lang.F("%s turn", text)
	case part == 0 && whole == 1:
		return lang.T("1 turn")
	case part == 0:
		return lang.F("%.0f turns", whole)
	}
	return lang.F("%.0f %s turns", whole, text)
}

func rotationWords(a toe.Advice) string {
	switch {
	case a.Rotation == toe.SameWay:
		return lang.T("One rod gets longer and the other shorter. With the same hand of thread on both, turn them the same way round, seen from one side of the car.")
	case a.Rotation == toe.OppositeWay:
		return lang.F("Both rods get %s. With the same hand of thread on both, turn them opposite ways round, seen from one side of the car.", lang.T(string(a.Left.Rod)))
	case a.Left.Rod == "" && a.Right.Rod == "":
		return lang.T("Leave both rods: what is missing is less than a sixteenth of a turn.")
	}
	return lang.T("One rod stays as it is.")
}

func (in *In) rodLine(r toe.Rod, change quantity.Angle, t toe.Turn) string {
	pitch := in.Units.FormatLength(r.Pitch)
	if r.Thread == toe.OppositeThreads {
		pitch = "(2 × " + pitch + ")"
	}
	amount, _ := toe.Say(change)
	return lang.F("%s wanted: tan(%s) × %s ÷ %s a turn = %s", in.toe(change), in.Units.FormatAngle(amount), in.Units.FormatLength(r.Arm), pitch, t.Exact)
}

func (in *In) rodRows(r toe.Rod, a toe.Advice) []Row {
	var rows []Row
	if one, err := r.PerTurn(); err == nil {
		rows = append(rows, Row{lang.T("One turn changes that wheel by"), in.Units.FormatAngle(one.Value)})
	}
	if a.Left.Rod != "" {
		rows = append(rows, Row{lang.T("Left rod brings"), in.worded(event.Toe, a.Left.Brings)})
	}
	if a.Right.Rod != "" {
		rows = append(rows, Row{lang.T("Right rod brings"), in.worded(event.Toe, a.Right.Brings)})
	}
	rows = append(rows, Row{lang.T("Then expect in total"), in.worded(event.TotalToe, a.Expected.Total)})
	if left, right, ok := a.Expected.Wheels(); ok {
		return append(rows, Row{lang.T("Left front wheel then"), in.worded(event.Toe, left)}, Row{lang.T("Right front wheel then"), in.worded(event.Toe, right)})
	}
	return append(rows, Row{lang.T("Per wheel then, if both have the same"), in.worded(event.Toe, a.Expected.Half)})
}

// rodLengths adds how much the rods will differ, when they were measured.
func (in *In) rodLengths(out *Result, j rodJob, a toe.Advice) error {
	if !in.Has("rod_left") && !in.Has("rod_right") {
		out.Warn = append(out.Warn, lang.T("Measure both rods before anything turns, and note it: a manual limits how much they may differ."))
		return nil
	}
	d, err := j.lengths.Difference(a, j.rod)
	if err != nil {
		return err
	}
	longer := lang.T("left longer")
	if d.Value < 0 {
		longer = lang.T("right longer")
	}
	out.Rows = append(out.Rows, Row{lang.T("The rods will differ by"), in.length(measure.Value[quantity.Length]{Value: size(d.Value), Standard: d.Standard}) + ", " + longer})
	question := toe.QuestionRods(d, j.limit)
	if j.limit > 0 {
		out.Ask = cmp.Or(out.Ask, question)
	} else {
		out.Warn = append(out.Warn, question)
	}
	return nil
}

// rodPicture is the car from above with both rods and what to do with each.
func (in *In) rodPicture(r toe.Rod, now toe.Both, a toe.Advice) *Picture {
	left, right, ok := now.Wheels()
	if !ok {
		left, right = now.Half, now.Half
	}
	p := planView(map[event.Corner]quantity.Angle{event.FL: left.Value, event.FR: right.Value})
	back := planHalfLen - 4
	if r.Joint == toe.Ahead {
		back = -back
	}
	for _, c := range event.Front.Corners() {
		x, y := p.at(c)
		t := a.Left
		if c == event.FR {
			t = a.Right
		}
		lines := []string{lang.T("no turn")}
		if t.Rod != "" {
			lines = []string{turnWords(t.Eighths), lang.T(string(t.Rod))}
		}
		p.Line("accent", planMiddle+(x-planMiddle)/4, y+back, x, y+back)
		p.beside(c, lines...)
	}
	p.Line("heavy", planMiddle-planTrack/4, planFront+back, planMiddle+planTrack/4, planFront+back)
	p.Label("middle", planMiddle, 150, in.toe(now.Total.Value))
	p.Small("middle", planMiddle, 166, lang.T("total now"))
	joined := lang.T("ahead of the wheel centres")
	if r.Joint == toe.Behind {
		joined = lang.T("behind the wheel centres")
	}
	p.Alt = lang.F("The car from above with both track rods, joined %s. Left rod: %s. Right rod: %s.", joined, rodWords(a.Left), rodWords(a.Right))
	return &p.Picture
}
