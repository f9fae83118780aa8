package guide

import (
	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
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
	return map[Verdict]string{Met: lang.T("target met"), NotMet: lang.T("target not met"), TooClose: lang.T("too close to the limit to tell")}[v]
}

// ReadingWords names a quantity at a place; "" names the quantity alone.
func ReadingWords(q event.Quantity, at event.Place) string {
	if at == "" {
		return lang.T(q.Words())
	}
	return lang.T(q.Words()) + ", " + lang.T(at.Words())
}

// AxleWords names an axle: "front axle".
func AxleWords(a event.Axle) string { return lang.T(a.Place().Words()) }

// EndWords names an end of the car: "front".
func EndWords(a event.Axle) string {
	if a == event.Front {
		return lang.C("front", "of the car")
	}
	return lang.C("rear", "of the car")
}

// Latest returns the last reading after the car was changed: final if there is
// one, else setting. It is nil when there is neither.
func (g Guide) Latest(q event.Quantity, at event.Place) *job.Reading {
	if r := g.State.Reading(q, at, event.Final); r != nil {
		return r
	}
	return g.State.Reading(q, at, event.Setting)
}

// Verdict judges a stored reading.
func (g Guide) Verdict(r *job.Reading) Verdict { return g.Judge(&r.ReadingTaken) }

// Judge compares a reading with the sheet's target for its axle.
func (g Guide) Judge(r *event.ReadingTaken) Verdict {
	t := g.Sheet.Target(r.Quantity, r.Place().Axle())
	if t == nil {
		return NoTarget
	}
	value, u95 := r.Amount()
	target, tolerance := t.Amount()
	var verdict measure.Verdict
	if r.Quantity.Unit() == event.UM {
		verdict = judge(quantity.LengthFromUM(value), quantity.LengthFromUM(u95), quantity.LengthFromUM(target), quantity.LengthFromUM(tolerance))
	} else {
		verdict = judge(quantity.AngleFromMdeg(value), quantity.AngleFromMdeg(u95), quantity.AngleFromMdeg(target), quantity.AngleFromMdeg(tolerance))
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

// Value writes a stored reading with its uncertainty for the card, in metric units.
func Value(r *event.ReadingTaken) string { return units.Metric.Reading(r) }

// TargetWords writes a target with its tolerance for the card.
func TargetWords(t *sheet.Target) string {
	value, tolerance := t.Amount()
	return units.Metric.Target(t.Quantity, value, tolerance)
}
