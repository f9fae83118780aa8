package method

import (
	"fmt"
	"slices"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

var (
	specNumber = Option{"number", "one number"}
	specAround = Option{"around", "a number with a tolerance"}
	specRange  = Option{"range", "two limits"}
)

// specFields ask for a torque the way its source states it.
func specFields(ways ...Option) []Field {
	return []Field{
		{Name: "given", Label: "The source gives", Kind: Choice, Options: ways},
		{Name: "target", Label: "Torque", Hint: "From the maker's manual.", Kind: TorqueValue, When: "given=number|around"},
		{Name: "around", Label: "Plus or minus", Kind: TorqueValue, When: "given=around"},
		{Name: "least", Label: "Lower limit", Kind: TorqueValue, When: "given=range"},
		{Name: "most", Label: "Upper limit", Kind: TorqueValue, When: "given=range"},
	}
}

// spec reads them; call it before looking at Err, and the function it returns after.
func (in *In) spec() func() (torque.Spec, error) {
	given, target, around, least, most := in.Choice("given"), in.Torque("target"), in.Torque("around"), in.Torque("least"), in.Torque("most")
	return func() (torque.Spec, error) {
		switch given {
		case "number":
			return torque.Number(target)
		case "around":
			return torque.Around(target, around, around)
		}
		return torque.Range(least, most)
	}
}

// castleNut is a nut whose slots must meet the hole of the pin.
var castleNut = Method{
	ID: "castle_nut", Group: Torque, Title: "Castle nut and pin",
	Words: "Tighten to the lower limit first. Then go on, slowly, to the next slot. Never turn it back to line up.",
	Fields: slices.Concat(specFields(specRange, specAround), []Field{
		{Name: "slots", Label: "Slots of the nut", Hint: "Count them.", Kind: Count},
		{Name: "now", Label: "Now", Kind: Choice, Options: []Option{{"before", "not tightened yet"}, {"lined", "tightened, and a slot lines up"}, {"between", "tightened, and no slot lines up"}}},
		{Name: "reached", Label: "Torque that was reached", Kind: TorqueValue, When: "now=lined|between"},
	}),
	Work: func(in *In) (Result, error) {
		spec, slots, now, reached := in.spec(), in.Count("slots"), in.Choice("now"), in.Torque("reached")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		s, err := spec()
		if err != nil {
			return Result{}, err
		}
		nut := torque.Castle{Spec: s, Slots: slots}
		angle, err := nut.PerSlot()
		if err != nil {
			return Result{}, err
		}
		next, err := nut.Next(reached, now == "lined")
		if err != nil {
			return Result{}, err
		}
		figure := map[torque.CastleStep]string{torque.ToLow: lang.F("First to %s", in.Units.FormatTorque(s.Min)), torque.GoOn: lang.T("On to the next slot"), torque.PinIn: lang.T("Pin in"), torque.Stop: lang.T("Stop")}[next]
		rows := []Row{{lang.T("Never above"), in.Units.FormatTorque(s.Max)}}
		if next == torque.GoOn {
			rows = append(rows, Row{lang.T("Left to turn, at most"), turnedBy(angle)})
		}
		return Result{Figure: figure, Words: next.Words(), Line: lang.F("360° ÷ %s slots = %s from slot to slot; limits %s", slots, turnedBy(angle), torques(in.Units, s.Min, s.Max)),
			Rows: rows,
			Warn: []string{lang.T("A pin is used once. It goes through the hole and two slots, and both legs are bent."), lang.T(makerDecides)}}, nil
	},
}

// recheck is a click wrench on a bolt that is tight already.
var recheck = Method{
	ID: "recheck", Group: Torque, Title: "Check a tight bolt",
	Words: "Set the wrench no higher than the source states. Pull slowly in the tightening direction and watch whether bolt or nut turns before the click. Stop at the click.",
	Fields: slices.Concat(specFields(specNumber, specRange, specAround), []Field{
		{Name: "set", Label: "Value set on the wrench", Kind: TorqueValue},
		{Name: "tolerance", Label: "Tolerance of the wrench", Hint: "From its certificate or manual, as a share of the value set.", Kind: Percent, Keep: true},
		{Name: "moved", Label: "Before the click it", Kind: Choice, Options: []Option{{string(torque.Still), "stood still"}, {string(torque.Moved), "turned"}}},
	}),
	Work: func(in *In) (Result, error) {
		spec, set, e, moved := in.spec(), in.Torque("set"), in.Percent("tolerance"), torque.Movement(in.Choice("moved"))
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		s, err := spec()
		if err != nil {
			return Result{}, err
		}
		r, err := torque.Recheck(s, set, e, moved)
		if err != nil {
			return Result{}, err
		}
		out := Result{Words: r.Words(in.Units.Torque), Rows: []Row{{lang.T("The source says"), s.Words(in.Units.Torque)}},
			Warn: []string{lang.T("A click says nothing on overtightening: only that it is not looser than the value set, as well as this wrench can tell."),
				lang.T("The friction of a bolt that has stood can hide that it is a little slack. One that was turned on by an angle cannot be checked so."), lang.T(makerDecides)}}
		recheckFigure(in, &out, r, e)
		return out, nil
	},
}

func recheckFigure(in *In, out *Result, r torque.Rechecked, e quantity.Ratio) {
	set := in.Units.FormatTorque(r.Set)
	if r.AtLeast > 0 {
		least := in.Units.FormatTorque(r.AtLeast)
		out.Figure, out.Line = lang.F("At least %s", least), fmt.Sprintf("%s ÷ (1 + %s) = %s", set, e, least)
		return
	}
	below := in.Units.FormatTorque(r.Below)
	out.Figure, out.Line = lang.F("Held less than %s", below), fmt.Sprintf("%s ÷ (1 − %s) = %s", set, e, below)
	if r.Finding == torque.Unproven {
		out.Figure = lang.T("Nothing is shown")
	}
}
