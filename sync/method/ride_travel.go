package method

import (
	"strutcard/calc/lang"
	"strutcard/calc/ride"
)

// rideTravel is what is left between hanging, ride height and bump stop.
var rideTravel = Method{
	ID: "ride_travel", Group: Ride, Title: "Droop and bump stop",
	Words: "Roll, bounce and settle the car on its wheels, then push a cable tie on the shaft against the body. Raise the axle on to stands, never on a jack alone. Measure from mount to tie, and the whole hanging shaft.",
	Fields: []Field{
		{Name: "ride", Label: "Shaft showing at ride height", Hint: "From the mount that the stop rests against.", Kind: Length},
		{Name: "hanging", Label: "Shaft showing, wheel hanging", Kind: Length},
		{Name: "stop_free", Label: "Bump stop, free length", Kind: Length, Keep: true},
		{Name: "stop_solid", Label: "Bump stop, pressed solid", Hint: "From the maker of the part.", Kind: Length, Keep: true},
		{Name: "stop_soft", Label: "Soft part of its travel", Hint: "From the maker. Leave it empty if it is not known.", Kind: Length, Optional: true, Keep: true},
		{Name: "mark", Label: "Smallest mark of the ruler", Kind: Length, Keep: true, Instrument: true},
	},
	Work: func(in *In) (Result, error) {
		d := ride.Damper{ShowingHanging: in.Length("hanging"), ShowingAtRide: in.Length("ride"), StopFree: in.Length("stop_free"), StopSolid: in.Length("stop_solid"),
			StopSoft: in.Length("stop_soft"), Resolution: in.Length("mark")}
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		t, err := ride.TravelOf(d)
		if err != nil {
			return Result{}, err
		}
		f := in.Units.FormatLength
		return Result{
			Figure: capital(lang.T(string(t.Contact))), Ask: ride.QuestionTravel(t), Rows: in.travelRows(t), Picture: in.damperPicture(d, t),
			Line:  lang.F("%s − %s = %s to the stop, %s − %s = %s of droop", f(d.ShowingAtRide), f(d.StopFree), f(t.ToStop.Value), f(d.ShowingHanging), f(d.ShowingAtRide), f(t.Droop.Value)),
			Words: lang.T("All of it at the shaft; the wheel moves further. A car that rides on its stop feels underdamped, and that is no fault of the damper."),
			Warn:  []string{lang.T("The maker of the damper says how much travel it needs, and which stop belongs to it. This only measures.")},
		}, nil
	},
}

func (in *In) travelRows(t ride.Travel) []Row {
	rows := []Row{{lang.T("Droop left"), in.length(t.Droop)}, {lang.T("To the bump stop"), in.length(t.ToStop)}}
	if t.ToStop.Value < 0 {
		rows[1] = Row{lang.T("Bump stop pressed by"), in.length(length{Value: -t.ToStop.Value, Standard: t.ToStop.Standard})}
	}
	rows = append(rows, Row{lang.T("To the stop pressed solid"), in.length(t.ToSolid)}, Row{lang.T("Travel of the stop itself"), in.length(t.Stop)})
	if in.Has("stop_soft") {
		rows = append(rows, Row{lang.T("Of it firm"), in.length(t.Firm)})
	}
	return rows
}

// damperPicture is the shaft with its stop, at ride height, and its lengths.
func (in *In) damperPicture(d ride.Damper, t ride.Travel) *Picture {
	const mount = 30.0
	f := in.Units.FormatLength
	scale := 120 / d.ShowingHanging.Metres()
	ride, hanging, stop := mount+scale*d.ShowingAtRide.Metres(), mount+120, min(mount+scale*d.StopFree.Metres(), 190)
	p := &Picture{Height: 228, Note: lang.T("At ride height. Dashed: the body with the wheel hanging."),
		Alt: lang.F("The damper's shaft under its mount: %s showing at ride height, %s hanging, the bump stop %s long. %s.", f(d.ShowingAtRide), f(d.ShowingHanging), f(d.StopFree), capital(lang.T(string(t.Contact))))}
	p.Line("heavy", 45, mount, 115, mount)
	p.Line("heavy", 80, mount, 80, ride)
	p.Outline("accent", 68, mount, 92, mount, 92, stop, 68, stop)
	p.Line("ink", 62, 190, 62, ride, 98, ride, 98, 190)
	p.Line("ink dashed", 50, hanging, 110, hanging)
	for _, m := range []struct {
		x, end       float64
		name, figure string
	}{{150, stop, lang.T("stop, free"), f(d.StopFree)}, {215, ride, lang.T("at ride"), f(d.ShowingAtRide)}, {282, hanging, lang.T("hanging"), f(d.ShowingHanging)}} {
		p.Line("accent", m.x, mount, m.x, m.end)
		p.Line("ink thin", m.x-8, m.end, m.x+8, m.end)
		p.Small("middle", m.x, 205, m.name)
		p.Label("middle", m.x, 221, m.figure)
	}
	p.Small("middle", 80, 20, lang.T("mount"))
	p.Small("middle", 80, 205, lang.C("body", "of a damper"))
	return p
}
