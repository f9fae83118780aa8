package lift_test

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/lift"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// forget are the facts that can be left out, one by one.
var forget = map[string]func(*lift.Car, *lift.Lift){
	"mass":          func(c *lift.Car, _ *lift.Lift) { c.Weights = lift.Weights{} },
	"basis":         func(c *lift.Car, _ *lift.Lift) { c.Weights.Basis = "" },
	"front share":   func(c *lift.Car, _ *lift.Lift) { c.Weights.FrontShare = 0 },
	"split allowed": func(c *lift.Car, _ *lift.Lift) { c.Split = lift.Split{Allow: lift.Yes} },
	"split":         func(c *lift.Car, _ *lift.Lift) { c.Split = lift.Split{} },
	"wheelbase":     func(c *lift.Car, _ *lift.Lift) { c.Wheelbase = 0 },
	"radius":        func(c *lift.Car, _ *lift.Lift) { c.WheelRadius = 0 },
	"centre":        func(c *lift.Car, _ *lift.Lift) { c.CentreHeight = measure.Value[quantity.Length]{} },
	"raise":         func(_ *lift.Car, l *lift.Lift) { l.Raise = 0 },
	"first":         func(_ *lift.Car, l *lift.Lift) { l.First = "" },
	"front place":   func(_ *lift.Car, l *lift.Lift) { l.Front.At = lift.Support{} },
	"rear place":    func(_ *lift.Car, l *lift.Lift) { l.Rear.At = lift.Support{} },
	"front rating":  func(_ *lift.Car, l *lift.Lift) { l.Front.Marking = lift.Marking{} },
	"rear for":      func(_ *lift.Car, l *lift.Lift) { l.Rear.Marking.For = "" },
	"front unit":    func(_ *lift.Car, l *lift.Lift) { l.Front.Marking.Unit = "" },
	"jack rating":   func(_ *lift.Car, l *lift.Lift) { l.Jack.Rated = lift.Rated{} },
	"jack where":    func(_ *lift.Car, l *lift.Lift) { l.Jack.Where = "" },
	"jack place":    func(_ *lift.Car, l *lift.Lift) { l.Jack.Front, l.Jack.Rear = lift.Support{}, lift.Support{} },
	"along":         func(_ *lift.Car, l *lift.Lift) { l.Along = lift.Slope{} },
	"across":        func(_ *lift.Car, l *lift.Lift) { l.Across = lift.Slope{} },
	"drive":         func(c *lift.Car, _ *lift.Lift) { c.Drive = "" },
	"differential":  func(c *lift.Car, _ *lift.Lift) { c.Differential = "" },
	"brake":         func(c *lift.Car, _ *lift.Lift) { c.Brake = "" },
	"gearbox":       func(c *lift.Car, _ *lift.Lift) { c.Gearbox = "" },
	"released":      func(_ *lift.Car, l *lift.Lift) { l.BrakeReleased = "" },
}

// Leaving facts out never narrows a bound and never turns one certain verdict
// into the other, and whatever was not certain stays so.
func TestForgettingNeverHelps(t *testing.T) {
	for name, drop := range forget {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				c, l := drawCar(t), drawLift(t)
				for _, also := range rapid.SliceOfN(rapid.SampledFrom([]string{"split", "centre", "front share", "jack where", "drive", "brake", "along", "raise"}), 0, 3).Draw(t, "also forgotten") {
					forget[also](&c, &l)
				}
				knows, err := lift.Plan(c, l)
				if err != nil {
					t.Skip(err) // outside what the method takes: rapid draws another case
				}
				if name != "split allowed" || c.Split.Heavier != 0 {
					drop(&c, &l)
				}
				forgot, err := lift.Plan(c, l)
				if err != nil {
					t.Fatal(err)
				}
				checkWider(t, knows, forgot)
			})
		})
	}
}

const slack = 1e-9

