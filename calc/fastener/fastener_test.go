package fastener_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/fastener"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

var nan, inf = math.NaN(), math.Inf(1)

var m12 = must("M12x1.25")

func must(name string) fastener.Thread { t, _ := fastener.Parse(name); return t }

func checkInput(t *testing.T, err error) {
	t.Helper()
	var input *quantity.InputError
	if !errors.As(err, &input) || input.What == "" || input.Next == "" {
		t.Errorf("got error %v, want an input error with what and next", err)
	}
}

func TestParse(t *testing.T) {
	for name, want := range map[string]string{
		"M12": "M12", "m12": "M12", "M12x1.25": "M12x1.25", "M12×1,25": "M12x1.25", "M 12 x 1.5": "M12x1.5", "M5": "M5", "M20x1.5": "M20x1.5",
		"1/2-20": "1/2-20", "1/2 UNF": "1/2-20", "1/2\"-13 UNC": "1/2-13", "7/16 in - 20": "7/16-20", "5/16unc": "5/16-18", "3/4-16": "3/4-16",
	} {
		got, err := fastener.Parse(name)
		if err != nil || got.Name() != want || !fastener.Known(name) {
			t.Errorf("%q: got %q and error %v, want %q", name, got.Name(), err, want)
		}
	}
	for _, name := range []string{"", "M", "12", "M7", "M22", "M12x", "M12x2", "M12x0.1", "M12xNaN", "M12x1.25x2", "M-12",
		"1/2", "1/2-", "1/2-14", "1/2-20 UNC", "1/2-13 UNF", "7/8-9", "1/2 UNC UNF", "1/2-NaN", "9/9-0", "UNF", "-20"} {
		got, err := fastener.Parse(name)
		if got != (fastener.Thread{}) || fastener.Known(name) {
			t.Errorf("%q: got %q, want no thread", name, got.Name())
		}
		checkInput(t, err)
	}
}

func TestQuestionThread(t *testing.T) {
	for name, asked := range map[string]bool{"M12": false, "M12x1.75": false, "M12x1.25": false, "M12x1.5": false, "M14x1.5": false, "M12x1": true, "M14x1.25": true, "1/2-20": false} {
		if got := fastener.QuestionThread(must(name)); (got != "") != asked {
			t.Errorf("%s: got %q, want asked %t", name, got, asked)
		}
	}
	if got := fastener.QuestionThread(fastener.Thread{}); got != "" {
		t.Errorf("got %q for no thread, want nothing", got)
	}
}

// A finer thread has a larger stress area, never a smaller one.
func TestFineThread(t *testing.T) {
	for fine, coarse := range map[string]string{"M8x1": "M8", "M10x1.25": "M10", "M12x1.25": "M12x1.5", "M12x1.5": "M12", "M14x1.5": "M14", "M16x1.5": "M16", "1/2-20": "1/2-13"} {
		if got, least := must(fine).StressArea(), must(coarse).StressArea(); got <= least {
			t.Errorf("got %v for %s, want more than %v", got, fine, least)
		}
	}
}

func TestParseClass(t *testing.T) {
	for text, want := range map[string]fastener.Class{"": "", " ": "", "8.8": "8.8", "10,9": "10.9", "Gr5": "Gr5", "grade 8": "Gr8", "Gr. 8": "Gr8", "GR 5": "Gr5"} {
		if got, err := fastener.ParseClass(text); got != want || err != nil {
			t.Errorf("%q: got %q and error %v, want %q", text, got, err, want)
		}
	}
	for _, text := range []string{"8", "8.9", "Gr2", "gr", "A2-70", "12.10"} {
		got, err := fastener.ParseClass(text)
		if got != "" {
			t.Errorf("%q: got %q, want none", text, got)
		}
		checkInput(t, err)
	}
}

func TestClassRefuses(t *testing.T) {
	for name, f := range map[string]func() error{
		"NoThread":     func() error { _, err := fastener.Class("8.8").Strength(fastener.Thread{}); return err },
		"Unstated":     func() error { _, err := fastener.Unstated.Strength(m12); return err },
		"ProofLoad":    func() error { _, err := fastener.ProofLoad(m12, "Gr5"); return err },
		"UltimateLoad": func() error { _, err := fastener.UltimateLoad(must("M20"), "9.8"); return err },
		"NominalInch":  func() error { _, _, err := fastener.Grade5.Nominal(); return err },
		"NominalNone":  func() error { _, _, err := fastener.Class("7.7").Nominal(); return err },
	} {
		t.Run("Err"+name, func(t *testing.T) { checkInput(t, f()) })
	}
	for _, c := range fastener.Classes() {
		if _, err := fastener.ParseClass(string(c)); err != nil {
			t.Errorf("%s is offered but not known: %v", c, err)
		}
	}
}

