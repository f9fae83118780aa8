package camber_test

import (
	_ "embed"
	"errors"
	"maps"
	"math"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/camber"
	"strutcard/calc/internal/vector"
	"strutcard/calc/quantity"
)

//go:embed testdata/camber.json
var vectors []byte

func TestVectors(t *testing.T) {
	formulas := tools(t)
	maps.Copy(formulas, map[string]vector.Formula{
		"camber": func(v *vector.Vector) ([]float64, error) {
			got, err := camber.FromGap(gap(v))
			return []float64{got.Value.Degrees()}, err
		},
		"camber u95": func(v *vector.Vector) ([]float64, error) {
			g := gap(v)
			g.Resolution = length(v)(v.Num("res"))
			got, err := camber.FromGap(g)
			return []float64{got.Expanded().Degrees()}, err
		},
		"gap for": func(v *vector.Vector) ([]float64, error) {
			l, _, err := camber.GapFor(quantity.Degrees(v.Num("deg")), length(v)(v.Num("span")), camber.Along(v.Text("along")))
			if v.Unit == "in" {
				return []float64{l.Inches()}, err
			}
			return []float64{l.Millimetres()}, err
		},
	})
	vector.Run(t, vectors, formulas)
}

func length(v *vector.Vector) func(float64) quantity.Length {
	if v.Text("unit") == "in" {
		return quantity.Inches
	}
	return quantity.Millimetres
}

func gap(v *vector.Vector) camber.Gap {
	l := length(v)
	return camber.Gap{Gap: l(v.Num("gap")), Span: l(v.Num("span")), At: camber.End(v.Text("at")), Along: camber.Along(v.Text("along")), Resolution: l(0.5)}
}

var good = camber.Gap{Gap: 0.010, Span: 0.400, At: camber.Top, Along: camber.AlongRim, Resolution: 0.001}

func with(change func(*camber.Gap)) camber.Gap { g := good; change(&g); return g }

func TestFromGap(t *testing.T) {
	t.Run("OKNoGap", func(t *testing.T) {
		for _, at := range []camber.End{"", camber.Top, camber.Bottom} {
			got, err := camber.FromGap(with(func(g *camber.Gap) { g.Gap, g.At = 0, at }))
			if err != nil || got.Value != 0 || math.Signbit(float64(got.Value)) || !(got.Standard > 0) {
				t.Errorf("at %q: got %v and error %v, want an upright wheel with an uncertainty", at, got, err)
			}
		}
	})
	t.Run("OKSpanResolution", func(t *testing.T) {
		same, _ := camber.FromGap(good)
		explicit, _ := camber.FromGap(with(func(g *camber.Gap) { g.SpanResolution = g.Resolution }))
		coarse, err := camber.FromGap(with(func(g *camber.Gap) { g.SpanResolution = 0.020 }))
		if err != nil || same != explicit || !(coarse.Standard > same.Standard) {
			t.Errorf("got %v, %v, %v and error %v, want a coarser tape to widen the uncertainty", same, explicit, coarse, err)
		}
	})
	nan, inf := quantity.Length(math.NaN()), quantity.Length(math.Inf(1))
	bad := map[string]func(*camber.Gap){
		"GapNaN":            func(g *camber.Gap) { g.Gap = nan },
		"SpanInf":           func(g *camber.Gap) { g.Span = inf },
		"ResolutionNaN":     func(g *camber.Gap) { g.Resolution = nan },
		"SpanResolutionNaN": func(g *camber.Gap) { g.SpanResolution = nan },
		"NoResolution":      func(g *camber.Gap) { g.Resolution = 0 },
		"BelowZero":         func(g *camber.Gap) { g.SpanResolution = -1 },
		"Coarse":            func(g *camber.Gap) { g.Resolution = 0.4 },
		"CoarseSpan":        func(g *camber.Gap) { g.SpanResolution = 0.4 },
		"Along":             func(g *camber.Gap) { g.Along = "" },
		"NoGapUnknownEnd":   func(g *camber.Gap) { g.Gap, g.At = 0, "left" },
	}
	for name, change := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := camber.FromGap(with(change))
			if got.Value != 0 || got.Standard != 0 {
				t.Errorf("got %v beside an error, want nothing", got)
			}
			checkInput(t, err)
		})
	}
}

