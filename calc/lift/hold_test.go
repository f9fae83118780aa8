package lift_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"strutcard/calc/lang"
	"strutcard/calc/lift"
)

var raisedCorners = map[lift.Raised][4]bool{ // front left, front right, rear left, rear right
	lift.FrontAxle: {true, true, false, false}, lift.RearAxle: {false, false, true, true}, lift.AllWheels: {true, true, true, true},
	lift.LeftSide: {true, false, true, false}, lift.RightSide: {false, true, false, true},
	lift.OneFrontLeft: {true, false, false, false}, lift.OneFrontRight: {false, true, false, false},
	lift.OneRearLeft: {false, false, true, false}, lift.OneRearRight: {false, false, false, true},
}

// line is one equation: the factors of the four wheels' speeds, of the speeds
// of the two axles' shafts, and the right side.
type line [7]float64

// rolls decides from the kinematics whether the car can roll: is there a set of
// speeds with every grounded wheel turning once and every constraint met?
func rolls(up [4]bool, constraints []line) bool {
	for i := range up {
		if !up[i] {
			l := line{6: 1}
			l[i] = 1
			constraints = append(constraints, l)
		}
	}
	a, b := mat.NewDense(len(constraints), 6, nil), mat.NewDense(len(constraints), 1, nil)
	for i, l := range constraints {
		a.SetRow(i, l[:6])
		b.Set(i, 0, l[6])
	}
	var svd mat.SVD
	svd.Factorize(a, mat.SVDThin)
	rank := svd.Rank(1e-9)
	var x, residual mat.Dense
	svd.SolveTo(&x, b, rank)
	residual.Mul(a, &x)
	residual.Sub(&residual, b)
	return mat.Norm(&residual, 2) < 1e-9
}

// drivetrain is the constraints with the output of the gearbox locked.
func drivetrain(drive lift.Drive, locked bool) []line {
	var out []line
	if drive != lift.RearDrive {
		out = append(out, axle(0, 4, locked)...)
	}
	if drive != lift.FrontDrive {
		out = append(out, axle(2, 5, locked)...)
	}
	switch {
	case drive == lift.FrontDrive:
		return append(out, line{4: 1})
	case drive == lift.RearDrive:
		return append(out, line{5: 1})
	case locked:
		return append(out, line{4: 1}, line{5: 1})
	}
	return append(out, line{4: 1, 5: 1})
}

func axle(wheel, shaft int, locked bool) []line {
	if !locked {
		l := line{}
		l[wheel], l[wheel+1], l[shaft] = 1, 1, -2
		return []line{l}
	}
	var left, right line
	left[wheel], left[shaft] = 1, -1
	right[wheel+1], right[shaft] = 1, -1
	return []line{left, right}
}

var (
	drives = []lift.Drive{lift.FrontDrive, lift.RearDrive, lift.AllDrive}
	locks  = map[lift.Differential]bool{lift.Open: false, lift.Locked: true}
	brakes = map[lift.Brake][]line{lift.BrakeFront: {{0: 1}, {1: 1}}, lift.BrakeRear: {{2: 1}, {3: 1}}}
)

func held(rolls bool) lift.Verdict {
	if rolls {
		return lift.DoesNot
	}
	return lift.Holds
}

func TestHoldsAsKinematics(t *testing.T) {
	for raised, up := range raisedCorners {
		for _, drive := range drives {
			for differential, locked := range locks {
				d := lift.Driveline{Drive: drive, Differential: differential, Brake: lift.BrakeTransmission}
				want := held(rolls(up, drivetrain(drive, locked)))
				gear, err := lift.GearHolds(d, raised)
				shaft, err2 := lift.BrakeHolds(d, raised)
				if err != nil || err2 != nil || gear.Verdict != want || shaft.Verdict != want {
					t.Errorf("%s, %s drive, %s: got gear %v, brake %v, errors %v, %v, want %s", raised, drive, differential, gear, shaft, err, err2, want)
				}
			}
		}
		for brake, wheels := range brakes {
			got, err := lift.BrakeHolds(lift.Driveline{Brake: brake}, raised)
			if want := held(rolls(up, wheels)); err != nil || got.Verdict != want {
				t.Errorf("%s, brake %s: got %v and error %v, want %s", raised, brake, got, err, want)
			}
		}
	}
}

// What is not known is told only when every possibility says the same.
func TestHoldsUnknown(t *testing.T) {
	for raised := range raisedCorners {
		count := map[lift.Verdict]int{}
		for _, drive := range drives {
			for differential := range locks {
				h, _ := lift.GearHolds(lift.Driveline{Drive: drive, Differential: differential}, raised)
				count[h.Verdict]++
			}
		}
		for _, differential := range []lift.Differential{"", lift.LimitedSlip} {
			got, err := lift.GearHolds(lift.Driveline{Differential: differential}, raised)
			same := count[got.Verdict] == 6
			if err != nil || got.Verdict != lift.CannotTell && !same || got.Verdict == lift.CannotTell && (count[lift.Holds] == 6 || count[lift.DoesNot] == 6) {
				t.Errorf("%s %q: got %v and error %v, want what all of %v say", raised, differential, got, err, count)
			}
		}
	}
}

func TestHoldsErr(t *testing.T) {
	for _, d := range []lift.Driveline{{Drive: "four"}, {Differential: "half"}, {Brake: "hand"}, {Gearbox: "none"}} {
		h, err := lift.GearHolds(d, lift.FrontAxle)
		checkInput(t, err)
		if h.Verdict != lift.CannotTell {
			t.Errorf("got %v beside an error, want not to tell", h)
		}
	}
	_, err := lift.BrakeHolds(lift.Driveline{}, "nose")
	checkInput(t, err)
}

