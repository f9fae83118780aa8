package lift_test

import (
	"math"
	"testing"

	"strutcard/calc/lift"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

var (
	goodAxles, _ = lift.AxleLoads(goodCar.Weights)
	atAxle       = lift.Support{Place: lift.AtAxle, Resolution: 0.001}
	goodRaising  = lift.Raising{End: lift.Front, Wheelbase: 2.6, Raise: 0.35, WheelRadius: 0.3, Resolution: 0.001, CentreHeight: height(0.55)}
)

// The uncertainty is that of the sensitivities written out by hand.
func TestUncertainty(t *testing.T) {
	u := func(res float64) float64 { return res / math.Sqrt(12) }
	near := func(name string, got, want float64) {
		if math.Abs(got/want-1) > 1e-4 {
			t.Errorf("%s: got %.8g, want %.8g", name, got, want)
		}
	}
	near("front axle", float64(goodAxles.Front.Standard), math.Hypot(0.6*u(1), 1500*u(0.01)))
	s := lift.Support{Place: lift.Between, Distance: 0.3, Resolution: 0.002}
	got, err := lift.PairLoad(goodAxles, lift.Front, s, 2.6, 0.001)
	if err != nil {
		t.Fatal(err)
	}
	axle := 2.6 / 2.3 * float64(goodAxles.Front.Standard)
	base := 900 * 0.3 / (2.3 * 2.3) * u(0.001)
	place := 900 * 2.6 / (2.3 * 2.3) * u(0.002)
	near("pair", float64(got.Stands.Standard), math.Sqrt(axle*axle+base*base+place*place))
	share, _ := lift.TipShare(lift.Base{HalfWidth: 0.1, Height: 0.4, Resolution: 0.002})
	near("tip", float64(share.Standard), math.Hypot(1/0.4, 0.1/0.16)*u(0.002))
	papers := goodCar.Weights
	papers.Basis = lift.Papers
	a, _ := lift.AxleLoads(papers)
	near("papers", float64(a.Total.Standard), math.Hypot(u(1), 150/math.Sqrt(3)))
}

func TestWeighedAxles(t *testing.T) {
	a, err := lift.AxleLoads(lift.Weights{Basis: lift.Weighed, Front: 900, Rear: 600, Resolution: 1})
	if err != nil || a.Total.Value != 1500 || a.Front.Value != 900 || !(a.Total.Standard > a.Front.Standard) {
		t.Errorf("got %v and error %v, want the sum and more uncertainty than one reading", a, err)
	}
	for _, w := range []lift.Weights{
		{Basis: lift.Weighed, Resolution: 1}, {Basis: lift.Weighed, Front: 900, Resolution: 1}, {Basis: lift.Weighed, Mass: 1500, Resolution: 1},
	} {
		_, err := lift.AxleLoads(w)
		checkInput(t, err)
	}
}

// Raising the other way round gives the height back, and what one end loses
// the other gains.
func TestMovedLoad(t *testing.T) {
	for _, end := range []lift.End{lift.Front, lift.Rear} {
		r := goodRaising
		r.End = end
		moved, err := lift.MovedLoad(goodAxles, r)
		if err != nil || math.Abs(float64(moved.Raised.Value+moved.Grounded.Value-1500)) > slack || moved.Extra.Value <= 0 || moved.Extra.Standard <= 0 {
			t.Fatalf("got %+v and error %v, want the whole car and more on the grounded end", moved, err)
		}
		h, err := lift.CentreHeight(goodAxles, r, moved.Raised.Value, 0.1)
		if err != nil || math.Abs(h.Value.Metres()-0.55) > 1e-9 || h.Standard <= 0 {
			t.Errorf("got %v and error %v, want 0.55 m back", h, err)
		}
		if got, want := moved.Angle.Degrees(), 7.736; math.Abs(got-want) > 0.001 {
			t.Errorf("got %v, want %v", got, want)
		}
	}
}

func TestGrade(t *testing.T) {
	level, _ := lift.Grade(lift.Slope{Fall: 0.12, Over: 1, Run: lift.AlongLevel, Down: lift.ToRear, Resolution: 0.001})
	ground, err := lift.Grade(lift.Slope{Fall: 0.12, Over: 1, Run: lift.AlongGround, Down: lift.ToRear, Resolution: 0.001})
	if err != nil || math.Abs(float64(lift.GradeAlongGround(ground.Value))-0.12) > 1e-12 || !(ground.Value > level.Value) {
		t.Errorf("got %v and %v, error %v, want the one along the ground steeper", level, ground, err)
	}
}

func TestJudgeSlope(t *testing.T) {
	for grade, want := range map[quantity.Ratio]lift.SlopeVerdict{0: lift.SlopeFine, 0.01: lift.SlopeFine, 0.0101: lift.SlopeAsk, 0.03: lift.SlopeAsk, 0.0301: lift.SlopeStop, -0.0301: lift.SlopeStop,
		quantity.Ratio(nan()): lift.SlopeStop, quantity.Ratio(math.Inf(1)): lift.SlopeStop} {
		if got := lift.JudgeSlope(measure.Value[quantity.Ratio]{Value: grade}); got != want {
			t.Errorf("%v: got %s, want %s", grade, got, want)
		}
	}
	if got := lift.JudgeSlope(measure.Value[quantity.Ratio]{Value: 0.029, Standard: 0.001}); got != lift.SlopeStop {
		t.Errorf("got %s, want to stop at the steep end of the reading", got)
	}
}

func TestMarkings(t *testing.T) {
	tests := map[lift.Marking][2]float64{
		{Rated: lift.Rated{Figure: 2, Unit: lift.Tonnes}, For: lift.PerPair}:        {1000, 1000},
		{Rated: lift.Rated{Figure: 2, Unit: lift.Tonnes}, For: lift.PerStand}:       {2000, 2000},
		{Rated: lift.Rated{Figure: 1500, Unit: lift.Kilograms}, For: lift.PerStand}: {1500, 1500},
		{Rated: lift.Rated{Figure: 6000, Unit: lift.Pounds}, For: lift.PerPair}:     {1360.77711, 1360.77711},
		{Rated: lift.Rated{Figure: 3, Unit: lift.ShortTons}, For: lift.PerStand}:    {2721.55422, 2721.55422},
		{Rated: lift.Rated{Figure: 1, Unit: lift.Tons}, For: lift.NotMarked}:        {453.59237, 1016.0469088},
	}
	for m, want := range tests {
		got, err := m.PerStand()
		if err != nil || math.Abs(float64(got.Low)-want[0]) > 1e-6 || math.Abs(float64(got.High)-want[1]) > 1e-6 {
			t.Errorf("%+v: got %v and error %v, want %v", m, got, err, want)
		}
	}
	for _, m := range []lift.Marking{{}, {Rated: lift.Rated{Figure: 3}}, {Rated: lift.Rated{Figure: 3, Unit: lift.Tonnes}}, {Rated: lift.Rated{Figure: 3, Unit: "stone"}, For: lift.PerPair}} {
		got, err := m.PerStand()
		checkInput(t, err)
		if got.High != 0 {
			t.Errorf("got %v beside an error, want nothing", got)
		}
	}
}

func TestCompare(t *testing.T) {
	type masses = lift.Range[quantity.Mass]
	load := masses{Low: 400, High: 500}
	for rated, want := range map[masses]lift.Fit{{750, 750}: lift.Enough, {749.9, 749.9}: lift.NotTelling, {600, 600}: lift.NotTelling, {599, 599}: lift.NotEnough, {500, 2000}: lift.NotTelling, {750, 1500}: lift.Enough} {
		if got, err := lift.Compare(rated, load, 1.5); err != nil || got != want {
			t.Errorf("%v: got %s and error %v, want %s", rated, got, err, want)
		}
	}
	for _, bad := range []masses{{}, {Low: 2, High: 1}, {Low: -1, High: 1}, {Low: 1, High: quantity.Mass(nan())}} {
		for _, pair := range [][2]masses{{bad, load}, {load, bad}} {
			got, err := lift.Compare(pair[0], pair[1], 1.5)
			checkInput(t, err)
			if got != lift.NotTelling {
				t.Errorf("got %s beside an error", got)
			}
		}
		_, err := lift.Required(bad, 1.5)
		checkInput(t, err)
	}
	_, err := lift.Compare(load, load, 0.5)
	checkInput(t, err)
	_, err = lift.Required(load, 0)
	checkInput(t, err)
}

func TestQuestions(t *testing.T) {
	stand := func(low, high quantity.Mass) string {
		return lift.QuestionStand(lift.Range[quantity.Mass]{Low: low, High: high})
	}
	for q, asked := range map[string]bool{stand(1000, 1000): false, stand(750, 750): false, stand(749, 749): true, stand(500, 1000): true, stand(7000, 7000): true, stand(0, 0): true,
		lift.QuestionJack(0.3, 0.004, 20): false, lift.QuestionJack(0.3, 0.006, 20): true, lift.QuestionJack(0.05, 0.004, 20): true, lift.QuestionJack(0.3, 0, 31): true, lift.QuestionJack(0, 0, 0): true} {
		if (q != "") != asked {
			t.Errorf("got %q, want asked %t", q, asked)
		}
	}
}

func TestFormulaErr(t *testing.T) {
	far := lift.Support{Place: lift.Between, Distance: 1.1, Resolution: 0.001}
	tailHeavy, _ := lift.AxleLoads(lift.Weights{Basis: lift.Weighed, Front: 1000, Rear: 500, Resolution: 1})
	raising := func(change func(*lift.Raising)) lift.Raising { r := goodRaising; change(&r); return r }
	bad := map[string]func() error{
		"PairTips":       func() error { _, err := lift.PairLoad(tailHeavy, lift.Front, far, 2.6, 0.001); return err },
		"PairNoAxles":    func() error { _, err := lift.PairLoad(lift.Axles{}, lift.Front, atAxle, 2.6, 0.001); return err },
		"PairNoEnd":      func() error { _, err := lift.PairLoad(goodAxles, "", atAxle, 2.6, 0.001); return err },
		"PairBase":       func() error { _, err := lift.PairLoad(goodAxles, lift.Front, atAxle, 26, 0.001); return err },
		"PairPlace":      func() error { _, err := lift.PairLoad(goodAxles, lift.Front, lift.Support{}, 2.6, 0.001); return err },
		"FourRear":       func() error { _, err := lift.FourLoads(goodAxles, atAxle, lift.Support{}, 2.6, 0.001); return err },
		"FourTips":       func() error { _, err := lift.FourLoads(tailHeavy, far, atAxle, 2.6, 0.001); return err },
		"CentreBase":     func() error { _, err := lift.CentreBehindFront(goodAxles, 0, 0.001); return err },
		"CentreAxles":    func() error { _, err := lift.CentreBehindFront(lift.Axles{}, 2.6, 0.001); return err },
		"HeavierUnknown": func() error { _, err := lift.HeavierLoad(goodAxles.Front, lift.Split{}); return err },
		"HeavierNoLoad":  func() error { _, err := lift.HeavierLoad(mass{}, lift.Split{Allow: lift.Yes}); return err },
		"HeavierSplit": func() error {
			_, err := lift.HeavierLoad(goodAxles.Front, lift.Split{Heavier: 0.7, Resolution: 0.01})
			return err
		},
		"MadeStand":    func() error { _, err := lift.MadeStandTest(0); return err },
		"MadeStandNaN": func() error { _, err := lift.MadeStandTest(quantity.Mass(nan())); return err },
		"CarJack":      func() error { _, err := lift.CarJackRating(100); return err },
		"Rated":        func() error { _, err := lift.Rated{Figure: 2}.Mass(); return err },
		"ForceMass":    func() error { _, err := lift.DownhillForce(-1, 0.1); return err },
		"ForceSlope":   func() error { _, err := lift.DownhillForce(1500, quantity.Angle(nan())); return err },
		"AxleSlope": func() error {
			_, err := lift.DownhillAxle(goodAxles, lift.Front, -0.1, height(0.55), 2.6, 0.001)
			return err
		},
		"AxleHeight": func() error {
			_, err := lift.DownhillAxle(goodAxles, lift.Front, 0.1, height(5), 2.6, 0.001)
			return err
		},
		"AxleEnd": func() error { _, err := lift.DownhillAxle(goodAxles, "", 0.1, height(0.55), 2.6, 0.001); return err },
		"MovedHeight": func() error {
			_, err := lift.MovedLoad(goodAxles, raising(func(r *lift.Raising) { r.CentreHeight = measure.Value[quantity.Length]{} }))
			return err
		},
		"MovedLow": func() error {
			_, err := lift.MovedLoad(goodAxles, raising(func(r *lift.Raising) { r.WheelRadius, r.CentreHeight = 0.4, height(0.35) }))
			return err
		},
		"MovedRaise": func() error {
			_, err := lift.MovedLoad(goodAxles, raising(func(r *lift.Raising) { r.Raise = 0 }))
			return err
		},
		"MovedRadius": func() error {
			_, err := lift.MovedLoad(goodAxles, raising(func(r *lift.Raising) { r.WheelRadius = quantity.Length(nan()) }))
			return err
		},
		"MovedEnd": func() error {
			_, err := lift.MovedLoad(goodAxles, raising(func(r *lift.Raising) { r.End = "" }))
			return err
		},
		"CentreLeft":   func() error { _, err := lift.CentreHeight(goodAxles, goodRaising, 0, 0.1); return err },
		"CentreAbsurd": func() error { _, err := lift.CentreHeight(goodAxles, goodRaising, 700, 0.1); return err },
		"CentreBelow":  func() error { _, err := lift.CentreHeight(goodAxles, goodRaising, 905, 0.1); return err },
		"CentreRaise": func() error {
			_, err := lift.CentreHeight(goodAxles, raising(func(r *lift.Raising) { r.Raise = -1 }), 880, 0.1)
			return err
		},
		"TipBase": func() error { _, err := lift.TipShare(lift.Base{HalfWidth: 0.1, Resolution: 0.001}); return err },
		"TipTape": func() error { _, err := lift.TipShare(lift.Base{HalfWidth: 0.1, Height: 0.4}); return err },
	}
	for name, f := range bad {
		t.Run(name, func(t *testing.T) { checkInput(t, f()) })
	}
	allowed, err := lift.HeavierLoad(goodAxles.Front, lift.Split{Allow: lift.Yes})
	if err != nil || math.Abs(float64(allowed.Value)-540) > slack {
		t.Errorf("got %v and error %v, want 60 %% of 900 kg when that is accepted", allowed, err)
	}
}

func TestWords(t *testing.T) {
	for _, said := range []string{lift.Enough.Words(), lift.NotEnough.Words(), lift.NotTelling.Words(), lift.Holds.Words(), lift.DoesNot.Words(), lift.CannotTell.Words(), lift.FrontLeft.Words(), lift.RearRight.Words()} {
		if said == "" {
			t.Error("got a word that says nothing")
		}
	}
}
