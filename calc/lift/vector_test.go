package lift_test

import (
	_ "embed"
	"testing"

	"strutcard/calc/internal/vector"
	"strutcard/calc/lift"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

//go:embed testdata/lift.json
var vectors []byte

type mass = measure.Value[quantity.Mass]

func TestVectors(t *testing.T) {
	formulas := map[string]vector.Formula{}
	for _, group := range []map[string]vector.Formula{loadFormulas, ratingFormulas, slopeFormulas, tiltFormulas, chockFormulas, holdFormulas} {
		for name, f := range group {
			formulas[name] = f
		}
	}
	vector.Run(t, vectors, formulas)
}

func axles(v *vector.Vector) lift.Axles {
	w := lift.Weights{Basis: lift.Weighed, FrontShare: quantity.Ratio(v.Num("front")), Resolution: 1, ShareResolution: 0.01}
	if v.Has("mass_lb") {
		w.Mass = quantity.Pounds(v.Num("mass_lb"))
	} else {
		w.Mass = quantity.Kilograms(v.Num("mass"))
	}
	a, err := lift.AxleLoads(w)
	if err != nil {
		panic(err) // a bad vector
	}
	return a
}

func mm(v *vector.Vector, name string) quantity.Length { return quantity.Millimetres(v.Num(name)) }

const tape quantity.Length = 0.001

func pair(v *vector.Vector) (lift.Loads, error) {
	s := lift.Support{Place: lift.Place(v.Text("place")), Resolution: tape}
	if v.Has("distance_mm") {
		s.Distance = mm(v, "distance_mm")
	}
	return lift.PairLoad(axles(v), lift.End(v.Text("end")), s, mm(v, "base_mm"), tape)
}

func kg(v mass, err error) ([]float64, error) { return []float64{v.Value.Kilograms()}, err }

var loadFormulas = map[string]vector.Formula{
	"axles": func(v *vector.Vector) ([]float64, error) {
		a := axles(v)
		return []float64{a.Front.Value.Kilograms(), a.Rear.Value.Kilograms()}, nil
	},
	"front weight": func(v *vector.Vector) ([]float64, error) {
		return []float64{axles(v).Front.Value.Weight().Newtons()}, nil
	},
	"centre behind front": func(v *vector.Vector) ([]float64, error) {
		got, err := lift.CentreBehindFront(axles(v), mm(v, "base_mm"), tape)
		return []float64{got.Value.Millimetres()}, err
	},
	"pair": func(v *vector.Vector) ([]float64, error) {
		got, err := pair(v)
		return kg(got.Stands, err)
	},
	"heavier of pair": func(v *vector.Vector) ([]float64, error) {
		got, err := pair(v)
		if err != nil {
			return nil, err
		}
		return kg(lift.HeavierLoad(got.Stands, lift.Split{Heavier: quantity.Ratio(v.Num("share")), Resolution: 0.01}))
	},
	"side": func(v *vector.Vector) ([]float64, error) {
		car := mass{Value: quantity.Mass(v.Num("mass")), Standard: 1}
		return kg(lift.HeavierLoad(car, lift.Split{Heavier: quantity.Ratio(v.Num("share")), Resolution: 0.01}))
	},
	"four": func(v *vector.Vector) ([]float64, error) {
		at := func(name string) lift.Support {
			return lift.Support{Place: lift.Between, Distance: mm(v, name), Resolution: tape}
		}
		got, err := lift.FourLoads(axles(v), at("front_mm"), at("rear_mm"), mm(v, "base_mm"), tape)
		return []float64{got.Stands.Value.Kilograms(), got.Rest.Value.Kilograms()}, err
	},
	"pair and each lb": func(v *vector.Vector) ([]float64, error) {
		got, err := lift.PairLoad(axles(v), lift.Front, lift.Support{Place: lift.AtAxle, Resolution: tape}, mm(v, "base_mm"), tape)
		if err != nil {
			return nil, err
		}
		each, err := lift.HeavierLoad(got.Stands, lift.Split{Heavier: 0.5, Resolution: 0.01})
		return []float64{got.Stands.Value.Pounds(), each.Value.Pounds()}, err
	},
	"rocking": func(v *vector.Vector) ([]float64, error) {
		c, l := goodCar, fourUp()
		c.Weights.Mass, c.Weights.FrontShare = quantity.Mass(v.Num("mass")), quantity.Ratio(v.Num("front"))
		c.Split = lift.Split{Heavier: 0.5, Resolution: 0.001}
		r, err := lift.Plan(c, l)
		if err != nil {
			return nil, err
		}
		return []float64{r.Pairs[0].Heavier.High.Kilograms()}, nil
	},
}

var ratingFormulas = map[string]vector.Formula{
	"required": func(v *vector.Vector) ([]float64, error) {
		each, err := lift.HeavierLoad(mass{Value: quantity.Mass(v.Num("load_kg")), Standard: 1}, lift.Split{Heavier: quantity.Ratio(v.Num("share")), Resolution: 0.01})
		if err != nil {
			return nil, err
		}
		got, err := lift.Required(lift.Range[quantity.Mass]{Low: each.Value, High: each.Value}, quantity.Ratio(v.Num("margin")))
		return []float64{got.Kilograms()}, err
	},
	"stand scope": func(*vector.Vector) ([]float64, error) {
		return []float64{lift.ScopeLow.Kilograms(), lift.ScopeHigh.Kilograms()}, nil
	},
	"per stand": func(v *vector.Vector) ([]float64, error) {
		got, err := marking(v, lift.RatingUnit(v.Text("unit"))).PerStand()
		return []float64{got.Low.Kilograms(), got.High.Kilograms()}, err
	},
	"compare lb": func(v *vector.Vector) ([]float64, error) {
		rated, err := marking(v, lift.Pounds).PerStand()
		if err != nil {
			return nil, err
		}
		load := quantity.Pounds(v.Num("load_lb"))
		got, err := lift.Compare(rated, lift.Range[quantity.Mass]{Low: load, High: load}, quantity.Ratio(v.Num("margin")))
		return []float64{map[lift.Fit]float64{lift.Enough: 1, lift.NotEnough: 0, lift.NotTelling: 0.5}[got]}, err
	},
	"stands": func(v *vector.Vector) ([]float64, error) {
		return []float64{lift.Stands(lift.Raised(v.Text("raised"))).Count()}, nil
	},
	"made stand test": func(v *vector.Vector) ([]float64, error) {
		got, err := lift.MadeStandTest(quantity.Mass(v.Num("swl_kg")))
		return []float64{got.Kilograms()}, err
	},
	"car jack rating": func(v *vector.Vector) ([]float64, error) {
		got, err := lift.CarJackRating(quantity.Mass(v.Num("gross_kg")))
		return []float64{got.Kilograms()}, err
	},
	"jack sinks": func(*vector.Vector) ([]float64, error) {
		return []float64{lift.JackSinksShare.Percent(), lift.JackSinks.Millimetres(), lift.JackSinksMinutes.Count()}, nil
	},
	"inspect": func(*vector.Vector) ([]float64, error) { return []float64{lift.InspectYears}, nil },
	"rule": func(v *vector.Vector) ([]float64, error) {
		return []float64{saidAlways(lift.Key(v.Text("key")))}, nil
	},
}

func marking(v *vector.Vector, unit lift.RatingUnit) lift.Marking {
	return lift.Marking{Rated: lift.Rated{Figure: quantity.Count(v.Num("figure")), Unit: unit}, For: lift.For(v.Text("for"))}
}

// saidAlways is 1 when the plan of every lift says the rule, as read.
func saidAlways(key lift.Key) float64 {
	for _, raised := range allRaised {
		l := goodLift
		l.Raised, l.First = raised, lift.Front
		r, err := lift.Plan(goodCar, l)
		found := false
		for _, n := range r.Cautions {
			found = found || n.Key == key && n.Provenance == lift.Read && n.Source != ""
		}
		if err != nil || !found {
			return 0
		}
	}
	return 1
}

var slopeFormulas = map[string]vector.Formula{
	"grade angle": func(v *vector.Vector) ([]float64, error) {
		return []float64{lift.GradeAngle(quantity.Percent(v.Num("pct"))).Degrees()}, nil
	},
	"along ground": func(v *vector.Vector) ([]float64, error) {
		return []float64{lift.GradeAlongGround(quantity.Percent(v.Num("pct"))).Percent()}, nil
	},
	"downhill force": func(v *vector.Vector) ([]float64, error) {
		got, err := lift.DownhillForce(quantity.Mass(v.Num("m_kg")), lift.GradeAngle(quantity.Percent(v.Num("pct"))))
		return []float64{got.Newtons()}, err
	},
	"downhill axle": func(v *vector.Vector) ([]float64, error) {
		return kg(lift.DownhillAxle(axles(v), lift.End(v.Text("end")), quantity.Degrees(v.Num("deg")), height(mm(v, "h_mm")), mm(v, "base_mm"), tape))
	},
	"slope": func(v *vector.Vector) ([]float64, error) {
		s := lift.Slope{Fall: mm(v, "fall_mm"), Over: mm(v, "over_mm"), Run: lift.AlongLevel, Down: lift.ToFront, Resolution: tape}
		if v.Has("down") {
			s.Down = lift.Way(v.Text("down"))
		}
		grade, err := lift.Grade(s)
		return []float64{map[lift.SlopeVerdict]float64{lift.SlopeFine: 0, lift.SlopeAsk: 1, lift.SlopeStop: 2}[lift.JudgeSlope(grade)]}, err
	},
}

func height(h quantity.Length) measure.Value[quantity.Length] {
	return measure.Value[quantity.Length]{Value: h, Standard: 0.02}
}

func raising(v *vector.Vector) lift.Raising {
	r := lift.Raising{End: lift.End(v.Text("end")), Wheelbase: mm(v, "base_mm"), Raise: mm(v, "raise_mm"), WheelRadius: mm(v, "r_mm"), Resolution: tape}
	if v.Has("h_mm") {
		r.CentreHeight = height(mm(v, "h_mm"))
	}
	return r
}

var tiltFormulas = map[string]vector.Formula{
	"tip angle": func(v *vector.Vector) ([]float64, error) {
		return []float64{lift.TipAngle(quantity.Ratio(v.Num("share"))).Degrees()}, nil
	},
	"stand tip": func(v *vector.Vector) ([]float64, error) {
		got, err := lift.TipShare(lift.Base{HalfWidth: mm(v, "half_mm"), Height: mm(v, "height_mm"), Resolution: tape})
		return []float64{float64(got.Value), lift.TipAngle(got.Value).Degrees()}, err
	},
	"raised left": func(v *vector.Vector) ([]float64, error) {
		got, err := lift.MovedLoad(axles(v), raising(v))
		return kg(got.Raised, err)
	},
	"raised extra": func(v *vector.Vector) ([]float64, error) {
		got, err := lift.MovedLoad(axles(v), raising(v))
		return kg(got.Extra, err)
	},
	"centre height": func(v *vector.Vector) ([]float64, error) {
		got, err := lift.CentreHeight(axles(v), raising(v), quantity.Mass(v.Num("left_kg")), 0.1)
		return []float64{got.Value.Metres()}, err
	},
}

var wheelNumber = map[lift.Corner]float64{lift.FrontLeft: 1, lift.FrontRight: 2, lift.RearLeft: 3, lift.RearRight: 4}

func chocks(v *vector.Vector, name string) ([]lift.Chock, error) {
	return lift.Chocks(lift.Raised(v.Text(name)), "", "")
}

var chockFormulas = map[string]vector.Formula{
	"chocked wheels": func(v *vector.Vector) ([]float64, error) {
		list, err := chocks(v, "raised")
		var out []float64
		seen := map[lift.Corner]bool{}
		for _, c := range list {
			if !seen[c.Wheel] {
				out = append(out, wheelNumber[c.Wheel])
			}
			seen[c.Wheel] = true
		}
		return out, err
	},
	"chocked faces": func(v *vector.Vector) ([]float64, error) {
		list, err := chocks(v, "raised")
		faces := map[lift.Chock]bool{}
		for _, c := range list {
			faces[c] = true
		}
		var out []float64
		for _, wheel := range []lift.Corner{lift.FrontLeft, lift.FrontRight, lift.RearLeft, lift.RearRight} {
			n := 0.0
			for _, f := range []lift.Face{lift.Ahead, lift.Behind} {
				if faces[lift.Chock{Wheel: wheel, Face: f}] {
					n++
				}
			}
			if n > 0 {
				out = append(out, n)
			}
		}
		return out, err
	},
	"first chocks": func(v *vector.Vector) ([]float64, error) {
		var out []float64
		for _, name := range []string{"one", "other"} {
			list, err := chocks(v, name)
			if err != nil {
				return nil, err
			}
			if list[0].Face != list[1].Face {
				return nil, nil
			}
			out = append(out, map[lift.Face]float64{lift.Ahead: 1, lift.Behind: 2}[list[0].Face], wheelNumber[list[0].Wheel], wheelNumber[list[1].Wheel])
		}
		return out, nil
	},
	"first wheel": func(v *vector.Vector) ([]float64, error) {
		list, err := chocks(v, "raised")
		n := 0.0
		for n < float64(len(list)) && list[int(n)].Wheel == list[0].Wheel {
			n++
		}
		return []float64{wheelNumber[list[0].Wheel], n}, err
	},
	"order": func(*vector.Vector) ([]float64, error) {
		var out []float64
		for _, s := range lift.Order()[:3] {
			out = append(out, map[lift.Step]float64{lift.StepChock: 1, lift.StepBrake: 2, lift.StepRaise: 3}[s])
		}
		return out, nil
	},
}

func verdict(h lift.Held, err error) ([]float64, error) {
	return []float64{map[lift.Verdict]float64{lift.Holds: 1, lift.DoesNot: 0, lift.CannotTell: 0.5}[h.Verdict]}, err
}

var holdFormulas = map[string]vector.Formula{
	"brake holds": func(v *vector.Vector) ([]float64, error) {
		return verdict(lift.BrakeHolds(lift.Driveline{Brake: lift.Brake(v.Text("brake"))}, lift.Raised(v.Text("raised"))))
	},
	"gear holds": func(v *vector.Vector) ([]float64, error) {
		return verdict(lift.GearHolds(lift.Driveline{Drive: lift.Drive(v.Text("drive")), Differential: lift.Differential(v.Text("differential"))}, lift.Raised(v.Text("raised"))))
	},
	"planned brake": func(v *vector.Vector) ([]float64, error) {
		l := goodLift
		l.BrakeReleased = lift.Answer(v.Text("released"))
		r, err := lift.Plan(goodCar, l)
		return verdict(r.Brake, err)
	},
}
