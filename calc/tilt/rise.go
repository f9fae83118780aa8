package tilt

import (
	"math"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaRise names the angle of a side in the record. It changes when a result
// does.
const FormulaRise = "phone-rise/1"

// The parts of the uncertainty that a recording does not show, as standard
// uncertainties, but for ownBy. Common practice, no source.
const (
	gain    = 0.03                // of the angle: axes that count differently, and the offset along what is up
	turned  = 3 * math.Pi / 180   // how squarely a person aims the phone about the plumb line
	seated  = 0.1 * math.Pi / 180 // an uneven edge, a button, a burr on the rim
	drifted = 0.2 * math.Pi / 180 // of the offset since calibrating, as the phone warms up
	ownBy   = 3 * math.Pi / 180   // half-width of the offset of a phone never calibrated
	steep   = math.Pi / 4         // beyond it another side is up
	blocks  = 8                   // fewest block means that say how they scatter
)

// Uncalibrated is the standard uncertainty for the offset of a phone that has
// not been calibrated: anywhere within ±3°, so 3°/√3. Common practice, no
// source; ±50 mg, which the maker of one such sensor states, are ±2.9°.
func Uncalibrated() quantity.Angle { return ownBy / quantity.Angle(math.Sqrt(3)) }

// Placement is one recording and what is known of the phone. Without a
// Calibration the result stands, with the wide uncertainty of Uncalibrated.
type Placement struct {
	Recording   Recording
	Calibration *Calibration
	Setup       Setup // to be the same as at calibrating
	NowMS       int64 // the wall clock at measuring, for the age of the calibration
}

// Rise is the angle by which the direction out of a side points above the
// horizontal. It is also the angle of that side's face to the plumb line,
// positive when the face looks up.
type Rise struct {
	Angle  measure.Value[quantity.Angle] // Shown − Offset
	Shown  quantity.Angle                // as the sensor has it
	Offset measure.Value[quantity.Angle] // of the phone itself; 0 with Uncalibrated when not calibrated
	// Across is the rise of the third direction, square to the side and to the
	// one that is up, without correction: that of the right edge, the top end or
	// the screen. Near zero the phone is held squarely.
	Across     quantity.Angle
	Calibrated bool
	Parts      Parts
}

// Parts are the standard uncertainties that make up that of a Rise.
type Parts struct {
	Scatter quantity.Angle // of the samples, and their step
	Gain    quantity.Angle // axes that do not count alike, in proportion to the angle
	Turn    quantity.Angle // the phone not aimed squarely, while it leans across: by Across, or unseen by its offset
	Seat    quantity.Angle // how the phone lies against the surface
	Offset  quantity.Angle // of the phone, with what it may have drifted since calibrating
}

// Rise measures how far the direction out of a side points above the horizontal,
// while another side is up. With a = the means along the side (t), up (v) and
// across (c):
//
//	rise = atan2(t, √(v² + c²))
//
// It fails when the recording is not one of a phone at rest, when gravity shows
// another side up than said, beyond 45°, and when the calibration does not fit.
func (p Placement) Rise(side, up Side) (Rise, error) {
	out, err := shown(p.Recording, side, up)
	if err != nil {
		return Rise{}, err
	}
	out.Offset.Standard = Uncalibrated()
	if p.Calibration != nil {
		if out.Offset, err = p.Calibration.fit(p, side, up); err != nil {
			return Rise{}, err
		}
		out.Calibrated = true
	}
	angle := out.Shown - out.Offset.Value
	out.Parts.Offset = out.Offset.Standard
	out.Parts.Gain = max(out.Parts.Gain, gained(angle))
	out.Angle = measure.Value[quantity.Angle]{Value: angle, Standard: out.Parts.combined()}
	return out, nil
}

func (p Parts) combined() quantity.Angle {
	return measure.Combine(p.Scatter, p.Gain, p.Turn, p.Seat, p.Offset)
}

// shown is the rise as the sensor has it, and the parts of its uncertainty but
// for the phone's own offset.
func shown(r Recording, side, up Side) (Rise, error) {
	if err := checkPlacement(r, side, up); err != nil {
		return Rise{}, err
	}
	var mean [3]measure.Value[quantity.Acceleration]
	for i, s := range []Side{side, up, across(side, up)} {
		var err error
		if mean[i], err = settled(r.series(s), r.Resolution); err != nil {
			return Rise{}, err
		}
	}
	t, v, c := float64(mean[0].Value), float64(mean[1].Value), float64(mean[2].Value)
	flat := math.Hypot(v, c)
	whole := math.Hypot(flat, t)
	if err := checkUp(v/whole, up); err != nil {
		return Rise{}, err
	}
	angle, lean := math.Atan2(t, flat), math.Asin(c/whole)
	part := func(per float64, u quantity.Acceleration) quantity.Angle {
		return measure.Contribution[quantity.Angle](measure.Sensitivity(per/(whole*whole)), u)
	}
	return Rise{Shown: quantity.Radians(angle), Across: quantity.Radians(lean), Parts: Parts{
		Scatter: measure.Combine(part(flat, mean[0].Standard), part(t*v/flat, mean[1].Standard), part(t*c/flat, mean[2].Standard)),
		Gain:    gained(quantity.Radians(angle)),
		Turn:    turned * measure.Combine(quantity.Radians(math.Sin(lean)/math.Cos(angle)), Uncalibrated()),
		Seat:    seated,
	}}, nil
}

// gained is what axes that count differently do to an angle: half of the sine of
// twice the angle, times the share.
func gained(angle quantity.Angle) quantity.Angle {
	return quantity.Angle(gain / 2 * math.Abs(math.Sin(2*angle.Radians())))
}

func checkPlacement(r Recording, side, up Side) error {
	i, _ := side.axis()
	j, _ := up.axis()
	if i < 0 || j < 0 {
		return unknownSide()
	}
	if i == j {
		return quantity.Inputf("Choose a side that looks sideways while the other is up.", "The side to measure and the side that is up are the same or opposite.")
	}
	still, err := Check(r.Samples)
	if err != nil {
		return err
	}
	if err := still.refusal(); err != nil {
		return err
	}
	return r.check()
}

// checkUp compares the side that is said to be up with gravity.
func checkUp(share float64, up Side) error {
	switch limit := math.Cos(steep); {
	case share >= limit:
		return nil
	case share <= -limit:
		return quantity.Inputf("Check how the phone is held and which edge touches; if both are right, find the sign of this phone again.", "Gravity shows %s up, and it should be %s.", up.Other().Words(), up.Words())
	}
	return quantity.Inputf("Hold it as shown: beyond 45° another side counts as up.", "Gravity does not show %s up.", up.Words())
}

// settled is the mean of a series with its standard uncertainty. Neighbouring
// samples are alike, as the sensor smooths them, so s/√n of all of them claims
// too much. The series is cut into n, n/2, n/4 … blocks, down to eight, each set
// of block means is taken as repeated readings, and the largest uncertainty
// counts. The step of the sensor is in each and is never averaged away.
func settled(series []quantity.Acceleration, step quantity.Acceleration) (measure.Value[quantity.Acceleration], error) {
	mean, err := measure.Mean(series)
	if err != nil {
		return measure.Value[quantity.Acceleration]{}, err
	}
	out := measure.Value[quantity.Acceleration]{Value: mean}
	for n := len(series); n >= blocks; n /= 2 {
		v, err := measure.Repeated(blockMeans(series, n), step)
		if err != nil {
			return measure.Value[quantity.Acceleration]{}, err
		}
		out.Standard = max(out.Standard, v.Standard)
	}
	return out, nil
}

// blockMeans cuts a series into n blocks that differ by one sample at most, so
// that none is left over.
func blockMeans(series []quantity.Acceleration, n int) []quantity.Acceleration {
	out := make([]quantity.Acceleration, n)
	for i := range out {
		from, to := i*len(series)/n, (i+1)*len(series)/n
		for _, a := range series[from:to] {
			out[i] += a / quantity.Acceleration(to-from)
		}
	}
	return out
}