func checkWider(t *rapid.T, knows, forgot lift.Result) {
	wider := func(name string, a, b lift.Range[quantity.Mass]) {
		if b.Low > a.Low+slack || b.High < a.High-slack {
			t.Errorf("%s: got %v to %v after forgetting, want to cover %v to %v", name, float64(b.Low), float64(b.High), float64(a.Low), float64(a.High))
		}
	}
	for i, p := range knows.Pairs {
		q := forgot.Pairs[i]
		wider("pair", p.Pair, q.Pair)
		wider("heavier", p.Heavier, q.Heavier)
		wider("rating", p.Rated, q.Rated)
		checkFit(t, "stands", p.Fit, q.Fit)
		if q.Required < p.Required-slack || q.TipForce > p.TipForce+slack {
			t.Errorf("got %v required and %v to tip after forgetting, want no less than %v and no more than %v", q.Required, q.TipForce, p.Required, p.TipForce)
		}
	}
	wider("grounded", knows.Grounded, forgot.Grounded)
	wider("jack", knows.Jack.Load, forgot.Jack.Load)
	checkFit(t, "jack", knows.Jack.Fit, forgot.Jack.Fit)
	checkHeld(t, "brake", knows.Brake, forgot.Brake)
	checkHeld(t, "gear", knows.Gear, forgot.Gear)
	checkHeld(t, "other end", knows.OtherEnd, forgot.OtherEnd)
	if forgot.Downhill < knows.Downhill-slack || forgot.Travel < knows.Travel-slack || forgot.Steepest < knows.Steepest-slack {
		t.Errorf("got downhill %v, travel %v, slope %v after forgetting, want no less than %v, %v, %v", forgot.Downhill, forgot.Travel, forgot.Steepest, knows.Downhill, knows.Travel, knows.Steepest)
	}
	if forgot.Ready() && !knows.Ready() {
		t.Error("got ready after forgetting, want no such thing")
	}
	chocked := map[lift.Chock]bool{}
	for _, c := range forgot.Chocks {
		chocked[c] = true
	}
	for _, c := range knows.Chocks {
		if !chocked[c] {
			t.Errorf("the chock %s is gone after forgetting", c.Words())
		}
	}
}

func checkFit(t *rapid.T, name string, knows, forgot lift.Fit) {
	if forgot != knows && forgot != lift.NotTelling {
		t.Errorf("%s: got %s after forgetting, want %s or not to tell", name, forgot, knows)
	}
}

func checkHeld(t *rapid.T, name string, knows, forgot lift.Held) {
	if forgot.Verdict != knows.Verdict && forgot.Verdict != lift.CannotTell {
		t.Errorf("%s: got %v after forgetting, want %v or not to tell", name, forgot, knows)
	}
	if forgot.Reason == "" || knows.Reason == "" {
		t.Errorf("%s: got no reason", name)
	}
}

// A heavier car or a larger margin never makes anything easier. A steeper slope
// never asks for less and never turns a verdict into enough; it may leave open
// what was not enough, as it is not known which side is the heavier one.
func TestMonotonic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		order := map[lift.Fit]int{lift.NotEnough: 0, lift.NotTelling: 1, lift.Enough: 2}
		c, l := drawCar(t), drawLift(t)
		before, err := lift.Plan(c, l)
		if err != nil {
			t.Skip(err) // outside what the method takes: rapid draws another case
		}
		switch rapid.SampledFrom([]string{"mass", "margin", "slope"}).Draw(t, "more of") {
		case "mass":
			c.Weights.Mass *= quantity.Mass(between(t, "more", 1, 1.2))
		case "margin":
			l.Margin *= quantity.Ratio(between(t, "more", 1, 3))
		case "slope":
			l.Across.Fall += drawLength(t, "more", 0, 0.05)
			order[lift.NotTelling] = 0
		}
		after, err := lift.Plan(c, l)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range before.Pairs {
			if q := after.Pairs[i]; q.Required < p.Required-slack || order[q.Fit] > order[p.Fit] {
				t.Errorf("got %v %s, want no less than %v and no better than %s", q.Required, q.Fit, p.Required, p.Fit)
			}
		}
		if after.Jack.Required < before.Jack.Required-slack || order[after.Jack.Fit] > order[before.Jack.Fit] {
			t.Errorf("got jack %+v, want no less than %+v", after.Jack, before.Jack)
		}
		if after.Ready() && !before.Ready() {
			t.Error("got ready with more load, want no such thing")
		}
	})
}

// What stands and wheels carry is the car, wherever the stands are; further in
// they carry more; and the two ways to compute the plan's load agree.
func TestLoads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, err := lift.AxleLoads(drawWeights(t))
		if err != nil {
			t.Skip(err) // outside what the method takes: rapid draws another case
		}
		base := drawLength(t, "base", 2, 4)
		end := rapid.SampledFrom([]lift.End{lift.Front, lift.Rear}).Draw(t, "end")
		s := lift.Support{Place: lift.Between, Distance: drawLength(t, "in", 0.02, 0.5), Resolution: 0.001}
		one, err := lift.PairLoad(a, end, s, base, 0.001)
		if err != nil {
			t.Skip(err) // outside what the method takes: rapid draws another case
		}
		near := map[lift.End]quantity.Mass{lift.Front: a.Front.Value, lift.Rear: a.Rear.Value}[end]
		sums(t, a, one)
		if one.Stands.Value <= near || one.Stands.Standard <= 0 || one.Rest.Standard <= 0 {
			t.Errorf("got %v, want more than the axle's %v and an uncertainty", one.Stands, near)
		}
		further := s
		further.Distance += drawLength(t, "further", 0.01, 0.1)
		if two, err := lift.PairLoad(a, end, further, base, 0.001); err == nil && two.Stands.Value <= one.Stands.Value {
			t.Errorf("got %v further in, want more than %v", two.Stands, one.Stands)
		}
		s.Place = lift.Beyond
		beyond, err := lift.PairLoad(a, end, s, base, 0.001)
		if err != nil || beyond.Stands.Value >= near {
			t.Errorf("got %v and error %v beyond the axle, want less than the axle's %v", beyond.Stands, err, near)
		}
		checkFour(t, a, base, s)
	})
}

