package method

import (
	"fmt"
	"math"
	"strings"

	"strutcard/calc/lift"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// A summary is for stands and jack no further than summaryReach from the axle
// line, on ground that falls by no more than a plan lets pass. It says both:
// further in the stands carry more. Common practice, no source.
const summaryReach quantity.Length = 0.6

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
	plan := func(place lift.Place, where lift.Where) (lift.Result, error) {
		return lift.Plan(r.summaryCar(), r.summaryLift(axle, place, where))
	}
	near, err := plan(lift.Beyond, lift.Corners) // where stands and jack carry least
	if err != nil {
		return summary{}, err
	}
	if s.far, err = plan(lift.Between, lift.Centre); err != nil { // and most
		return summary{}, err
	}
	if s.held, err = plan(lift.Between, ""); err != nil { // wherever the jack goes
		return summary{}, err
	}
	pair := s.far.Pairs[0]
	if s.stand, err = s.sum(near.Pairs[0].Heavier.Low, pair.Heavier.High, r.ratingG(sheet.Stands), pair.Rated, " each"); err != nil {
		return summary{}, err
	}
	s.jack, err = s.sum(near.Jack.Load.Low, s.far.Jack.Load.High, r.ratingG(sheet.Jack), s.far.Jack.Rated, "")
	return s, err
}

func (s summary) sum(low, high quantity.Mass, ratingG int64, rated lift.Range[quantity.Mass], each string) (summed, error) {
	out := summed{load: lift.Range[quantity.Mass]{Low: low, High: high}, marked: "not recorded"}
	switch mark := s.massWhole(quantity.MassFromG(ratingG), math.Floor) + " " + string(s.Units.Mass) + each; {
	case markedFor(ratingG) != (lift.Rated{}):
		out.marked = mark
	case ratingG > 0:
		out.marked = mark + ", which is not that of such a tool"
	}
	var err error
	out.fit, err = lift.Compare(rated, out.load, lift.CommonMargin)
	return out, err
}

func (r Record) summaryCar() lift.Car {
	v := r.Sheet.Vehicle
	return lift.Car{
		Weights:   onPaper(quantity.MassFromG(v.MassG), quantity.Ratio(v.FrontShare)/1000),
		Wheelbase: quantity.LengthFromUM(v.WheelbaseUM), Tape: quantity.Millimetres(10), Driveline: driveline(v),
	}
}

func (r Record) summaryLift(axle event.Axle, place lift.Place, where lift.Where) lift.Lift {
	raised := map[event.Axle]lift.Raised{event.Front: lift.FrontAxle, event.Rear: lift.RearAxle}[axle]
	at := lift.Support{Place: place, Distance: summaryReach, Resolution: quantity.Millimetres(10)}
	pair := lift.PairOfStands{At: at, Marking: lift.Marking{Rated: markedFor(r.ratingG(sheet.Stands)), For: lift.PerStand}}
	return lift.Lift{Raised: raised, Front: pair, Rear: pair, Margin: lift.CommonMargin, Along: nearlyLevel(), Across: nearlyLevel(),
		Jack: lift.Jack{Rated: markedFor(r.ratingG(sheet.Jack)), Where: where, Front: at, Rear: at}, BrakeReleased: lift.No}
}

// markedFor is a recorded rating of one piece, nothing while there is none or it
// cannot be one.
func markedFor(g int64) lift.Rated {
	out := lift.Rated{Figure: quantity.Count(quantity.MassFromG(g).Kilograms()), Unit: lift.Kilograms}
	if _, err := (lift.Marking{Rated: out, For: lift.PerStand}).PerStand(); err != nil {
		return lift.Rated{}
	}
	return out
}

// nearlyLevel is ground that may fall either way by as much as passes without a
// question: a ruler so coarse that its expanded uncertainty over a metre is that.
func nearlyLevel() lift.Slope {
	over := quantity.Metres(1)
	return lift.Slope{Over: over, Run: lift.AlongLevel, Resolution: over * quantity.Length(lift.SlopeAsked) * quantity.Length(math.Sqrt(12)/measure.Coverage)}
}

func (s summary) lines() []string {
	stands := fmt.Sprintf("Stands within %s of the axle line, ground that falls less than %s: each %s stand carries at most %s. Marked %s: %s.",
		s.Units.FormatLength(summaryReach), lift.SlopeAsked, s.axle, s.massMost(s.stand.load.High), s.stand.marked, fitWords(s.stand.fit))
	if s.far.OtherEnd.Verdict != lift.Holds {
		stands += " The further in, the nearer the car is to tipping over them."
	}
	return []string{
		stands,
		fmt.Sprintf("The jack there lifts at most %s. Marked %s: %s.", s.massMost(s.jack.load.High), s.jack.marked, fitWords(s.jack.fit)),
		fmt.Sprintf("With the %s up: the parking brake, left on, %s. A gear or P %s.", s.axle, holdWords[s.held.Brake.Verdict], holdWords[s.held.Gear.Verdict]),
		"Chock " + chockWords(s.held.Chocks) + ". Where the ground falls, the downhill side first.",
		"Asked is 1.5 times the load, common practice. Not known, counted at its worst: " + strings.Join(s.unknown(), ", ") + ". The sheet's mass counts 10 % more or less.",
	}
}

var holdWords = map[lift.Verdict]string{lift.Holds: "holds", lift.DoesNot: "holds nothing", lift.CannotTell: "may hold nothing"}

// unknown names what the sheet and the record do not tell.
func (s summary) unknown() []string {
	v := s.Sheet.Vehicle
	out := []string{"how left and right share it", "where stands and jack go"}
	for _, x := range []struct {
		missing bool
		words   string
	}{{v.FrontShare <= 0, "what each axle carries"}, {v.WheelbaseUM <= 0, "the wheelbase"}, {driveline(v).Drive == "", "which wheels are driven"}, {v.ParkingBrake == "", "where the parking brake acts"}} {
		if x.missing {
			out = append(out, x.words)
		}
	}
	return out
}
