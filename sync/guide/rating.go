package guide

import (
	"fmt"
	"math"

	"strutcard/calc/lang"
	"strutcard/calc/lift"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/load"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

// hopeless is what jack and stands must at least be marked for while the mass of
// the car is not known. It finds what is mistyped, no more (common practice, no
// source): whether it is enough, the check before the lift decides.
const hopeless quantity.Mass = 500

// Rating is how the marked rating of a jack, or of each stand by itself, stands
// to the most that it may carry when an axle goes up.
type Rating struct {
	Tool   event.ToolID
	Kind   sheet.ToolKind
	Name   string
	Axle   event.Axle    // the one that asks most
	Most   quantity.Mass // 0 while the mass of the car is not known
	Marked quantity.Mass // of one piece; 0 while it is not recorded
	Pair   bool          // its label rates a pair: Marked is half of that
	Fit    lift.Fit      // with the margin of the lift plan
	Stop   bool          // too weak: it must not be used
}

// Rating judges a jack or stands that are here, for the axle that asks most, or
// for one axle. It says cannot tell for what is not recorded.
func (g Guide) Rating(t *sheet.Tool, axles ...event.Axle) Rating {
	got := g.State.Tools[t.ID]
	r := Rating{Tool: t.ID, Kind: t.Kind, Name: g.ToolName(t.ID), Marked: quantity.MassFromG(got.RatingG), Pair: got.Pair, Fit: lift.NotTelling}
	if len(axles) == 0 {
		axles = g.raised()
	}
	for i, axle := range axles {
		loads, err := load.Of(&g.Sheet.Vehicle, axle)
		if g.Sheet.Vehicle.MassG <= 0 || err != nil {
			continue
		}
		bears := loads.Stand
		if t.Kind == sheet.Jack {
			bears = loads.Jack
		}
		if bears.High > r.Most {
			r.Axle, r.Most = axle, bears.High
		}
		if fit := load.Fit(got.RatingG, bears); i == 0 || worse(fit, r.Fit) {
			r.Fit = fit
		}
	}
	r.Stop = r.Marked > 0 && (r.Fit == lift.NotEnough || r.Marked < r.least())
	return r
}

func worse(a, b lift.Fit) bool {
	order := map[lift.Fit]int{lift.Enough: 0, lift.NotTelling: 1, lift.NotEnough: 2}
	return order[a] > order[b]
}

// least is the rating below which it must not be used: the load without any
// margin.
func (r Rating) least() quantity.Mass {
	if r.Most > 0 {
		return r.Most
	}
	return hopeless
}

// whole is more than all of a car can weigh of what its papers say, with what
// the plan allows for: what is marked for that much is not too weak for a part.
const whole quantity.Mass = 1.25

// tooWeak reports whether a jack or stands must not be used, without the plan
// where it is plain.
func (g Guide) tooWeak(t *sheet.Tool, axles ...event.Axle) bool {
	mass, marked := quantity.MassFromG(g.Sheet.Vehicle.MassG), quantity.MassFromG(g.State.Tools[t.ID].RatingG)
	if mass > 0 && marked >= whole*mass {
		return false
	}
	return g.Rating(t, axles...).Stop
}

// raised lists the axles that this sheet raises.
func (g Guide) raised() []event.Axle {
	var out []event.Axle
	for _, axle := range event.Axles {
		for _, step := range g.Sheet.Steps() {
			if step.Move == event.Raise && step.Axle == axle {
				out = append(out, axle)
				break
			}
		}
	}
	return out
}

// Ratings judges every jack and pair of stands that is here.
func (g Guide) Ratings(axles ...event.Axle) []Rating {
	var out []Rating
	for i := range g.Sheet.Tools {
		t := &g.Sheet.Tools[i]
		if lifts(t) && g.State.Tools[t.ID].Have {
			out = append(out, g.Rating(t, axles...))
		}
	}
	return out
}

// weakTools block raising an axle with a jack or stands that the plan says are
// too weak for it.
func (g Guide) weakTools(axle event.Axle) []Blocker {
	var out []Blocker
	for i := range g.Sheet.Tools {
		t := &g.Sheet.Tools[i]
		if lifts(t) && g.State.Tools[t.ID].Have && g.tooWeak(t, axle) {
			out = append(out, Blocker{Text: lang.F("Do not raise the car. %s.", g.Rating(t, axle).Words(units.Metric)), Step: g.kitStep()})
		}
	}
	return out
}

func lifts(t *sheet.Tool) bool { return t.Kind == sheet.Jack || t.Kind == sheet.Stands }

func (g Guide) kitStep() event.StepID {
	for _, step := range g.Sheet.Steps() {
		if step.Kit {
			return step.ID
		}
	}
	return ""
}

// Words says what is marked, what it may carry, and how the two stand.
func (r Rating) Words(u units.Set) string {
	verdict := r.Fit.Words()
	if r.Stop {
		verdict = lift.NotEnough.Words()
	}
	marked := r.marked(u)
	switch {
	case r.Most > 0:
		text := lang.T("%s, %s: may have to lift at most %s with the %s up, and %s times that is asked, %s: %s")
		if r.Kind == sheet.Stands {
			text = lang.T("%s, %s: one may have to carry at most %s with the %s up, and %s times that is asked, %s: %s")
		}
		return fmt.Sprintf(text, r.Name, marked, wholeMass(r.Most, u, math.Ceil), EndWords(r.Axle),
			lang.Number(fmt.Sprint(float64(lift.CommonMargin))), wholeMass(r.Most*quantity.Mass(lift.CommonMargin), u, math.Ceil), verdict)
	case r.Stop:
		return lang.F("%s, %s: less than the %s that any car asks of it: %s", r.Name, marked, wholeMass(hopeless, u, math.Ceil), verdict)
	}
	return lang.F("%s, %s: the sheet does not state the mass of the car: %s", r.Name, marked, verdict)
}

func (r Rating) marked(u units.Set) string {
	marked := wholeMass(r.Marked, u, math.Floor)
	switch {
	case r.Marked == 0:
		return lang.T("no rating recorded")
	case r.Pair:
		return lang.F("marked %s each, half of what is marked for the pair", marked)
	case r.Kind == sheet.Stands:
		return lang.F("marked %s each", marked)
	}
	return lang.F("marked %s", marked)
}

// wholeMass writes a mass in whole kilograms or pounds, rounded to the safe side.
func wholeMass(m quantity.Mass, u units.Set, round func(float64) float64) string {
	u = u.OrDefault()
	v := m.Kilograms()
	if u.Mass == quantity.Pound {
		v = m.Pounds()
	}
	if nearest := math.Round(v); math.Abs(v-nearest) < 1e-6 { // what a sum may be off by
		v = nearest
	}
	return fmt.Sprintf("%.0f %s", round(v), u.Mass)
}
