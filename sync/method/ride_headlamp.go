package method

import (
	"slices"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/ride"
	"strutcard/sync/event"
)

// rideHeadlamp is what a change of heights does to the headlamps.
var rideHeadlamp = Method{
	ID: "ride_headlamp", Group: Ride, Title: "Headlamp aim",
	Words: "Before the work, mark the cut-off on a wall and note the distance and what is in the car. Enter the heights before and after: they say how far the beam was tilted.",
	Fields: slices.Concat(
		four(Length, "_before", "Hub centre to arch edge.", [4]string{"Front left, before", "Front right, before", "Rear left, before", "Rear right, before"}),
		four(Length, "_after", "Hub centre to arch edge.", [4]string{"Front left, after", "Front right, after", "Rear left, after", "Rear right, after"}),
		[]Field{wheelbaseField, heightTape,
			{Name: "wall", Label: "Lamp to wall", Hint: "Along the floor, with the same tape. Leave it empty without a wall.", Kind: Length, Optional: true, Keep: true}}),
	Fill: func(r Record) map[string]string {
		out := map[string]string{}
		r.offer(out, r.found(event.RideHeight), "_before")
		after := r.standing(event.RideHeight)
		for i, x := range after {
			if x != nil && x.Purpose == event.Before {
				after[i] = nil // nothing was measured since
			}
		}
		r.offer(out, after, "_after")
		r.offerWheelbase(out)
		return out
	},
	Work: workHeadlamp,
}

func workHeadlamp(in *In) (Result, error) {
	b, a := fours(in.Length, "_before"), fours(in.Length, "_after")
	mark := in.Length("mark")
	base := length{Value: in.Length("wheelbase"), Standard: measure.Resolution(mark)}
	wall := length{Value: in.Length("wall"), Standard: measure.Resolution(mark)}
	if in.Err() != nil {
		return Result{}, in.Err()
	}
	before, err := ride.Tape(b[0], b[1], b[2], b[3], mark)
	if err != nil {
		return Result{}, err
	}
	after, err := ride.Tape(a[0], a[1], a[2], a[3], mark)
	if err != nil {
		return Result{}, err
	}
	change, err := ride.PitchChange(before, after, base)
	if err != nil {
		return Result{}, err
	}
	rows, err := in.beamRows(change, wall)
	if err != nil {
		return Result{}, err
	}
	return in.headlamp(before, after, base, change, rows)
}

func (in *In) headlamp(before, after ride.Heights, base length, change angle, rows []Row) (Result, error) {
	was, err := ride.StanceOf(before, base)
	if err != nil {
		return Result{}, err
	}
	is, err := ride.StanceOf(after, base)
	if err != nil {
		return Result{}, err
	}
	f := in.Units.FormatLength
	ask := ride.QuestionHeights(before)
	if ask == "" {
		ask = ride.QuestionHeights(after)
	}
	return Result{
		Figure: in.angle(angle{Value: size(change.Value), Standard: change.Standard}) + ", " + noseWords(change),
		Words:  ride.Beam(change),
		Line: lang.F("atan((rake after %s − rake before %s) ÷ %s) = %s, above zero nose down", f(is.Rake.Value), f(was.Rake.Value),
			f(base.Value), in.Units.FormatAngle(change.Value)),
		Rows: rows,
		Warn: []string{lang.T("The drops that pages publish disagree fivefold. They are shown for that; none is used."),
			lang.T("A car that levels its lamps by itself has a sensor at the axle. Its manual says whether that has to be set anew.")},
		Ask:     ask,
		Picture: in.pitchPicture(is.FrontMean.Value-was.FrontMean.Value, is.RearMean.Value-was.RearMean.Value, change),
	}, nil
}

// noseWords is which way the car is tilted.
func noseWords(tilt angle) string { return lang.T(string(ride.NoseOf(tilt))) }

// beamRows are the beam at the wall, and the drops that pages give.
func (in *In) beamRows(change angle, wall length) ([]Row, error) {
	var rows []Row
	if in.Has("wall") {
		shift, err := ride.BeamShift(change, wall)
		if err != nil {
			return nil, err
		}
		rows = append(rows, Row{lang.T("Beam at the wall, besides the lamp's own change of height"), in.higher(shift, lang.C("lower", "of a beam"), lang.C("higher", "of a beam"))})
	}
	for _, d := range ride.PublishedDrops() {
		rows = append(rows, Row{lang.F("%s: drop of %s over %s", capital(lang.T(d.Source)), in.Units.FormatLength(d.Drop), in.Units.FormatLength(d.Distance)),
			in.Units.FormatAngle(d.Angle)})
	}
	return rows, nil
}

// pitchPicture is the car from its left side, the front to the left, with the
// line of its arches before and after.
func (in *In) pitchPicture(front, rear quantity.Length, change angle) *Picture {
	moved := func(l quantity.Length) string {
		words := in.Units.FormatLength(size(l))
		switch {
		case l > 0:
			return lang.F("%s higher", words)
		case l < 0:
			return lang.F("%s lower", words)
		}
		return lang.T("unchanged")
	}
	p := &Picture{Height: 180, Note: lang.T("Dashed: before. The tilt is drawn far larger than it is."),
		Alt: lang.F("The car from its left side, its front to the left: front %s, rear %s. %s.", moved(front), moved(rear), capital(noseWords(change)))}
	most := max(size(front).Metres(), size(rear).Metres())
	up := func(l quantity.Length) float64 {
		if most == 0 {
			return 0
		}
		return 20 * l.Metres() / most
	}
	const level, ground, frontX, rearX = 95.0, 155.0, 100.0, 230.0
	slope := (up(front) - up(rear)) / (rearX - frontX)
	at := func(x float64) float64 { return level - up(front) + slope*(x-frontX) }
	p.Line("ink", 10, ground, 310, ground)
	p.Circle("ink", frontX, ground-22, 22)
	p.Circle("ink", rearX, ground-22, 22)
	p.Line("ink dashed", 40, level, 290, level)
	p.Line("accent", 40, at(40), 290, at(290))
	p.Small("middle", 80, 40, lang.F("front %s", moved(front)))
	p.Small("middle", 240, 40, lang.F("rear %s", moved(rear)))
	p.Label("middle", 160, 20, in.Units.FormatAngle(size(change.Value))+", "+noseWords(change))
	p.Small("start", 10, 172, lang.T("← beam"))
	return p
}
