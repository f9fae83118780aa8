package tyre_test

import (
	_ "embed"
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/internal/vector"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/calc/tyre"
)

//go:embed testdata/tyre.json
var vectors []byte

func TestVectors(t *testing.T) {
	vector.Run(t, vectors, map[string]vector.Formula{
		"psi in kPa": func(v *vector.Vector) ([]float64, error) {
			return []float64{quantity.PoundsPerSquareInch(v.Num("psi")).Kilopascals()}, nil
		},
		"pressure": func(v *vector.Vector) ([]float64, error) {
			p, err := tyre.At(fill(v))
			return []float64{p.Value.Bars()}, err
		},
		"pressure uncertainty": func(v *vector.Vector) ([]float64, error) {
			p, err := tyre.At(fill(v))
			return []float64{p.Standard.Bars()}, err
		},
		"usual spread": func(*vector.Vector) ([]float64, error) {
			most := tyre.UsualSpread().Most
			return []float64{most.FahrenheitDifference(), most.Kelvins()}, nil
		},
		"centre over edges": func(v *vector.Vector) ([]float64, error) {
			a, err := tyre.Read(tread(v))
			return []float64{a.CentreOverEdges.Value.Kelvins()}, err
		},
		"spread and inner over outer": func(v *vector.Vector) ([]float64, error) {
			a, err := tyre.Read(tread(v))
			return []float64{a.Spread.Value.Kelvins(), a.InnerOverOuter.Value.Kelvins()}, err
		},
		"spread verdict": func(v *vector.Vector) ([]float64, error) {
			a, err := tyre.Read(tread(v))
			if err != nil {
				return nil, err
			}
			verdict, err := a.Judge(tyre.UsualSpread().Most)
			return []float64{map[measure.Verdict]float64{measure.Met: 1, measure.TooClose: 0, measure.NotMet: -1}[verdict]}, err
		},
	})
}

func fill(v *vector.Vector) tyre.Fill {
	return tyre.Fill{Pressure: quantity.Bars(v.Num("p_bar")), Counted: tyre.Counted(v.Text("counted")), Ambient: quantity.Bars(v.Num("pa_bar")),
		From: quantity.DegreesCelsius(v.Num("t1_C")), To: quantity.DegreesCelsius(v.Num("t2_C")),
		PressureResolution: quantity.Bars(0.1), AmbientResolution: quantity.Bars(0.01), TemperatureResolution: 1}
}

func tread(v *vector.Vector) tyre.Tread {
	c := func(name string) quantity.Temperature { return quantity.DegreesCelsius(v.Num(name)) }
	return tyre.Tread{Inner: c("inner"), Middle: c("middle"), Outer: c("outer"), Resolution: quantity.Kelvins(v.Num("res"))}
}

var nan, inf = math.NaN(), math.Inf(1)

func near(got, want float64) bool { return math.Abs(got-want) <= 1e-9*(1+math.Abs(want)) }

func checkInput(t *testing.T, err error) {
	t.Helper()
	var input *quantity.InputError
	if !errors.As(err, &input) || input.What == "" || input.Next == "" {
		t.Errorf("got error %v, want an input error with what and next", err)
	}
}

var good = tyre.Fill{Pressure: 2.2e5, Counted: tyre.Gauge, Ambient: 1e5, From: 293, To: 333, PressureResolution: 1e4, AmbientResolution: 1e3, TemperatureResolution: 1}

