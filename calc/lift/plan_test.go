package lift_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"strutcard/calc/lift"
	"strutcard/calc/quantity"
)

var allRaised = []lift.Raised{lift.FrontAxle, lift.RearAxle, lift.AllWheels, lift.LeftSide, lift.RightSide,
	lift.OneFrontLeft, lift.OneFrontRight, lift.OneRearLeft, lift.OneRearRight}

// goodCar and goodLift leave nothing open.
var goodCar = lift.Car{
	Weights:   lift.Weights{Basis: lift.Weighed, Mass: 1500, FrontShare: 0.6, Resolution: 1, ShareResolution: 0.01},
	Split:     lift.Split{Heavier: 0.52, Resolution: 0.01},
	Wheelbase: 2.6, WheelRadius: 0.3, Tape: 0.005, CentreHeight: height(0.55),
	Driveline: lift.Driveline{Drive: lift.FrontDrive, Differential: lift.Open, Brake: lift.BrakeRear, Gearbox: lift.Manual},
}

var goodStands = lift.PairOfStands{
	At:      lift.Support{Place: lift.Between, Distance: 0.3, Resolution: 0.005},
	Marking: lift.Marking{Rated: lift.Rated{Figure: 3, Unit: lift.Tonnes}, For: lift.PerPair},
	Base:    lift.Base{HalfWidth: 0.1, Height: 0.4, Resolution: 0.005},
}

var goodLift = lift.Lift{
	Raised: lift.FrontAxle, Raise: 0.35, Tape: 0.005, Front: goodStands, Rear: goodStands,
	Jack:    lift.Jack{Rated: lift.Rated{Figure: 2, Unit: lift.Tonnes}, Where: lift.Centre, Front: lift.Support{Place: lift.AtAxle, Resolution: 0.005}, Rear: lift.Support{Place: lift.AtAxle, Resolution: 0.005}},
	Margin:  lift.CommonMargin,
	Along:   lift.Slope{Fall: 0.002, Over: 1, Run: lift.AlongLevel, Down: lift.ToFront, Resolution: 0.001},
	Across:  lift.Slope{Fall: 0.001, Over: 1, Run: lift.AlongLevel, Down: lift.ToLeft, Resolution: 0.001},
	Surface: lift.Concrete, HeavyPart: lift.No, BrakeReleased: lift.No,
}

func fourUp() lift.Lift {
	l := goodLift
	l.Raised, l.First = lift.AllWheels, lift.Front
	l.Rear.At.Distance = 0.4
	return l
}

func with(change func(*lift.Car, *lift.Lift)) (lift.Car, lift.Lift) {
	c, l := goodCar, goodLift
	change(&c, &l)
	return c, l
}

func TestPlanGood(t *testing.T) {
	r, err := lift.Plan(goodCar, goodLift)
	if err != nil {
		t.Fatal(err)
	}
	if !r.Ready() || len(r.Missing) != 0 || len(r.Stops) != 0 {
		t.Errorf("got ready %t, missing %v, stops %v, want a lift that can go", r.Ready(), r.Missing, r.Stops)
	}
	p := r.Pairs[0]
	within := func(name string, r lift.Range[quantity.Mass], want, slack quantity.Mass) {
		if !(r.Low < want && want < r.High && r.High-r.Low < slack) {
			t.Errorf("%s: got %v, want about %v", name, r, want)
		}
	}
	within("pair", p.Pair, 1017.39, 70)
	within("heavier", p.Heavier, 0.52*1017.39, 60)
	within("jack", r.Jack.Load, 900, 70)
	within("grounded", r.Grounded, 482.61, 70)
	if p.Required != 1.5*p.Heavier.High || p.Fit != lift.Enough || r.OtherEnd.Verdict != lift.Holds {
		t.Errorf("got %+v and %v, want enough for 1.5 times the most", p, r.OtherEnd)
	}
	if r.Brake.Verdict != lift.Holds || r.Gear.Verdict != lift.DoesNot {
		t.Errorf("got brake %v and gear %v, want the rear brake to hold and the front drive not", r.Brake, r.Gear)
	}
	if !(p.TipForce > 900 && p.TipForce < 1200) { // 0.25 of the lighter stand's about 488 kg, a little less
		t.Errorf("got %v, want a quarter of the lighter stand's weight", p.TipForce)
	}
	if got := r.Chocks[0].Words(); got != "in front of the rear left wheel" {
		t.Errorf("got %q first, want the downhill face", got)
	}
	if math.Abs(r.Travel.Millimetres()-23.7) > 1.5 {
		t.Errorf("got %v of travel, want 2600·(1 − cos 7.74°) = 23.7 mm and the marks of the tapes", r.Travel)
	}
	if !hasConflict(r, lift.ConflictBrake) || len(r.Conflicts[0].Sayings) != 2 {
		t.Errorf("got %v, want both sayings on the parking brake", r.Conflicts)
	}
}

