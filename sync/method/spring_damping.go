package method

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/calc/spring"
)

// springDamping is how fast a swing dies away.
var springDamping = Method{
	ID: "spring_damping", Group: Ride, Title: "Damping from a swing",
	Words: "Car on its wheels and chocked. Film the arch against a ruler. Push the corner down, let go, step back. Read how far it swings over its resting place, twice on the same side, and count the swings between.",
	Fields: []Field{
		{Name: "first", Label: "First swing, from the resting place", Kind: Length},
		{Name: "later", Label: "Later swing, on the same side", Kind: Length},
		{Name: "cycles", Label: "Whole swings between the two", Kind: Count},
		{Name: "mark", Label: "Smallest mark of the ruler", Kind: Length, Keep: true, Instrument: true},
	},
	Work: func(in *In) (Result, error) {
		d := spring.Decay{First: in.Length("first"), Later: in.Length("later"), Cycles: in.Count("cycles"), Resolution: in.Length("mark")}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		v, err := spring.RatioFromDecay(d)
		if err != nil {
			return Result{}, err
		}
		usual := spring.UsualDamping()
		f, share := in.Units.FormatLength, within(v.Ratio.Value.Percent(), v.Ratio.Expanded().Percent(), "%")
		return Result{
			Figure: lang.F("%s of critical", share),
			Words:  lang.T("Critical is the damping with which the car comes back without swinging past. Left and right alike matters more than the number."),
			Line:   fmt.Sprintf("δ = ln(%s ÷ %s) ÷ %v = %s; δ ÷ √(4π² + δ²) = %s", f(d.First), f(d.Later), d.Cycles, rounded(float64(v.Decrement)), v.Ratio.Value),
			Rows:   []Row{{lang.F("Mostly in %s", lang.T(usual.Use)), lang.F("%s to %s", usual.Low.String(), usual.High.String())}},
			Warn: []string{lang.F("That range is from %s. It is no target.", lang.T(usual.Source)), lang.T("Friction ends a small swing early and makes the damping look larger. A car on its bump stop shows neither."),
				lang.T("A damper that leaks or knocks is for a shop to judge, whatever this says.")},
		}, nil
	},
}