// What a bolt bears grows with its class: proof below yield below breaking.
func TestStrengthOrder(t *testing.T) {
	for _, c := range fastener.Classes() {
		th := m12
		if c == fastener.Grade5 || c == fastener.Grade8 {
			th = must("1/2-20")
		}
		s, err := c.Strength(th)
		if err != nil || !(0 < s.Proof && s.Proof < s.Yield && s.Yield < s.Tensile) {
			t.Errorf("%s: got %v and error %v, want proof below yield below breaking", c, s, err)
		}
	}
	at16, _ := fastener.ProofLoad(must("M16"), "8.8")
	at18, _ := fastener.ProofLoad(must("M18"), "8.8")
	small, large := float64(at16)/157e-6, float64(at18)/192e-6
	if math.Abs(small-580e6) > 1 || math.Abs(large-600e6) > 1 {
		t.Errorf("got %v and %v Pa, want class 8.8 to change above 16 mm", small, large)
	}
}

func TestPreloadRefuses(t *testing.T) {
	d := quantity.Millimetres(12)
	joint := fastener.Joint{Thread: m12, ThreadFriction: 0.12, HeadFriction: 0.12, Face: 0.0166, Hole: 0.0135}
	with := func(change func(*fastener.Joint)) fastener.Joint { j := joint; change(&j); return j }
	short := func(k quantity.Ratio, d quantity.Length, v float64) []error {
		_, a := fastener.NutTorque(k, d, quantity.Force(v))
		_, b := fastener.NutPreload(k, d, quantity.Torque(v))
		return []error{a, b}
	}
	ranges := func(d quantity.Length, v float64) []error {
		_, _, a := fastener.Torques(d, quantity.Force(v))
		_, _, b := fastener.Preloads(d, quantity.Torque(v))
		return []error{a, b}
	}
	vdi := func(j fastener.Joint, v float64) []error {
		_, a := j.Torque(quantity.Force(v))
		_, b := j.Preload(quantity.Torque(v))
		return []error{a, b}
	}
	assembly := func(th fastener.Thread, c fastener.Class, mu, share quantity.Ratio) []error {
		_, err := fastener.AssemblyPreload(th, c, mu, share)
		return []error{err}
	}
	geometric := func(th fastener.Thread, f, fc quantity.Ratio) []error {
		_, err := fastener.GeometricK(th, f, fc)
		return []error{err}
	}
	for name, errs := range map[string][]error{
		"NoK": short(0, d, 100), "KPercent": short(20, d, 100), "KNaN": short(quantity.Ratio(nan), d, 100), "NoDiameter": short(0.2, 0, 100),
		"NoLoad": short(0.2, d, 0), "LoadInf": short(0.2, d, inf), "RangeNoDiameter": ranges(-1, 100), "RangeNaN": ranges(d, nan),
		"JointNoThread":  vdi(with(func(j *fastener.Joint) { j.Thread = fastener.Thread{} }), 100),
		"ThreadFriction": vdi(with(func(j *fastener.Joint) { j.ThreadFriction = 12 }), 100),
		"HeadFriction":   vdi(with(func(j *fastener.Joint) { j.HeadFriction = 0 }), 100),
		"NoHole":         vdi(with(func(j *fastener.Joint) { j.Hole = 0 }), 100),
		"FaceBelowHole":  vdi(with(func(j *fastener.Joint) { j.Face = 0.0135 }), 100),
		"FaceNaN":        vdi(with(func(j *fastener.Joint) { j.Face = quantity.Length(nan) }), 100),
		"JointNoLoad":    vdi(joint, 0),
		"AssemblyClass":  assembly(m12, "", 0.12, 0.9), "AssemblyMu": assembly(m12, "8.8", 0, 0.9), "AssemblyShare": assembly(m12, "8.8", 0.12, 1.1), "AssemblyShareNaN": assembly(m12, "8.8", 0.12, quantity.Ratio(nan)),
		"GeometricThread": geometric(fastener.Thread{}, 0.15, 0.15), "GeometricF": geometric(m12, 15, 0.15), "GeometricFc": geometric(m12, 0.15, -0.1),
	} {
		t.Run("Err"+name, func(t *testing.T) {
			for _, err := range errs {
				checkInput(t, err)
			}
		})
	}
}

func TestPreloadProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th := must(rapid.SampledFrom([]string{"M8", "M10x1.25", "M12x1.5", "M16", "1/2-20"}).Draw(t, "thread"))
		want := quantity.Torque(rapid.Float64Range(1, 400).Draw(t, "torque"))
		k := quantity.Ratio(rapid.Float64Range(0.1, 0.3).Draw(t, "K"))
		f, err := fastener.NutPreload(k, th.Diameter(), want)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := fastener.NutTorque(k, th.Diameter(), f); err != nil || math.Abs(float64(got/want)-1) > 1e-12 {
			t.Errorf("got %v and error %v, want %v back", got, err, want)
		}
		dry, slippery, err := fastener.Preloads(th.Diameter(), want)
		if err != nil || math.Abs(float64(slippery/dry)-0.20/0.12) > 1e-9 {
			t.Errorf("got %v to %v and error %v, want a slippery thread to pull 1.67 times as much", dry, slippery, err)
		}
		low, high, err := fastener.Torques(th.Diameter(), dry)
		if err != nil || !(low < high) || math.Abs(float64(high/want)-1) > 1e-12 {
			t.Errorf("got %v to %v and error %v, want %v at the top", low, high, err, want)
		}
		mu := quantity.Ratio(rapid.Float64Range(0.08, 0.2).Draw(t, "friction"))
		j := fastener.Joint{Thread: th, ThreadFriction: mu, HeadFriction: mu, Face: 1.4 * th.Diameter(), Hole: 1.1 * th.Diameter()} // mean 1.25
		f, _ = j.Preload(want)
		if got, err := j.Torque(f); err != nil || math.Abs(float64(got/want)-1) > 1e-12 {
			t.Errorf("got %v and error %v, want %v back", got, err, want)
		}
		checkForms(t, j, f)
	})
}

