package method

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

// torquePasses is a torque with an angle after it, or a back-off before it.
var torquePasses = Method{
	ID: "torque_passes", Group: Torque, Title: "Torque and angle",
	Words: "Copy the stages from the maker's manual. Do each one on every bolt before the next begins, and turn the nut or the bolt that the manual names.",
	Fields: []Field{
		{Name: "loosened", Label: "Is it tightened and loosened once before?", Kind: Choice, Options: []Option{{"no", "no"}, {"yes", "yes"}}},
		{Name: "seat", Label: "First tighten to", Kind: TorqueValue, When: "loosened=yes"},
		{Name: "back", Label: "Then loosen by", Kind: Angle, When: "loosened=yes"},
		{Name: "torque", Label: "Tighten to", Kind: TorqueValue},
		{Name: "on", Label: "Then on by", Hint: "Leave open when the manual gives no angle.", Kind: Angle, Optional: true},
		{Name: "on_again", Label: "Then on again by", Kind: Angle, Optional: true},
	},
	Work: func(in *In) (Result, error) {
		passes := in.passes()
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		if err := torque.CheckPasses(passes); err != nil {
			return Result{}, err
		}
		out := Result{Warn: []string{lang.F("A bolt that is turned on by an angle, and many a locking nut, is used once only. %s", lang.T(makerDecides))}}
		for i, p := range passes {
			out.Rows = append(out.Rows, Row{lang.F("Pass %d", i+1), p.Words(in.Units.Torque)})
		}
		if end, ok := torque.FinalTorque(passes); ok {
			out.Figure, out.Words, out.Line = in.Units.FormatTorque(end), lang.T("The last torque counts. What was tightened before it was only to seat the parts."), in.stages(passes)
			return out, nil
		}
		return out, in.angled(&out, passes)
	},
}

func (in *In) passes() (out []torque.Pass) {
	if in.Choice("loosened") == "yes" {
		out = append(out, torque.Pass{Kind: torque.Snug, Torque: in.Torque("seat")}, torque.Pass{Kind: torque.BackOff, Angle: -in.Angle("back")})
	}
	kind := torque.Final
	if in.Has("on") || in.Has("on_again") {
		kind = torque.Snug
	}
	out = append(out, torque.Pass{Kind: kind, Torque: in.Torque("torque")})
	for _, name := range []string{"on", "on_again"} {
		if in.Has(name) {
			out = append(out, torque.Pass{Kind: torque.AngleOn, Angle: in.Angle(name)})
		}
	}
	return out
}

// stages is the list in one line.
func (in *In) stages(passes []torque.Pass) string {
	all := ""
	for i, p := range passes {
		stage := in.Units.FormatTorque(p.Torque)
		switch p.Kind {
		case torque.AngleOn:
			stage = lang.F("on %s", turnedBy(p.Angle))
		case torque.BackOff:
			stage = lang.F("back %s", turnedBy(-p.Angle))
		}
		if i > 0 {
			stage = lang.F("%s, then %s", all, stage)
		}
		all = stage
	}
	return all
}

// angled is the result when the last stage is an angle: flats instead of a torque.
func (in *In) angled(out *Result, passes []torque.Pass) error {
	total := torque.AngleAfter(passes)
	flats, err := torque.Flats(total)
	if err != nil {
		return err
	}
	one, err := torque.Flats(quantity.Degrees(360))
	if err != nil {
		return err
	}
	out.Figure = turnedBy(total) + " = " + flatsWords(flats)
	out.Words = lang.T("Flats are those of a six-sided head. Before the angle, paint one line across the head and the part beside it, and count how far the two have parted.")
	out.Line = lang.F("%s; a full turn is %s", in.stages(passes), flatsWords(one))
	out.Warn = append(out.Warn, lang.T("No torque can be quoted for it afterwards: it cannot be checked with a wrench."), lang.T("If the wheels are still to be aligned, ask the manual which stages wait until then. What waits is not fit for the road."))
	out.Picture = turnPicture(passes, total, flats)
	return nil
}

func flatsWords(n quantity.Turns) string {
	if n.String() == "1" {
		return lang.T("1 flat")
	}
	return lang.F("%s flats", n.String())
}

// turnPicture is the head from above, with the line on the part and where the
// line on the head comes to after each stage.
func turnPicture(passes []torque.Pass, total quantity.Angle, flats quantity.Turns) *Picture {
	end := total.Degrees()
	radius := func(degrees float64) float64 { return 60 + degrees/36 } // a second turn outside the first
	cx, cy := 90.0, radius(end)+24
	at := func(degrees, r float64) (x, y float64) {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return cx + r*sin, cy - r*cos
	}
	p := &Picture{Height: cy + radius(end) + 12, Note: lang.T("Clockwise tightens a right-hand thread."),
		Alt: lang.F("A six-sided head from above. The line on the head starts at the line on the part and is turned on clockwise by %s, %s.", turnedBy(total), flatsWords(flats))}
	var head, arc []float64
	for corner := 30.0; corner < 360; corner += 60 {
		x, y := at(corner, 46)
		head = append(head, x, y)
	}
	for d := 0.0; d < end; d += 6 {
		x, y := at(d, radius(d))
		arc = append(arc, x, y)
	}
	x, y := at(end, radius(end))
	p.Outline("heavy", head...)
	p.Line("accent", append(arc, x, y)...)
	ray := func(class string, degrees float64) {
		x1, y1 := at(degrees, 14)
		x2, y2 := at(degrees, radius(degrees)+8)
		p.Line(class, x1, y1, x2, y2)
	}
	ray("ink", 0)
	sum := 0.0
	for _, stage := range passes {
		if stage.Kind == torque.AngleOn {
			sum += stage.Angle.Degrees()
			ray("dashed", sum)
		}
	}
	p.Small("middle", cx, 12, lang.T("line on the part"))
	p.Label("end", 316, p.Height-22, turnedBy(total))
	p.Label("end", 316, p.Height-6, flatsWords(flats))
	return p
}
