package adjust_test

import (
	"math"
	"testing"

	"strutcard/calc/adjust"
	"strutcard/calc/quantity"
)

// refused runs each change of a good input and wants it refused.
func refused[T any](t *testing.T, good T, run func(T) (nothing bool, err error), bad map[string]func(*T)) {
	t.Helper()
	if _, err := run(good); err != nil {
		t.Fatalf("got %v for the good input", err)
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			input := good
			change(&input)
			nothing, err := run(input)
			checkRefused(t, nothing, err)
		})
	}
}

var nan = quantity.Length(math.NaN())

type axisInput struct {
	axis  adjust.Axis
	joint adjust.Joint
	move  adjust.Move
}

func TestAxisRefused(t *testing.T) {
	bad := map[string]func(*axisInput){
		"Height":         func(i *axisInput) { i.axis.Height = 0 },
		"HeightNaN":      func(i *axisInput) { i.axis.Height = nan },
		"Offset":         func(i *axisInput) { i.axis.Offset = -1 },
		"OffsetNaN":      func(i *axisInput) { i.axis.Offset = nan },
		"Wide":           func(i *axisInput) { i.axis.Offset = i.axis.Height },
		"Lies":           func(i *axisInput) { i.axis.UpperLies = "" },
		"OtherPlane":     func(i *axisInput) { i.axis.UpperLies = adjust.Rearward },
		"Resolution":     func(i *axisInput) { i.axis.Resolution = 0 },
		"Joint":          func(i *axisInput) { i.joint = "" },
		"By":             func(i *axisInput) { i.move.By = -mm(1) },
		"To":             func(i *axisInput) { i.move.To = "" },
		"ToForward":      func(i *axisInput) { i.move.To = adjust.Forward },
		"MoveResolution": func(i *axisInput) { i.move.Resolution = nan },
		"Far":            func(i *axisInput) { i.move.By = i.axis.Height },
	}
	refused(t, axisInput{sideAxis, adjust.Upper, inwards}, func(i axisInput) (bool, error) {
		got, err := i.axis.Sideways(i.joint, i.move)
		return got == adjust.Lean{}, err
	}, bad)
	for _, name := range []string{"By", "To", "ToForward", "MoveResolution", "Far"} {
		delete(bad, name) // the inverse has no move
	}
	refused(t, axisInput{sideAxis, adjust.Upper, inwards}, func(i axisInput) (bool, error) {
		l, to, err := i.axis.SidewaysFor(i.joint, deg(-0.5))
		return l == 0 && to == "", err
	}, bad)
	for _, change := range []float64{15.1, -15.1, math.NaN()} {
		l, to, err := backAxis.LengthwiseFor(adjust.Upper, deg(change))
		checkRefused(t, l == 0 && to == "", err)
	}
	if l, to, err := sideAxis.SidewaysFor(adjust.Upper, 0); l != 0 || to != "" || err != nil {
		t.Errorf("got %v %q and error %v, want no move", l, to, err)
	}
	still, err := sideAxis.Sideways(adjust.Upper, adjust.Move{Resolution: mm(0.5)})
	if err != nil || still.Camber.Value != 0 || math.Signbit(float64(still.Camber.Value)) || !(still.Camber.Standard > 0) {
		t.Errorf("got %+v and error %v, want a plain zero with an uncertainty", still, err)
	}
	// The lower joint out does what the upper one in does.
	upper, _ := sideAxis.Sideways(adjust.Upper, inwards)
	lower, _ := sideAxis.Sideways(adjust.Lower, adjust.Move{By: inwards.By, To: adjust.Out, Resolution: inwards.Resolution})
	if upper != lower {
		t.Errorf("got %+v and %+v, want the same", upper, lower)
	}
}

type footInput struct {
	foot adjust.Foot
	move adjust.Move
}

func TestFootRefused(t *testing.T) {
	bad := map[string]func(*footInput){
		"Spacing":       func(i *footInput) { i.foot.Spacing = 0 },
		"Bolt":          func(i *footInput) { i.foot.Slotted = "" },
		"Top":           func(i *footInput) { i.foot.ToTop = 0 },
		"Ball":          func(i *footInput) { i.foot.ToBallJoint = 0 },
		"BelowZero":     func(i *footInput) { i.foot.ToTop = -1 },
		"BallBelowZero": func(i *footInput) { i.foot.ToBallJoint = -1 },
		"TopNaN":        func(i *footInput) { i.foot.ToTop = nan },
		"BallNaN":       func(i *footInput) { i.foot.ToBallJoint = nan },
		"Resolution":    func(i *footInput) { i.foot.Resolution = 0 },
	}
	refused(t, footInput{foot, inwards}, func(i footInput) (bool, error) {
		l, to, err := i.foot.MoveFor(deg(-0.5))
		return l == 0 && to == "", err
	}, bad)
	bad["To"] = func(i *footInput) { i.move.To = adjust.Rearward }
	bad["MoveResolution"] = func(i *footInput) { i.move.Resolution = 0 }
	bad["Far"] = func(i *footInput) { i.move.By = i.foot.Spacing }
	refused(t, footInput{foot, inwards}, func(i footInput) (bool, error) {
		got, err := i.foot.Change(i.move)
		return got == adjust.FootChange{}, err
	}, bad)
	odd := foot
	odd.ToTop = mm(1) // a share of 1 in 151
	for _, c := range []float64{1, 16, math.NaN()} {
		l, to, err := odd.MoveFor(deg(c))
		checkRefused(t, l == 0 && to == "", err)
	}
}

