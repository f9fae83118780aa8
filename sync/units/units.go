// Package units is what a person reads and types in, chosen once, and how a
// value of the record is written in it.
package units

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
)

// Set is one choice of units. The zero Set is metric.
type Set struct {
	Torque      quantity.TorqueUnit      `json:"torque"`
	Length      quantity.LengthUnit      `json:"length"`
	Angle       quantity.AngleUnit       `json:"angle,omitempty"`
	Mass        quantity.MassUnit        `json:"mass,omitempty"`
	Pressure    quantity.PressureUnit    `json:"pressure,omitempty"`
	Stiffness   quantity.StiffnessUnit   `json:"stiffness,omitempty"`
	Temperature quantity.TemperatureUnit `json:"temperature,omitempty"`
}

// Metric is the set to start with, and the one of the card.
var Metric = Set{quantity.NewtonMetre, quantity.Millimetre, quantity.Degree, quantity.Kilogram, quantity.Bar, quantity.NewtonPerMillimetre, quantity.Celsius}

// OrDefault replaces what is not set or not known by the metric unit.
func (s Set) OrDefault() Set {
	return Set{known(s.Torque, Metric.Torque), known(s.Length, Metric.Length), known(s.Angle, Metric.Angle), known(s.Mass, Metric.Mass),
		known(s.Pressure, Metric.Pressure), known(s.Stiffness, Metric.Stiffness), known(s.Temperature, Metric.Temperature)}
}

func known[U interface{ Valid() bool }](u, otherwise U) U {
	if u.Valid() {
		return u
	}
	return otherwise
}

// Reading writes a stored value with its expanded uncertainty, its sign in
// words where the trade has no sure sign.
func (s Set) Reading(r *event.ReadingTaken) string {
	value, u95 := r.Amount()
	return s.pair(r.Quantity, value, u95, false)
}

// Target writes a target with its tolerance, without decimals that say nothing.
func (s Set) Target(q event.Quantity, value, tolerance int64) string {
	return s.pair(q, value, tolerance, true)
}

// Value writes a value of q alone.
func (s Set) Value(q event.Quantity, value int64) string {
	size, says := side(q, value)
	figure, unit := s.figure(q, size, false)
	return lang.F(says, figure+unit)
}

func (s Set) pair(q event.Quantity, value, around int64, trim bool) string {
	size, says := side(q, value)
	figure, unit := s.figure(q, size, trim)
	plus, _ := s.figure(q, around, trim)
	if q.Unit() == event.Mdeg { // the degree sign stands at each number
		figure += unit
	}
	return lang.F(says, figure+" ± "+plus+unit)
}

// signs say a value above and below zero.
var signs = map[event.Quantity][2]string{
	event.Toe: {"%s IN", "%s OUT"}, event.TotalToe: {"%s IN", "%s OUT"},
	event.Thrust:     {"%s to the right", "%s to the left"},
	event.FloorSlope: {"%s, right side lower", "%s, left side lower"},
}

// side takes the sign off a value that is written with words, and gives the format that says it.
func side(q event.Quantity, value int64) (size int64, says string) {
	pair, worded := signs[q]
	switch {
	case !worded || value == 0:
		return value, "%s"
	case value > 0:
		return value, pair[0]
	}
	return -value, pair[1]
}

// figure is the number and what follows it. Decimals are as many as the
// instruments of this job can support; trim drops those that are zero.
func (s Set) figure(q event.Quantity, value int64, trim bool) (figure, unit string) {
	s = s.OrDefault()
	decimals := map[event.Unit]int{event.UM: 1, event.G: 1, event.Pa: 2}[q.Unit()]
	v := 0.0
	switch q.Unit() {
	case event.UM:
		v, unit = quantity.LengthFromUM(value).Millimetres(), " "+string(s.Length)
		if s.Length == quantity.Inch {
			v, decimals = quantity.LengthFromUM(value).Inches(), 2
		}
	case event.G:
		v, unit = quantity.MassFromG(value).Kilograms(), " "+string(s.Mass)
		if s.Mass == quantity.Pound {
			v, decimals = quantity.MassFromG(value).Pounds(), 0
		}
	case event.Pa:
		return quantity.PressureFigure(quantity.Pressure(value), s.Pressure), " " + string(s.Pressure)
	default:
		return quantity.FormatAngle(quantity.AngleFromMdeg(value), s.Angle), ""
	}
	figure = strings.Replace(strconv.FormatFloat(v, 'f', decimals, 64), "-", "\u2212", 1)
	if trim && decimals > 0 {
		figure = strings.TrimRight(strings.TrimRight(figure, "0"), ".")
	}
	return lang.Number(figure), unit
}

