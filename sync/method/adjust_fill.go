package method

import (
	"strconv"
	"strings"

	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/units"
)

// learningFill offers what the record knows of the adjuster that was moved last
// by a counted step, at the wheel asked about or at any.
func learningFill(r Record, kind Kind) map[string]string {
	out := cornerFill(r)
	last := lastCounted(r, kind)
	if last == nil {
		return out
	}
	u := r.Units.OrDefault()
	stays, moved := staysOf(r, last)
	if len(stays) == 0 {
		return out
	}
	stays = stays[max(0, len(stays)-4):]
	widest, sure := int64(0), true
	for i, s := range stays {
		n := strconv.Itoa(i + 1)
		out["position_"+n], out["reading_"+n] = signedMilli(s.position), recordText(last.Quantity, s.value, u)
		widest, sure = max(widest, s.u95), sure && s.u95 > 0
	}
	out["corner"], out["unit"], out["count"] = string(last.Corner), last.Unit, strconv.Itoa(max(2, len(stays)))
	if kind == Angle {
		out["of"] = string(last.Quantity)
	}
	if sure {
		out["gauge_is"], out["gauge"] = "within", strings.TrimPrefix(recordText(last.Quantity, widest, u), "+")
	}
	if moved {
		out["now"] = signedMilli(last.Position)
	}
	if r.Sheet != nil {
		if t := r.Sheet.Target(last.Quantity, last.Corner.Axle()); t != nil {
			value, _ := t.Amount()
			out["target"] = recordText(last.Quantity, value, u)
		}
	}
	return out
}

// lastCounted is the last move that was counted.
func lastCounted(r Record, kind Kind) *job.Adjustment {
	if r.State == nil {
		return nil
	}
	for i := len(r.State.Adjusted) - 1; i >= 0; i-- {
		a := &r.State.Adjusted[i]
		angle := a.Quantity == event.Camber || a.Quantity == event.Caster || a.Quantity == event.Toe
		here := r.At.Corner() == "" || a.Corner == r.At.Corner()
		if a.Unit != "" && here && (kind == Angle && angle || kind == Length && a.Quantity == event.RideHeight) {
			return a
		}
	}
	return nil
}

// stay is a position of the adjuster and the last reading that was taken there.
type stay struct{ position, value, u95 int64 }

// staysOf joins readings with the position that was in force when each was
// taken. Readings before something else was changed that they depend on, and
// before parts were out, are left off: they say nothing about the adjuster.
// So are those at a position that was not counted. Moved tells that the
// adjuster went on after the last of them.
func staysOf(r Record, of *job.Adjustment) (out []stay, moved bool) {
	var position int64
	known, next, parts := true, 0, partsOut(r)
	moved = true
	read := func(until job.N) {
		for ; next < len(r.State.Readings) && r.State.Readings[next].N < until; next++ {
			t := &r.State.Readings[next]
			if t.Quantity != of.Quantity || t.Corner != of.Corner || t.Purpose == event.Final || t.N < parts || !known {
				continue
			}
			if !moved && len(out) > 0 {
				out = out[:len(out)-1]
			}
			value, u95 := t.Amount()
			out, moved = append(out, stay{position, value, u95}), false
		}
	}
	like := &event.ReadingTaken{Quantity: of.Quantity, Corner: of.Corner}
	for _, a := range r.State.Adjusted {
		read(a.N)
		switch {
		case a.Quantity == of.Quantity && a.Corner == of.Corner:
			position, known, moved = a.Position, a.Unit == of.Unit, true
		case job.Moves(a.Quantity, a.Corner, like):
			out = nil
		}
	}
	read(r.State.Count + 1)
	if !known {
		return nil, false
	}
	return out, moved
}

// partsOut is when a bolt was last undone or fitted that neither holds a wheel
// nor clamps an adjuster: what was read before then was read of other parts, or
// of parts in another place.
func partsOut(r Record) job.N {
	var last job.N
	for id, f := range r.State.Fasteners {
		if r.Sheet != nil {
			if known := r.Sheet.Fastener(id); known != nil && (known.Wheel || known.Holds != "") {
				continue
			}
		}
		last = max(last, f.LoosenedN, f.FittedN)
	}
	return last
}

// recordText writes a value of the record as a field takes it, without losing
// what its uncertainty needs.
func recordText(q event.Quantity, value int64, u units.Set) string {
	if q.Unit() == event.Mdeg {
		if u.Angle != quantity.Degree {
			return signedMilli(value) + "°"
		}
		return signedMilli(value)
	}
	one, err := quantity.LengthOf("1", u.Length)
	if err != nil {
		return ""
	}
	decimals := 2 // never three: a point and three digits can mean thousands
	if u.Length != quantity.Millimetre {
		decimals = 5
	}
	return strconv.FormatFloat(float64(quantity.LengthFromUM(value)/one), 'f', decimals, 64)
}

// signedMilli writes thousandths with their sign, and with the true minus.
func signedMilli(thousandths int64) string {
	text := strconv.FormatFloat(float64(thousandths)/1000, 'f', -1, 64)
	if after, below := strings.CutPrefix(text, "-"); below {
		return "−" + after
	}
	return "+" + text
}
