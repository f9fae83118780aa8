package method

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/calc/lift"
	"strutcard/calc/quantity"
)

// liftSlope is the fall of the ground where the car is to go up.
var liftSlope = Method{
	ID: "lift_slope", Group: Equipment, Title: "Slope of the ground",
	Words: "Lay a level or a straight bar of about a metre where the car will stand. Lift its low end until it is level, and measure from there down to the ground. Do it along the car and across it, each by itself.",
	Fields: []Field{
		{Name: "fall", Label: "How much the ground falls", Hint: "0 when it does not.", Kind: Length},
		{Name: "down", Label: "It falls to the", Kind: Choice, Options: []Option{{string(lift.ToFront), "front of the car"}, {string(lift.ToRear), "rear of the car"},
			{string(lift.ToLeft), "left"}, {string(lift.ToRight), "right"}, {levelFloor, "neither: level"}}},
		{Name: "over", Label: "Over a length of", Kind: Length, Keep: true},
		{Name: "run", Label: "That length was measured along", Kind: Choice, Keep: true, Options: slopeRuns},
		{Name: "mark", Label: "Smallest mark of the ruler that read the fall", Kind: Length, Keep: true, Instrument: true},
		{Name: "mass", Label: "Mass of the car", Hint: "Filled in where the sheet states it. For the pull downhill.", Kind: Mass, Optional: true, Keep: true},
	},
	Fill: func(r Record) map[string]string {
		if r.Sheet == nil || r.Sheet.Vehicle.MassG <= 0 {
			return nil
		}
		return map[string]string{"mass": quantity.MassFigure(quantity.MassFromG(r.Sheet.Vehicle.MassG), r.Units.OrDefault().Mass)}
	},
	Work: func(in *In) (Result, error) {
		s := lift.Slope{Fall: in.Length("fall"), Over: in.Length("over"), Run: lift.Run(in.Choice("run")), Resolution: in.Length("mark")}
		if down := in.Choice("down"); down != levelFloor {
			s.Down = lift.Way(down)
		}
		mass := in.Mass("mass")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		return in.slopeFound(s, mass)
	},
}

func (in *In) slopeFound(s lift.Slope, mass quantity.Mass) (Result, error) {
	grade, err := lift.Grade(s)
	if err != nil {
		return Result{}, err
	}
	verdict := lift.JudgeSlope(grade)
	fall, over := in.Units.FormatLength(s.Fall), in.Units.FormatLength(s.Over)
	steep := percent(grade.High())
	out := Result{Figure: within(grade.Value.Percent(), grade.Expanded().Percent(), "%"),
		Words: lang.F("%s along this line: it may fall by %s. %s", capital(lang.T(slopeWords[verdict])), steep, lang.T(downhillWords[s.Down])),
		Line:  fmt.Sprintf("%s ÷ %s = %s", fall, over, percent(grade.Value)),
		Rows:  []Row{{lang.T("As an angle"), in.Units.FormatAngle(lift.GradeAngle(grade.Value))}},
		Warn: []string{lang.F("Look for a more level place from %s, do not lift beyond %s: common practice, no source. The rules only say hard and level.", lift.SlopeAsked, lift.SlopeStopped),
			lang.T("One line tells one direction. The plan of the lift takes both together.")},
		Picture: slopePicture(fall, over, percent(grade.Value), s.Down)}
	if s.Run == lift.AlongGround {
		out.Line = fmt.Sprintf("tan(asin(%s ÷ %s)) = %s", fall, over, percent(grade.Value))
	}
	if verdict == lift.SlopeStop {
		out.Stop = []string{lang.T("Stop: do not raise the car here; find level ground.")}
	}
	if in.Has("mass") {
		force, err := lift.DownhillForce(mass, lift.GradeAngle(grade.High()))
		if err != nil {
			return Result{}, err
		}
		out.Rows = append(out.Rows, Row{lang.T("Pulls the car downhill with up to"), in.push(force)})
	}
	return out, nil
}

var downhillWords = map[lift.Way]string{
	"": "It shows no way downhill.", lift.ToFront: "Downhill is towards the front: the chocks in front of the wheels hold it.", lift.ToRear: "Downhill is towards the rear: the chocks behind the wheels hold it.",
	lift.ToLeft: "Downhill is towards the left: the stands on the left carry more.", lift.ToRight: "Downhill is towards the right: the stands on the right carry more.",
}

// percent is a slope to the hundredth, as a millimetre over ten metres.
func percent(r quantity.Ratio) string { return decimal(r.Percent(), 2) + " %" }

func slopePicture(fall, over, grade string, down lift.Way) *Picture {
	p := &Picture{Height: 130, Note: lang.T("The slope drawn larger."), Alt: lang.F("A level held level over ground that falls by %s over %s: %s. %s", fall, over, grade, lang.T(downhillWords[down]))}
	if down == "" {
		p.Note = ""
		p.Line("ink", 20, 55, 300, 55)
		p.Line("heavy", 40, 50, 230, 50)
		p.Label("middle", 135, 35, over)
		p.Label("middle", 135, 100, grade)
		return p
	}
	p.Line("ink", 20, 51, 300, 100)
	p.Line("heavy", 40, 50, 230, 50)
	p.Line("accent", 230, 52, 230, 87)
	p.Label("middle", 135, 35, over)
	p.Label("start", 238, 72, fall)
	p.Label("middle", 120, 112, grade)
	p.Small("start", 250, 122, lang.T(string(down))+" →")
	return p
}