func TestAtErrors(t *testing.T) {
	bad := map[string]func(*tyre.Fill){
		"PressureNaN":    func(f *tyre.Fill) { f.Pressure = quantity.Pressure(nan) },
		"PressureBelow":  func(f *tyre.Fill) { f.Pressure = -2.2e5 },
		"AbsoluteLow":    func(f *tyre.Fill) { f.Counted, f.Pressure = tyre.Absolute, 0.9e5 },
		"Counted":        func(f *tyre.Fill) { f.Counted = "gauge" },
		"AmbientNaN":     func(f *tyre.Fill) { f.Ambient = quantity.Pressure(nan) },
		"AmbientMarks":   func(f *tyre.Fill) { f.AmbientResolution = 0 },
		"FromNaN":        func(f *tyre.Fill) { f.From = quantity.Temperature(nan) },
		"ToInf":          func(f *tyre.Fill) { f.To = quantity.Temperature(inf) },
		"Celsius":        func(f *tyre.Fill) { f.From = 20 },
		"GaugeMarks":     func(f *tyre.Fill) { f.PressureResolution = 0 },
		"GaugeMarksWide": func(f *tyre.Fill) { f.PressureResolution = 3e5 },
		"Thermometer":    func(f *tyre.Fill) { f.TemperatureResolution = 0 },
		"ThermometerNaN": func(f *tyre.Fill) { f.TemperatureResolution = quantity.Temperature(nan) },
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			f := good
			change(&f)
			got, err := tyre.At(f)
			if got != (measure.Value[quantity.Pressure]{}) {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
	t.Run("OKAbsoluteNeedsNoAmbient", func(t *testing.T) {
		f := good
		f.Counted, f.Ambient, f.AmbientResolution = tyre.Absolute, 0, 0
		if got, err := tyre.At(f); err != nil || !(got.Standard > 0) {
			t.Errorf("got %v and error %v, want a pressure", got, err)
		}
	})
}

var even = tyre.Tread{Inner: 353, Middle: 353, Outer: 353, Resolution: 1}

func TestReadErrors(t *testing.T) {
	bad := map[string]func(*tyre.Tread){
		"Inner":       func(r *tyre.Tread) { r.Inner = 0 },
		"Middle":      func(r *tyre.Tread) { r.Middle = quantity.Temperature(nan) },
		"Outer":       func(r *tyre.Tread) { r.Outer = quantity.Temperature(inf) },
		"Celsius":     func(r *tyre.Tread) { r.Outer = 90 },
		"Resolution":  func(r *tyre.Tread) { r.Resolution = 0 },
		"Resolution°": func(r *tyre.Tread) { r.Resolution = 274 },
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			r := even
			change(&r)
			got, err := tyre.Read(r)
			if got != (tyre.Across{}) {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
	for name, most := range map[string]quantity.Temperature{"None": 0, "NaN": quantity.Temperature(nan), "Inf": quantity.Temperature(inf)} {
		t.Run("ErrJudge"+name, func(t *testing.T) {
			_, err := tyre.Across{}.Judge(most)
			checkInput(t, err)
		})
	}
}

func TestHints(t *testing.T) {
	tests := []struct {
		inner, middle, outer float64
		pressure, camber     tyre.Hint
	}{
		{80, 80, 80, tyre.NoPressureHint, tyre.NoCamberHint},
		{92, 90, 80, tyre.MuchPressure, tyre.MuchCamber},
		{80, 75, 92, tyre.LittlePressure, tyre.LittleCamber},
		{80.3, 80.3, 80, tyre.NoPressureHint, tyre.NoCamberHint},
	}
	for _, test := range tests {
		c := quantity.DegreesCelsius
		a, err := tyre.Read(tyre.Tread{Inner: c(test.inner), Middle: c(test.middle), Outer: c(test.outer), Resolution: 1})
		if err != nil || a.Pressure() != test.pressure || a.Camber() != test.camber {
			t.Errorf("%v: got %q, %q and error %v, want %q, %q", test, a.Pressure(), a.Camber(), err, test.pressure, test.camber)
		}
	}
	if !strings.Contains(tyre.Limits, "car maker's cold pressure decides") {
		t.Errorf("got %q, want it to say what decides", tyre.Limits)
	}
	if s := tyre.UsualSpread(); s.Source == "" || s.Provenance != "READ" {
		t.Errorf("got %+v, want a source", s)
	}
}

func TestQuestionPressure(t *testing.T) {
	for bar, asked := range map[float64]string{2.2: "", 1.5: "", 3.6: "", 1.4: "low", 3.7: "high", 0: "above zero", nan: "above zero"} {
		got := tyre.QuestionPressure(quantity.Bars(bar))
		if (got == "") != (asked == "") || !strings.Contains(got, asked) {
			t.Errorf("%v bar: got %q, want %q in it", bar, got, asked)
		}
	}
}

func TestPressureProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		f := good
		f.Pressure, f.Ambient = quantity.Bars(draw("p", 1.5, 3.5)), quantity.Bars(draw("pa", 0.7, 1.05))
		f.From, f.To = quantity.DegreesCelsius(draw("from", -10, 40)), quantity.DegreesCelsius(draw("to", -10, 90))
		got, err := tyre.At(f)
		if err != nil {
			t.Fatal(err)
		}
		same, warmer := f, f
		same.To, warmer.To = f.From, f.To+1
		if still, err := tyre.At(same); err != nil || !near(float64(still.Value), float64(f.Pressure)) {
			t.Errorf("got %v and error %v at the same warmth, want %v", still, err, f.Pressure)
		}
		if more, err := tyre.At(warmer); err != nil || more.Value <= got.Value {
			t.Errorf("got %v and error %v one kelvin warmer, want more than %v", more, err, got)
		}
		back := f
		back.Pressure, back.From, back.To = got.Value, f.To, f.From
		if cold, err := tyre.At(back); err != nil || !near(float64(cold.Value), float64(f.Pressure)) {
			t.Errorf("got %v and error %v, want %v back", cold, err, f.Pressure)
		}
		absolute := f
		absolute.Counted, absolute.Pressure = tyre.Absolute, f.Pressure+f.Ambient
		if whole, err := tyre.At(absolute); err != nil || !near(float64(whole.Value), float64(got.Value+f.Ambient)) {
			t.Errorf("got %v and error %v from nothing, want %v", whole, err, got.Value+f.Ambient)
		}
		want := 0.0
		for _, off := range []struct {
			of   func(*tyre.Fill, float64)
			step float64
			u    float64
		}{
			{func(f *tyre.Fill, by float64) { f.Pressure += quantity.Pressure(by) }, 1, 1e4},
			{func(f *tyre.Fill, by float64) { f.Ambient += quantity.Pressure(by) }, 1, 1e3},
			{func(f *tyre.Fill, by float64) { f.From += quantity.Temperature(by) }, 1e-4, 1},
			{func(f *tyre.Fill, by float64) { f.To += quantity.Temperature(by) }, 1e-4, 1},
		} {
			up, down := f, f
			off.of(&up, off.step)
			off.of(&down, -off.step)
			a, _ := tyre.At(up)
			b, _ := tyre.At(down)
			want = math.Hypot(want, float64(a.Value-b.Value)/(2*off.step)*off.u/math.Sqrt(12))
		}
		if math.Abs(float64(got.Standard)-want) > 1e-5*want {
			t.Errorf("got uncertainty %v, want %v from the slopes", float64(got.Standard), want)
		}
	})
}

func TestTreadProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) quantity.Temperature {
			return quantity.DegreesCelsius(rapid.Float64Range(20, 120).Draw(t, name))
		}
		r := tyre.Tread{Inner: draw("inner"), Middle: draw("middle"), Outer: draw("outer"), Resolution: 1}
		got, err := tyre.Read(r)
		if err != nil {
			t.Fatal(err)
		}
		swapped, _ := tyre.Read(tyre.Tread{Inner: r.Outer, Middle: r.Middle, Outer: r.Inner, Resolution: 1})
		if !near(float64(swapped.CentreOverEdges.Value), float64(got.CentreOverEdges.Value)) || swapped.InnerOverOuter.Value != -got.InnerOverOuter.Value || swapped.Spread != got.Spread {
			t.Errorf("got %+v with the sides exchanged, want %+v with inner over outer the other way", swapped, got)
		}
		warmer, _ := tyre.Read(tyre.Tread{Inner: r.Inner + 5, Middle: r.Middle + 5, Outer: r.Outer + 5, Resolution: 1})
		if !near(float64(warmer.CentreOverEdges.Value), float64(got.CentreOverEdges.Value)) || !near(float64(warmer.Spread.Value), float64(got.Spread.Value)) {
			t.Errorf("got %+v all warmer, want the differences of %+v", warmer, got)
		}
		if got.Spread.Value < 0 || math.Abs(float64(got.InnerOverOuter.Value)) > float64(got.Spread.Value) {
			t.Errorf("got %+v, want the spread to hold inner over outer", got)
		}
		u := float64(measure.Resolution(quantity.Temperature(1)))
		if !near(float64(got.Spread.Standard), u*math.Sqrt2) || !near(float64(got.CentreOverEdges.Standard), u*math.Sqrt(1.5)) || !near(float64(got.InnerOverOuter.Standard), u*math.Sqrt2) {
			t.Errorf("got %+v, want uncertainties of √2, √1.5 and √2 times one reading", got)
		}
	})
}
