package spring_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/spring"
)

type (
	masses = spring.Four[quantity.Mass]
	rates  = spring.Four[quantity.Stiffness]
	set    = spring.Scales
)

var (
	car     = set{Four: masses{360, 350, 340, 350}, Resolution: 0.5}
	springs = rates{30e3, 30e3, 30e3, 30e3}
	corners = []spring.Corner{spring.FrontLeft, spring.FrontRight, spring.RearLeft, spring.RearRight}
	turn    = measure.Value[quantity.Length]{Value: 0.002, Standard: 0.0001}
)

func TestCornerErrors(t *testing.T) {
	weigh := func(change func(*set)) func() (spring.Weights, error) {
		s := car
		change(&s)
		return func() (spring.Weights, error) { return spring.CornerWeights(s) }
	}
	refusals(t, map[string]func() (spring.Weights, error){
		"FrontLeft":    weigh(func(s *set) { s.FrontLeft = 0 }),
		"FrontRight":   weigh(func(s *set) { s.FrontRight = -1 }),
		"RearLeft":     weigh(func(s *set) { s.RearLeft = quantity.Mass(nan) }),
		"RearRight":    weigh(func(s *set) { s.RearRight = quantity.Mass(inf) }),
		"NoResolution": weigh(func(s *set) { s.Resolution = 0 }),
		"Coarse":       weigh(func(s *set) { s.Resolution = 341 }),
	})
	refusals(t, map[string]func() (spring.Targets, error){
		"Rule":  func() (spring.Targets, error) { return spring.EvenSides(car, "") },
		"Scale": func() (spring.Targets, error) { return spring.EvenSides(set{}, spring.WholeCar) },
	})
	refusals(t, map[string]func() (spring.Shift, error){
		"At": func() (spring.Shift, error) { return spring.MovePerch(spring.Perch{"", spring.Raise, 0.01, springs}) },
		"Way": func() (spring.Shift, error) {
			return spring.MovePerch(spring.Perch{spring.FrontLeft, "", 0.01, springs})
		},
		"Below": func() (spring.Shift, error) {
			return spring.MovePerch(spring.Perch{spring.FrontLeft, spring.Raise, -0.01, springs})
		},
		"Rates": func() (spring.Shift, error) {
			return spring.MovePerch(spring.Perch{spring.FrontLeft, spring.Raise, 0.01, rates{30e3, 30e3, 0, 30e3}})
		},
	})
	refusals(t, map[string]func() (quantity.Ratio, error){
		"Total": func() (quantity.Ratio, error) { return spring.Shift{}.Cross(0) },
	})
	type value = measure.Value[quantity.Length]
	refusals(t, map[string]func() (value, error){
		"SeenAt":    func() (value, error) { return spring.PerchFromSeen(turn, "", springs) },
		"SeenRates": func() (value, error) { return spring.PerchFromSeen(turn, spring.RearLeft, rates{}) },
		"SeenBelow": func() (value, error) {
			return spring.PerchFromSeen(value{Value: -0.002, Standard: 0.0001}, spring.RearLeft, springs)
		},
		"SeenExact": func() (value, error) { return spring.PerchFromSeen(value{Value: 0.002}, spring.RearLeft, springs) },
	})
	good := spring.CrossChange{Scales: car, Wanted: 0.5, At: spring.FrontRight, PerTurn: turn, Rates: springs}
	ask := func(change func(*spring.CrossChange)) func() (spring.Turning, error) {
		c := good
		change(&c)
		return func() (spring.Turning, error) { return spring.TurnsForCross(c) }
	}
	refusals(t, map[string]func() (spring.Turning, error){
		"Scales":       ask(func(c *spring.CrossChange) { c.Scales = set{} }),
		"Wanted":       ask(func(c *spring.CrossChange) { c.Wanted = 50 }),
		"WantedFar":    ask(func(c *spring.CrossChange) { c.Scales.Four, c.Wanted = masses{200, 450, 420, 200}, 0.72 }),
		"WantedNaN":    ask(func(c *spring.CrossChange) { c.Wanted = quantity.Ratio(nan) }),
		"At":           ask(func(c *spring.CrossChange) { c.At = "cross" }),
		"NoPerTurn":    ask(func(c *spring.CrossChange) { c.PerTurn.Value = 0 }),
		"ExactPerTurn": ask(func(c *spring.CrossChange) { c.PerTurn.Standard = 0 }),
		"Rates":        ask(func(c *spring.CrossChange) { c.Rates.RearRight = 0 }),
		"MoveTooFar":   ask(func(c *spring.CrossChange) { c.Wanted, c.Rates = 0.51, rates{10, 10, 10, 10} }),
		"WheelLifts":   ask(func(c *spring.CrossChange) { c.Scales.Four = masses{360, 10, 340, 350}; c.Wanted = 0.3 }),
	})
}

