package method

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/thrust"
	"strutcard/sync/event"
)

var thrustMethods = []Method{thrustAngle, setBack}

// thrustAngle is where the rear axle pushes the car.
var thrustAngle = Method{
	ID: "thrust_angle", Group: Toe, Title: "Thrust angle", Sets: event.Thrust,
	Words: "Read the toe of each rear wheel alone, to the centre line of the car: with strings or a gauge. The total does not say which way the axle points. Type the front wheels too to see how the steering wheel will sit.",
	Fields: slices.Concat(
		toeFields("rear_left", "Left rear wheel", Field{}), toeFields("rear_right", "Right rear wheel", Field{}),
		[]Field{{Name: "within", Label: "Each of these toes is sure to ±", Hint: "The ± beside the reading, the largest of them.", Kind: Angle}},
		toeFields("front_left", "Left front wheel", Field{Optional: true}), toeFields("front_right", "Right front wheel", Field{Optional: true}),
		[]Field{{Name: "ratio", Label: "Steering ratio", Hint: "Degrees at the steering wheel for one at the road wheels.", Kind: Count, Optional: true, Keep: true},
			{Name: "wheelbase", Label: "Wheelbase", Kind: Length, Optional: true, Keep: true},
			{Name: "wheelbase_mark", Label: "Smallest mark of what measured the wheelbase", Kind: Length, Optional: true, Keep: true, Instrument: true}}),
	Fill: fillThrust,
	Work: func(in *In) (Result, error) {
		rearLeft, rearRight, within := in.typedToe("rear_left"), in.typedToe("rear_right"), in.Angle("within")
		frontLeft, frontRight, ratio := in.typedToe("front_left"), in.typedToe("front_right"), quantity.Ratio(in.Count("ratio"))
		wheelbase, mark := in.Length("wheelbase"), in.Length("wheelbase_mark")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		rear, err := toeAxle(rearLeft, rearRight, within)
		if err != nil {
			return Result{}, err
		}
		t, err := thrust.FromRear(rear)
		if err != nil {
			return Result{}, err
		}
		right, err := t.In(thrust.PositiveRight) // as the record has it
		if err != nil {
			return Result{}, err
		}
		words, side := pushes(right)
		out := Result{Figure: in.worded(event.Thrust, right), Words: strings.Join(only(words, evenFront(side)), " "), Line: in.thrustLine(rear, right.Value), Ask: thrust.Question(right.Value), Rows: in.rearTotal(rearLeft, rearRight, within),
			Reading: angleReading(right, thrust.FormulaThrust, kept("worked out from the toe of both rear wheels, each ± %s", in.Units.FormatAngle(within)))}
		toes := map[event.Corner]quantity.Angle{event.RL: rear.Left.Value, event.RR: rear.Right.Value}
		if in.Has("front_left") || in.Has("front_right") {
			front, err := toeAxle(frontLeft, frontRight, within)
			if err == nil {
				err = in.steered(&out, words, t, front, ratio)
			}
			if err != nil {
				return Result{}, err
			}
			toes[event.FL], toes[event.FR] = front.Left.Value, front.Right.Value
		}
		if in.Has("wheelbase") && in.Has("wheelbase_mark") {
			if err := in.offset(&out, t, wheelbase, mark); err != nil {
				return Result{}, err
			}
		}
		out.Warn = append(out.Warn, lang.T("Makers disagree on the sign of a thrust angle. Compare by the side that it points to."))
		out.Picture = in.thrustPicture(toes, right.Value)
		return out, nil
	},
}

// fillThrust offers the toes of the record and the sheet's wheelbase.
func fillThrust(r Record) map[string]string {
	out := map[string]string{}
	r.offerWheelbase(out)
	for _, a := range []event.Axle{event.Rear, event.Front} {
		left, right := r.now(event.Toe, a.Corners()[0].Place()), r.now(event.Toe, a.Corners()[1].Place())
		if left == nil || right == nil {
			return out // the front alone says nothing
		}
		r.fillToe(out, string(a)+"_left", left)
		r.fillToe(out, string(a)+"_right", right)
		r.fillWithin(out, left, right)
	}
	r.fillWithin(out, r.now(event.Toe, event.FL.Place()), r.now(event.Toe, event.FR.Place()), r.now(event.Toe, event.RL.Place()), r.now(event.Toe, event.RR.Place()))
	return out
}