// The pairs of four stands are those of two when the others are at their axle.
func checkFour(t *rapid.T, a lift.Axles, base quantity.Length, s lift.Support) {
	at := lift.Support{Place: lift.AtAxle, Resolution: 0.001}
	four, err := lift.FourLoads(a, s, at, base, 0.001)
	if err != nil {
		t.Skip(err) // outside what the method takes: rapid draws another case
	}
	sums(t, a, four)
	two, err := lift.PairLoad(a, lift.Front, s, base, 0.001)
	if err != nil || math.Abs(float64(two.Stands.Value-four.Stands.Value)) > slack {
		t.Errorf("got %v and error %v on two, want %v as on four", two.Stands, err, four.Stands)
	}
}

func sums(t *rapid.T, a lift.Axles, l lift.Loads) {
	if math.Abs(float64(l.Stands.Value+l.Rest.Value-a.Total.Value)) > slack || math.Abs(float64(a.Front.Value+a.Rear.Value-a.Total.Value)) > slack {
		t.Errorf("got %v + %v, want the whole %v", l.Stands, l.Rest, a.Total)
	}
}

// The plan's bounds hold what the equation for level ground gives.
func TestPlanHoldsTheEquation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, l := drawCar(t), drawLift(t)
		l.Raised = rapid.SampledFrom([]lift.Raised{lift.FrontAxle, lift.RearAxle}).Draw(t, "axle")
		l.Along.Fall, l.Across.Fall, l.Along.Down, l.Across.Down = 0, 0, "", ""
		r, err := lift.Plan(c, l)
		if err != nil {
			t.Skip(err) // outside what the method takes: rapid draws another case
		}
		a, _ := lift.AxleLoads(c.Weights)
		end, stands := lift.Front, l.Front
		if l.Raised == lift.RearAxle {
			end, stands = lift.Rear, l.Rear
		}
		got, err := lift.PairLoad(a, end, stands.At, c.Wheelbase, c.Tape)
		if err != nil {
			t.Skip(err) // outside what the method takes: rapid draws another case
		}
		if p := r.Pairs[0].Pair; got.Stands.Value < p.Low || got.Stands.Value > p.High {
			t.Errorf("got %v to %v, want it to hold %v", p.Low, p.High, got.Stands.Value)
		}
		if got.Rest.Value < r.Grounded.Low || got.Rest.Value > r.Grounded.High {
			t.Errorf("got %v grounded, want it to hold %v", r.Grounded, got.Rest.Value)
		}
	})
}

var mirror = map[lift.Raised]lift.Raised{lift.LeftSide: lift.RightSide, lift.RightSide: lift.LeftSide, lift.OneFrontLeft: lift.OneFrontRight,
	lift.OneFrontRight: lift.OneFrontLeft, lift.OneRearLeft: lift.OneRearRight, lift.OneRearRight: lift.OneRearLeft}

// The mirrored lift has the mirrored plan.
func TestMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, l := drawCar(t), drawLift(t)
		one, err := lift.Plan(c, l)
		if err != nil {
			t.Skip(err) // outside what the method takes: rapid draws another case
		}
		if m, ok := mirror[l.Raised]; ok {
			l.Raised = m
		}
		l.Across.Down = map[lift.Way]lift.Way{lift.ToLeft: lift.ToRight, lift.ToRight: lift.ToLeft}[l.Across.Down]
		other, err := lift.Plan(c, l)
		if err != nil {
			t.Fatal(err)
		}
		if !sameChocks(one.Chocks, other.Chocks) {
			t.Errorf("got chocks %v mirrored, want those of %v", other.Chocks, one.Chocks)
		}
		one.Chocks, other.Chocks = nil, nil
		if !reflect.DeepEqual(one, other) {
			t.Errorf("got %+v mirrored, want %+v", other, one)
		}
	})
}

var mirrorCorner = map[lift.Corner]lift.Corner{lift.FrontLeft: lift.FrontRight, lift.FrontRight: lift.FrontLeft, lift.RearLeft: lift.RearRight, lift.RearRight: lift.RearLeft}

func sameChocks(a, b []lift.Chock) bool {
	set := map[lift.Chock]bool{}
	for _, c := range b {
		set[c] = true
	}
	for _, c := range a {
		if !set[lift.Chock{Wheel: mirrorCorner[c.Wheel], Face: c.Face}] {
			return false
		}
	}
	return len(a) == len(b)
}
