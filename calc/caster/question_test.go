package caster_test

import (
	"math"
	"strings"
	"testing"

	"strutcard/calc/caster"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

func TestQuestion(t *testing.T) {
	for deg, want := range map[float64]string{0: "", 6: "", 15: "", 15.01: "beyond", -0.1: "turned out", -16: "beyond", math.NaN(): "not a number", math.Inf(1): "not a number"} {
		check(t, deg, caster.Question(quantity.Degrees(deg)), want)
	}
}

func check(t *testing.T, of any, got, want string) {
	t.Helper()
	if (got == "") != (want == "") || !strings.Contains(got, want) {
		t.Errorf("%v: got %q, want %q in it", of, got, want)
	}
}

func TestSweepQuestion(t *testing.T) {
	for turned, want := range map[[2]float64]string{
		{20, 20}: "", {10, 10}: "", {25, 25}: "", {20, 20.5}: "", {20, 20.6}: "differ", {21, 20}: "differ",
		{9.9, 10}: "less than 10°", {20, 8}: "less than 10°", {25.1, 25}: "more than 25°", {math.NaN(), 20}: "less than 10°",
	} {
		check(t, turned, caster.SweepQuestion(sweep(1, -1, turned[0], turned[1])), want)
	}
	guessed := sweep(1, -1, 20, 20)
	guessed.How = caster.NotMeasured
	check(t, guessed.How, caster.SweepQuestion(guessed), "not measured")
}

func TestInclinationQuestion(t *testing.T) {
	for v, want := range map[measure.Value[quantity.Angle]]string{
		known(12, 0.5): "", known(20, 0.9): "", known(20.1, 0.5): "straight", known(-1, 0.5): "straight", known(12, 1.1): "too little", {}: "not a number",
	} {
		check(t, v, caster.InclinationQuestion(v), want)
	}
}

func TestSpecQuestion(t *testing.T) {
	tests := []struct {
		target, minus, plus float64
		want                string
	}{
		{4, 0.75, 0.75, ""},
		{15, 1, 1, ""},
		{400, 45, 45, "400 may stand for 4°00′"},
		{110, 30, 30, "110 may stand for 1°10′"},
		{175, 30, 30, "beyond"},
		{4, 4.1, 0.5, "wider"},
		{4, 0.5, 4.1, "wider"},
		{-4, 0.5, 4.1, "wider"},
		{1, 1, 1, ""},
		{-4, 1, 1, ""},
		{4, -1, 1, "sign"},
		{4, 1, -1, "sign"},
		{math.NaN(), 1, 1, "not a number"},
		{4, math.NaN(), 1, "not a number"},
		{4, 1, math.Inf(1), "not a number"},
	}
	for _, test := range tests {
		got := caster.SpecQuestion(quantity.Degrees(test.target), quantity.Degrees(test.minus), quantity.Degrees(test.plus))
		check(t, test, got, test.want)
		if test.target == 175 && strings.Contains(got, "stand for") {
			t.Errorf("got %q, want no reading of 175: 75 are no minutes", got)
		}
	}
}
