package fastener_test

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/fastener"
	"strutcard/calc/quantity"
)

func TestQuestion(t *testing.T) {
	tests := []struct {
		name, thread string
		class        fastener.Class
		t            quantity.Torque
		say, leave   string // what the sentence says, and what it does not
	}{
		{"TwelveTooMuch", "M8", "", quantity.PoundFeet(200), "more than an M8", "too little"},
		{"SlipDown", "M8", "", quantity.PoundFeet(240), "lbf·in or kgf·cm", "too little"},
		{"FarTooMuch", "M8", "", 5000, "more than 100 times", "lbf·in"},
		{"SomewhatTooMuch", "M8", "", 60, "more than an M8", "lbf·in"},
		{"NotTwice", "M8", "", 50, "more than an M8", "times"},
		{"TwelveTooLittle", "M12", "", 8, "lbf·ft or kgf·m", "too much"},
		{"SomewhatTooLittle", "M12", "", 40, "less than an M12", "lbf·ft"},
		{"FarTooLittle", "M12", "", 0.1, "more than 100 times as much", "lbf·ft"},
		{"Zero", "M12", "", 0, "not above zero", "M12"},
		{"NaN", "M12", "", quantity.Torque(nan), "not above zero", "M12"},
		{"ZeroUnknownThread", "", "", 0, "not above zero", "M12"},
		{"Class", "M12", "8.8", 125, "more than an M12 bolt of class 8.8", "times"},
		{"WeakClass", "M12", "4.6", 80, "about 3 times what such", "lbf·in"},
		{"Grade", "3/8-16", "Gr8", 400, "more than a 3/8-16 bolt of grade 8", "class"},
		{"Inch", "1/2-20", "", 8, "less than a 1/2-20 bolt normally", "grade"},
		{"UnknownClass", "M12", "9.9", 80, "class", "80"},
		{"WrongClass", "M12", "Gr5", 80, "does not belong", "N·m"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := fastener.Question(test.thread, test.class, test.t)
			if !strings.Contains(got, test.say) || strings.Contains(got, test.leave) {
				t.Errorf("got %q, want %q in it and not %q", got, test.say, test.leave)
			}
		})
	}
	if got := fastener.Question("7/8-9", "", 100); got != "" {
		t.Errorf("got %q for a thread that is not known, want nothing", got)
	}
}

var threads = []string{"M5", "M6", "M8", "M10", "M12", "M12x1.25", "M14", "M16", "M18", "M20", "1/4-20", "1/2-20", "3/4-10"}

// The question begins where the hidden range ends, and the range is credible.
func TestQuestionRange(t *testing.T) {
	for _, thread := range threads {
		low, high := fastener.Normal(thread, "")
		if !(0 < low && 2.3*low < high && high < 4*low) {
			t.Errorf("%s: got %v to %v, want a band of two and a half to three to one", thread, low, high)
		}
		for q, asked := range map[quantity.Torque]bool{low / 20: true, low * 0.999: true, low * 1.001: false, high * 0.999: false, high * 1.001: true, high * 12: true} {
			if got := fastener.Question(thread, "", q); (got != "") != asked {
				t.Errorf("%s: got %q for %v, want asked %t", thread, got, q, asked)
			}
		}
	}
	for _, class := range fastener.Classes()[:6] {
		low, high := fastener.Normal("M12", class)
		if !(0 < low && 1.6*low < high && high < 1.7*low) {
			t.Errorf("%s: got %v to %v, want a band of 0.12 to 0.20", class, low, high)
		}
	}
}

var numbers = regexp.MustCompile(`\d+(?:[.,]\d+)?`)

// Whatever is asked, no sentence shows where the normal torques lie: its only
// numbers are those that the person typed, and a whole count of times from which
// neither end can be reckoned back.
func TestQuestionHidesRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thread := rapid.SampledFrom(threads).Draw(t, "thread")
		class := fastener.Class(rapid.SampledFrom([]string{"", "8.8", "10.9", "Gr8"}).Draw(t, "class"))
		q := quantity.Torque(rapid.Float64Range(0.5, 3000).Draw(t, "torque"))
		got := fastener.Question(thread, class, q)
		low, high := fastener.Normal(thread, class)
		if low == 0 || got == "" {
			return
		}
		said := quantity.FormatTorque(q, quantity.NewtonMetre)
		rest := strings.NewReplacer(said, "", thread, "", "class "+string(class), "", "grade "+strings.TrimPrefix(string(class), "Gr"), "").Replace(got)
		for _, n := range numbers.FindAllString(rest, -1) {
			if !strings.Contains(got, "about "+n+" times") && !strings.Contains(got, "more than "+n+" times") {
				t.Errorf("got %q, want no number %s in it", got, n)
			}
			for _, end := range []quantity.Torque{low, high} {
				if n == quantity.TorqueFigure(end, quantity.NewtonMetre) && strings.Contains(rest, n+" N·m") {
					t.Errorf("got %q, want neither end of the range in it", got)
				}
			}
		}
	})
}

func TestToleranceQuestion(t *testing.T) {
	for b, asked := range map[[2]quantity.Torque]bool{{118, 6}: false, {118, 0}: false, {118, 118}: true, {6, 118}: true, {118, -6}: true, {0, 0}: true, {118, quantity.Torque(inf)}: true} {
		if got := fastener.ToleranceQuestion(b[0], b[1]); (got != "") != asked {
			t.Errorf("%v: got %q, want asked %t", b, got, asked)
		}
	}
	if got := fastener.ToleranceQuestion(118, quantity.Torque(nan)); got == "" {
		t.Error("got no question for a tolerance that is not a number")
	}
}

func TestBrief(t *testing.T) {
	tests := []struct {
		name, thread string
		class        fastener.Class
		t            quantity.Torque
		want         string
	}{
		{"Usual", "M12x1.25", "", 118, "nothing unusual"},
		{"Somewhat", "M12", "8.8", 125, "more than is usual"},
		{"SomewhatLess", "M12", "", 40, "less than is usual"},
		{"FarTooMuch", "M8", "", 5000, "more than 100 times what is usual"},
		{"FarTooLittle", "M12", "", 0.1, "usual is more than 100 times as much"},
		{"UnknownThread", "7/8-9", "", 100, ""},
		{"WrongClass", "M12", "Gr5", 80, ""},
		{"Zero", "M12", "", 0, ""},
		{"NaN", "M12", "", quantity.Torque(nan), ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := fastener.Brief(test.thread, test.class, test.t); got != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
}

var counted = regexp.MustCompile(`(about|more than) \d+ times`)

// The heading never says more or less than the question under it.
func TestBriefAgrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thread := rapid.SampledFrom(threads).Draw(t, "thread")
		q := quantity.Torque(rapid.Float64Range(0.5, 3000).Draw(t, "torque"))
		question, brief := fastener.Question(thread, "", q), fastener.Brief(thread, "", q)
		if (question == "") != (brief == "nothing unusual") {
			t.Errorf("%q heads %q", brief, question)
		}
		if got, want := counted.FindString(brief), counted.FindString(question); got != want {
			t.Errorf("%q heads %q", brief, question)
		}
	})
}