// With a face 1.25 times the bolt's width VDI and the textbook's geometry are
// the same joint: they agree within the roundings of VDI's factors.
func checkForms(t *rapid.T, j fastener.Joint, f quantity.Force) {
	k, err := fastener.GeometricK(j.Thread, j.ThreadFriction, j.HeadFriction)
	if err != nil {
		t.Fatal(err)
	}
	geometric, _ := fastener.NutTorque(k, j.Thread.Diameter(), f)
	vdi, err := j.Torque(f)
	if err != nil || math.Abs(float64(geometric/vdi)-1) > 0.02 {
		t.Errorf("got %v by VDI 2230 and %v by the geometry, error %v, want them within 2 %%", vdi, geometric, err)
	}
}

func TestScatterRefuses(t *testing.T) {
	for _, alpha := range []float64{0.9, -1, nan, inf} {
		_, err := fastener.FromTighteningFactor(quantity.Ratio(alpha))
		checkInput(t, err)
	}
	for _, b := range [][2]quantity.Ratio{{0, 0.25}, {4, 0.25}, {0.04, 25}, {0.04, quantity.Ratio(nan)}} {
		_, _, err := fastener.Spread(b[0], b[1])
		checkInput(t, err)
	}
	for _, s := range fastener.Scatters() {
		if s.List == fastener.VDI && (math.Abs(s.Low.Percent()-23.08) > 0.01 || math.Abs(s.High.Percent()-33.33) > 0.01) {
			t.Errorf("got %v to %v, want what 1.6 and 2 give", s.Low, s.High)
		}
	}
}

var engaged = fastener.Engagement{Thread: m12, Turns: 10, Resolution: 0.5, In: fastener.Steel}

func TestEngage(t *testing.T) {
	for name, change := range map[string]func(*fastener.Engagement){
		"NoThread":     func(e *fastener.Engagement) { e.Thread = fastener.Thread{} },
		"NoTurns":      func(e *fastener.Engagement) { e.Turns = 0 },
		"TurnsNaN":     func(e *fastener.Engagement) { e.Turns = quantity.Turns(nan) },
		"NoResolution": func(e *fastener.Engagement) { e.Resolution = 0 },
		"Coarse":       func(e *fastener.Engagement) { e.Resolution = 2 },
		"NoMaterial":   func(e *fastener.Engagement) { e.In = "" },
		"TooLong":      func(e *fastener.Engagement) { e.Turns = 49 },
	} {
		t.Run("Err"+name, func(t *testing.T) {
			e := engaged
			change(&e)
			got, err := fastener.Engage(e)
			if got != (fastener.Engaged{}) {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
	got, err := fastener.Engage(engaged)
	if want := 0.5 * 1.25 / math.Sqrt(12); err != nil || math.Abs(got.Length.Standard.Millimetres()-want) > 1e-12 {
		t.Errorf("got %v and error %v, want a standard uncertainty of %v mm", got, err, want)
	}
	for turns, want := range map[quantity.Turns]measure.Verdict{48: measure.Met, 10: measure.Met, 9.6: measure.TooClose, 9: measure.NotMet, 0.5: measure.NotMet} {
		e := engaged
		e.Turns = turns
		if got, err := fastener.Engage(e); err != nil || got.Verdict != want {
			t.Errorf("%v turns: got %v and error %v, want %v", turns, got.Verdict, err, want)
		}
	}
	for verdict, want := range map[measure.Verdict]string{measure.Met: "Enough", measure.NotMet: "Too little", measure.TooClose: "It cannot be told", "": "It cannot be told"} {
		if got := (fastener.Engaged{Verdict: verdict}).Words(); !strings.HasPrefix(got, want) {
			t.Errorf("%q: got %q, want it to begin with %q", verdict, got, want)
		}
	}
	for turns, asked := range map[quantity.Turns]bool{2: true, 4: true, 4.5: false, 0: false, 10: false} {
		if got := fastener.QuestionEngagement(fastener.Engagement{Turns: turns}); (got != "") != asked {
			t.Errorf("%v turns: got %q, want asked %t", turns, got, asked)
		}
	}
}
