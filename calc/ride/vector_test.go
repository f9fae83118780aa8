package ride_test

import (
	_ "embed"
	"testing"

	"strutcard/calc/internal/vector"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/ride"
)

//go:embed testdata/ride.json
var vectors []byte

type value = measure.Value[quantity.Length]

func TestVectors(t *testing.T) {
	vector.Run(t, vectors, map[string]vector.Formula{
		"stance": func(v *vector.Vector) ([]float64, error) {
			s, err := stance(v)
			return values(s.FrontMean, s.RearMean, s.FrontDifference, s.RearDifference, s.Rake), err
		},
		"stance uncertainty": func(v *vector.Vector) ([]float64, error) {
			s, err := stance(v)
			return []float64{s.FrontMean.Standard.Millimetres(), s.RearDifference.Standard.Millimetres(), s.Rake.Standard.Millimetres()}, err
		},
		"rake angle": func(v *vector.Vector) ([]float64, error) {
			s, err := stance(v)
			return []float64{s.RakeAngle.Value.Degrees()}, err
		},
		"left right": func(v *vector.Vector) ([]float64, error) {
			h, err := ride.Tape(mm(v, "left"), mm(v, "right"), 0.36, 0.36, mm(v, "res"))
			if err != nil {
				return nil, err
			}
			s, err := ride.StanceOf(h, value{Value: 2.6, Standard: 0.001})
			if err != nil {
				return nil, err
			}
			verdict, err := ride.LeftRight(s.FrontDifference, mm(v, "limit"))
			return []float64{map[measure.Verdict]float64{measure.Met: 1, measure.TooClose: 0, measure.NotMet: -1}[verdict]}, err
		},
		"per turn": func(v *vector.Vector) ([]float64, error) {
			p, err := ride.Learn(trial(v))
			return values(p.Height), err
		},
		"per turn uncertainty": func(v *vector.Vector) ([]float64, error) {
			p, err := ride.Learn(trial(v))
			return []float64{p.Height.Standard.Millimetres()}, err
		},
		"turns": turns,
		"effect": func(v *vector.Vector) ([]float64, error) {
			e, err := ride.EffectOf(ride.Hardware(v.Text("hardware")), ride.Way(v.Text("way")), mm(v, "along"))
			return []float64{e.Preload.Millimetres(), e.Droop.Millimetres(), e.Bump.Millimetres()}, err
		},
		"bump stop": func(v *vector.Vector) ([]float64, error) {
			got, err := ride.TravelOf(damper(v))
			return values(got.Stop, got.Firm), err
		},
		"travel": func(v *vector.Vector) ([]float64, error) {
			got, err := ride.TravelOf(damper(v))
			return values(got.Droop, got.ToStop, got.ToSolid), err
		},
		"contact": func(v *vector.Vector) ([]float64, error) {
			got, err := ride.TravelOf(damper(v))
			return []float64{map[ride.Contact]float64{ride.Unclear: 0, ride.Clear: 1, ride.OnStop: 2, ride.Solid: 3}[got.Contact]}, err
		},
		"drop angle": func(v *vector.Vector) ([]float64, error) {
			a, err := ride.DropAngle(quantity.Inches(v.Num("drop_in")), quantity.Inches(12*v.Num("distance_ft")))
			return []float64{a.Degrees()}, err
		},
		"published drops": func(*vector.Vector) ([]float64, error) {
			var out []float64
			for _, d := range ride.PublishedDrops() {
				out = append(out, d.Angle.Degrees())
			}
			return out, nil
		},
		"pitch": func(v *vector.Vector) ([]float64, error) {
			a, err := pitch(v)
			return []float64{a.Value.Degrees()}, err
		},
		"beam": func(v *vector.Vector) ([]float64, error) {
			a, err := pitch(v)
			if err != nil {
				return nil, err
			}
			l, err := ride.BeamShift(a, read(v, "distance"))
			return values(l), err
		},
	})
}

func mm(v *vector.Vector, name string) quantity.Length { return quantity.Millimetres(v.Num(name)) }

func read(v *vector.Vector, name string) value {
	return value{Value: mm(v, name), Standard: measure.Resolution(mm(v, "res"))}
}

func values(list ...value) []float64 {
	var out []float64
	for _, v := range list {
		out = append(out, v.Value.Millimetres())
	}
	return out
}

func stance(v *vector.Vector) (ride.Stance, error) {
	wheelbase := read(v, "wheelbase")
	h, err := ride.Tape(mm(v, "FL"), mm(v, "FR"), mm(v, "RL"), mm(v, "RR"), mm(v, "res"))
	if err != nil {
		return ride.Stance{}, err
	}
	return ride.StanceOf(h, wheelbase)
}

func trial(v *vector.Vector) ride.Trial {
	return ride.Trial{Hardware: ride.Hardware(v.Text("hardware")), Turned: ride.Turned(v.Text("turned")), Way: ride.Way(v.Text("way")),
		Turns: quantity.Count(v.Num("turns")), TurnsSmallest: quantity.Count(v.Num("smallest")), Before: read(v, "before"), After: read(v, "after")}
}

func turns(v *vector.Vector) ([]float64, error) {
	now, wanted := read(v, "now"), mm(v, "wanted")
	p, err := ride.Learn(trial(v))
	if err != nil {
		return nil, err
	}
	turned := p.Turned
	if v.Has("as") {
		turned = ride.Turned(v.Text("as"))
	}
	got, err := ride.TurnsFor(p, turned, now, wanted)
	return []float64{got.Turns.Value.Count()}, err
}

func damper(v *vector.Vector) ride.Damper {
	return ride.Damper{ShowingHanging: mm(v, "hanging"), ShowingAtRide: mm(v, "ride"), StopFree: mm(v, "free"), StopSolid: mm(v, "solid"), StopSoft: mm(v, "soft"), Resolution: mm(v, "res")}
}

func pitch(v *vector.Vector) (measure.Value[quantity.Angle], error) {
	front, rear, res := mm(v, "front_after"), mm(v, "rear_after"), mm(v, "res")
	was, base := mm(v, "before"), read(v, "wheelbase")
	before, err := ride.Tape(was, was, was, was, res)
	if err != nil {
		return measure.Value[quantity.Angle]{}, err
	}
	after, err := ride.Tape(front, front, rear, rear, res)
	if err != nil {
		return measure.Value[quantity.Angle]{}, err
	}
	return ride.PitchChange(before, after, base)
}
