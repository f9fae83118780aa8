package camber_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"strutcard/calc/camber"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// Wheels turned in space about the forward axis, by a library: what ISO 8855
// calls the inclination leans both tops the same way, and one of them is in. The
// axes of SAE J670e, y right and z down, give the same sign about x.
func TestISOInclinationInSpace(t *testing.T) {
	frames := map[string]struct{ up, left r3.Vec }{
		"ISO 8855":  {r3.Vec{Z: 1}, r3.Vec{Y: 1}},
		"SAE J670e": {r3.Vec{Z: -1}, r3.Vec{Y: -1}},
	}
	for name, frame := range frames {
		for _, deg := range []float64{-2, 1, 3} {
			top := r3.NewRotation(deg*math.Pi/180, r3.Vec{X: 1}).Rotate(frame.up)
			leftward := math.Asin(r3.Dot(top, frame.left)) // out on the left, in on the right
			for side, want := range map[camber.Side]float64{camber.Left: leftward, camber.Right: -leftward} {
				got, err := camber.ISOInclination(quantity.Degrees(deg), side)
				if err != nil || math.Abs(got.Radians()-want) > 1e-12 {
					t.Errorf("%s, %v° on the %s: got %v and error %v, want %v", name, deg, side, got.Radians(), err, want)
				}
			}
		}
	}
}

// A car with known cambers on a sloping floor, read there and back, half a turn
// apart and across: every way gives the cambers back, and the floor.
func TestFloorProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		left, right, slope := draw(-4, 1, "left"), draw(-4, 1, "right"), draw(0.001, 2, "slope")
		low := rapid.SampledFrom([]camber.Side{camber.Left, camber.Right}).Draw(t, "low")
		// A car that stands leaning to the right has every top leaning right.
		lean := map[camber.Side]float64{camber.Right: slope, camber.Left: -slope}[low]
		got, err := camber.Level(camber.Axle{Left: known(left-lean, 0.05), Right: known(right+lean, 0.05), Zero: camber.Absolute, Floor: floor(slope, low)})
		if err != nil || !near(got.Left, left) || !near(got.Right, right) || !near(got.Mean, (left+right)/2) || !near(got.Cross, left-right) {
			t.Fatalf("got %v and error %v, want %v and %v", got, err, left, right)
		}
		// Turned round, the floor is low on the car's other side.
		for side, way := range map[camber.Side][3]float64{camber.Left: {left, left - lean, left + lean}, camber.Right: {right, right + lean, right - lean}} {
			got, f, err := camber.TurnRound(camber.BothWays{There: known(way[1], 0.05), Back: known(way[2], 0.05), Side: side})
			if err != nil || !near(got, way[0]) || !near(f.Slope, slope) || f.Low != low {
				t.Fatalf("%s: got %v, floor %v and error %v, want %v on %v° low %s", side, got, f, err, way[0], slope, low)
			}
		}
		wobble := draw(-0.3, 0.3, "wobble")
		half, err := camber.HalfTurn(known(left+wobble, 0.05), known(left-wobble, 0.05))
		if err != nil || !near(half.Camber, left) || !near(half.Runout, wobble) {
			t.Fatalf("got %v and error %v, want %v and %v", half, err, left, wobble)
		}
	})
}

// A gauge with an offset, found by reversal, then used on the wheel.
func TestGaugeProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		lean, offset, spot := draw(-4, 4, "camber"), draw(-1, 1, "offset"), draw(-2, 2, "spot")
		r, err := camber.Reverse(quantity.Degrees(spot+offset), quantity.Degrees(-spot+offset), quantity.Degrees(0.1))
		if err != nil || !near(r.Slope, spot) || !near(r.Offset, offset) {
			t.Fatalf("got %v and error %v, want %v and %v", r, err, spot, offset)
		}
		for rising, up := range map[camber.Lean]float64{camber.Out: 1, camber.In: -1} {
			got, err := camber.FromGauge(camber.Gauge{Display: quantity.Degrees(up*lean + offset), Resolution: quantity.Degrees(0.1), Rising: rising, Zero: camber.Absolute, Offset: r.Offset})
			want := measure.Combine(measure.Resolution(quantity.Degrees(0.1)), r.Offset.Standard)
			if err != nil || !near(got, lean) || got.Standard != want {
				t.Fatalf("rising %s: got %v and error %v, want %v ± %v", rising, got, err, lean, want)
			}
		}
	})
}

func near(got value, want float64) bool { return math.Abs(got.Value.Degrees()-want) < 1e-9 }

// The uncertainties are those of finite differences through the public functions.
func TestToolsUncertainty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		s := shim
		s.Thickness, s.Base, s.Divisions = quantity.Length(draw(0.001, 0.02, "shim")), quantity.Length(draw(0.2, 1, "base")), quantity.Turns(draw(0.5, 4, "moved"))
		per := func(thick, base, n float64) quantity.Angle {
			s := s
			s.Thickness, s.Base, s.Divisions = quantity.Length(thick), quantity.Length(base), quantity.Turns(n)
			got, _ := camber.PerDivision(s)
			return got.Value
		}
		got, err := camber.PerDivision(s)
		want := spread(per, [3]float64{float64(s.Thickness), float64(s.Base), float64(s.Divisions)}, [3]float64{float64(s.Resolution), float64(s.BaseResolution), float64(s.DivisionResolution)})
		if err != nil || math.Abs(float64(got.Standard)/want-1) > 1e-5 {
			t.Fatalf("a division: got %v and error %v, want %v", got.Standard, err, want)
		}
		d := fall
		d.Drop = quantity.Length(draw(0.001, 0.05, "drop"))
		slope := func(drop, track, _ float64) quantity.Angle {
			d := d
			d.Drop, d.Track = quantity.Length(drop), quantity.Length(track)
			got, _ := camber.FromDrop(d)
			return got.Slope.Value
		}
		f, err := camber.FromDrop(d)
		want = spread(slope, [3]float64{float64(d.Drop), float64(d.Track), 1}, [3]float64{float64(d.Resolution), float64(d.TrackResolution), 0})
		if err != nil || math.Abs(float64(f.Slope.Standard)/want-1) > 1e-5 {
			t.Fatalf("a drop: got %v and error %v, want %v", f.Slope.Standard, err, want)
		}
		n := draw(0.5, 5, "off")
		b, err := camber.FromBubble(camber.Bubble{Divisions: quantity.Turns(n), Resolution: 0.25, PerDivision: got, At: camber.Bottom})
		want = math.Hypot(float64(got.Value)*0.25/math.Sqrt(12), n*float64(got.Standard))
		if err != nil || math.Abs(float64(b.Standard)/want-1) > 1e-12 {
			t.Fatalf("a bubble: got %v and error %v, want %v", b.Standard, err, want)
		}
	})
}

func spread(f func(a, b, c float64) quantity.Angle, at, resolution [3]float64) float64 {
	var sum float64
	for i, res := range resolution {
		up, down, step := at, at, 1e-5*at[i]
		up[i], down[i] = at[i]+step, at[i]-step
		per := float64(f(up[0], up[1], up[2])-f(down[0], down[1], down[2])) / (2 * step)
		sum = math.Hypot(sum, per*res/math.Sqrt(12))
	}
	return sum
}