// LengthWithin, MassWithin and PressureWithin write a value with its expanded
// uncertainty.
func (s Set) LengthWithin(v, u95 quantity.Length) string {
	return s.pair(event.RideHeight, v.UM(), u95.UM(), false)
}

func (s Set) MassWithin(v, u95 quantity.Mass) string {
	return s.pair(event.CornerWeight, v.G(), u95.G(), false)
}

func (s Set) PressureWithin(v, u95 quantity.Pressure) string {
	return s.pair(event.TyrePressure, int64(math.Round(float64(v))), int64(math.Round(float64(u95))), false)
}

// FormatLength writes a length to the tenth of a millimetre or the hundredth of
// an inch: as fine as a tape can be read.
func (s Set) FormatLength(l quantity.Length) string {
	return quantity.FormatLength(l, s.OrDefault().Length)
}

// FormatAngle writes an angle in the chosen way.
func (s Set) FormatAngle(a quantity.Angle) string {
	return quantity.FormatAngle(a, s.OrDefault().Angle)
}

// TypedAngle writes an angle as a person types it into a field of this set: a
// plain number of degrees, or degrees and minutes with their marks. It is finer
// than FormatAngle, so that what is read back is what was written.
func (s Set) TypedAngle(a quantity.Angle) string {
	if s.OrDefault().Angle == quantity.Degree {
		return plain(a.Degrees())
	}
	minutes := math.Round(math.Abs(a.Minutes())*1e6) / 1e6
	whole := math.Floor(minutes / 60)
	text := fmt.Sprintf("%.0f°%s′", whole, plain(minutes-60*whole))
	if a < 0 && minutes > 0 {
		text = "−" + text
	}
	return text
}

// plain is a number without needless zeros. Three decimals after more than a
// zero get one zero more: they could be taken for thousands.
func plain(v float64) string {
	text := strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(v, 'f', 6, 64), "0"), ".")
	if _, part, _ := strings.Cut(text, "."); len(part) == 3 && math.Abs(v) >= 1 {
		text += "0"
	}
	if text == "-0" {
		text = "0"
	}
	return lang.Number(text)
}

// FormatTorque writes a torque and its unit.
func (s Set) FormatTorque(t quantity.Torque) string {
	return quantity.FormatTorque(t, s.OrDefault().Torque)
}

// TorqueFigure is the number of a torque alone.
func (s Set) TorqueFigure(t quantity.Torque) string {
	figure, _, _ := strings.Cut(s.FormatTorque(t), " ")
	return figure
}

// Setting is one unit to choose, with its choices.
type Setting struct {
	Name, Title, Chosen string
	Options             []string
}

// Settings lists every choice of the set.
func (s Set) Settings() []Setting {
	s = s.OrDefault()
	return []Setting{
		{"torque", lang.T("Torque"), string(s.Torque), []string{"N·m", "lbf·ft", "lbf·in", "kgf·m"}},
		{"length", lang.T("Length"), string(s.Length), []string{"mm", "in"}},
		{"angle", lang.T("Angle"), string(s.Angle), []string{"°", "°′"}},
		{"mass", lang.T("Mass"), string(s.Mass), []string{"kg", "lb"}},
		{"pressure", lang.T("Tyre pressure"), string(s.Pressure), []string{"bar", "kPa", "psi"}},
		{"stiffness", lang.T("Spring rate"), string(s.Stiffness), []string{"N/mm", "kgf/mm", "lbf/in"}},
		{"temperature", lang.T("Temperature"), string(s.Temperature), []string{"°C", "°F"}},
	}
}

// With returns the set with one unit chosen; what is not known changes nothing.
func (s Set) With(name, value string) Set {
	into := map[string]func(){
		"torque":      func() { s.Torque = quantity.TorqueUnit(value) },
		"length":      func() { s.Length = quantity.LengthUnit(value) },
		"angle":       func() { s.Angle = quantity.AngleUnit(value) },
		"mass":        func() { s.Mass = quantity.MassUnit(value) },
		"pressure":    func() { s.Pressure = quantity.PressureUnit(value) },
		"stiffness":   func() { s.Stiffness = quantity.StiffnessUnit(value) },
		"temperature": func() { s.Temperature = quantity.TemperatureUnit(value) },
	}
	for _, setting := range s.Settings() {
		if setting.Name == name && slices.Contains(setting.Options, value) {
			into[name]()
		}
	}
	return s.OrDefault()
}
