package ride_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/ride"
)

type (
	l     = quantity.Length
	angle = measure.Value[quantity.Angle]
)

var nan, inf = math.NaN(), math.Inf(1)

func near(got, want float64) bool { return math.Abs(got-want) <= 1e-9*(1+math.Abs(want)) }

func tape(m float64) value { return value{Value: l(m), Standard: 0.0003} }

func checkInput(t *testing.T, err error) {
	t.Helper()
	var input *quantity.InputError
	if !errors.As(err, &input) || input.What == "" || input.Next == "" {
		t.Errorf("got error %v, want an input error with what and next", err)
	}
}

// refusals runs calls that must all give nothing and say what to do.
func refusals[Q comparable](t *testing.T, calls map[string]func() (Q, error)) {
	t.Helper()
	for name, call := range calls {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := call()
			if got != *new(Q) {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
}

var (
	level = ride.Heights{FrontLeft: tape(0.350), FrontRight: tape(0.350), RearLeft: tape(0.360), RearRight: tape(0.360)}
	base  = tape(2.6)
)

func TestHeightErrors(t *testing.T) {
	with := func(change func(*ride.Heights, *value)) func() (ride.Stance, error) {
		h, b := level, base
		change(&h, &b)
		return func() (ride.Stance, error) { return ride.StanceOf(h, b) }
	}
	refusals(t, map[string]func() (ride.Stance, error){
		"FrontLeft":  with(func(h *ride.Heights, _ *value) { h.FrontLeft.Value = 0 }),
		"FrontRight": with(func(h *ride.Heights, _ *value) { h.FrontRight.Value = l(nan) }),
		"RearLeft":   with(func(h *ride.Heights, _ *value) { h.RearLeft.Value = l(inf) }),
		"RearRight":  with(func(h *ride.Heights, _ *value) { h.RearRight.Value = 3.6 }),
		"Exact":      with(func(h *ride.Heights, _ *value) { h.RearRight.Standard = 0 }),
		"ExactNaN":   with(func(h *ride.Heights, _ *value) { h.RearRight.Standard = l(nan) }),
		"NoBase":     with(func(_ *ride.Heights, b *value) { b.Value = 0 }),
		"BaseInMM":   with(func(_ *ride.Heights, b *value) { b.Value = 2600 }),
		"BaseExact":  with(func(_ *ride.Heights, b *value) { b.Standard = 0 }),
	})
	refusals(t, map[string]func() (ride.Heights, error){
		"NoResolution": func() (ride.Heights, error) { return ride.Tape(0.35, 0.35, 0.35, 0.35, 0) },
		"Range":        func() (ride.Heights, error) { return ride.Tape(0.35, 0.35, 0.35, 35, 0.001) },
	})
	refusals(t, map[string]func() (measure.Verdict, error){
		"NoLimit":       func() (measure.Verdict, error) { return ride.LeftRight(tape(0.01), 0) },
		"LimitNaN":      func() (measure.Verdict, error) { return ride.LeftRight(tape(0.01), l(nan)) },
		"Difference":    func() (measure.Verdict, error) { return ride.LeftRight(tape(nan), 0.02) },
		"DifferenceNot": func() (measure.Verdict, error) { return ride.LeftRight(value{}, 0.02) },
	})
	refusals(t, map[string]func() (angle, error){
		"Before": func() (angle, error) { return ride.PitchChange(ride.Heights{}, level, base) },
		"After":  func() (angle, error) { return ride.PitchChange(level, ride.Heights{}, base) },
		"Base":   func() (angle, error) { return ride.PitchChange(level, level, value{}) },
	})
	tilt := angle{Value: 0.01, Standard: 0.001}
	refusals(t, map[string]func() (value, error){
		"BeamTilt":     func() (value, error) { return ride.BeamShift(angle{Value: 1, Standard: 0.001}, tape(7)) },
		"BeamExact":    func() (value, error) { return ride.BeamShift(angle{Value: 0.01}, tape(7)) },
		"BeamNaN":      func() (value, error) { return ride.BeamShift(angle{Value: quantity.Angle(nan), Standard: 1}, tape(7)) },
		"BeamDistance": func() (value, error) { return ride.BeamShift(tilt, tape(0)) },
	})
	refusals(t, map[string]func() (quantity.Angle, error){
		"DropDistance": func() (quantity.Angle, error) { return ride.DropAngle(0.05, 0) },
		"DropBelow":    func() (quantity.Angle, error) { return ride.DropAngle(-0.05, 7) },
		"DropNaN":      func() (quantity.Angle, error) { return ride.DropAngle(l(nan), 7) },
		"DropUnit":     func() (quantity.Angle, error) { return ride.DropAngle(50, 7) },
	})
}

var trialled = ride.Trial{Hardware: ride.SpringCollar, Turned: ride.BothOfAxle, Way: ride.Raise, Turns: 4, TurnsSmallest: 0.25, Before: tape(0.340), After: tape(0.352)}

func TestCollarErrors(t *testing.T) {
	learn := func(change func(*ride.Trial)) func() (ride.PerTurn, error) {
		try := trialled
		change(&try)
		return func() (ride.PerTurn, error) { return ride.Learn(try) }
	}
	refusals(t, map[string]func() (ride.PerTurn, error){
		"Hardware":   learn(func(t *ride.Trial) { t.Hardware = "" }),
		"Turned":     learn(func(t *ride.Trial) { t.Turned = "" }),
		"Way":        learn(func(t *ride.Trial) { t.Way = "up" }),
		"NoTurns":    learn(func(t *ride.Trial) { t.Turns = 0 }),
		"TurnsBelow": learn(func(t *ride.Trial) { t.Turns = -4 }),
		"TurnsNaN":   learn(func(t *ride.Trial) { t.Turns = quantity.Turns(nan) }),
		"Smallest":   learn(func(t *ride.Trial) { t.TurnsSmallest = 0 }),
		"Coarse":     learn(func(t *ride.Trial) { t.TurnsSmallest = 5 }),
		"Before":     learn(func(t *ride.Trial) { t.Before = value{} }),
		"After":      learn(func(t *ride.Trial) { t.After.Value = l(nan) }),
		"OtherWay":   learn(func(t *ride.Trial) { t.Way = ride.Lower }),
		"Unmoved":    learn(func(t *ride.Trial) { t.After = t.Before }),
		"BarelyDown": learn(func(t *ride.Trial) { t.After = tape(0.3397) }),
	})
	if _, err := learn(func(t *ride.Trial) { t.Way = ride.Lower })(); !strings.Contains(err.Error(), "the other way") {
		t.Errorf("got %v, want it to say that the arch moved the other way", err)
	}
	learned, err := ride.Learn(trialled)
	if err != nil {
		t.Fatal(err)
	}
	ask := func(change func(*ride.PerTurn, *value, *l)) func() (ride.Turning, error) {
		p, now, wanted := learned, tape(0.352), l(0.346)
		change(&p, &now, &wanted)
		return func() (ride.Turning, error) { return ride.TurnsFor(p, ride.BothOfAxle, now, wanted) }
	}
	refusals(t, map[string]func() (ride.Turning, error){
		"NotLearned":   ask(func(p *ride.PerTurn, _ *value, _ *l) { *p = ride.PerTurn{} }),
		"Exact":        ask(func(p *ride.PerTurn, _ *value, _ *l) { p.Height.Standard = 0 }),
		"Below":        ask(func(p *ride.PerTurn, _ *value, _ *l) { p.Height.Value = -0.003 }),
		"Uncertain":    ask(func(p *ride.PerTurn, _ *value, _ *l) { p.Height.Standard = p.Height.Value }),
		"HeightNaN":    ask(func(p *ride.PerTurn, _ *value, _ *l) { p.Height.Value = l(nan) }),
		"LearnedAs":    ask(func(p *ride.PerTurn, _ *value, _ *l) { p.Turned = ride.OneCorner }),
		"Now":          ask(func(_ *ride.PerTurn, now *value, _ *l) { *now = value{} }),
		"Wanted":       ask(func(_ *ride.PerTurn, _ *value, w *l) { *w = 0 }),
		"WantedNaN":    ask(func(_ *ride.PerTurn, _ *value, w *l) { *w = l(nan) }),
		"TooManyTurns": ask(func(p *ride.PerTurn, _ *value, w *l) { *w, p.Height.Value = 0.8, 0.002 }),
	})
	refusals(t, map[string]func() (ride.Effect, error){
		"EffectHardware": func() (ride.Effect, error) { return ride.EffectOf("", ride.Raise, 0.01) },
		"EffectWay":      func() (ride.Effect, error) { return ride.EffectOf(ride.LowerBracket, "", 0.01) },
		"EffectBelow":    func() (ride.Effect, error) { return ride.EffectOf(ride.SpringCollar, ride.Raise, -0.01) },
		"EffectNaN":      func() (ride.Effect, error) { return ride.EffectOf(ride.SpringCollar, ride.Raise, l(nan)) },
	})
}

var onCar = ride.Damper{ShowingHanging: 0.120, ShowingAtRide: 0.080, StopFree: 0.070, StopSolid: 0.028, Resolution: 0.001}

func TestTravelErrors(t *testing.T) {
	with := func(change func(*ride.Damper)) func() (ride.Travel, error) {
		d := onCar
		change(&d)
		return func() (ride.Travel, error) { return ride.TravelOf(d) }
	}
	refusals(t, map[string]func() (ride.Travel, error){
		"Hanging":      with(func(d *ride.Damper) { d.ShowingHanging = 0 }),
		"AtRide":       with(func(d *ride.Damper) { d.ShowingAtRide = l(nan) }),
		"Exchanged":    with(func(d *ride.Damper) { d.ShowingAtRide = 0.130 }),
		"StopFree":     with(func(d *ride.Damper) { d.StopFree = 0 }),
		"StopSolid":    with(func(d *ride.Damper) { d.StopSolid = 0.070 }),
		"NoStopSolid":  with(func(d *ride.Damper) { d.StopSolid = 0 }),
		"StopSoft":     with(func(d *ride.Damper) { d.StopSoft = 0.050 }),
		"StopSoftNaN":  with(func(d *ride.Damper) { d.StopSoft = l(nan) }),
		"NoResolution": with(func(d *ride.Damper) { d.Resolution = 0 }),
		"Coarse":       with(func(d *ride.Damper) { d.Resolution = 0.03 }),
	})
}

func TestQuestions(t *testing.T) {
	heights := func(a, b, c, d float64) string {
		return ride.QuestionHeights(ride.Heights{FrontLeft: tape(a), FrontRight: tape(b), RearLeft: tape(c), RearRight: tape(d)})
	}
	turn := func(mm float64) string {
		return ride.QuestionPerTurn(ride.PerTurn{Height: value{Value: quantity.Millimetres(mm), Standard: 0.0001}})
	}
	travel := func(hanging, rideHeight float64) string {
		d := onCar
		d.ShowingHanging, d.ShowingAtRide = quantity.Millimetres(hanging), quantity.Millimetres(rideHeight)
		got, err := ride.TravelOf(d)
		if err != nil {
			t.Fatal(err)
		}
		return ride.QuestionTravel(got)
	}
	for _, test := range []struct{ name, got, asked string }{
		{"level", heights(0.35, 0.35, 0.36, 0.36), ""},
		{"front apart", heights(0.35, 0.39, 0.36, 0.36), "front axle"},
		{"rear apart", heights(0.35, 0.35, 0.36, 0.32), "rear axle"},
		{"from the floor", heights(0.65, 0.65, 0.66, 0.66), "from the floor"},
		{"low", heights(0.15, 0.15, 0.25, 0.25), "unusual"},
		{"no height", heights(0, 0.35, 0.36, 0.36), "cannot be used"},
		{"turn", turn(3), ""}, {"long turn", turn(6.5), "More than 6 mm"}, {"short turn", turn(0.3), "Less than 0.5 mm"}, {"no turn", turn(0), "not known"}, {"turn NaN", turn(nan), "not known"},
		{"travel", travel(120, 80), ""}, {"little droop", travel(95, 80), "droop"}, {"on the stop", travel(120, 60), "rides on"}, {"solid", travel(120, 27), "solid"}, {"unclear", travel(120, 70), "too close"},
	} {
		if (test.got == "") != (test.asked == "") || !strings.Contains(test.got, test.asked) {
			t.Errorf("%s: got %q, want %q in it", test.name, test.got, test.asked)
		}
	}
}

func TestWords(t *testing.T) {
	for deg, want := range map[float64]ride.Nose{0.5: ride.NoseDown, -0.5: ride.NoseUp, 0.05: ride.NoTilt, -0.05: ride.NoTilt} {
		a := angle{Value: quantity.Degrees(deg), Standard: quantity.Degrees(0.03)}
		if got := ride.NoseOf(a); got != want {
			t.Errorf("%v°: got %q, want %q", deg, got, want)
		}
		beam := ride.Beam(a)
		if strings.Contains(beam, "lower") != (want == ride.NoseDown) || strings.Contains(beam, "dazzles") != (want == ride.NoseUp) || !strings.HasSuffix(beam, ride.AimNote) {
			t.Errorf("%v°: got %q, want the beam's way and the note", deg, beam)
		}
	}
	if !strings.Contains(ride.AimNote, "inspection decides") {
		t.Errorf("got %q, want it to say who decides", ride.AimNote)
	}
	for h, want := range map[ride.Hardware]string{ride.SpringCollar: "takes away droop", ride.LowerBracket: "stay as they are", "": ""} {
		if got := h.Words(); !strings.Contains(got, want) || (got == "") != (want == "") {
			t.Errorf("%q: got %q, want %q in it", h, got, want)
		}
	}
	for _, d := range ride.PublishedDrops() {
		if d.Source == "" || !(d.Angle > 0) {
			t.Errorf("got %+v, want a source and an angle", d)
		}
	}
}

func TestTurnsForNothing(t *testing.T) {
	learned, _ := ride.Learn(trialled)
	got, err := ride.TurnsFor(learned, ride.BothOfAxle, tape(0.352), 0.352)
	if err != nil || got.Turns.Value != 0 || got.Way != "" || !(got.Turns.Standard > 0) {
		t.Errorf("got %+v and error %v, want no turn, no way and an uncertainty", got, err)
	}
}
