package guide

import (
	"fmt"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// Verdict is how a reading stands to its target, its uncertainty taken in.
type Verdict string

const (
	NoTarget Verdict = ""
	Met      Verdict = "met"
	NotMet   Verdict = "not_met"
	TooClose Verdict = "too_close"
)

// Words returns the verdict as shown.
func (v Verdict) Words() string {
	return map[Verdict]string{Met: "target met", NotMet: "target not met", TooClose: "too close to the limit to tell"}[v]
}

// ReadingWords names a quantity at a corner.
func ReadingWords(q event.Quantity, corner event.Corner) string {
	what := "camber"
	if q == event.RideHeight {
		what = "ride height"
	}
	if corner == "" {
		return what
	}
	return what + ", " + corner.Words()
}

// Latest returns the last reading after the car was changed: final if there is
// one, else setting. It is nil when there is neither.
func (g Guide) Latest(q event.Quantity, corner event.Corner) *job.Reading {
	if r := g.State.Reading(q, corner, event.Final); r != nil {
		return r
	}
	return g.State.Reading(q, corner, event.Setting)
}

// Verdict judges a stored reading.
func (g Guide) Verdict(r *job.Reading) Verdict { return g.Judge(&r.ReadingTaken) }

// Judge compares a reading with the sheet's target for its axle.
func (g Guide) Judge(r *event.ReadingTaken) Verdict {
	t := g.Sheet.Target(r.Quantity, r.Corner.Axle())
	if t == nil {
		return NoTarget
	}
	var verdict measure.Verdict
	if r.Quantity == event.RideHeight {
		verdict = judge(quantity.LengthFromUM(r.ValueUM), quantity.LengthFromUM(r.U95UM), quantity.LengthFromUM(t.UM), quantity.LengthFromUM(t.TolUM))
	} else {
		verdict = judge(quantity.AngleFromMdeg(r.ValueMD), quantity.AngleFromMdeg(r.U95Mdeg), quantity.AngleFromMdeg(t.Mdeg), quantity.AngleFromMdeg(t.TolMdeg))
	}
	return map[measure.Verdict]Verdict{measure.Met: Met, measure.NotMet: NotMet, measure.TooClose: TooClose}[verdict]
}

// judge takes the stored expanded uncertainty (k = 2) back to a standard one.
func judge[Q measure.Quantity](value, expanded, target, tolerance Q) measure.Verdict {
	band := measure.Band[Q]{Target: target, Minus: tolerance, Plus: tolerance}
	return band.Judge(measure.Value[Q]{Value: value, Standard: expanded / 2})
}

// Torque writes a torque for the card, in N·m.
func Torque(cnm int64) string { return newtonMetres(cnm) }

// Value writes a stored reading with its uncertainty, in mm or degrees.
func Value(r *event.ReadingTaken) string {
	if r.Quantity == event.RideHeight {
		return fmt.Sprintf("%.1f ± %.1f mm", float64(r.ValueUM)/1000, float64(r.U95UM)/1000)
	}
	return Degrees(r.ValueMD) + " ± " + Degrees(r.U95Mdeg)
}

// Degrees writes an angle to the hundredth: finer than any ruler supports, so
// that nothing is hidden by rounding.
func Degrees(mdeg int64) string {
	return quantity.FormatAngle(quantity.AngleFromMdeg(mdeg), quantity.Degree)
}

// TargetWords writes a target with its tolerance.
func TargetWords(t *sheet.Target) string {
	if t.Quantity == event.RideHeight {
		return fmt.Sprintf("%.0f ± %.0f mm", float64(t.UM)/1000, float64(t.TolUM)/1000)
	}
	return Degrees(t.Mdeg) + " ± " + Degrees(t.TolMdeg)
}
