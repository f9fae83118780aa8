package caster

import (
	"math"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Axis is how the steering axis leans: Caster positive with its top rearward,
// Inclination positive with its top inward.
type Axis struct {
	Caster, Inclination measure.Value[quantity.Angle]
}

// AxisFromSweep computes caster and inclination from a sweep and a third camber
// reading with the wheel straight ahead. The caster is as good as with a known
// inclination. The inclination is not: 0.1° in a reading moves it by a degree or
// more, which its uncertainty shows.
func AxisFromSweep(s Sweep, straight measure.Value[quantity.Angle]) (Axis, error) {
	if err := s.check(); err != nil {
		return Axis{}, err
	}
	if err := checkCamber(straight); err != nil {
		return Axis{}, err
	}
	m := three(s, straight.Value)
	det := m.det()
	if det <= 0 {
		return Axis{}, quantity.Inputf("Turn the wheel further to each side, and check the three readings.", "The three cambers do not fit a wheel that was turned this little.")
	}
	t, k := m.solve(m[0].rhs, m[1].rhs)
	return Axis{
		Caster:      measure.Value[quantity.Angle]{Value: quantity.Radians(math.Atan(t)), Standard: m.standard(s, straight, t, k, false)},
		Inclination: measure.Value[quantity.Angle]{Value: quantity.Radians(math.Atan(k)), Standard: m.standard(s, straight, t, k, true)},
	}, nil
}

// line is t·perT + k·perK = rhs: the turned wheel against the straight one.
type line struct{ perT, perK, rhs float64 }

type lines [2]line

func three(s Sweep, straight quantity.Angle) lines {
	sin0, cos0 := math.Sincos(straight.Radians())
	against := func(camber, heading quantity.Angle) line {
		sin, cos := math.Sincos(camber.Radians())
		across, along := math.Sincos(heading.Radians())
		return line{cos * across, cos0 - cos*along, sin - sin0}
	}
	return lines{against(s.Out.Camber.Value, s.Out.Turned), against(s.In.Camber.Value, -s.In.Turned)}
}

func (m lines) det() float64 { return m[0].perT*m[1].perK - m[0].perK*m[1].perT }

func (m lines) solve(out, in float64) (t, k float64) {
	return (out*m[1].perK - m[0].perK*in) / m.det(), (m[0].perT*in - out*m[1].perT) / m.det()
}

// standard combines the six inputs. Each moves the right-hand side of its line
// by the derivative of t·perT + k·perK − rhs, with the sign turned.
func (m lines) standard(s Sweep, straight measure.Value[quantity.Angle], t, k float64, ofInclination bool) quantity.Angle {
	moved := func(out, in float64, u quantity.Angle) quantity.Angle {
		dt, dk := m.solve(out, in)
		if ofInclination {
			return measure.Contribution[quantity.Angle](measure.Sensitivity(dk/(1+k*k)), u)
		}
		return measure.Contribution[quantity.Angle](measure.Sensitivity(dt/(1+t*t)), u)
	}
	byCamber := func(camber, heading quantity.Angle) float64 {
		sin, cos := math.Sincos(camber.Radians())
		across, along := math.Sincos(heading.Radians())
		return cos + t*sin*across - k*sin*along
	}
	byHeading := func(camber, heading quantity.Angle) float64 {
		across, along := math.Sincos(heading.Radians())
		return -math.Cos(camber.Radians()) * (t*along + k*across)
	}
	out, in, u := s.Out, s.In, s.turnStandard()
	zero, zeroTurn := byCamber(straight.Value, 0), byHeading(straight.Value, 0)
	return measure.Combine(
		moved(byCamber(out.Camber.Value, out.Turned), 0, out.Camber.Standard),
		moved(0, byCamber(in.Camber.Value, -in.Turned), in.Camber.Standard),
		moved(-zero, -zero, straight.Standard),
		moved(byHeading(out.Camber.Value, out.Turned), 0, u),
		moved(0, byHeading(in.Camber.Value, -in.Turned), u),
		moved(-zeroTurn, -zeroTurn, u), // straight ahead is set no better than the rest
	)
}

// Way is where the front of the wheel is turned to.
type Way string

const (
	Out Way = "out" // away from the car
	In  Way = "in"  // towards the car
)

// Wheel is a wheel straight ahead: how its axis leans, and its camber.
type Wheel struct {
	Caster, Inclination, Camber quantity.Angle
}

// CamberAt is the inverse of FromSweep: the camber that the wheel shows when its
// heading is turned by an angle.
func CamberAt(w Wheel, way Way, turned quantity.Angle) (quantity.Angle, error) {
	switch {
	case way != Out && way != In:
		return 0, quantity.Inputf("Choose out, away from the car, or in, towards it.", "It is not said which way the wheel is turned.")
	case !(turned >= 0 && turned.Degrees() <= mostTurn):
		return 0, quantity.Inputf("Enter how far the wheel is turned from straight ahead, up to 45°.", "The angle that the wheel is turned by is missing or out of range.")
	case !(math.Abs(w.Caster.Degrees()) <= mostInclination && math.Abs(w.Camber.Degrees()) <= mostCamber && w.Inclination >= 0 && w.Inclination.Degrees() <= mostInclination):
		return 0, quantity.Inputf("Check caster, inclination and camber, and that minutes are not entered as degrees.", "The wheel's angles are missing or out of range.")
	}
	heading := turned.Radians()
	if way == In {
		heading = -heading
	}
	t, k := math.Tan(w.Caster.Radians()), math.Tan(w.Inclination.Radians())
	tilt := t*math.Sin(heading) - k*math.Cos(heading)
	kept := -k*math.Cos(w.Camber.Radians()) - math.Sin(w.Camber.Radians())
	return quantity.Radians(math.Atan(tilt) - math.Asin(kept/math.Hypot(1, tilt))), nil
}

// Lean is where the top of the steering axis leans, seen from the side.
type Lean string

const (
	Rearward Lean = "rearward" // positive caster
	Forward  Lean = "forward"  // negative caster
)

// LeanOf says a caster in words; an axis that stands upright has none.
func LeanOf(caster quantity.Angle) Lean {
	switch {
	case caster > 0:
		return Rearward
	case caster < 0:
		return Forward
	}
	return ""
}

// Cross is the cross-caster: left minus right. It fails when either is missing.
func Cross(left, right measure.Value[quantity.Angle]) (measure.Value[quantity.Angle], error) {
	if !usable(left) || !usable(right) {
		return measure.Value[quantity.Angle]{}, quantity.Inputf("Measure the caster on both sides first.", "The caster of one side is missing or has no uncertainty.")
	}
	return measure.Value[quantity.Angle]{Value: left.Value - right.Value, Standard: measure.Combine(left.Standard, right.Standard)}, nil
}
