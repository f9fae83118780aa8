package method

import (
	"math"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
)

// scale is how an adjuster is counted and what is read: the words for both.
type scale struct {
	in       *In
	q        event.Quantity
	unit, up string // of the count; which way counts up, "" when not said
}

var (
	unitField = Field{Name: "unit", Label: "Positions are counted in", Kind: Choice, Keep: true,
		Options: []Option{{"mm", "mm"}, {"turn", "turns"}, {"graduation", "graduations"}}}
	upField = Field{Name: "up", Label: "Counting up goes", Kind: Choice, Keep: true, Optional: true,
		Options: []Option{{"in", "in"}, {"out", "out"}, {"forward", "forward"}, {"rearward", "rearward"},
			{"clockwise", "clockwise"}, {"anticlockwise", "anticlockwise"}, {"up", "up"}, {"down", "down"}}}
	opposite = map[string]string{"in": "out", "out": "in", "forward": "rearward", "rearward": "forward",
		"clockwise": "anticlockwise", "anticlockwise": "clockwise", "up": "down", "down": "up"}
	// finest is the step worth advising, readTo how finely a position is read
	// unless it is said otherwise. Common practice, no source.
	finest = map[string]turns{"mm": 0.5, "turn": 1.0 / 8, "graduation": 1}
	readTo = map[string]turns{"mm": 0.5, "turn": 1.0 / 8, "graduation": 0.5}
)

func (s scale) reading(v turns) string { return s.in.Units.Value(s.q, round(v)) }

func (s scale) within(v measure.Value[turns]) string { return withinWords(s.in.Units, s.q, v) }

// count is a position without its unit: turns in eighths.
func (s scale) count(v turns) string {
	eighths := math.Round(math.Abs(float64(v)) * 8)
	if s.unit != "turn" || math.Abs(eighths-math.Abs(float64(v))*8) > 1e-6 {
		return v.String()
	}
	whole, part := math.Floor(eighths/8), int(math.Mod(eighths, 8))
	text := strconv.FormatFloat(whole, 'f', 0, 64)
	if part > 0 {
		text = strings.TrimPrefix(text, "0") + []string{"", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"}[part]
	}
	if v < 0 && eighths > 0 {
		text = "−" + text
	}
	return text
}

func (s scale) setting(v turns) string {
	count, n := s.count(v), 2
	if size(v) <= 1 && v != 0 {
		n = 1
	}
	switch s.unit {
	case "turn":
		return lang.N(n, "%s turn", "%s turns", count)
	case "graduation":
		return lang.N(n, "%s graduation", "%s graduations", count)
	}
	return count + " " + s.unit
}

// move is an amount with its direction in words.
func (s scale) move(v turns) string {
	way := map[bool]string{true: lang.T("up the count"), false: lang.T("down the count")}[v > 0]
	switch {
	case s.up != "" && v > 0:
		way = lang.T(s.up)
	case s.up != "":
		way = lang.T(opposite[s.up])
	}
	return s.setting(size(v)) + " " + way
}

// effect is what one unit does, with as many decimals as its uncertainty
// bears: alone, and with that uncertainty.
func (s scale) effect(slope, standard measure.Sensitivity) (alone, within string) {
	per, mark := 1000.0, "°"
	switch u := s.in.Units.OrDefault(); {
	case s.q.Unit() == event.UM && u.Length == quantity.Inch:
		per, mark = 25400, " in"
	case s.q.Unit() == event.UM:
		mark = " mm"
	case u.Angle != quantity.Degree:
		per, mark = 1000.0/60, "′"
	}
	v, side := float64(slope)/per, ""
	if s.q == event.Toe { // its sign has words
		side = map[bool]string{true: " " + lang.T("IN"), false: " " + lang.T("OUT")}[v > 0]
		v = math.Abs(v)
	}
	value, around := supported(v, measure.Coverage*float64(standard)/per)
	side += " " + map[string]string{"mm": lang.T("per mm"), "turn": lang.T("per turn"), "graduation": lang.T("per graduation")}[s.unit]
	return value + mark + side, value + mark + " ± " + around + mark + side
}

// supported writes a value with its expanded uncertainty, which is rounded up
// to one digit, or two when it starts with 1 or 2; the value has no more decimals.
func supported(v, u float64) (value, around string) {
	decimals := 0
	if u > 0 {
		decimals = max(0, min(6, -int(math.Floor(math.Log10(u/3)))))
	}
	unit := math.Pow(10, float64(decimals))
	up := math.Ceil(u*unit-1e-9) / unit
	fixed := func(v float64) string {
		text := strconv.FormatFloat(v, 'f', decimals, 64)
		if digits, below := strings.CutPrefix(text, "-"); below && strings.Trim(digits, "0.") == "" {
			text = digits
		}
		return lang.Number(strings.Replace(text, "-", "−", 1))
	}
	return fixed(v), fixed(up)
}