func hasConflict(r lift.Result, key lift.Key) bool {
	for _, c := range r.Conflicts {
		if c.Key == key {
			return true
		}
	}
	return false
}

func says(list []lift.Notice, key lift.Key) bool {
	for _, n := range list {
		if n.Key == key {
			return true
		}
	}
	return false
}

// Each of these alone keeps the lift from being ready, and says why.
func TestPlanNotReady(t *testing.T) {
	tests := map[string]struct {
		change func(*lift.Car, *lift.Lift)
		seen   func(lift.Result) bool
	}{
		"SoftGround":  {func(_ *lift.Car, l *lift.Lift) { l.Surface = lift.Soft }, func(r lift.Result) bool { return says(r.Stops, lift.KeySoft) }},
		"Slope":       {func(_ *lift.Car, l *lift.Lift) { l.Along.Fall = 0.031 }, func(r lift.Result) bool { return says(r.Stops, lift.KeySlope) }},
		"BothSlopes":  {func(_ *lift.Car, l *lift.Lift) { l.Along.Fall, l.Across.Fall = 0.022, 0.022 }, func(r lift.Result) bool { return says(r.Stops, lift.KeySlope) }},
		"OneSide":     {func(_ *lift.Car, l *lift.Lift) { l.Raised = lift.LeftSide }, func(r lift.Result) bool { return says(r.Stops, lift.KeySide) }},
		"WeakStands":  {func(_ *lift.Car, l *lift.Lift) { l.Front.Marking.Figure = 1 }, func(r lift.Result) bool { return says(r.Stops, lift.KeyStands) && r.Pairs[0].Fit == lift.NotEnough }},
		"CloseStands": {func(_ *lift.Car, l *lift.Lift) { l.Front.Marking.Figure = 1.6 }, func(r lift.Result) bool { return r.Pairs[0].Fit == lift.NotTelling }},
		"HalfOfIt": {func(_ *lift.Car, l *lift.Lift) {
			l.Front.Marking = lift.Marking{Rated: lift.Rated{Figure: 1, Unit: lift.Tonnes}, For: lift.NotMarked}
		}, func(r lift.Result) bool {
			return r.Pairs[0].Fit == lift.NotTelling && hasConflict(r, lift.ConflictRating)
		}},
		"ForMissing": {func(_ *lift.Car, l *lift.Lift) { l.Front.Marking.For = "" }, func(r lift.Result) bool { return asks(r, "stands_for_front") }},
		"WeakJack":   {func(_ *lift.Car, l *lift.Lift) { l.Jack.Rated.Figure = 1 }, func(r lift.Result) bool { return says(r.Stops, lift.KeyJack) && r.Jack.Fit == lift.NotEnough }},
		"Tips": {func(c *lift.Car, l *lift.Lift) { l.Front.At.Distance, c.Weights.FrontShare = 1.1, 0.75 }, func(r lift.Result) bool {
			return says(r.Stops, lift.KeyTip) && r.OtherEnd.Verdict == lift.DoesNot
		}},
		"NearlyTips": {func(_ *lift.Car, l *lift.Lift) { l.Front.At.Distance = 0.86 }, func(r lift.Result) bool { return r.OtherEnd.Verdict == lift.CannotTell }},
		"NoMass":     {func(c *lift.Car, _ *lift.Lift) { c.Weights = lift.Weights{} }, func(r lift.Result) bool { return asks(r, "mass") && r.Pairs[0].Fit == lift.NotTelling }},
		"OneAxle": {func(c *lift.Car, _ *lift.Lift) {
			c.Weights = lift.Weights{Basis: lift.Weighed, Front: 900, Resolution: 1}
		}, func(r lift.Result) bool { return asks(r, "mass") }},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			r, err := lift.Plan(with(test.change))
			if err != nil || r.Ready() || !test.seen(r) {
				t.Errorf("got ready %t, error %v, stops %v, missing %v, pairs %v, other end %v", r.Ready(), err, r.Stops, r.Missing, r.Pairs, r.OtherEnd)
			}
		})
	}
}

func asks(r lift.Result, key lift.Key) bool {
	for _, f := range r.Missing {
		if f.Key == key {
			return true
		}
	}
	return false
}