// toeAxle is two typed toes.
func toeAxle(left, right typedToe, u95 quantity.Angle) (thrust.Wheels, error) {
	l, err := left.sure(u95)
	if err != nil {
		return thrust.Wheels{}, err
	}
	r, err := right.sure(u95)
	return thrust.Wheels{Left: l, Right: r}, err
}

// pushes says where the rear axle pushes; side is empty when it cannot be told.
func pushes(right angle) (words string, side thrust.Side) {
	if (measure.Band[quantity.Angle]{}).Judge(right) != measure.NotMet {
		return lang.T("Whether the rear axle pushes to a side is too close to tell from these toes."), ""
	}
	if right.Value < 0 {
		return lang.T("The rear axle pushes towards the left."), thrust.Left
	}
	return lang.T("The rear axle pushes towards the right."), thrust.Right
}

// evenFront is what that does while the front toe is not known: with even front
// toe the steering wheel sits turned to the side that the thrust line points to.
func evenFront(side thrust.Side) string {
	if side == "" {
		return ""
	}
	wheel := lang.T("the left front wheel")
	if side == thrust.Right {
		wheel = lang.T("the right front wheel")
	}
	return lang.F("With even front toe the steering wheel sits turned %s while the car drives straight. To the thrust line %s is more IN than to the centre line, the other more OUT.", toSide(side), wheel)
}

// toSide is the side as a way to go.
func toSide(s thrust.Side) string {
	if s == thrust.Left {
		return lang.T("to the left")
	}
	return lang.T("to the right")
}

func (in *In) thrustLine(rear thrust.Wheels, right quantity.Angle) string {
	return lang.F("(left rear %s − right rear %s) ÷ 2 = %s; IN counts up, OUT counts down", in.toe(rear.Left.Value), in.toe(rear.Right.Value), in.Units.Value(event.Thrust, right.Mdeg()))
}

func (in *In) rearTotal(left, right typedToe, u95 quantity.Angle) []Row {
	b, err := twoToes(left, right, u95)
	if err != nil {
		return nil
	}
	return []Row{{lang.T("Rear total, left plus right"), in.worded(event.TotalToe, b.Total)}}
}

// steered adds the front toe to the thrust line and how the steering wheel sits.
func (in *In) steered(out *Result, words string, t thrust.Thrust, front thrust.Wheels, ratio quantity.Ratio) error {
	to, err := t.Front(front)
	if err != nil {
		return err
	}
	c, err := t.SteeringWheel(front, 0) // straight only where nothing else can be read from the toes
	if err != nil {
		return err
	}
	out.Rows = append(out.Rows, Row{lang.T("Left front toe to the thrust line"), in.worded(event.Toe, to.Left)}, Row{lang.T("Right front toe to the thrust line"), in.worded(event.Toe, to.Right)},
		Row{lang.T("Front total, the same as before"), in.worded(event.TotalToe, to.Total)})
	if c.Sits != measure.NotMet {
		out.Words = words + " " + lang.T("Whether the steering wheel sits straight is too close to tell from these toes.")
		return nil
	}
	out.Words = words + " " + lang.F("With these toes the steering wheel sits turned %s while the car drives straight.", toSide(c.Road.Side))
	out.Rows = append(out.Rows, Row{lang.T("Front wheels steered, driving straight"), in.steeredBy(c.Road)}, Row{lang.T("Of that from the rear axle"), in.steeredBy(c.Thrust)}, Row{lang.T("Of that from uneven front toe"), in.steeredBy(c.Front)})
	if !in.Has("ratio") {
		return nil
	}
	wheel, err := c.Angle(ratio)
	if err != nil {
		return err
	}
	out.Rows = append(out.Rows, Row{lang.T("At the steering wheel"), in.angle(wheel) + " " + toSide(c.Road.Side)})
	return nil
}

func (in *In) steeredBy(s thrust.Share) string {
	if s.Side == "" {
		return in.angle(s.By)
	}
	return in.angle(s.By) + " " + toSide(s.Side)
}

