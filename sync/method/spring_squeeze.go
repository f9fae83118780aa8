package method

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/spring"
)

// fallen is a mass that everyone has lifted, to compare a spring with.
var fallen = quantity.Kilograms(10)

// springSqueeze says what a squeezed spring holds back: a caution.
var springSqueeze = Method{
	ID: "spring_squeeze", Group: Ride, Title: "Squeezed spring",
	Words: "Read this before you put a compressor on a spring. Enter the rate, and how much shorter than free it will be squeezed.",
	Fields: []Field{
		{Name: "rate", Label: "Rate of the spring", Kind: Stiffness},
		{Name: "shorter", Label: "Squeezed shorter than free by", Kind: Length},
	},
	Work: func(in *In) (Result, error) {
		rate, shorter := in.Stiffness("rate"), in.Length("shorter")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		s, err := spring.Squeeze(rate, shorter)
		if err != nil {
			return Result{}, err
		}
		half, err := spring.Squeeze(rate, shorter/2)
		if err != nil {
			return Result{}, err
		}
		fall, err := s.Energy.Fall(fallen)
		if err != nil {
			return Result{}, err
		}
		f := in.Units.FormatLength
		return Result{
			Figure: in.force(s.Force) + ", " + s.Energy.String(), Words: s.Caution(),
			Line: lang.F("%s × %s = %s; half of that × %s = %v", quantity.FormatStiffness(rate, in.Units.Stiffness), f(shorter), in.force(s.Force), f(shorter), s.Energy),
			Rows: []Row{{lang.T("Squeezed half as far"), in.force(half.Force) + ", " + half.Energy.String()},
				{lang.F("As hard as %s fallen from", quantity.FormatMass(fallen, in.Units.Mass)), f(fall)}},
			Warn: []string{lang.T("No number makes it safe. Never use an impact wrench on a compressor, and never one with a bent hook or a worn thread.")},
		}, nil
	},
}

// force is written in the unit that the person's spring rate has.
func (in *In) force(f quantity.Force) string {
	switch in.Units.Stiffness {
	case quantity.PoundForcePerInch:
		return decimal(f.PoundsForce(), 0) + " lbf"
	case quantity.KilogramForcePerMillimetre:
		return decimal(f.KilogramsForce(), 0) + " kgf"
	}
	return decimal(f.Newtons(), 0) + " N"
}
