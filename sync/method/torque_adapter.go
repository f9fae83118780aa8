package method

import (
	"fmt"
	"math"
	"slices"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

// torqueAdapter is a crowfoot, or a spanner, between wrench and bolt.
var torqueAdapter = Method{
	ID: "torque_adapter", Group: Torque, Title: "Setting with an adapter",
	Words: "Measure wrench and adapter apart, never both together. Pull square to the wrench, at the middle of the grip, with no pipe on the handle.",
	Fields: slices.Concat([]Field{
		{Name: "target", Label: "Torque at the bolt", Hint: "From the maker's manual.", Kind: TorqueValue},
		{Name: "lies", Label: "The adapter lies", Kind: Choice, Options: []Option{{"straight", "straight on: it makes the wrench longer"}, {"square", "square to the wrench"},
			{"back", "folded back over the wrench"}, {"angle", "at another angle"}}},
		{Name: "angle", Label: "Angle from straight on", Hint: "Straight on is 0°, square is 90°, folded back is 180°.", Kind: Angle, When: "lies=angle"},
		{Name: "lever", Label: "Wrench: middle of the grip to middle of the drive", Kind: Length, Keep: true},
		{Name: "adapter", Label: "Adapter: middle of the drive to middle of the bolt", Hint: "A socket extension along the bolt is no adapter: it changes nothing.", Kind: Length, Keep: true},
		{Name: "step", Label: "Step between two marks of the wrench", Hint: "The setting is then rounded down to a mark.", Kind: TorqueValue, Keep: true, Optional: true},
		{Name: "tolerance", Label: "Tolerance of the wrench", Hint: "From its certificate or manual, as a share of the value set.", Kind: Percent, Keep: true, Optional: true},
	}, wrenchFields(true)),
	Fill: fillWrench,
	Work: func(in *In) (Result, error) {
		s := adapted{target: in.Torque("target"), lever: in.Length("lever"), a: torque.Adapter{Angle: in.lies(), Length: in.Length("adapter")}}
		step, tolerance, w := in.Torque("step"), in.Percent("tolerance"), in.wrench()
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		if err := s.reckon(in, step); err != nil {
			return Result{}, err
		}
		out := Result{Figure: lang.F("Set %s", in.Units.FormatTorque(s.set)), Words: s.words(), Line: s.line(in), Picture: s.picture(in),
			Warn: []string{lang.T(makerDecides)}}
		if err := s.bolt(in, &out, tolerance); err != nil {
			return Result{}, err
		}
		return out, s.fit(in, &out, w)
	},
}

// adapted is a wrench with an adapter, and what it comes to.
type adapted struct {
	target        quantity.Torque
	lever         quantity.Length
	a             torque.Adapter
	reckoned, set quantity.Torque
}

func (in *In) lies() quantity.Angle {
	return map[string]quantity.Angle{"square": quantity.Degrees(90), "back": quantity.Degrees(180), "angle": in.Angle("angle")}[in.Choice("lies")]
}

func (s *adapted) reckon(in *In, step quantity.Torque) (err error) {
	if s.reckoned, err = torque.Setting(s.target, s.lever, s.a); err != nil {
		return err
	}
	s.set = s.reckoned
	if in.Has("step") {
		s.set, err = torque.Graduate(s.reckoned, step)
	}
	return err
}

func (s *adapted) words() string {
	switch {
	case s.reckoned.CNM() < s.target.CNM():
		return lang.T("The adapter makes the lever longer, so the wrench is set lower than what the bolt gets. Write down both.")
	case s.reckoned.CNM() > s.target.CNM():
		return lang.T("The adapter makes the lever shorter, so the wrench is set higher than what the bolt gets. Write down both.")
	}
	return lang.T("The adapter changes nothing as it lies. Keep it so while you pull.")
}

func (s *adapted) line(in *In) string {
	return fmt.Sprintf("%s × %s ÷ (%s + %s × cos %s) = %s", in.typedAs("target"), in.typedAs("lever"), in.typedAs("lever"), in.typedAs("adapter"), turnedBy(s.a.Angle), in.Units.FormatTorque(s.reckoned))
}

// bolt adds what the bolt gets, with the tolerance of the wrench where it is known.
func (s *adapted) bolt(in *In, out *Result, tolerance quantity.Ratio) error {
	low, high := s.set, s.set
	var err error
	if in.Has("tolerance") {
		if low, high, err = torque.Window(s.set, tolerance); err != nil {
			return err
		}
	} else {
		out.Warn = append(out.Warn, lang.T("The tolerance of the wrench is not reckoned in: it is not known here."))
	}
	if low, err = torque.Delivered(low, s.lever, s.a); err != nil {
		return err
	}
	if high, err = torque.Delivered(high, s.lever, s.a); err != nil {
		return err
	}
	gets := in.Units.FormatTorque(low)
	if high > low {
		gets = torques(in.Units, low, high)
	}
	out.Rows = append(out.Rows, Row{lang.T("Wanted at the bolt"), in.Units.FormatTorque(s.target)}, Row{lang.T("The bolt gets"), gets})
	return nil
}

// fit takes the large number away when the wrench cannot do it.
func (s *adapted) fit(in *In, out *Result, w torque.Wrench) error {
	if !in.Has("wrench_high") {
		out.Warn = append(out.Warn, lang.T("Look whether the setting lies inside the range of the wrench."))
		return nil
	}
	fit, err := w.Fit(s.set)
	if err != nil {
		return err
	}
	out.Rows = append(out.Rows, Row{lang.T("The setting is"), fit.Words()})
	if fit != torque.Within {
		out.Figure, out.Words = lang.T(notThisWrench), lang.F("The setting would be %s, which is %s.", in.Units.FormatTorque(s.set), fit.Words())
	}
	return nil
}

const notThisWrench = "Not with this wrench"

// picture is the plan of wrench and adapter, to scale.
func (s *adapted) picture(in *In) *Picture {
	const left, long = 30.0, 240.0
	scale := long / float64(s.lever+s.a.Length)
	sin, cos := math.Sincos(s.a.Angle.Radians())
	drive, out := left+float64(s.lever)*scale, float64(s.a.Length)*scale
	y := 48 + out*sin
	bx, by := drive+out*cos, y-out*sin
	lever, adapter := in.Units.FormatLength(s.lever), in.Units.FormatLength(s.a.Length)
	p := &Picture{Height: y + 48, Alt: lang.F("Wrench and adapter from above, to scale: wrench %s from grip to drive, adapter %s from drive to bolt, at %s to straight on. The pull is square to the wrench.", lever, adapter, turnedBy(s.a.Angle))}
	p.Line("heavy", left, y, drive, y)
	p.Line("accent", drive, y, bx, by)
	p.Circle("fill", drive, y, 3)
	p.Circle("ink", bx, by, 9)
	p.Line("ink", left, y+42, left, y+8, left-4, y+15)
	p.Line("ink", left, y+8, left+4, y+15)
	p.Small("start", left+8, y+40, lang.T("pull"))
	p.Label("middle", (left+drive)/2, y+20, lever)
	p.Small("middle", drive, y+36, lang.C("drive", "of a wrench"))
	p.Label("middle", min(max(bx, 66), 258), by-34, adapter)
	p.Small("middle", min(max(bx, 66), 296), by-18, lang.T("bolt"))
	if sin > 0.01 {
		p.Line("dashed", drive, y, drive+34, y)
		p.Small("start", drive+10, y+16, turnedBy(s.a.Angle))
	}
	return p
}