func checkInput(t *testing.T, err error) {
	t.Helper()
	var input *quantity.InputError
	if !errors.As(err, &input) || input.What == "" || input.Next == "" {
		t.Errorf("got error %v, want an input error with what and next", err)
	}
}

func TestQuestion(t *testing.T) {
	for deg, asked := range map[float64]bool{0: false, -3.5: false, 15: false, -15: false, 15.001: true, -15.001: true, 110: true, math.NaN(): true, math.Inf(-1): true} {
		if got := camber.Question(quantity.Degrees(deg)); (got != "") != asked {
			t.Errorf("%v°: got %q, want asked %t", deg, got, asked)
		}
	}
}

func TestGapFor(t *testing.T) {
	t.Run("OKUpright", func(t *testing.T) {
		if l, end, err := camber.GapFor(0, 0.4, camber.AlongRim); l != 0 || end != "" || err != nil {
			t.Errorf("got %v at %q and error %v, want no gap at no end", l, end, err)
		}
	})
	bad := map[string]struct {
		target quantity.Angle
		span   quantity.Length
		along  camber.Along
	}{
		"Span":    {0.01, 0, camber.AlongRim},
		"SpanNaN": {0.01, quantity.Length(math.NaN()), camber.AlongRim},
		"Along":   {0.01, 0.4, "floor"},
		"Target":  {1, 0.4, camber.AlongRim},
		"NaN":     {quantity.Angle(math.NaN()), 0.4, camber.AlongLevel},
	}
	for name, b := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			l, end, err := camber.GapFor(b.target, b.span, b.along)
			if l != 0 || end != "" {
				t.Errorf("got %v at %q beside an error, want nothing", l, end)
			}
			checkInput(t, err)
		})
	}
}

func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		span := quantity.Length(rapid.Float64Range(0.2, 0.8).Draw(t, "span"))
		target := quantity.Degrees(rapid.Float64Range(-14.9, 14.9).Draw(t, "target"))
		along := rapid.SampledFrom([]camber.Along{camber.AlongRim, camber.AlongLevel}).Draw(t, "along")
		l, end, err := camber.GapFor(target, span, along)
		if err != nil {
			t.Fatal(err)
		}
		g := camber.Gap{Gap: l, Span: span, At: end, Along: along, Resolution: 0.001}
		got, err := camber.FromGap(g)
		if err != nil || math.Abs((got.Value-target).Degrees()) > 1e-9 {
			t.Fatalf("got %v and error %v, want the target %v back", got.Value.Degrees(), err, target.Degrees())
		}
		g.At = map[camber.End]camber.End{camber.Top: camber.Bottom, camber.Bottom: camber.Top}[end]
		mirrored, err := camber.FromGap(g)
		if err != nil || mirrored.Value != -got.Value || mirrored.Standard != got.Standard {
			t.Errorf("got %v and error %v at the other end, want the same lean with the other sign", mirrored, err)
		}
		checkScaled(t, g, mirrored.Value)
	})
}

// Twice the triangle has the same angle, and marks half as fine to its size.
func checkScaled(t *rapid.T, g camber.Gap, want quantity.Angle) {
	one, _ := camber.FromGap(g)
	g.Gap, g.Span = 2*g.Gap, 2*g.Span
	twice, err := camber.FromGap(g)
	if err != nil || math.Abs(float64(twice.Value-want)) > 1e-12 || math.Abs(float64(2*twice.Standard-one.Standard)) > 1e-12 {
		t.Errorf("got %v and error %v for twice the triangle, want %v with half of %v", twice, err, want, one.Standard)
	}
}
