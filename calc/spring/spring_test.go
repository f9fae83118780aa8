package spring_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/spring"
)

var nan, inf = math.NaN(), math.Inf(1)

func near(got, want float64) bool { return math.Abs(got-want) <= 1e-9*(1+math.Abs(want)) }

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

var lever = spring.Motion{Ratio: 0.7, Per: spring.SpringPerWheel}

func TestRateErrors(t *testing.T) {
	type k = quantity.Stiffness
	refusals(t, map[string]func() (k, error){
		"NoRate":   func() (k, error) { return spring.WheelRate(0, lever) },
		"RateNaN":  func() (k, error) { return spring.WheelRate(k(nan), lever) },
		"RateHuge": func() (k, error) { return spring.WheelRate(1e8, lever) },
		"NoRatio":  func() (k, error) { return spring.WheelRate(5e4, spring.Motion{Per: spring.SpringPerWheel}) },
		"RatioNaN": func() (k, error) {
			return spring.SpringRate(5e4, spring.Motion{quantity.Ratio(nan), spring.SpringPerWheel, 0, ""})
		},
		"RatioTiny": func() (k, error) { return spring.SpringRate(5e4, spring.Motion{0.01, spring.SpringPerWheel, 0, ""}) },
		"Per":       func() (k, error) { return spring.SpringRate(5e4, spring.Motion{Ratio: 1, Per: "motion ratio"}) },
		"Taken":     func() (k, error) { return spring.WheelRate(5e4, spring.Motion{1, spring.SpringPerWheel, 0.2, ""}) },
		"InclinedBelow": func() (k, error) {
			return spring.WheelRate(5e4, spring.Motion{1, spring.SpringPerWheel, -0.2, spring.AtMount})
		},
		"InclinedFar": func() (k, error) {
			return spring.WheelRate(5e4, spring.Motion{Ratio: 1, Per: spring.SpringPerWheel, Inclined: quantity.Degrees(85), Taken: spring.AtMount})
		},
		"InclinedSquare": func() (k, error) {
			return spring.WheelRate(5e4, spring.Motion{1, spring.SpringPerWheel, math.Pi / 2, spring.AtMount})
		},
		"NoWheelRate": func() (k, error) { return spring.SpringRate(-1, lever) },
		"NoTyre":      func() (k, error) { return spring.RideRate(5e4, 0) },
		"TyreInf":     func() (k, error) { return spring.RideRate(5e4, k(inf)) },
		"NoLoad":      func() (k, error) { return spring.RateFromLoad(0, 0.1) },
		"NoSag":       func() (k, error) { return spring.RateFromLoad(100, 0) },
		"Frequency":   func() (k, error) { return spring.RateForFrequency(0, 300) },
		"NoMass":      func() (k, error) { return spring.RateForFrequency(1, 0) },
	})
	type l = quantity.Length
	refusals(t, map[string]func() (l, error){
		"DeflectionLoad": func() (l, error) { return spring.Deflection(quantity.Force(nan), 5e4) },
		"DeflectionRate": func() (l, error) { return spring.Deflection(100, 0) },
		"TravelBelow":    func() (l, error) { return spring.WheelTravel(-0.01, lever) },
		"TurnsBelow":     func() (l, error) { return spring.CollarTravel(-1, 0.002) },
		"NoPitch":        func() (l, error) { return spring.CollarTravel(1, 0) },
		"FallMass":       func() (l, error) { return spring.Energy(88).Fall(0) },
	})
	refusals(t, map[string]func() (quantity.Turns, error){
		"Change": func() (quantity.Turns, error) { return spring.TurnsForWheel(-0.01, 0.002, lever) },
		"Pitch":  func() (quantity.Turns, error) { return spring.TurnsForWheel(0.01, l(nan), lever) },
		"Lever":  func() (quantity.Turns, error) { return spring.TurnsForWheel(0.01, 0.002, spring.Motion{}) },
	})
	refusals(t, map[string]func() (quantity.Ratio, error){
		"As":      func() (quantity.Ratio, error) { return lever.As("") },
		"AsLever": func() (quantity.Ratio, error) { return spring.Motion{}.As(spring.SpringPerWheel) },
	})
}

