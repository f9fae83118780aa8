package method

import (
	"fmt"
	"slices"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/ride"
	"strutcard/sync/event"
)

// wheelbaseField is asked once; its reading counts as one of the same tape.
var wheelbaseField = Field{Name: "wheelbase", Label: "Wheelbase", Hint: "From a data sheet, or hub to hub with the same tape.", Kind: Length, Keep: true}

var heightTape = Field{Name: "mark", Label: "Smallest mark of the tape", Kind: Length, Keep: true, Instrument: true}

// rideStance is how the car stands: left against right, front against rear.
var rideStance = Method{
	ID: "ride_stance", Group: Ride, Title: "Ride height at four corners",
	Words: "All four wheels on the ground, tyres alike and at their pressure, nobody in the car. Roll it, bounce it, let it settle. Measure hub centre to arch edge at each wheel.",
	Fields: slices.Concat(four(Length, "", "", [4]string{"Front left, hub centre to arch edge", "Front right, hub centre to arch edge", "Rear left, hub centre to arch edge", "Rear right, hub centre to arch edge"}), []Field{wheelbaseField, heightTape,
		{Name: "limit", Label: "Largest left-right difference that the manual allows", Hint: "There is no general one. Leave it empty if the manual has none.", Kind: Length, Optional: true, Keep: true}}),
	Fill: func(r Record) map[string]string {
		out := map[string]string{}
		r.offer(out, r.standing(event.RideHeight), "")
		r.offerWheelbase(out)
		return out
	},
	Work: workStance,
}

func workStance(in *In) (Result, error) {
	l, mark, limit := fours(in.Length, ""), in.Length("mark"), in.Length("limit")
	base := length{Value: in.Length("wheelbase"), Standard: measure.Resolution(mark)}
	if in.Err() != nil {
		return Result{}, in.Err()
	}
	h, err := ride.Tape(l[0], l[1], l[2], l[3], mark)
	if err != nil {
		return Result{}, err
	}
	s, err := ride.StanceOf(h, base)
	if err != nil {
		return Result{}, err
	}
	rows, err := in.stanceRows(s, limit)
	f := in.Units.FormatLength
	rake := in.higher(s.Rake, lang.T("rear higher"), lang.T("front higher"))
	return Result{
		Figure: in.length(length{Value: size(s.Rake.Value), Standard: s.Rake.Standard}) + ", " + noseWords(s.RakeAngle),
		Words:  lang.T("This is the rake of the arches, rear mean minus front mean. Arches are not cut alike front and rear: compare it only with the same car at another time."),
		Line:   fmt.Sprintf("(%s + %s) ÷ 2 − (%s + %s) ÷ 2 = %s", f(l[2]), f(l[3]), f(l[0]), f(l[1]), f(s.Rake.Value)),
		Rows:   rows,
		Warn: []string{lang.T("The uncertainty covers reading the tape. It does not cover a car that has not settled, another load, unlike tyres, or a bent arch."),
			lang.T("Rubber-bushed bolts that were tightened at another height hold the car up and falsify all of this.")},
		Ask: ride.QuestionHeights(h),
		Picture: fourView(lang.F("The car from above with the four heights: front %s left and %s right, rear %s left and %s right.", f(l[0]), f(l[1]), f(l[2]), f(l[3])),
			[4]string{f(l[0]), f(l[1]), f(l[2]), f(l[3])}, rake).picture(),
	}, err
}

func (in *In) stanceRows(s ride.Stance, limit quantity.Length) ([]Row, error) {
	rows := []Row{{lang.T("Rake angle"), in.angle(s.RakeAngle)}, {lang.T("Front mean"), in.length(s.FrontMean)}, {lang.T("Rear mean"), in.length(s.RearMean)}}
	for _, axle := range []struct {
		name string
		of   length
	}{{lang.T("Front"), s.FrontDifference}, {lang.T("Rear"), s.RearDifference}} {
		rows = append(rows, Row{lang.F("%s, left against right", axle.name), in.higher(axle.of, lang.T("left higher"), lang.T("right higher"))})
		if !in.Has("limit") {
			continue
		}
		verdict, err := ride.LeftRight(axle.of, limit)
		if err != nil {
			return nil, err
		}
		rows = append(rows, Row{lang.F("%s, against the limit of %s", axle.name, in.Units.FormatLength(limit)), verdict.Words()})
	}
	return rows, nil
}

// higher writes a difference without a sign.
func (in *In) higher(v length, above, below string) string {
	words := lang.T("too close to tell")
	switch {
	case v.Low() > 0:
		words = above
	case v.High() < 0:
		words = below
	}
	return in.length(length{Value: size(v.Value), Standard: v.Standard}) + ", " + words
}
