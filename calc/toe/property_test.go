package toe_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/quantity"
	"strutcard/calc/toe"
)

func opposite(d toe.Direction) toe.Direction {
	return map[toe.Direction]toe.Direction{toe.In: toe.Out, toe.Out: toe.In, "": ""}[d]
}

func drawDirection(t *rapid.T) toe.Direction {
	return rapid.SampledFrom([]toe.Direction{toe.In, toe.Out}).Draw(t, "direction")
}

func TestConversionProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := quantity.Degrees(rapid.Float64Range(0.001, 7).Draw(t, "size"))
		diameter := quantity.Length(rapid.Float64Range(0.3, 2).Draw(t, "diameter"))
		d := drawDirection(t)
		s := rapid.SampledFrom([]toe.Scope{toe.PerWheel, toe.Total}).Draw(t, "scope")
		a := must(toe.FromAngle(size, d, s))
		l := must(a.At(diameter))
		if a.Total != 2*a.PerWheel || !near(l.Total, 2*l.PerWheel, 1e-15) || l.Diameter != diameter {
			t.Errorf("got %v and %v, want the total to be twice that per wheel", a, l)
		}
		long, said := toe.Say(l.Total)
		back := must(toe.FromLength(long, diameter, said, toe.Total))
		if !near(back.Total, a.Total, 1e-12) || said != d {
			t.Errorf("got %v %s back, want %v %s", back, said, a, d)
		}
		other := must(toe.FromAngle(size, opposite(d), s))
		if other.Total != -a.Total || other.PerWheel != -a.PerWheel {
			t.Errorf("got %v, want the opposite of %v", other, a)
		}
		more := must(toe.FromAngle(size*1.01, d, s))
		if longer := must(more.At(diameter)); math.Abs(float64(longer.Total)) <= math.Abs(float64(l.Total)) {
			t.Errorf("got %v for more toe, want more than %v", longer, l)
		}
	})
}

// One wheel's own length and the sum over both, up to 2° in total.
func TestScopesAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		own := quantity.Length(rapid.Float64Range(0.0001, 0.005).Draw(t, "length"))
		one := must(toe.FromLength(own, 0.6, toe.In, toe.PerWheel))
		sum := must(toe.FromLength(2*own, 0.6, toe.In, toe.Total))
		if !near(one.Total, sum.Total, 2e-4*float64(sum.Total)) {
			t.Errorf("got %v and %v, want them within 0.02 %%", one, sum)
		}
	})
}

func TestAcrossProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, low, high float64) quantity.Length {
			return quantity.Length(rapid.Float64Range(low, high).Draw(t, name))
		}
		a := toe.Across{
			Method: rapid.SampledFrom([]toe.Method{toe.SameMarks, toe.TwoPlaces}).Draw(t, "method"),
			Front:  f("front", 1.4, 1.43), Rear: f("rear", 1.4, 1.43), Diameter: f("diameter", 0.3, 0.8), Resolution: f("resolution", 0.0001, 0.002),
		}
		got := must(toe.FromAcross(a))
		mirror := must(toe.FromAcross(with(a, func(a *toe.Across) { a.Front, a.Rear = a.Rear, a.Front })))
		if !near(mirror.Total.Value, -got.Total.Value, 1e-15) || !near(mirror.Total.Standard, got.Total.Standard, 1e-15) {
			t.Errorf("got %v with front and rear changed over, want the opposite of %v", mirror, got)
		}
		if more := must(toe.FromAcross(with(a, func(a *toe.Across) { a.Rear += 0.001 }))); more.Total.Value <= got.Total.Value {
			t.Errorf("got %v for a wider rear, want more toe-in than %v", more, got)
		}
		for name, change := range map[string]func(*toe.Across){
			"coarser tape":     func(a *toe.Across) { a.Resolution *= 2 },
			"coarser diameter": func(a *toe.Across) { a.DiameterResolution = 3 * a.Resolution },
			"run-out":          func(a *toe.Across) { a.Runout = 0.001 },
		} {
			wider := must(toe.FromAcross(with(a, change)))
			if wider.Total.Standard < got.Total.Standard || wider.Total.Value != got.Total.Value {
				t.Errorf("%s: got %v, want the same with no less uncertainty than %v", name, wider, got)
			}
			if name == "run-out" && (wider.Total.Standard > got.Total.Standard) != (a.Method == toe.TwoPlaces) {
				t.Errorf("%s: got %v after %v, want run-out to count on a standing wheel only", a.Method, wider, got)
			}
		}
		length := must(got.Angles().At(a.Diameter))
		if !near(length.Total, a.Difference(), 1e-12) {
			t.Errorf("got %v back, want the difference %v", length, a.Difference())
		}
	})
}

// One wheel's worst error from a run-out of R, drawn from every position of the
// wheel, has the standard deviation that is added.
func TestRunoutIsRootTwo(t *testing.T) {
	const n, runout = 3600, 0.001
	var sum float64
	for i := range n {
		e := runout * math.Cos(2*math.Pi*float64(i)/n)
		sum += e * e
	}
	want := math.Sqrt(2*sum/n) / marks.Diameter.Metres() // two wheels, small angles
	a := with(marks, func(a *toe.Across) { a.Method, a.Rear, a.Resolution, a.Runout = toe.TwoPlaces, a.Front, 1e-9, runout })
	if got := must(toe.FromAcross(a)).Total.Standard.Radians(); math.Abs(got-want) > 1e-8 {
		t.Errorf("got %v, want %v", got, want)
	}
}