// Conditions of one lift bring their own caution, and only then.
func TestPlanCautions(t *testing.T) {
	tests := map[lift.Key]func(*lift.Car, *lift.Lift){
		lift.KeyAsphalt:       func(_ *lift.Car, l *lift.Lift) { l.Surface = lift.Asphalt },
		lift.KeyHeavyPart:     func(_ *lift.Car, l *lift.Lift) { l.HeavyPart = lift.Yes },
		lift.KeyBrakeReleased: func(_ *lift.Car, l *lift.Lift) { l.BrakeReleased = lift.Yes },
		lift.KeySplit:         func(c *lift.Car, _ *lift.Lift) { c.Split = lift.Split{Allow: lift.Yes} },
		lift.KeyPapers:        func(c *lift.Car, _ *lift.Lift) { c.Weights.Basis = lift.Papers },
		lift.KeyCentreHeight:  func(c *lift.Car, _ *lift.Lift) { c.CentreHeight = height(0); c.CentreHeight.Standard = 0 },
		lift.KeyAllUp:         func(_ *lift.Car, l *lift.Lift) { *l = fourUp() },
		lift.KeySlope:         func(_ *lift.Car, l *lift.Lift) { l.Along.Fall = 0.015 },
		lift.KeyOnlyChocks:    func(c *lift.Car, _ *lift.Lift) { c.Brake = lift.BrakeFront },
	}
	good, _ := lift.Plan(goodCar, goodLift)
	for key, change := range tests {
		r, err := lift.Plan(with(change))
		if err != nil || !says(r.Cautions, key) || says(good.Cautions, key) {
			t.Errorf("%s: got error %v, said %t, said without cause %t", key, err, says(r.Cautions, key), says(good.Cautions, key))
		}
	}
}

// With nothing said but the axle and the margin, everything is asked for and
// nothing is judged in the person's favour.
func TestPlanNothingKnown(t *testing.T) {
	for _, raised := range allRaised {
		r, err := lift.Plan(lift.Car{}, lift.Lift{Raised: raised, Margin: lift.CommonMargin})
		if err != nil {
			t.Fatal(err)
		}
		if r.Ready() || r.Jack.Fit != lift.NotTelling || r.Slope != lift.SlopeStop || r.OtherEnd.Verdict != lift.CannotTell || len(r.Chocks) == 0 {
			t.Errorf("%s: got %+v, want nothing to be told", raised, r)
		}
		for _, p := range r.Pairs {
			if p.Fit != lift.NotTelling || p.Heavier.High != 5000 {
				t.Errorf("%s: got %+v, want the whole of the heaviest car", raised, p)
			}
		}
		for _, key := range []lift.Key{"mass", "wheelbase", "centre_height", "raise", "split", "jack_rated", "jack_where", "slope_along", "slope_across", "surface", "drive", "brake", "gearbox", "differential", "heavy_part", "brake_released"} {
			if !asks(r, key) {
				t.Errorf("%s: %s is not asked for", raised, key)
			}
		}
		if held := r.Brake.Verdict; held == lift.Holds || r.Gear.Verdict == lift.Holds {
			t.Errorf("%s: got brake %v and gear %v, want none to hold", raised, r.Brake, r.Gear)
		}
	}
}