func (in *In) offset(out *Result, t thrust.Thrust, wheelbase, mark quantity.Length) error {
	o, err := t.Offset(wheelbase, mark)
	if err != nil {
		return err
	}
	text := in.length(o.By)
	if o.Rear != "" {
		text += " " + toSide(o.Rear)
	}
	out.Rows = append(out.Rows, Row{lang.T("The rear wheels run beside the front by"), text})
	return nil
}

// thrustPicture is the car from above with its centre line and its thrust line.
func (in *In) thrustPicture(toes map[event.Corner]quantity.Angle, right quantity.Angle) *Picture {
	p := planView(toes, right)
	p.Line("dashed", planMiddle, 26, planMiddle, 272)
	far := planRear - 34
	p.Line("accent", planMiddle, planRear, planMiddle+far*math.Tan(p.turned(right)), planRear-far)
	for _, c := range event.Corners {
		if toe, ok := toes[c]; ok {
			p.beside(c, in.toe(toe))
		}
	}
	words := in.Units.Value(event.Thrust, right.Mdeg())
	p.Label("middle", planMiddle, planHigh-4, lang.F("thrust %s", words))
	p.Alt = lang.F("The car from above: centre line dashed, thrust line %s from the middle of the rear axle.", words)
	return &p.Picture
}

// setBack is a wheelbase that differs from side to side.
var setBack = Method{
	ID: "set_back", Group: Toe, Title: "Wheelbase left and right",
	Words: "Steering wheel straight, car on its wheels. Measure from front to rear hub centre on each side, and the track between the hubs.",
	Fields: []Field{
		{Name: "left", Label: "Wheelbase on the left", Kind: Length},
		{Name: "right", Label: "Wheelbase on the right", Kind: Length},
		{Name: "track", Label: "Track, hub to hub", Kind: Length, Keep: true},
		{Name: "mark", Label: "Smallest mark of the tape", Kind: Length, Keep: true, Instrument: true},
	},
	Work: func(in *In) (Result, error) {
		w := thrust.Wheelbases{Left: in.Length("left"), Right: in.Length("right"), Track: in.Length("track"), Resolution: in.Length("mark")}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		s, err := thrust.FromWheelbases(w)
		if err != nil {
			return Result{}, err
		}
		f := in.Units.FormatLength
		longer, shorter := max(w.Left, w.Right), min(w.Left, w.Right)
		words, figure := lang.T("Both sides are alike."), in.length(s.By)
		switch s.Short {
		case thrust.Left:
			figure = lang.F("%s shorter on the left", figure)
			words = lang.T("On the left the wheels stand nearer together. Which axle stands askew, this does not say.")
		case thrust.Right:
			figure = lang.F("%s shorter on the right", figure)
			words = lang.T("On the right the wheels stand nearer together. Which axle stands askew, this does not say.")
		}
		return Result{Figure: figure, Words: words, Line: fmt.Sprintf("%s − %s = %s; atan(%s ÷ %s) = %s", in.lengthFigure(longer), f(shorter), f(s.By.Value), f(s.By.Value), f(w.Track), in.Units.FormatAngle(s.Angle.Value)),
			Rows: []Row{{lang.T("As an angle over the track"), in.angle(s.Angle)}}, Ask: thrust.QuestionSetback(s), Picture: in.setBackPicture(w, words),
			Warn: []string{lang.T("Some cars are built with unequal wheelbases. The manual decides.")}}, nil
	},
}

func (in *In) setBackPicture(w thrust.Wheelbases, words string) *Picture {
	f := in.Units.FormatLength
	p := planView(nil)
	for _, end := range []struct {
		front, rear event.Corner
		base        quantity.Length
	}{{event.FL, event.RL, w.Left}, {event.FR, event.RR, w.Right}} {
		x, y := p.at(end.front)
		_, low := p.at(end.rear)
		p.Line("accent", x, y, x, low)
		anchor, at := "start", x+planLabel-8
		if x < planMiddle {
			anchor, at = "end", x-planLabel+8
		}
		p.Label(anchor, at, (y+low)/2+5, f(end.base))
	}
	p.between(event.Rear, false, f(w.Track))
	p.Alt = lang.F("The car from above: wheelbase %s on the left and %s on the right, track %s. %s", f(w.Left), f(w.Right), f(w.Track), words)
	return &p.Picture
}
