package method

import (
	"slices"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

// classOptions are the wrenches among the classes; screwdrivers are left out.
func classOptions() (out []Option) {
	for _, c := range torque.Classes() {
		if words := c.Words(); !c.Screwdriver() {
			out = append(out, Option{string(c), string(c) + ": " + words})
		}
	}
	return out
}

const classWarn = "Tolerances by class are those of ISO 6789; all but class II A are written here from memory. The certificate of the wrench decides."

// torqueWrench is what a wrench can do.
var torqueWrench = Method{
	ID: "torque_wrench", Group: Torque, Title: "What a wrench can do",
	Words: "Read the range off the scale or from its manual. Never set it above the highest value, and never use a pipe.",
	Fields: slices.Concat(wrenchFields(false), []Field{
		{Name: "by", Label: "Its tolerance is known", Kind: Choice, Keep: true, Options: []Option{{"class", "by type and class"}, {"value", "in % of the value set"}, {"scale", "in % of the full scale"}, {"unknown", "not at all"}}},
		{Name: "class", Label: "It looks like", Kind: Choice, Keep: true, When: "by=class", Options: classOptions()},
		{Name: "tolerance", Label: "Tolerance stated", Kind: Percent, Keep: true, When: "by=value|scale"},
		{Name: "value", Label: "Value to set", Kind: TorqueValue, Optional: true},
		{Name: "months", Label: "Months since its last check", Kind: Count, Optional: true},
	}),
	Fill: fillWrench,
	Work: func(in *In) (Result, error) {
		w, set, months := in.wrench(), in.Torque("value"), in.Count("months")
		p := promise{by: in.Choice("by"), class: torque.Class(in.Choice("class")), stated: in.Percent("tolerance")}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		low, high, err := w.Usable()
		if err != nil {
			return Result{}, err
		}
		out := Result{Figure: torques(in.Units, low, high), Words: lang.T("This is the range that it may be set in."), Line: lang.F("As its maker marks it: %s", torques(in.Units, low, high)),
			Warn: only(torque.QuestionInterval(months, 0), lang.T("What it promises holds only while it is in order. Its maker's manual decides."))}
		if w.Lowest == 0 {
			out.Line = lang.F("%s × %s = %s, the lowest value", quantity.Ratio(low/high), in.Units.FormatTorque(high), in.Units.FormatTorque(low))
			out.Warn = append(out.Warn, lang.T("Its lowest value is not stated. To begin at a fifth of the full scale is common practice; look in its manual."))
		}
		if p.by == "class" {
			out.Warn = append(out.Warn, lang.T(classWarn))
		}
		if !in.Has("value") {
			return out, nil
		}
		return out, in.wrenchAt(&out, w, set, p)
	},
}

// promise is how well a wrench is said to do.
type promise struct {
	by     string
	class  torque.Class
	stated quantity.Ratio
}

// at is the tolerance at a value, as a share of it; zero when it is not known.
func (p promise) at(w torque.Wrench, set quantity.Torque) (quantity.Ratio, error) {
	switch p.by {
	case "class":
		return p.class.Tolerance(w.Highest)
	case "scale":
		return w.OfFullScale(p.stated, set)
	}
	return p.stated, nil
}

// wrenchAt turns the result to one value: what the bolt may get, or that this
// wrench cannot do it.
func (in *In) wrenchAt(out *Result, w torque.Wrench, set quantity.Torque, p promise) error {
	fit, err := w.Fit(set)
	if err != nil {
		return err
	}
	figure := in.Units.FormatTorque(set)
	out.Rows = append([]Row{{lang.T("Range of this wrench"), out.Figure}}, in.otherWrenches(set)...)
	out.Line = lang.F("%s beside %s", figure, out.Figure)
	switch {
	case fit == torque.TooLow:
		out.Figure, out.Words = lang.T(notThisWrench), lang.F("%s is below the range of this wrench: use a smaller one.", figure)
		return nil
	case fit == torque.TooHigh:
		out.Figure, out.Words = lang.T(notThisWrench), lang.F("%s is above the range of this wrench: use a larger one.", figure)
		return nil
	case p.by == "unknown":
		out.Figure, out.Words = lang.T("Inside its range"), lang.T("How far the true torque may be off is not known. Look in the manual of the wrench.")
		return nil
	}
	e, err := p.at(w, set)
	if err != nil {
		return err
	}
	low, high, err := torque.Window(set, e)
	if err != nil {
		return err
	}
	out.Figure, out.Words = torques(in.Units, low, high), lang.F("Set to %s, the true torque lies in here while the wrench keeps its tolerance.", figure)
	out.Line = lang.F("%s ÷ (1 + %s) to %s ÷ (1 − %s)", figure, e, figure, e)
	out.Rows = append(out.Rows, Row{lang.T("Tolerance at this value"), "± " + e.String()})
	return nil
}

// otherWrenches says which of several recorded wrenches can be set to a value.
func (in *In) otherWrenches(set quantity.Torque) (rows []Row) {
	names, tools := in.wrenches()
	if len(tools) < 2 {
		return nil
	}
	for i, t := range tools {
		if fit, err := marked(t).Fit(set); err == nil {
			rows = append(rows, Row{names[i] + ", " + torques(in.Units, quantity.TorqueFromCNM(t.LowCNM), quantity.TorqueFromCNM(t.HighCNM)), fit.Words()})
		}
	}
	return rows
}