func TestQuestionScales(t *testing.T) {
	for _, test := range []struct {
		s     set
		asked string
	}{{car, ""}, {set{Four: masses{360, 350, 110, 350}, Resolution: 1}, "three times"}, {set{}, "cannot be used"}} {
		got := spring.QuestionScales(test.s)
		if (got == "") != (test.asked == "") || !strings.Contains(got, test.asked) {
			t.Errorf("%+v: got %q, want %q in it", test.s, got, test.asked)
		}
	}
}

func TestTurnsForCrossNothing(t *testing.T) {
	s := set{Four: masses{300, 300, 300, 300}, Resolution: 0.5}
	got, err := spring.TurnsForCross(spring.CrossChange{Scales: s, Wanted: 0.5, At: spring.RearLeft, PerTurn: turn, Rates: springs})
	if err != nil || got.Turns.Value != 0 || got.Way != "" || !(got.Turns.Standard > 0) || got.Shift != (spring.Shift{}) {
		t.Errorf("got %+v and error %v, want no turn, no way, and an uncertainty", got, err)
	}
}

func drawCar(t *rapid.T) set {
	m := func(name string) quantity.Mass { return quantity.Kilograms(draw(t, name, 200, 500)) }
	return set{Four: masses{m("FL"), m("FR"), m("RL"), m("RR")}, Resolution: 0.5}
}

func drawRates(t *rapid.T) rates {
	k := func(name string) quantity.Stiffness { return quantity.NewtonsPerMillimetre(draw(t, name, 15, 120)) }
	return rates{k("k FL"), k("k FR"), k("k RL"), k("k RR")}
}

func list[Q measure.Quantity](f spring.Four[Q]) [4]Q {
	return [4]Q{f.FrontLeft, f.FrontRight, f.RearLeft, f.RearRight}
}

func TestWeightProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawCar(t)
		got, err := spring.CornerWeights(s)
		if err != nil {
			t.Fatal(err)
		}
		if sum := got.Cross.Value + got.OtherDiagonal.Value; !near(float64(sum), 1) || !near(float64(got.Cross.Standard), float64(got.OtherDiagonal.Standard)) {
			t.Errorf("got %v and %v, want the two diagonals to make the whole", got.Cross, got.OtherDiagonal)
		}
		by := quantity.Mass(draw(t, "factor", 0.5, 3))
		scaled, err := spring.CornerWeights(set{Four: masses{s.FrontLeft * by, s.FrontRight * by, s.RearLeft * by, s.RearRight * by}, Resolution: s.Resolution * by})
		if err != nil || !near(float64(scaled.Cross.Value), float64(got.Cross.Value)) || !near(float64(scaled.Cross.Standard), float64(got.Cross.Standard)) {
			t.Errorf("got %v and error %v with a common factor, want %v", scaled.Cross, err, got.Cross)
		}
		mirrored, _ := spring.CornerWeights(set{Four: masses{s.FrontRight, s.FrontLeft, s.RearRight, s.RearLeft}, Resolution: s.Resolution})
		if !near(float64(mirrored.Cross.Value), float64(got.OtherDiagonal.Value)) || !near(float64(mirrored.Front.Value), float64(got.Front.Value)) || !near(float64(mirrored.Left.Value), float64(1-got.Left.Value)) {
			t.Errorf("got %+v mirrored, want the diagonals and the sides of %+v exchanged", mirrored, got)
		}
		checkWeightSlopes(t, s, got)
	})
}