func TestPlanErr(t *testing.T) {
	nan := math.NaN()
	bad := map[string]func(*lift.Car, *lift.Lift){
		"Raised":          func(_ *lift.Car, l *lift.Lift) { l.Raised = "" },
		"NoMargin":        func(_ *lift.Car, l *lift.Lift) { l.Margin = 0 },
		"MarginBelowOne":  func(_ *lift.Car, l *lift.Lift) { l.Margin = 0.99 },
		"MarginNaN":       func(_ *lift.Car, l *lift.Lift) { l.Margin = quantity.Ratio(nan) },
		"MassNaN":         func(c *lift.Car, _ *lift.Lift) { c.Weights.Mass = quantity.Mass(nan) },
		"MassNegative":    func(c *lift.Car, _ *lift.Lift) { c.Weights.Mass = -1500 },
		"MassInLb":        func(c *lift.Car, _ *lift.Lift) { c.Weights.Mass = 9000 },
		"MassNoShare":     func(c *lift.Car, _ *lift.Lift) { c.Weights.Mass, c.Weights.FrontShare = 9000, 0 },
		"MassResolution":  func(c *lift.Car, _ *lift.Lift) { c.Weights.Resolution = 0 },
		"ShareNaN":        func(c *lift.Car, _ *lift.Lift) { c.Weights.FrontShare = quantity.Ratio(nan) },
		"SharePerCent":    func(c *lift.Car, _ *lift.Lift) { c.Weights.FrontShare = 60 },
		"ShareResolution": func(c *lift.Car, _ *lift.Lift) { c.Weights.ShareResolution = 0 },
		"Basis":           func(c *lift.Car, _ *lift.Lift) { c.Weights.Basis = "guess" },
		"TwoWeights":      func(c *lift.Car, _ *lift.Lift) { c.Weights.Front, c.Weights.Rear = 900, 600 },
		"AxlesAbsurd": func(c *lift.Car, _ *lift.Lift) {
			c.Weights = lift.Weights{Basis: lift.Weighed, Front: 1400, Rear: 100, Resolution: 1}
		},
		"SplitAbsurd":     func(c *lift.Car, _ *lift.Lift) { c.Split.Heavier = 0.61 },
		"SplitBelow":      func(c *lift.Car, _ *lift.Lift) { c.Split.Heavier = 0.48 },
		"SplitNaN":        func(c *lift.Car, _ *lift.Lift) { c.Split.Heavier = quantity.Ratio(nan) },
		"SplitResolution": func(c *lift.Car, _ *lift.Lift) { c.Split.Resolution = 0 },
		"SplitAllow":      func(c *lift.Car, _ *lift.Lift) { c.Split.Allow = "maybe" },
		"WheelbaseMm":     func(c *lift.Car, _ *lift.Lift) { c.Wheelbase = 2600 },
		"WheelbaseNaN":    func(c *lift.Car, _ *lift.Lift) { c.Wheelbase = quantity.Length(nan) },
		"Tape":            func(c *lift.Car, _ *lift.Lift) { c.Tape = 0 },
		"Radius":          func(c *lift.Car, _ *lift.Lift) { c.WheelRadius = 0.6 },
		"CentreNaN":       func(c *lift.Car, _ *lift.Lift) { c.CentreHeight.Value = quantity.Length(nan) },
		"CentreExact":     func(c *lift.Car, _ *lift.Lift) { c.CentreHeight.Standard = 0 },
		"CentreHigh":      func(c *lift.Car, _ *lift.Lift) { c.CentreHeight = height(1.3) },
		"CentreLow":       func(c *lift.Car, _ *lift.Lift) { c.CentreHeight, c.WheelRadius = height(0.3), 0.45 },
		"Raise":           func(_ *lift.Car, l *lift.Lift) { l.Raise = 0.9 },
		"Drive":           func(c *lift.Car, _ *lift.Lift) { c.Drive = "fornt" },
		"First":           func(_ *lift.Car, l *lift.Lift) { l.First = "left" },
		"Surface":         func(_ *lift.Car, l *lift.Lift) { l.Surface = "ice" },
		"Where":           func(_ *lift.Car, l *lift.Lift) { l.Jack.Where = "top" },
		"HeavyPart":       func(_ *lift.Car, l *lift.Lift) { l.HeavyPart = "maybe" },
		"Released":        func(_ *lift.Car, l *lift.Lift) { l.BrakeReleased = "maybe" },
		"PlaceNegative":   func(_ *lift.Car, l *lift.Lift) { l.Front.At.Distance = -0.3 },
		"PlaceNoWord":     func(_ *lift.Car, l *lift.Lift) { l.Front.At.Place = "" },
		"PlaceAxle":       func(_ *lift.Car, l *lift.Lift) { l.Front.At.Place = lift.AtAxle },
		"PlaceFar":        func(_ *lift.Car, l *lift.Lift) { l.Front.At.Distance = 1.5 },
		"PlaceNone":       func(_ *lift.Car, l *lift.Lift) { l.Front.At.Distance = 0 },
		"JackPlace":       func(_ *lift.Car, l *lift.Lift) { l.Jack.Front.Distance = quantity.Length(nan) },
		"RatingNegative":  func(_ *lift.Car, l *lift.Lift) { l.Front.Marking.Figure = -3 },
		"RatingNaN":       func(_ *lift.Car, l *lift.Lift) { l.Front.Marking.Figure = quantity.Turns(nan) },
		"RatingUnit":      func(_ *lift.Car, l *lift.Lift) { l.Front.Marking.Unit = "stone" },
		"RatingFor":       func(_ *lift.Car, l *lift.Lift) { l.Front.Marking.For = "both" },
		"RatingAbsurd":    func(_ *lift.Car, l *lift.Lift) { l.Front.Marking.Unit = lift.Kilograms },
		"JackAbsurd":      func(_ *lift.Car, l *lift.Lift) { l.Jack.Rated.Unit = lift.Pounds },
		"SlopeNegative":   func(_ *lift.Car, l *lift.Lift) { l.Along.Fall = -0.01 },
		"SlopeSteep":      func(_ *lift.Car, l *lift.Lift) { l.Along.Fall = 0.3 },
		"SlopeRun":        func(_ *lift.Car, l *lift.Lift) { l.Along.Run = "" },
		"SlopeWay":        func(_ *lift.Car, l *lift.Lift) { l.Along.Down = lift.ToLeft },
		"SlopeWord":       func(_ *lift.Car, l *lift.Lift) { l.Across.Down = "north" },
		"SlopeShort":      func(_ *lift.Car, l *lift.Lift) { l.Across.Over = 0.2 },
		"SlopeTape":       func(_ *lift.Car, l *lift.Lift) { l.Across.Resolution = 0 },
		"Base":            func(_ *lift.Car, l *lift.Lift) { l.Front.Base.Height = 4 },
	}
	for name, change := range bad {
		t.Run(name, func(t *testing.T) {
			r, err := lift.Plan(with(change))
			checkInput(t, err)
			if r.Ready() || len(r.Chocks) != 0 {
				t.Errorf("got %+v beside an error, want nothing", r)
			}
		})
	}
}

