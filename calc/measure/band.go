package measure

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// Verdict says how a value stands to a target band.
type Verdict string

const (
	Met      Verdict = "met"       // wholly inside, with all its uncertainty
	NotMet   Verdict = "not_met"   // wholly outside
	TooClose Verdict = "too_close" // the uncertainty reaches over a limit, or a number is missing
)

// Words is the verdict as people read it.
func (v Verdict) Words() string {
	switch v {
	case Met:
		return lang.T("met")
	case NotMet:
		return lang.T("not met")
	case TooClose:
		return lang.T("too close to tell")
	}
	return ""
}

// Band is a target with what is allowed below and above it. Minus and Plus are
// sizes: neither is negative. The limits belong to the band.
type Band[Q Quantity] struct {
	Target, Minus, Plus Q
}

// Low and High are the limits.
func (b Band[Q]) Low() Q  { return b.Target - b.Minus }
func (b Band[Q]) High() Q { return b.Target + b.Plus }

// Check says whether the band can be judged against.
func (b Band[Q]) Check() error {
	if !quantity.Finite(b.Target) || !quantity.Finite(b.Minus) || !quantity.Finite(b.Plus) || b.Minus < 0 || b.Plus < 0 {
		return quantity.Inputf("Enter the target, and what is allowed below and above it as sizes without a sign.", "The target has a tolerance below zero, or a number is missing.")
	}
	return nil
}

// Judge compares the interval of v with the band. A value or an uncertainty that
// is no number, and a band that Check refuses, are never Met: they give
// TooClose. An uncertainty of zero is believed, so a caller who does not know it
// must not judge. A limit that is reached to within float64 noise counts as
// reached.
func (b Band[Q]) Judge(v Value[Q]) Verdict {
	if !v.known() || b.Check() != nil {
		return TooClose
	}
	low, high := v.Low(), v.High()
	slack := noise * (abs(b.Target) + b.Minus + b.Plus + abs(v.Value) + v.Standard)
	switch {
	case low >= b.Low()-slack && high <= b.High()+slack:
		return Met
	case high < b.Low()-slack || low > b.High()+slack:
		return NotMet
	}
	return TooClose
}

// noise is relative and a thousand times what a few float64 steps can do, yet
// far below any wire unit.
const noise = 1e-12

func abs[Q Quantity](q Q) Q {
	if q < 0 {
		return -q
	}
	return q
}