// The uncertainties are those that readings a little off would cause.
func checkWeightSlopes(t *rapid.T, s set, got spring.Weights) {
	cross, left, total := 0.0, 0.0, 0.0
	for i := range 4 {
		off := s
		places := []*quantity.Mass{&off.FrontLeft, &off.FrontRight, &off.RearLeft, &off.RearRight}
		*places[i] += 0.001
		then, _ := spring.CornerWeights(off)
		cross = math.Hypot(cross, float64(then.Cross.Value-got.Cross.Value)/0.001)
		left = math.Hypot(left, float64(then.Left.Value-got.Left.Value)/0.001)
		total = math.Hypot(total, float64(then.Total.Value-got.Total.Value)/0.001)
	}
	u := float64(measure.Resolution(s.Resolution))
	for name, pair := range map[string][2]float64{"cross": {float64(got.Cross.Standard), cross * u}, "left": {float64(got.Left.Standard), left * u}, "total": {float64(got.Total.Standard), total * u}} {
		if math.Abs(pair[0]-pair[1]) > 1e-4*pair[1] {
			t.Errorf("%s: got uncertainty %v, want %v", name, pair[0], pair[1])
		}
	}
}

func TestEvenSidesProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawCar(t)
		for _, rule := range []spring.Rule{spring.MeanOfSides, spring.WholeCar} {
			got, err := spring.EvenSides(s, rule)
			if err != nil {
				t.Fatal(err)
			}
			if left := s.FrontLeft + s.RearLeft; !near(float64(got.FrontLeft+got.RearLeft), float64(left)) || !near(float64(got.FrontLeft/left), float64(got.FrontShare)) {
				t.Errorf("%s: got %+v, want the left side to keep its weight at the share", rule, got)
			}
			if !near(float64(got.FrontRight+got.RearRight), float64(s.FrontRight+s.RearRight)) {
				t.Errorf("%s: got %+v, want the right side to keep its weight", rule, got)
			}
			if rule == spring.WholeCar && !near(float64(got.FrontLeft+got.FrontRight), float64(s.FrontLeft+s.FrontRight)) {
				t.Errorf("got %+v, want the front axle to keep its weight", got)
			}
		}
	})
}

// solve balances a stiff flat body on four springs: heave, roll and pitch are
// unknown, the loads must not change in sum, about the length nor about the
// width. free is what each spring seat was moved by.
func solve(t *rapid.T, k rates, free [4]float64) (loads, heights [4]float64) {
	x, y := [4]float64{1, 1, -1, -1}, [4]float64{1, -1, 1, -1}
	a, b := mat.NewDense(3, 3, nil), mat.NewVecDense(3, nil)
	for i, rate := range list(k) {
		row := [3]float64{1, x[i], y[i]}
		for r := range 3 {
			for c := range 3 {
				a.Set(r, c, a.At(r, c)+float64(rate)*row[r]*row[c])
			}
			b.SetVec(r, b.AtVec(r)+float64(rate)*row[r]*free[i])
		}
	}
	var q mat.VecDense
	if err := q.SolveVec(a, b); err != nil {
		t.Fatal(err)
	}
	for i, rate := range list(k) {
		heights[i] = q.AtVec(0) + q.AtVec(1)*x[i] + q.AtVec(2)*y[i]
		loads[i] = float64(rate) * (free[i] - heights[i])
	}
	return loads, heights
}

func TestPerchProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, by := drawRates(t), draw(t, "by", 0.001, 0.02)
		i := rapid.IntRange(0, 3).Draw(t, "corner")
		up, err := spring.MovePerch(spring.Perch{corners[i], spring.Raise, quantity.Length(by), k})
		if err != nil {
			t.Fatal(err)
		}
		free := [4]float64{}
		free[i] = by
		loads, heights := solve(t, k, free)
		sum := 0.0
		for j := range 4 {
			sum += float64(list(up.Load)[j])
			if math.Abs(float64(list(up.Load)[j])-loads[j]) > 1e-6 || math.Abs(float64(list(up.Height)[j])-heights[j]) > 1e-9 {
				t.Errorf("corner %d: got %v and %v, want %v N and %v m from the solved body", j, list(up.Load)[j], list(up.Height)[j], loads[j], heights[j])
			}
		}
		if math.Abs(sum) > 1e-9 {
			t.Errorf("got a sum of %v, want nothing: no weight is added", sum)
		}
		if p := up.Load; i == 0 && !(p.FrontLeft > 0 && p.RearRight == p.FrontLeft && p.FrontRight == -p.FrontLeft && p.RearLeft == -p.FrontLeft) {
			t.Errorf("got %+v, want front left and rear right to gain what the others lose", p)
		}
		down, _ := spring.MovePerch(spring.Perch{corners[i], spring.Lower, quantity.Length(by), k})
		more, _ := spring.MovePerch(spring.Perch{corners[i], spring.Raise, quantity.Length(by * 1.5), k})
		for j := range 4 {
			if list(down.Load)[j] != -list(up.Load)[j] || list(down.Height)[j] != -list(up.Height)[j] {
				t.Errorf("got %+v lowered, want the opposite of %+v", down, up)
			}
			if math.Abs(float64(list(more.Load)[j])) <= math.Abs(float64(list(up.Load)[j])) {
				t.Errorf("got %+v for more, want more than %+v", more, up)
			}
		}
		seen := measure.Value[quantity.Length]{Value: list(up.Height)[i], Standard: 0.0003}
		if back, err := spring.PerchFromSeen(seen, corners[i], k); err != nil || !near(float64(back.Value), by) || back.Standard <= seen.Standard {
			t.Errorf("got %v and error %v, want %v back and no less uncertain", back, err, by)
		}
	})
}

func TestCrossProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, k := drawCar(t), drawRates(t)
		before, err := spring.CornerWeights(s)
		if err != nil {
			t.Fatal(err)
		}
		change := quantity.Ratio(draw(t, "change", -0.02, 0.02))
		c := spring.CrossChange{Scales: s, Wanted: before.Cross.Value + change, At: rapid.SampledFrom(corners).Draw(t, "corner"), PerTurn: turn, Rates: k}
		got, err := spring.TurnsForCross(c)
		if err != nil {
			t.Skip("out of range for this car") // rapid draws another case
		}
		// The scales, moved by the shift, show what was wanted.
		g := quantity.Mass(1).Weight()
		after := set{Four: masses{
			s.FrontLeft + quantity.Mass(got.Shift.Load.FrontLeft/g), s.FrontRight + quantity.Mass(got.Shift.Load.FrontRight/g),
			s.RearLeft + quantity.Mass(got.Shift.Load.RearLeft/g), s.RearRight + quantity.Mass(got.Shift.Load.RearRight/g)}, Resolution: s.Resolution}
		then, err := spring.CornerWeights(after)
		if err != nil || !near(float64(then.Cross.Value), float64(c.Wanted)) {
			t.Errorf("got cross %v and error %v, want %v", float64(then.Cross.Value), err, float64(c.Wanted))
		}
		if !near(float64(then.Front.Value), float64(before.Front.Value)) || !near(float64(then.Left.Value), float64(before.Left.Value)) {
			t.Errorf("got %+v after turning, want front and left share as in %+v", then, before)
		}
		if turns := got.Turns.Value; !near(float64(turns)*turn.Value.Metres(), got.By.Metres()) || turns < 0 || !(got.Turns.Standard > 0) {
			t.Errorf("got %+v, want turns times the move of one to be the move", got)
		}
		checkTurnsUncertainty(t, c, got, before)
	})
}

// The uncertainty of the turns is what the cross share, the total and the move
// per turn bring, each seen as a slope.
func checkTurnsUncertainty(t *rapid.T, c spring.CrossChange, got spring.Turning, w spring.Weights) {
	c.Wanted += 1e-6
	further, err := spring.TurnsForCross(c)
	if err != nil || math.Abs(float64(c.Wanted-w.Cross.Value)) < 2e-6 {
		return
	}
	perShare := float64(further.Turns.Value-got.Turns.Value) / 1e-6
	want := math.Hypot(perShare*float64(w.Cross.Standard), float64(got.Turns.Value)*math.Hypot(float64(w.Total.Standard/w.Total.Value), 0.05))
	if math.Abs(float64(got.Turns.Standard)-want) > 1e-3*want {
		t.Errorf("got uncertainty %v, want %v", float64(got.Turns.Standard), want)
	}
}

// A quarter at each of four corners does as much to the cross share, and leaves
// the middle of the body where it was.
func TestQuarters(t *testing.T) {
	whole, _ := spring.MovePerch(spring.Perch{spring.FrontRight, spring.Raise, 0.008, springs})
	want, _ := whole.Cross(1400)
	cross, height := 0.0, 0.0
	for i, way := range []spring.Way{spring.Lower, spring.Raise, spring.Raise, spring.Lower} {
		part, err := spring.MovePerch(spring.Perch{corners[i], way, 0.002, springs})
		if err != nil {
			t.Fatal(err)
		}
		share, _ := part.Cross(1400)
		cross, height = cross+float64(share), height+float64(part.Height.FrontLeft)
	}
	if !near(cross, float64(want)) || math.Abs(height) > 1e-12 {
		t.Errorf("got a cross change of %v and a height of %v, want %v and none", cross, height, float64(want))
	}
}