// A gear without P is said to creep; a corner on the jack comes before the axle.
func TestReasons(t *testing.T) {
	d := lift.Driveline{Drive: lift.FrontDrive, Differential: lift.Open, Gearbox: lift.Manual}
	manual, _ := lift.GearHolds(d, lift.RearAxle)
	d.Gearbox = lift.Automatic
	automatic, _ := lift.GearHolds(d, lift.RearAxle)
	if !strings.Contains(manual.Reason, "creep") || strings.Contains(automatic.Reason, "creep") {
		t.Errorf("got %q and %q, want the manual one to creep", manual.Reason, automatic.Reason)
	}
}

// On the way up fewer or other wheels may be in the air than in the end.
func TestHoldsOnTheWayUp(t *testing.T) {
	tests := []struct {
		raised lift.Raised
		where  lift.Where
		want   lift.Verdict // of P with front drive and an open differential
	}{
		{lift.RearAxle, lift.Centre, lift.Holds},
		{lift.RearAxle, lift.Corners, lift.CannotTell}, // a front wheel may come up too
		{lift.RearAxle, lift.SideSill, lift.DoesNot},   // a front wheel does
		{lift.RearAxle, "", lift.CannotTell},
		{lift.FrontAxle, lift.Corners, lift.DoesNot},
		{lift.FrontAxle, "", lift.DoesNot},
		{lift.AllWheels, lift.Centre, lift.DoesNot},
	}
	for _, test := range tests {
		c, l := goodCar, goodLift
		l.Raised, l.Jack.Where = test.raised, test.where
		r, err := lift.Plan(c, l)
		if err != nil || r.Gear.Verdict != test.want || r.Gear.Reason == "" {
			t.Errorf("%s, jack at %q: got %v and error %v, want %s", test.raised, test.where, r.Gear, err, test.want)
		}
	}
}

func TestChocks(t *testing.T) {
	tests := []struct {
		raised lift.Raised
		first  lift.End
		down   lift.Way
		want   string
	}{
		{lift.FrontAxle, "", lift.ToFront, "in front of the rear left wheel"},
		{lift.FrontAxle, "", lift.ToRear, "behind the rear left wheel"},
		{lift.RearAxle, "", lift.ToRear, "behind the front left wheel"},
		{lift.RearAxle, "", "", "in front of the front left wheel"},
		{lift.AllWheels, lift.Front, "", "behind the rear left wheel"},
		{lift.AllWheels, lift.Rear, "", "in front of the front left wheel"},
		{lift.OneRearLeft, "", lift.ToRear, "behind the front right wheel"},
		{lift.LeftSide, "", lift.ToFront, "in front of the front right wheel"},
	}
	for _, test := range tests {
		got, err := lift.Chocks(test.raised, test.first, test.down)
		if err != nil || got[0].Words() != test.want {
			t.Errorf("%s, downhill %q: got %v and error %v, want first %s", test.raised, test.down, got, err, test.want)
		}
	}
	for raised, up := range raisedCorners {
		got, err := lift.Chocks(raised, lift.Front, lift.ToFront)
		faces := map[lift.Corner]int{}
		for _, c := range got {
			faces[c.Wheel]++
		}
		for wheel, n := range wheelNumber {
			inAir := up[int(n)-1]
			if raised == lift.AllWheels { // the chocks serve the first raise
				inAir = n <= 2
			}
			if want := map[bool]int{true: 0, false: 2}[inAir]; err != nil || faces[wheel] != want {
				t.Errorf("%s, %s: got %d chocks and error %v, want %d", raised, wheel, faces[wheel], err, want)
			}
		}
	}
	all, err := lift.Chocks(lift.AllWheels, "", "")
	if err != nil || len(all) != 8 {
		t.Errorf("got %v and error %v, want both faces of all four while the first end is not said", all, err)
	}
	_, err = lift.Chocks("", "", "")
	checkInput(t, err)
	_, err = lift.Chocks(lift.FrontAxle, "middle", "")
	checkInput(t, err)
	_, err = lift.Chocks(lift.FrontAxle, "", lift.ToLeft)
	checkInput(t, err)
	if got := lift.Order(); got[3] != lift.StepSupport || len(got) != 4 {
		t.Errorf("got %v, want the stands right after raising", got)
	}
}

func nan() float64 { return math.NaN() }

// TestGerman: what is put together in German is a sentence too.
func TestGerman(t *testing.T) {
	if err := lang.Use("de"); err != nil {
		t.Fatal(err)
	}
	defer lang.SpeakEnglish()
	held, err := lift.BrakeHolds(lift.Driveline{Brake: lift.BrakeRear}, lift.RearAxle)
	if want := "Die Feststellbremse wirkt auf die Hinterräder, und keines von beiden ist am Boden."; err != nil || held.Reason != want {
		t.Errorf("got %q and error %v, want %q", held.Reason, err, want)
	}
	chock := lift.Chock{Wheel: lift.FrontLeft, Face: lift.Behind}
	if got, want := chock.Words(), "hinter dem Rad vorn links"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	_, err = lift.PairLoad(lift.Axles{}, "nose", lift.Support{}, 0, 0)
	if want := "Eine Achslast oder ihre Unsicherheit fehlt. Zuerst die Achslasten bestimmen."; err == nil || err.Error() != want {
		t.Errorf("got error %v, want %q", err, want)
	}
}
