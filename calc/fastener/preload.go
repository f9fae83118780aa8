package fastener

import (
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Names of the calculations in the record. They change when a result does.
const (
	FormulaShort     = "preload-short-form/1"
	FormulaGeometric = "preload-geometric/1"
	FormulaVDI       = "preload-vdi-2230/1"
)

// SlipperyK and DryK bound the friction factor of the short form.
const (
	SlipperyK quantity.Ratio = 0.12
	DryK      quantity.Ratio = 0.20
)

// Reused and Permanent are the shares of the proof load that textbooks preload
// a bolt to.
const (
	Reused    quantity.Ratio = 0.75
	Permanent quantity.Ratio = 0.90
)

// NutTorque is the short form T = K·d·F. It is for comparing with a torque that
// someone states, never for a torque to use.
func NutTorque(k quantity.Ratio, d quantity.Length, f quantity.Force) (quantity.Torque, error) {
	if err := checkShort(k, d); err != nil {
		return 0, err
	}
	if err := above(f, lang.T("The preload")); err != nil {
		return 0, err
	}
	return short(k, d, f), nil
}

func short(k quantity.Ratio, d quantity.Length, f quantity.Force) quantity.Torque {
	return quantity.NewtonMetres(float64(k) * d.Metres() * f.Newtons())
}

// NutPreload is the inverse: what a torque pulls the bolt to.
func NutPreload(k quantity.Ratio, d quantity.Length, t quantity.Torque) (quantity.Force, error) {
	if err := checkShort(k, d); err != nil {
		return 0, err
	}
	if err := above(t, lang.T("The torque")); err != nil {
		return 0, err
	}
	return quantity.Newtons(t.NewtonMetres() / (float64(k) * d.Metres())), nil
}

// Preloads is what a torque may pull the bolt to, from a dry thread to a
// slippery one. The same torque gives 1.7 times the pull on the latter.
func Preloads(d quantity.Length, t quantity.Torque) (dry, slippery quantity.Force, err error) {
	if dry, err = NutPreload(DryK, d, t); err != nil {
		return 0, 0, err
	}
	slippery, err = NutPreload(SlipperyK, d, t)
	return dry, slippery, err
}

// Torques is what a preload may take, from a slippery thread to a dry one.
func Torques(d quantity.Length, f quantity.Force) (slippery, dry quantity.Torque, err error) {
	if slippery, err = NutTorque(SlipperyK, d, f); err != nil {
		return 0, 0, err
	}
	dry, err = NutTorque(DryK, d, f)
	return slippery, dry, err
}

func checkShort(k quantity.Ratio, d quantity.Length) error {
	if err := between(k, lang.T("The friction factor K")); err != nil {
		return err
	}
	return above(d, lang.T("The diameter of the bolt"))
}

// bearingShare is half the mean bearing diameter over the bolt's, for a face
// 1.25 times as wide as the bolt.
const bearingShare = 0.625

const flank = math.Pi / 6 // half the angle of the thread profile

// GeometricK is the factor K of the short form from the friction coefficients of
// thread and bearing face.
func GeometricK(t Thread, thread, bearing quantity.Ratio) (quantity.Ratio, error) {
	if err := t.check(); err != nil {
		return 0, err
	}
	if err := between(thread, lang.T("The friction of the thread")); err != nil {
		return 0, err
	}
	if err := between(bearing, lang.T("The friction under the head")); err != nil {
		return 0, err
	}
	d2 := t.PitchDiameter()
	lead := float64(t.pitch) / (math.Pi * float64(d2))
	f := float64(thread) / math.Cos(flank)
	k := float64(d2/t.diameter)/2*(lead+f)/(1-f*lead) + bearingShare*float64(bearing)
	return quantity.Ratio(k), nil
}

// Joint is a bolt with its friction and its bearing face, for VDI 2230.
type Joint struct {
	Thread         Thread
	ThreadFriction quantity.Ratio
	HeadFriction   quantity.Ratio
	Face           quantity.Length // outer diameter of the bearing face, dw
	Hole           quantity.Length // diameter of the hole that it lies on, dh
}

// Torque is what a preload takes in this joint. It is for comparing with a
// torque that someone states, never for a torque to use.
func (j Joint) Torque(f quantity.Force) (quantity.Torque, error) {
	arm, err := j.arm()
	if err != nil {
		return 0, err
	}
	if err := above(f, lang.T("The preload")); err != nil {
		return 0, err
	}
	return quantity.NewtonMetres(f.Newtons() * arm.Metres()), nil
}

// Preload is the inverse: what a torque pulls this joint to.
func (j Joint) Preload(t quantity.Torque) (quantity.Force, error) {
	arm, err := j.arm()
	if err != nil {
		return 0, err
	}
	if err := above(t, lang.T("The torque")); err != nil {
		return 0, err
	}
	return quantity.Newtons(t.NewtonMetres() / arm.Metres()), nil
}

// arm is torque over preload. 0.16 is 1/2π, 0.58 is 1/(2·cos 30°), as printed.
func (j Joint) arm() (quantity.Length, error) {
	if err := j.check(); err != nil {
		return 0, err
	}
	return 0.16*j.Thread.pitch + quantity.Length(0.58*j.ThreadFriction)*j.Thread.PitchDiameter() +
		quantity.Length(j.HeadFriction)*(j.Face+j.Hole)/4, nil
}

func (j Joint) check() error {
	if err := j.Thread.check(); err != nil {
		return err
	}
	if err := between(j.ThreadFriction, lang.T("The friction of the thread")); err != nil {
		return err
	}
	if err := between(j.HeadFriction, lang.T("The friction under the head")); err != nil {
		return err
	}
	if err := above(j.Hole, lang.T("The hole under the head")); err != nil {
		return err
	}
	if !quantity.Finite(j.Face) || j.Face <= j.Hole {
		return quantity.Inputf("Measure the round face under the head or the nut, and the hole.", "The bearing face is not wider than its hole.")
	}
	return nil
}

// AssemblyPreload is the preload at which pull and twist together reach a share
// of the yield strength, by VDI 2230. Its tables use 90 %.
func AssemblyPreload(t Thread, c Class, friction, share quantity.Ratio) (quantity.Force, error) {
	s, err := c.Strength(t)
	if err != nil {
		return 0, err
	}
	if err := between(friction, lang.T("The friction of the thread")); err != nil {
		return 0, err
	}
	if !quantity.Finite(share) || share <= 0 || share > 1 {
		return 0, quantity.Inputf("Enter it as a share, such as 90 %.", "The share of the yield strength is not between nothing and the whole.")
	}
	d2 := t.PitchDiameter()
	twist := 1.5 * float64(d2/t.StressDiameter()) * (float64(t.pitch)/(math.Pi*float64(d2)) + 1.155*float64(friction))
	pull := float64(t.StressArea()) * float64(share) * float64(s.Yield)
	return quantity.Newtons(pull / math.Sqrt(1+3*twist*twist)), nil
}

// between and above take what begins the sentence.
func between(r quantity.Ratio, what string) error {
	if !quantity.Finite(r) || r <= 0 || r >= 1 {
		return quantity.Inputf("Enter it as a plain number, such as 0.12.", "%s is not between 0 and 1.", what)
	}
	return nil
}

func above[Q quantity.Quantity](q Q, what string) error {
	if !quantity.Finite(q) || q <= 0 {
		return quantity.Inputf("Enter it with its unit.", "%s is missing or not above zero.", what)
	}
	return nil
}