func TestSwingErrors(t *testing.T) {
	type f = quantity.Frequency
	refusals(t, map[string]func() (f, error){
		"NoRate":      func() (f, error) { return spring.Frequency(0, 300) },
		"NoMass":      func() (f, error) { return spring.Frequency(5e4, quantity.Mass(nan)) },
		"DampedRatio": func() (f, error) { return spring.DampedFrequency(1, 1) },
		"DampedBelow": func() (f, error) { return spring.DampedFrequency(1, -0.1) },
		"DampedNaN":   func() (f, error) { return spring.DampedFrequency(1, quantity.Ratio(nan)) },
		"NoFrequency": func() (f, error) { return spring.DampedFrequency(0, 0.3) },
	})
	type c = quantity.Damping
	seen := spring.Decay{First: 0.02, Later: 0.01, Cycles: 1, Resolution: 0.001}
	refusals(t, map[string]func() (c, error){
		"CriticalRate": func() (c, error) { return spring.CriticalDamping(0, 300) },
		"CriticalMass": func() (c, error) { return spring.CriticalDamping(5e4, 0) },
		"NoShare":      func() (c, error) { return spring.DampingFor(0, 5e4, 300) },
		"ShareNaN":     func() (c, error) { return spring.DampingFor(quantity.Ratio(nan), 5e4, 300) },
		"DecayMass":    func() (c, error) { return spring.DampingFromDecay(seen, 1, 0) },
		"DecaySeen":    func() (c, error) { return spring.DampingFromDecay(seen, 0, 300) },
	})
	refusals(t, map[string]func() (quantity.Ratio, error){
		"NoDamping": func() (quantity.Ratio, error) { return spring.DampingRatio(0, 5e4, 300) },
		"NoRate":    func() (quantity.Ratio, error) { return spring.DampingRatio(1000, 0, 300) },
		"SwingLeft": func() (quantity.Ratio, error) { return spring.SwingLeft(1, 1) },
		"Cycles":    func() (quantity.Ratio, error) { return spring.SwingLeft(0.3, -1) },
	})
	decayed := func(change func(*spring.Decay)) func() (spring.Decayed, error) {
		d := seen
		change(&d)
		return func() (spring.Decayed, error) { return spring.RatioFromDecay(d) }
	}
	refusals(t, map[string]func() (spring.Decayed, error){
		"Grows":        decayed(func(d *spring.Decay) { d.Later = 0.03 }),
		"Stays":        decayed(func(d *spring.Decay) { d.Later = d.First }),
		"NoLater":      decayed(func(d *spring.Decay) { d.Later = 0 }),
		"FirstNaN":     decayed(func(d *spring.Decay) { d.First = quantity.Length(nan) }),
		"NoCycles":     decayed(func(d *spring.Decay) { d.Cycles = 0 }),
		"NoResolution": decayed(func(d *spring.Decay) { d.Resolution = 0 }),
		"Coarse":       decayed(func(d *spring.Decay) { d.Resolution = 0.011 }),
	})
	type value = measure.Value[quantity.Frequency]
	refusals(t, map[string]func() (value, error){
		"NoSag":        func() (value, error) { return spring.FrequencyFromSag(spring.Sag{0, 0.001}) },
		"NoResolution": func() (value, error) { return spring.FrequencyFromSag(spring.Sag{0.1, 0}) },
	})
	refusals(t, map[string]func() (spring.Loaded, error){
		"NoLoad":  func() (spring.Loaded, error) { return spring.Preloaded(5e4, 0, 0) },
		"Preload": func() (spring.Loaded, error) { return spring.Preloaded(5e4, 3000, -0.01) },
	})
	refusals(t, map[string]func() (spring.Squeezed, error){
		"NoRate":    func() (spring.Squeezed, error) { return spring.Squeeze(0, 0.06) },
		"NoSqueeze": func() (spring.Squeezed, error) { return spring.Squeeze(5e4, 0) },
	})
}

