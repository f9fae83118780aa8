package method

import (
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/lift"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/load"
	"strutcard/sync/sheet"
)

// LiftSummary is what the sheet and the recorded ratings alone tell before an
// axle goes up onto two stands. What is not known counts at its worst, and is
// named. It is false while the sheet does not state the mass of the car, or
// states what no road car has.
func LiftSummary(r Record, axle event.Axle) (lines []string, ok bool) {
	if r.Sheet == nil || r.Sheet.Vehicle.MassG <= 0 || !axle.Valid() {
		return nil, false
	}
	s, err := summarize(r, axle)
	if err != nil {
		return nil, false
	}
	return s.lines(), true
}

// summary is what the worst and the best of the places allowed for come to.
type summary struct {
	*In
	axle        event.Axle
	stand, jack summed
	far, held   lift.Result
}

// summed is a load, what is marked for it, and how the two stand.
type summed struct {
	load   lift.Range[quantity.Mass]
	marked string
	fit    lift.Fit
}

func summarize(r Record, axle event.Axle) (summary, error) {
	s := summary{In: &In{Record: r}, axle: axle}
	s.Units = r.Units.OrDefault()
	v := &r.Sheet.Vehicle
	loads, err := load.Of(v, axle)
	if err != nil {
		return summary{}, err
	}
	s.far = loads.Far
	if s.held, err = load.Held(v, axle); err != nil {
		return summary{}, err
	}
	stands, jack := r.ratingG(sheet.Stands), r.ratingG(sheet.Jack)
	s.stand = s.sum(loads.Stand, stands, lang.F("%s each", s.massLeast(quantity.MassFromG(stands))))
	s.jack = s.sum(loads.Jack, jack, s.massLeast(quantity.MassFromG(jack)))
	return s, nil
}

func (s summary) sum(bears lift.Range[quantity.Mass], ratingG int64, mark string) summed {
	out := summed{load: bears, marked: lang.T("not recorded"), fit: load.Fit(ratingG, bears)}
	switch {
	case load.Marked(ratingG):
		out.marked = mark
	case ratingG > 0:
		out.marked = lang.F("%s, which is not that of such a tool", mark)
	}
	return out
}

func (s summary) lines() []string {
	_, _, each := standWords(lift.End(s.axle))
	stands := lang.F("Stands within %s of the axle line, ground that falls less than %s: %s carries at most %s. Marked %s: %s.",
		s.Units.FormatLength(load.Reach), lift.SlopeAsked, each, s.massMost(s.stand.load.High), s.stand.marked, fitWords(s.stand.fit))
	if s.far.OtherEnd.Verdict != lift.Holds {
		stands += " " + lang.T("The further in, the nearer the car is to tipping over them.")
	}
	return []string{
		stands,
		lang.F("The jack there lifts at most %s. Marked %s: %s.", s.massMost(s.jack.load.High), s.jack.marked, fitWords(s.jack.fit)),
		lang.F("With the %s up: the parking brake, left on, %s. A gear or P %s.", lang.T(string(s.axle)), lang.T(holdWords[s.held.Brake.Verdict]), lang.T(holdWords[s.held.Gear.Verdict])),
		lang.F("Chock %s. Where the ground falls, the downhill side first.", chockWords(s.held.Chocks)),
		lang.F("Asked is 1.5 times the load, common practice. Not known, counted at its worst: %s. The sheet's mass counts 10 %% more or less.", strings.Join(s.unknown(), ", ")),
	}
}

var holdWords = map[lift.Verdict]string{lift.Holds: "holds", lift.DoesNot: "holds nothing", lift.CannotTell: "may hold nothing"}

// unknown names what the sheet and the record do not tell.
func (s summary) unknown() []string {
	v := s.Sheet.Vehicle
	out := []string{lang.T("how left and right share it"), lang.T("where stands and jack go")}
	for _, x := range []struct {
		missing bool
		words   string
	}{{v.FrontShare <= 0, lang.T("what each axle carries")}, {v.WheelbaseUM <= 0, lang.T("the wheelbase")}, {load.Driveline(&v).Drive == "", lang.T("which wheels are driven")}, {v.ParkingBrake == "", lang.T("where the parking brake acts")}} {
		if x.missing {
			out = append(out, x.words)
		}
	}
	return out
}
