package method

import (
	"cmp"

	"strutcard/calc/quantity"
	"strutcard/calc/toe"
	"strutcard/sync/event"
	"strutcard/sync/job"
)

// fillRod offers the front toe of the record and the target of the sheet.
func fillRod(r Record) map[string]string {
	out := map[string]string{}
	left, right, total := r.now(event.Toe, event.FL.Place()), r.now(event.Toe, event.FR.Place()), r.now(event.TotalToe, event.Front.Place())
	switch {
	case left != nil && right != nil:
		out["now"] = eachWheel
		r.fillToe(out, "left", left)
		r.fillToe(out, "right", right)
		r.fillWithin(out, left, right)
	case total != nil:
		out["now"] = onlyTotal
		r.fillToe(out, "total", total)
		r.fillWithin(out, total)
	}
	if r.Sheet == nil {
		return out
	}
	for _, q := range []event.Quantity{event.Toe, event.TotalToe} { // the total goes first where both are given
		if t := r.Sheet.Target(q, event.Front); t != nil {
			value, _ := t.Amount()
			r.fillSize(out, "want", value)
			out["want_scope"] = string(map[event.Quantity]toe.Scope{event.Toe: toe.PerWheel, event.TotalToe: toe.Total}[q])
		}
	}
	return out
}

// now is the latest reading of the car as it stands: not of the car as found.
func (r Record) now(q event.Quantity, at event.Place) *job.Reading {
	if x := r.last(q, at); x != nil && x.Purpose != event.Before {
		return x
	}
	return nil
}

func (r Record) fillToe(out map[string]string, name string, x *job.Reading) {
	value, _ := x.Amount()
	r.fillSize(out, name, value)
}

func (r Record) fillSize(out map[string]string, name string, mdeg int64) {
	amount, way := toe.Say(quantity.AngleFromMdeg(mdeg))
	out[name], out[name+"_direction"] = plainAngle(amount, r.Units), string(cmp.Or(way, toe.In))
}

// fillWithin offers the largest uncertainty of some readings.
func (r Record) fillWithin(out map[string]string, readings ...*job.Reading) {
	most := int64(0)
	for _, x := range readings {
		_, u95 := x.Amount()
		most = max(most, u95)
	}
	out["within"] = plainAngle(quantity.AngleFromMdeg(most), r.Units)
}