func TestPreloadHolds(t *testing.T) {
	// A load below the preload's own force leaves the shaft where it is.
	got, err := spring.Preloaded(quantity.NewtonsPerMillimetre(50), quantity.Newtons(400), quantity.Millimetres(10))
	if err != nil || !got.FullyOut || got.ShaftIn != 0 || got.Shorter != quantity.Millimetres(10) {
		t.Errorf("got %+v and error %v, want the shaft fully out and the spring at its preload", got, err)
	}
}

func TestSqueezed(t *testing.T) {
	held, err := spring.Squeeze(quantity.KilogramsForcePerMillimetre(5), quantity.Millimetres(60))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"2.9 kN", "88 J", "loose by hand", "a workshop"} {
		if !strings.Contains(held.Caution(), want) {
			t.Errorf("got %q, want %q in it", held.Caution(), want)
		}
	}
	if fall, err := held.Energy.Fall(quantity.Kilograms(10)); err != nil || math.Abs(fall.Metres()-0.9) > 1e-9 {
		t.Errorf("got %v and error %v, want 10 kg from 0.9 m", fall, err)
	}
}

func TestQuestions(t *testing.T) {
	for f, asked := range map[float64]bool{0.4: true, 0.5: false, 1.4: false, 2.5: false, 5: false, 5.1: true, nan: true} {
		if got := spring.QuestionFrequency(quantity.Hertz(f)); (got != "") != asked {
			t.Errorf("%v Hz: got %q, want asked %t", f, got, asked)
		}
	}
	motions := []struct {
		m     spring.Motion
		asked string
	}{
		{lever, ""}, {spring.Motion{Ratio: 1.4, Per: spring.WheelPerSpring}, ""}, {spring.Motion{Ratio: 1, Per: spring.SpringPerWheel}, ""},
		{spring.Motion{Ratio: 1.67, Per: spring.SpringPerWheel}, "moves further"},
		{spring.Motion{Ratio: 0.6, Per: spring.WheelPerSpring}, "moves further"},
		{spring.Motion{Ratio: 0.25, Per: spring.SpringPerWheel}, "square"},
		{spring.Motion{Ratio: 0.6}, "cannot be used"},
	}
	for _, m := range motions {
		got := spring.QuestionMotion(m.m)
		if (got == "") != (m.asked == "") || !strings.Contains(got, m.asked) {
			t.Errorf("%+v: got %q, want %q in it", m.m, got, m.asked)
		}
	}
}

func TestUsualTables(t *testing.T) {
	last := quantity.Frequency(0)
	for _, row := range spring.UsualFrequencies() {
		if row.Use == "" || row.Source == "" || row.Provenance != "READ" || row.Low < last || row.High <= row.Low {
			t.Errorf("got %+v after %v, want rows in order that say where they are from", row, last)
		}
		last = row.High
	}
	if d := spring.UsualDamping(); d.Provenance != "MEMORY" || d.Source == "" {
		t.Errorf("got %+v, want the mark that it is from memory", d)
	}
}

func draw(t *rapid.T, name string, low, high float64) float64 {
	return rapid.Float64Range(low, high).Draw(t, name)
}

func drawMotion(t *rapid.T) spring.Motion {
	return spring.Motion{
		Ratio:    quantity.Ratio(draw(t, "ratio", 0.3, 1.8)),
		Per:      rapid.SampledFrom([]spring.Per{spring.SpringPerWheel, spring.WheelPerSpring, spring.SpringPerWheelSquared}).Draw(t, "per"),
		Inclined: quantity.Degrees(draw(t, "inclined", 0, 45)),
		Taken:    rapid.SampledFrom([]spring.Taken{spring.AlongSpring, spring.AtMount}).Draw(t, "taken"),
	}
}

func TestRateProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, k := drawMotion(t), quantity.NewtonsPerMillimetre(draw(t, "rate", 5, 300))
		wheel, err := spring.WheelRate(k, m)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := spring.SpringRate(wheel, m); err != nil || !near(float64(back), float64(k)) {
			t.Errorf("got %v and error %v back, want %v", back, err, k)
		}
		for _, per := range []spring.Per{spring.SpringPerWheel, spring.WheelPerSpring, spring.SpringPerWheelSquared} {
			r, err := m.As(per)
			if err != nil {
				t.Fatal(err)
			}
			if got, err := spring.WheelRate(k, spring.Motion{Ratio: r, Per: per}); err != nil || !near(float64(got), float64(wheel)) {
				t.Errorf("%s: got %v and error %v, want %v", per, got, err, wheel)
			}
		}
		if upright := m; m.Taken == spring.AtMount && m.Inclined > 0.01 {
			upright.Inclined = 0
			if got, _ := spring.WheelRate(k, upright); got <= wheel {
				t.Errorf("got %v upright, want more than %v inclined", got, wheel)
			}
		}
		tyre := quantity.NewtonsPerMillimetre(draw(t, "tyre", 100, 400))
		ride, err := spring.RideRate(wheel, tyre)
		swapped, _ := spring.RideRate(tyre, wheel)
		if err != nil || ride >= min(wheel, tyre) || !near(float64(ride), float64(swapped)) {
			t.Errorf("got %v and error %v, want below %v and %v, either way round %v", ride, err, wheel, tyre, swapped)
		}
	})
}

func TestCollarProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, pitch, turns := drawMotion(t), quantity.Millimetres(draw(t, "pitch", 1, 3)), quantity.Count(draw(t, "turns", 0, 20))
		along, err := spring.CollarTravel(turns, pitch)
		if err != nil {
			t.Fatal(err)
		}
		atWheel, err := spring.WheelTravel(along, m)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := spring.TurnsForWheel(atWheel, pitch, m); err != nil || !near(back.Count(), turns.Count()) {
			t.Errorf("got %v and error %v, want %v turns back", back, err, turns)
		}
	})
}

func TestSwingProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, m := quantity.NewtonsPerMillimetre(draw(t, "rate", 5, 300)), quantity.Kilograms(draw(t, "mass", 100, 800))
		f, err := spring.Frequency(k, m)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := spring.RateForFrequency(f, m); err != nil || !near(float64(back), float64(k)) {
			t.Errorf("got %v and error %v, want %v back", back, err, k)
		}
		if harder, _ := spring.Frequency(k*1.1, m); harder <= f {
			t.Errorf("got %v on a harder spring, want more than %v", harder, f)
		}
		if heavier, _ := spring.Frequency(k, m*1.1); heavier >= f {
			t.Errorf("got %v with more mass, want less than %v", heavier, f)
		}
		// The sag says the same as rate and mass do.
		sag, _ := spring.Deflection(m.Weight(), k)
		bySag, err := spring.FrequencyFromSag(spring.Sag{sag, sag / 100})
		if err != nil || !near(float64(bySag.Value), float64(f)) || !(bySag.Standard > 0) {
			t.Errorf("got %v and error %v from the sag, want %v", bySag, err, f)
		}
		// Its uncertainty is the slope that two sags on either side show.
		more, _ := spring.FrequencyFromSag(spring.Sag{sag * 1.0001, sag / 100})
		less, _ := spring.FrequencyFromSag(spring.Sag{sag * 0.9999, sag / 100})
		slope := math.Abs(float64(more.Value-less.Value)) / (float64(sag) * 0.0002)
		if want := slope * float64(measure.Resolution(sag/100)); math.Abs(float64(bySag.Standard)-want) > 1e-6*want {
			t.Errorf("got uncertainty %v, want %v from the slope", bySag.Standard, want)
		}
		z := quantity.Ratio(draw(t, "damping ratio", 0.01, 0.9))
		c, err := spring.DampingFor(z, k, m)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := spring.DampingRatio(c, k, m); err != nil || !near(float64(back), float64(z)) {
			t.Errorf("got %v and error %v, want %v back", back, err, z)
		}
		if fd, err := spring.DampedFrequency(f, z); err != nil || fd >= f {
			t.Errorf("got %v and error %v with damping, want slower than %v", fd, err, f)
		}
	})
}

func TestDecayProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z, n := quantity.Ratio(draw(t, "ratio", 0.02, 0.5)), quantity.Count(draw(t, "cycles", 0.5, 3))
		left, err := spring.SwingLeft(z, n)
		if err != nil || left <= 0 || left >= 1 {
			t.Fatalf("got %v and error %v left, want a share", left, err)
		}
		d := spring.Decay{First: 0.1, Later: 0.1 * quantity.Length(left), Cycles: n}
		d.Resolution = d.Later / 100
		got, err := spring.RatioFromDecay(d)
		if err != nil || !near(float64(got.Ratio.Value), float64(z)) {
			t.Fatalf("got %v and error %v, want %v back", got, err, z)
		}
		slope := func(change func(*spring.Decay, quantity.Length)) float64 {
			const h = 1e-6
			up, down := d, d
			change(&up, h*d.Later)
			change(&down, -h*d.Later)
			a, _ := spring.RatioFromDecay(up)
			b, _ := spring.RatioFromDecay(down)
			return float64(a.Ratio.Value-b.Ratio.Value) / (2 * h * float64(d.Later))
		}
		perFirst := slope(func(d *spring.Decay, by quantity.Length) { d.First += by })
		perLater := slope(func(d *spring.Decay, by quantity.Length) { d.Later += by })
		want := math.Hypot(perFirst, perLater) * float64(measure.Resolution(d.Resolution))
		if math.Abs(float64(got.Ratio.Standard)-want) > 1e-5*want {
			t.Errorf("got uncertainty %v, want %v from the slopes", float64(got.Ratio.Standard), want)
		}
		// Damping by the decay is the damping by the ratio, both ways round.
		const k, m = quantity.Stiffness(28125), quantity.Mass(350)
		f, _ := spring.Frequency(k, m)
		seen, _ := spring.DampedFrequency(f, z)
		byRatio, _ := spring.DampingFor(z, k, m)
		if byDecay, err := spring.DampingFromDecay(d, seen, m); err != nil || !near(float64(byDecay), float64(byRatio)) {
			t.Errorf("got %v and error %v by the decay, want %v", byDecay, err, byRatio)
		}
	})
}

func TestPreloadProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, load := quantity.NewtonsPerMillimetre(draw(t, "rate", 20, 100)), quantity.Newtons(draw(t, "load", 2000, 5000))
		p := quantity.Millimetres(draw(t, "preload", 0, 15))
		without, err := spring.Preloaded(k, load, 0)
		if err != nil {
			t.Fatal(err)
		}
		with, err := spring.Preloaded(k, load, p)
		if err != nil || with.Shorter != without.Shorter || with.FullyOut || !near(float64(without.ShaftIn-with.ShaftIn), float64(p)) {
			t.Errorf("got %+v and error %v, want as short as %+v, and the shaft out by the preload", with, err, without)
		}
		half, _ := spring.Squeeze(k, without.Shorter/2)
		whole, err := spring.Squeeze(k, without.Shorter)
		if err != nil || !near(float64(half.Energy)*4, float64(whole.Energy)) || !near(float64(half.Force)*2, float64(whole.Force)) {
			t.Errorf("got %v for the whole and %v for half, want four times the energy at twice the force", whole, half)
		}
	})
}
