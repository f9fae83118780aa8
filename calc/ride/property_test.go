package ride_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/ride"
)

func draw(t *rapid.T, name string, low, high float64) float64 {
	return rapid.Float64Range(low, high).Draw(t, name)
}

func drawHeights(t *rapid.T) ride.Heights {
	h := func(name string) value { return tape(draw(t, name, 0.25, 0.45)) }
	return ride.Heights{FrontLeft: h("FL"), FrontRight: h("FR"), RearLeft: h("RL"), RearRight: h("RR")}
}

func mirror(h ride.Heights) ride.Heights {
	return ride.Heights{FrontLeft: h.FrontRight, FrontRight: h.FrontLeft, RearLeft: h.RearRight, RearRight: h.RearLeft}
}

func TestStanceProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := drawHeights(t)
		got, err := ride.StanceOf(h, base)
		if err != nil {
			t.Fatal(err)
		}
		other, _ := ride.StanceOf(mirror(h), base)
		if !near(float64(other.FrontDifference.Value), -float64(got.FrontDifference.Value)) || !near(float64(other.RearDifference.Value), -float64(got.RearDifference.Value)) ||
			!near(float64(other.Rake.Value), float64(got.Rake.Value)) || !near(float64(other.RakeAngle.Value), float64(got.RakeAngle.Value)) || !near(float64(other.RakeAngle.Standard), float64(got.RakeAngle.Standard)) {
			t.Errorf("got %+v mirrored, want %+v with the differences the other way", other, got)
		}
		if (got.Rake.Value > 0) != (got.RakeAngle.Value > 0) || got.Rake.Value > 0 && ride.NoseOf(got.RakeAngle) == ride.NoseUp {
			t.Errorf("got rake %v and angle %v, want the same way, rear higher as nose down", got.Rake, got.RakeAngle)
		}
		checkAngleSlopes(t, h, got.RakeAngle)
		higher := h
		higher.RearLeft.Value += 0.01
		if more, _ := ride.StanceOf(higher, base); more.RakeAngle.Value <= got.RakeAngle.Value {
			t.Errorf("got %v with a higher rear, want more than %v", more.RakeAngle, got.RakeAngle)
		}
	})
}

// The uncertainty is what readings a little off would cause.
func checkAngleSlopes(t *rapid.T, h ride.Heights, got angle) {
	const step = 1e-6
	want := 0.0
	for i := range 5 {
		off, b := h, base
		*[]*quantity.Length{&off.FrontLeft.Value, &off.FrontRight.Value, &off.RearLeft.Value, &off.RearRight.Value, &b.Value}[i] += step
		then, err := ride.StanceOf(off, b)
		if err != nil {
			t.Fatal(err)
		}
		want = math.Hypot(want, float64(then.RakeAngle.Value-got.Value)/step*0.0003)
	}
	if math.Abs(float64(got.Standard)-want) > 1e-4*want {
		t.Errorf("got uncertainty %v, want %v from the slopes", float64(got.Standard), want)
	}
}

func TestPitchProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		before, after := drawHeights(t), drawHeights(t)
		got, err := ride.PitchChange(before, after, base)
		if err != nil {
			t.Fatal(err)
		}
		back, _ := ride.PitchChange(after, before, base)
		mirrored, _ := ride.PitchChange(mirror(before), mirror(after), base)
		if !near(float64(back.Value), -float64(got.Value)) || !near(float64(mirrored.Value), float64(got.Value)) || !near(float64(back.Standard), float64(got.Standard)) {
			t.Errorf("got %v back and %v mirrored, want the opposite and the same of %v", back, mirrored, got)
		}
		if math.Abs(got.Value.Degrees()) > 14 {
			return
		}
		near7, err := ride.BeamShift(got, tape(7))
		far, _ := ride.BeamShift(got, tape(14))
		if err != nil || !near(2*float64(near7.Value), float64(far.Value)) || (got.Value > 0) != (near7.Value > 0) {
			t.Errorf("got %v and %v at twice the distance, error %v, want twice as much, lower for nose down %v", near7, far, err, got)
		}
		// A drop of that size over that distance is that angle.
		if drop, err := ride.DropAngle(quantity.Length(math.Abs(float64(near7.Value))), 7); err != nil || !near(float64(drop), math.Abs(float64(got.Value))) {
			t.Errorf("got %v and error %v, want %v back", drop, err, got.Value)
		}
		steeper, _ := ride.BeamShift(angle{Value: got.Value + 1e-6, Standard: got.Standard}, tape(7))
		want := math.Hypot(float64(steeper.Value-near7.Value)/1e-6*float64(got.Standard), math.Tan(float64(got.Value))*0.0003)
		if math.Abs(float64(near7.Standard)-want) > 1e-4*want {
			t.Errorf("got uncertainty %v, want %v", float64(near7.Standard), want)
		}
	})
}

func TestCollarProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, moved := draw(t, "turns", 1, 10), draw(t, "moved", 0.005, 0.06)
		try := trialled
		try.Turns, try.After = quantity.Count(n), tape(0.340+moved)
		up, err := ride.Learn(try)
		if err != nil {
			t.Fatal(err)
		}
		// The same trial downwards teaches the same.
		try.Way, try.Before, try.After = ride.Lower, try.After, try.Before
		down, err := ride.Learn(try)
		if err != nil || !near(float64(down.Height.Value), float64(up.Height.Value)) || !near(float64(down.Height.Standard), float64(up.Height.Standard)) {
			t.Errorf("got %v and error %v downwards, want %v", down.Height, err, up.Height)
		}
		// The turns that undo the trial are those of the trial, the other way.
		back, err := ride.TurnsFor(up, ride.BothOfAxle, tape(0.340+moved), 0.340)
		if err != nil || !near(back.Turns.Value.Count(), n) || back.Way != ride.Lower {
			t.Errorf("got %+v and error %v, want %v turns to lower", back, err, n)
		}
		forth, err := ride.TurnsFor(up, ride.BothOfAxle, tape(0.340), quantity.Length(0.340+moved))
		if err != nil || !near(forth.Turns.Value.Count(), n) || forth.Way != ride.Raise {
			t.Errorf("got %+v and error %v, want %v turns to raise", forth, err, n)
		}
		// Going on by as much, from the reading that ended the trial: it counts
		// twice, once in the height now and once in the height per turn.
		h := up.Height.Value.Metres()
		on, err := ride.TurnsFor(up, ride.BothOfAxle, tape(0.340+moved), quantity.Length(0.340+2*moved))
		if least := math.Hypot(2*0.0003/h, 0.0003/h); err != nil || float64(on.Turns.Standard) < least {
			t.Errorf("got %v and error %v, want at least %v", on.Turns.Standard, err, least)
		}
		want := math.Hypot(float64(measure.Combine[quantity.Length](0.0003, 0.0003))/n, moved/(n*n)*0.25/math.Sqrt(12))
		if !near(float64(up.Height.Standard), want) {
			t.Errorf("got uncertainty %v, want %v", float64(up.Height.Standard), want)
		}
	})
}

func TestTravelProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := onCar
		d.ShowingHanging, d.ShowingAtRide = 0.2, quantity.Length(draw(t, "at ride", 0.02, 0.19))
		got, err := ride.TravelOf(d)
		if err != nil {
			t.Fatal(err)
		}
		if whole := got.Droop.Value + got.ToSolid.Value; !near(float64(whole), float64(d.ShowingHanging-d.StopSolid)) || !near(float64(got.ToSolid.Value-got.ToStop.Value), float64(got.Stop.Value)) {
			t.Errorf("got %+v, want the parts to make the whole", got)
		}
		// A collar on a body of fixed length moves travel from droop to bump.
		effect, err := ride.EffectOf(ride.SpringCollar, ride.Raise, 0.005)
		if err != nil {
			t.Fatal(err)
		}
		d.ShowingAtRide += effect.Bump
		then, err := ride.TravelOf(d)
		if err != nil || !near(float64(then.Droop.Value), float64(got.Droop.Value+effect.Droop)) || !near(float64(then.ToStop.Value), float64(got.ToStop.Value+effect.Bump)) {
			t.Errorf("got %+v and error %v, want %+v with %+v", then, err, got, effect)
		}
		lower, _ := ride.EffectOf(ride.SpringCollar, ride.Lower, 0.005)
		if lower.Preload != -effect.Preload || lower.Droop != -effect.Droop || lower.Bump != -effect.Bump {
			t.Errorf("got %+v, want the opposite of %+v", lower, effect)
		}
		rank := map[ride.Contact]int{ride.Solid: 0, ride.OnStop: 1, ride.Unclear: 2, ride.Clear: 3}
		if rank[then.Contact] < rank[got.Contact] {
			t.Errorf("got %q after raising, want no nearer than %q", then.Contact, got.Contact)
		}
	})
}

func TestLeftRightProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, limit := draw(t, "difference", -0.05, 0.05), quantity.Length(draw(t, "limit", 0.005, 0.03))
		got, err := ride.LeftRight(tape(d), limit)
		other, _ := ride.LeftRight(tape(-d), limit)
		if err != nil || got != other {
			t.Errorf("got %s and %s mirrored, error %v, want the same", got, other, err)
		}
		if clear := math.Abs(d) + 0.0007; clear < float64(limit) && got != measure.Met {
			t.Errorf("got %s for %v against %v, want met", got, d, limit)
		}
	})
}