func checkInput(t *testing.T, err error) {
	t.Helper()
	var input *quantity.InputError
	if !errors.As(err, &input) || !strings.HasSuffix(input.What, ".") || !strings.HasSuffix(input.Next, ".") || strings.Contains(input.What, "%!") {
		t.Errorf("got error %v, want an input error of two sentences", err)
	}
}

// Each notice is a sentence with a source, and says how well it is founded.
func TestNotices(t *testing.T) {
	for _, raised := range allRaised {
		r, err := lift.Plan(lift.Car{}, lift.Lift{Raised: raised, Margin: 2, Surface: lift.Soft, HeavyPart: lift.Yes, BrakeReleased: lift.Yes})
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range append(r.Stops, r.Cautions...) {
			founded := n.Provenance == lift.Read || n.Provenance == lift.Statics || n.Provenance == lift.CommonPractice
			if n.Key == "" || !strings.HasSuffix(n.Text, ".") || n.Source == "" || !founded {
				t.Errorf("got %+v, want a sentence with its source", n)
			}
		}
		for _, f := range r.Missing {
			if !strings.Contains(f.Ask, "?") {
				t.Errorf("got %+v, want a question", f)
			}
		}
	}
}

// While the split is not known one stand may carry the whole pair; 60 % only
// when that is accepted.
func TestPlanSplit(t *testing.T) {
	for split, share := range map[lift.Split]float64{{}: 1, {Allow: lift.No}: 1, {Allow: lift.Yes}: 0.6, {Heavier: 0.52, Resolution: 0.01}: 0.5258} {
		c, l := goodCar, goodLift
		c.Split, l.Across = split, lift.Slope{Over: 1, Run: lift.AlongLevel, Resolution: 0.0001}
		r, err := lift.Plan(c, l)
		if err != nil {
			t.Fatal(err)
		}
		if p := r.Pairs[0]; math.Abs(float64(p.Heavier.High/p.Pair.High)-share) > 0.001 || asks(r, lift.KeySplit) != (share == 1) {
			t.Errorf("%+v: got %v of %v, asked %t, want a share of %v", split, p.Heavier.High, p.Pair.High, asks(r, lift.KeySplit), share)
		}
	}
}

// The raise takes load off the raised end, and that the car was not raised yet
// is the most. Vectors LF-ST01 and LF-TP04 give the two ends: 900 and 880 kg.
func TestPlanRaise(t *testing.T) {
	c, l := goodCar, goodLift
	c.Weights = lift.Weights{Basis: lift.Weighed, Front: 900, Rear: 600, Resolution: 0.01}
	c.Tape, l.Tape, c.CentreHeight.Standard = 0.0001, 0.0001, 0.0001
	l.Front.At = lift.Support{Place: lift.AtAxle, Resolution: 0.0001}
	flat := lift.Slope{Over: 1, Run: lift.AlongLevel, Resolution: 0.00001}
	l.Along, l.Across = flat, flat
	r, err := lift.Plan(c, l)
	if p := r.Pairs[0].Pair; err != nil || math.Abs(float64(p.High)-900) > 0.2 || math.Abs(float64(p.Low)-880.406) > 0.5 {
		t.Errorf("got %v and error %v, want 880.4 to 900 kg", p, err)
	}
}
