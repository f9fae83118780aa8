package method

import (
	"strconv"

	"strutcard/calc/lift"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/load"
	"strutcard/sync/sheet"
)

// liftChoice is the answer of a choice, "" when it says that it is not known.
func (in *In) liftChoice(name string) string {
	if answer := in.Choice(name); answer != liftUnknown {
		return answer
	}
	return ""
}

func (in *In) liftCar() lift.Car {
	return lift.Car{
		Weights: in.liftWeights(), Split: in.liftSplit(),
		Wheelbase: in.Length("wheelbase"), WheelRadius: in.Length("wheel_centre"), Tape: in.Length("tape"),
		CentreHeight: length{Value: in.Length("gravity"), Standard: in.Length("gravity_within") / measure.Coverage},
		Driveline: lift.Driveline{Drive: lift.Drive(in.liftChoice("drive")), Differential: lift.Differential(in.liftChoice("differential")),
			Brake: lift.Brake(in.liftChoice("brake")), Gearbox: lift.Gearbox(in.liftChoice("gearbox"))},
	}
}

func (in *In) liftWeights() lift.Weights {
	w := lift.Weights{Mass: in.Mass("mass"), FrontShare: in.Percent("front_share"), Front: in.Mass("front_load"), Rear: in.Mass("rear_load"),
		Resolution: in.Mass("mass_step"), ShareResolution: in.Percent("share_step")}
	mass, share := in.Mass("paper_mass"), in.Percent("paper_share")
	switch in.liftChoice("weight") {
	case "axles", "weighed":
		w.Basis = lift.Weighed
	case "papers":
		return load.OnPaper(mass, share)
	}
	return w
}

func (in *In) liftSplit() lift.Split {
	s := lift.Split{Heavier: in.Percent("heavier_share"), Resolution: in.Percent("heavier_step")}
	if in.liftChoice("sides") == "accepted" {
		s.Allow = lift.Yes
	}
	return s
}

func (in *In) liftJob() lift.Lift {
	tape := in.Length("tape")
	base := lift.Base{HalfWidth: in.Length("foot"), Height: in.Length("stand_height")}
	if base != (lift.Base{}) {
		base.Resolution = tape
	}
	marking := lift.Marking{Rated: in.liftRated("stand"), For: lift.For(in.liftChoice("stand_for"))}
	return lift.Lift{
		Raised: lift.Raised(in.Choice("raised")), First: lift.End(in.liftChoice("first")), Raise: in.Length("raise"), Tape: tape,
		Front: lift.PairOfStands{At: in.liftSupport("front", tape), Marking: marking, Base: base},
		Rear:  lift.PairOfStands{At: in.liftSupport("rear", tape), Marking: marking, Base: base},
		Jack:  lift.Jack{Rated: in.liftRated("jack"), Where: lift.Where(in.liftChoice("jack_where")), Front: in.liftSupport("jack_front", tape), Rear: in.liftSupport("jack_rear", tape)},
		Along: in.liftFall("along"), Across: in.liftFall("across"),
		Margin: lift.CommonMargin, Surface: lift.Surface(in.liftChoice("surface")),
		HeavyPart: lift.Answer(in.liftChoice("heavy_part")), BrakeReleased: lift.Answer(in.liftChoice("released")),
	}
}

func (in *In) liftRated(what string) lift.Rated {
	return lift.Rated{Figure: in.Count(what + "_figure"), Unit: lift.RatingUnit(in.liftChoice(what + "_unit"))}
}

func (in *In) liftSupport(what string, tape quantity.Length) lift.Support {
	s := lift.Support{Place: lift.Place(in.liftChoice(what + "_at")), Distance: in.Length(what + "_distance")}
	if s.Place != "" {
		s.Resolution = tape
	}
	return s
}

// liftFall is the slope along or across the car, nothing while it is not measured.
func (in *In) liftFall(way string) lift.Slope {
	s := lift.Slope{Fall: in.Length(way + "_fall"), Over: in.Length("slope_over"), Run: lift.Run(in.Choice("slope_run")), Resolution: in.Length("slope_mark")}
	switch down := in.liftChoice(way); down {
	case "":
		return lift.Slope{}
	case levelFloor:
		return s
	default:
		s.Down = lift.Way(down)
		return s
	}
}

// fillLift offers what the sheet states of the car and what was recorded of the
// jack and the stands, both for one piece.
func fillLift(r Record) map[string]string {
	out := map[string]string{}
	r.offerWheelbase(out)
	if r.Sheet != nil {
		offerVehicle(out, r)
	}
	if g := r.ratingG(sheet.Stands); g > 0 {
		out["stand_for"], out["stand_unit"], out["stand_figure"] = string(lift.PerStand), string(lift.Kilograms), thousandths(g)
	}
	if g := r.ratingG(sheet.Jack); g > 0 {
		out["jack_unit"], out["jack_figure"] = string(lift.Kilograms), thousandths(g)
	}
	return out
}

func offerVehicle(out map[string]string, r Record) {
	v := r.Sheet.Vehicle
	if v.MassG > 0 {
		out["weight"], out["paper_mass"] = "papers", quantity.MassFigure(quantity.MassFromG(v.MassG), r.Units.OrDefault().Mass)
	}
	if v.FrontShare > 0 {
		out["paper_share"] = strconv.FormatFloat(float64(v.FrontShare)/10, 'f', -1, 64)
	}
	d := load.Driveline(&v)
	out["drive"], out["brake"] = string(d.Drive), string(d.Brake)
}

// ratingG is the least that a tool of that kind at hand is recorded with for one
// piece, 0 while any of them has no number.
func (r Record) ratingG(kind sheet.ToolKind) int64 {
	if r.Sheet == nil || r.State == nil {
		return 0
	}
	least, found := int64(0), false
	for _, t := range r.Sheet.Tools {
		got := r.State.Tools[t.ID]
		if t.Kind != kind || !got.Have {
			continue
		}
		if !found || got.RatingG < least {
			least = got.RatingG
		}
		found = true
	}
	return least
}

func thousandths(v int64) string { return strconv.FormatFloat(float64(v)/1000, 'f', -1, 64) }