func TestEccentricRefused(t *testing.T) {
	bad := map[string]func(*adjust.Eccentric){
		"Throw":      func(e *adjust.Eccentric) { e.Throw = 0 },
		"PerTurn":    func(e *adjust.Eccentric) { e.PerTurn = 3 },
		"PerTurnNaN": func(e *adjust.Eccentric) { e.PerTurn = turns(math.NaN()) },
		"Resolution": func(e *adjust.Eccentric) { e.Resolution = 0 },
		"Reading":    func(e *adjust.Eccentric) { e.Reading = 0 },
		"ReadingNaN": func(e *adjust.Eccentric) { e.Reading = turns(math.NaN()) },
	}
	refused(t, cam, func(e adjust.Eccentric) (bool, error) { got, err := e.Push(0, 2); return got.Standard == 0, err }, bad)
	refused(t, cam, func(e adjust.Eccentric) (bool, error) { got, err := e.To(1, mm(1)); return got == 0, err }, bad)
	for _, n := range []turns{12.1, -12.1, turns(math.NaN())} {
		got, err := cam.Push(0, n)
		checkRefused(t, got.Value == 0, err)
		got, err = cam.Push(n, 0)
		checkRefused(t, got.Value == 0, err)
		to, err := cam.To(n, 0)
		checkRefused(t, to == 0, err)
	}
	for _, push := range []quantity.Length{mm(4.1), -mm(4.1), nan} {
		to, err := cam.To(0, push)
		checkRefused(t, to == 0, err)
	}
}

type shimInput struct {
	arm   adjust.Arm
	shims adjust.Shims
}

func TestShimsRefused(t *testing.T) {
	good := shimInput{wishbone, adjust.Shims{Front: mm(2), FrontTo: adjust.In, Rear: mm(1), RearTo: adjust.In, Resolution: mm(0.5)}}
	refused(t, good, func(i shimInput) (bool, error) { got, err := i.arm.Shift(i.shims); return got == adjust.Shifted{}, err },
		map[string]func(*shimInput){
			"Spacing":        func(i *shimInput) { i.arm.Spacing = 0 },
			"Length":         func(i *shimInput) { i.arm.Length = nan },
			"Share":          func(i *shimInput) { i.arm.FrontShare = 1.1 },
			"ShareBelow":     func(i *shimInput) { i.arm.FrontShare = -0.1 },
			"ShareNaN":       func(i *shimInput) { i.arm.FrontShare = quantity.Ratio(nan) },
			"Resolution":     func(i *shimInput) { i.arm.Resolution = 0 },
			"Front":          func(i *shimInput) { i.shims.Front = -1 },
			"FrontTo":        func(i *shimInput) { i.shims.FrontTo = "" },
			"RearTo":         func(i *shimInput) { i.shims.RearTo = adjust.Forward },
			"ShimResolution": func(i *shimInput) { i.shims.Resolution = 0 },
			"Thick":          func(i *shimInput) { i.shims.Front = mm(32) },
		})
}

func TestSteeringArmRefused(t *testing.T) {
	refused(t, arm, func(s adjust.SteeringArm) (bool, error) {
		got, err := s.ToeFor(reading(-1, 0.05))
		return got.Standard == 0, err
	},
		map[string]func(*adjust.SteeringArm){
			"Reach":      func(s *adjust.SteeringArm) { s.Reach = 0 },
			"Joint":      func(s *adjust.SteeringArm) { s.Joint = adjust.In },
			"Height":     func(s *adjust.SteeringArm) { s.Height = -1 },
			"HeightNaN":  func(s *adjust.SteeringArm) { s.Height = nan },
			"Lies":       func(s *adjust.SteeringArm) { s.Lies = "" },
			"Resolution": func(s *adjust.SteeringArm) { s.Resolution = 0 },
			"Units":      func(s *adjust.SteeringArm) { s.Height = quantity.Metres(60) },
		})
	for _, v := range []struct{ c, u float64 }{{16, 0.1}, {math.NaN(), 0.1}, {1, -0.1}, {1, math.NaN()}} {
		got, err := arm.ToeFor(reading(v.c, v.u))
		checkRefused(t, got.Standard == 0, err)
	}
	level := arm
	level.Height, level.Lies = 0, ""
	if got, err := level.ToeFor(reading(-1, 0.05)); err != nil || got.Value != 0 || math.Signbit(float64(got.Value)) || !(got.Standard > 0) {
		t.Errorf("got %v and error %v, want no toe, with an uncertainty, from a joint level with the pivot", got, err)
	}
}

func TestCollarRefused(t *testing.T) {
	bad := map[string]func(*adjust.Collar){
		"Travel":     func(c *adjust.Collar) { c.Thread.Travel = 0 },
		"Turns":      func(c *adjust.Collar) { c.Thread.Turns = 0 },
		"TurnsNaN":   func(c *adjust.Collar) { c.Thread.Turns = turns(math.NaN()) },
		"Resolution": func(c *adjust.Collar) { c.Thread.Resolution = 0 },
		"Ratio":      func(c *adjust.Collar) { c.SpringPerWheel.Value = 0 },
		"RatioNaN":   func(c *adjust.Collar) { c.SpringPerWheel.Value = quantity.Ratio(nan) },
		"Standard":   func(c *adjust.Collar) { c.SpringPerWheel.Standard = -1 },
		"NaN":        func(c *adjust.Collar) { c.SpringPerWheel.Standard = quantity.Ratio(nan) },
	}
	refused(t, spring, func(c adjust.Collar) (bool, error) { got, err := c.AtWheel(3); return got.Value == 0, err }, bad)
	refused(t, spring, func(c adjust.Collar) (bool, error) { got, err := c.TurnsFor(mm(3)); return got == 0, err }, bad)
	rise, err := spring.AtWheel(turns(math.NaN()))
	checkRefused(t, rise.Value == 0, err)
	back, err := spring.TurnsFor(nan)
	checkRefused(t, back == 0, err)
}
