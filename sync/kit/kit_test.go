package kit_test

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"strutcard/calc/lift"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/job"
	"strutcard/sync/kit"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

var imperial = units.Metric.With("torque", "lbf·ft").With("length", "in")

func invalid(t *testing.T, err error, want string) {
	t.Helper()
	var f *fault.Error
	if !errors.As(err, &f) || f.Kind != fault.Invalid || f.Hint == "" || !strings.Contains(f.Message, want) {
		t.Errorf("error = %v, want an invalid input that says %q and what to do next", err, want)
	}
}

// TestRating: 1 lb = 0.45359237 kg exactly (GNU units 2.22: "4400 lb" in kg is
// 1995.8064). A "ton" that does not say which counts as the lightest, the short
// ton of 2000 lb (GNU units: 907.18474 kg): common practice, no source.
func TestRating(t *testing.T) {
	for text, want := range map[string]struct {
		g    int64
		for_ lift.For
	}{
		"2 t": {2_000_000, lift.PerStand}, "2000 kg": {2_000_000, lift.PerStand}, "2000": {2_000_000, lift.PerStand}, " 2,5 t ": {2_500_000, lift.PerStand},
		"4400 lb": {1_995_806, lift.PerStand}, "4400 lbs.": {1_995_806, lift.PerStand}, "3 T": {2_721_554, lift.PerStand}, "3 ton": {2_721_554, lift.PerStand},
		"3 metric tons": {3_000_000, lift.PerStand}, "6 t": {3_000_000, lift.PerPair}, "4400lb": {997_903, lift.PerPair},
	} {
		got, err := kit.Rating(text, want.for_)
		if err != nil || got.G() != want.g {
			t.Errorf("Rating(%q, %s) = %d g, %v; want %d", text, want.for_, got.G(), err, want.g)
		}
	}
	for _, text := range []string{"", "t", "2 q", "0 t", "-2 t", "2 t each", "2 N"} {
		t.Run("Err"+text, func(t *testing.T) {
			if got, err := kit.Rating(text, lift.PerStand); err == nil {
				t.Errorf("Rating(%q) = %v, want an error", text, got)
			}
		})
	}
}

// reads are what is typed and the tool that it makes; Typed must lead back.
var reads = map[string]struct {
	kind  sheet.ToolKind
	typed map[string]string
	u     units.Set
	want  kit.Item
	words string
}{
	"jack":   {sheet.Jack, map[string]string{"label": " Red one ", "rating": "2 t"}, units.Metric, kit.Item{Label: "Red one", RatingG: 2_000_000}, "2000 kg"},
	"stands": {sheet.Stands, map[string]string{"rating": "3000 kg"}, units.Metric, kit.Item{RatingG: 3_000_000}, "3000 kg each"},
	"pair":   {sheet.Stands, map[string]string{"pair": "6 t", "checked": "May"}, units.Metric, kit.Item{RatingG: 3_000_000, Pair: true, Checked: "May"}, "half of what is marked for the pair"},
	"wrench": {sheet.TorqueWrench, map[string]string{"low": "40", "high": "200", "step": "1", "tolerance": "4", "class": "II A", "length": "480"}, units.Metric,
		kit.Item{LowCNM: 4000, HighCNM: 20_000, StepCNM: 100, Unit: "N·m", Tolerance: 40, Class: "II A", LengthUM: 480_000}, "40 to 200 N·m, ±4"},
	"wrench in lbf·ft": {sheet.TorqueWrench, map[string]string{"high": "150", "unit": "lbf·ft", "length": "16"}, imperial,
		kit.Item{HighCNM: 20_337, Unit: "lbf·ft", LengthUM: 406_400}, "a fifth of full scale"},
	"adapter":        {sheet.Adapter, map[string]string{"length": "2", "across": "no"}, imperial, kit.Item{LengthUM: 50_800}, "in line"},
	"square adapter": {sheet.Adapter, map[string]string{"across": "yes"}, units.Metric, kit.Item{Across: true}, "square to the handle"},
	"gauge":          {sheet.Gauge, map[string]string{"resolution": "0.1°"}, units.Metric, kit.Item{Resolution: "0.1°"}, "no check noted"},
	"plain":          {sheet.Plain, map[string]string{"label": "Sockets", "rating": "x"}, units.Metric, kit.Item{Label: "Sockets"}, ""},
}

func TestRead(t *testing.T) {
	for name, test := range reads {
		t.Run(name, func(t *testing.T) {
			test.want.Kind = test.kind
			got, err := kit.Read(test.kind, test.typed, test.u)
			if err != nil || got != test.want {
				t.Fatalf("Read = %+v, %v\nwant   %+v", got, err, test.want)
			}
			if words := got.Words(test.u); !strings.Contains(words, test.words) {
				t.Errorf("Words = %q, want %q in it", words, test.words)
			}
			if again, err := kit.Read(test.kind, got.Typed(test.u), test.u); err != nil || again != got {
				t.Errorf("what is shown to be changed reads back as %+v, %v\nwant %+v", again, err, got)
			}
		})
	}
}

func TestReadRefuses(t *testing.T) {
	for name, test := range map[string]struct {
		kind  sheet.ToolKind
		typed map[string]string
		want  string
	}{
		"BothRatings":  {sheet.Stands, map[string]string{"rating": "2 t", "pair": "4 t"}, "Both numbers"},
		"RatingUnit":   {sheet.Jack, map[string]string{"rating": "2 stone"}, "no unit of a rating"},
		"RangeTurned":  {sheet.TorqueWrench, map[string]string{"low": "200", "high": "40"}, "not below the highest"},
		"LowAlone":     {sheet.TorqueWrench, map[string]string{"low": "5"}, "not below the highest"},
		"NoNumber":     {sheet.TorqueWrench, map[string]string{"high": "many"}, ""},
		"Tolerance":    {sheet.TorqueWrench, map[string]string{"high": "200", "tolerance": "80"}, "not that of a torque wrench"},
		"LengthOfNone": {sheet.Adapter, map[string]string{"length": "0"}, "length of nothing"},
	} {
		t.Run("Err"+name, func(t *testing.T) {
			_, err := kit.Read(test.kind, test.typed, units.Metric)
			invalid(t, err, test.want)
		})
	}
}

func TestRegister(t *testing.T) {
	var r kit.Register
	jack := kit.Item{ID: "a", Kind: sheet.Jack, Label: "Jack", RatingG: 2_000_000}
	wrench := kit.Item{ID: "b", Kind: sheet.TorqueWrench, Label: "Long", LowCNM: 4000, HighCNM: 20_000, Unit: "N·m"}
	for _, x := range []kit.Item{jack, wrench} {
		next, err := r.Put(x)
		if err != nil {
			t.Fatal(err)
		}
		r = next
	}
	before := r
	wrench.Label = "Longer"
	r, err := r.Put(wrench)
	if err != nil || len(r.Items) != 2 || r.Find("b").Label != "Longer" || before.Find("b").Label != "Long" {
		t.Errorf("a changed tool gives %+v, %v, and the register before it %+v", r, err, before)
	}
	if got, lost := kit.Decode(r.Encode()); lost || !reflect.DeepEqual(got, r) {
		t.Errorf("Decode(Encode) = %+v, lost %v; want %+v", got, lost, r)
	}
	if got := r.Remove("a"); got.Find("a") != nil || len(got.Items) != 1 || r.Find("a") == nil {
		t.Errorf("Remove left %+v, of %+v", got, r)
	}
	for name, x := range map[string]kit.Item{
		"NoName": {ID: "c", Kind: sheet.Jack}, "NoID": {Kind: sheet.Jack, Label: "x"}, "Kind": {ID: "c", Kind: sheet.Consumable, Label: "x"},
		"Range": {ID: "c", Kind: sheet.TorqueWrench, Label: "x", LowCNM: 2, HighCNM: 1}, "Long": {ID: "c", Kind: sheet.Adapter, Label: "x", LengthUM: 4_000_000},
	} {
		t.Run("Err"+name, func(t *testing.T) {
			got, err := r.Put(x)
			invalid(t, err, "")
			if !reflect.DeepEqual(got, r) {
				t.Errorf("a refused tool changed the register: %+v", got)
			}
		})
	}
}

// TestDecodeLoses: what cannot be read is left out and said, and the rest stays.
func TestDecodeLoses(t *testing.T) {
	good := `{"id":"a","kind":"jack","label":"Jack"}`
	for name, test := range map[string]struct {
		text string
		kept int
		lost bool
	}{
		"nothing yet": {"", 0, false}, "empty": {`{"items":[]}`, 0, false}, "good": {`{"items":[` + good + `]}`, 1, false},
		"torn": {`{"items":[` + good, 0, true}, "a word": {`"kit"`, 0, true}, "one bad": {`{"items":[` + good + `,{"id":"b","kind":"jack"}]}`, 1, true},
		"twice": {`{"items":[` + good + `,` + good + `]}`, 1, true}, "a number": {`{"items":[` + good + `,7]}`, 1, true},
	} {
		t.Run(name, func(t *testing.T) {
			if r, lost := kit.Decode(test.text); len(r.Items) != test.kept || lost != test.lost {
				t.Errorf("Decode = %+v, lost %v; want %d tools, lost %v", r, lost, test.kept, test.lost)
			}
		})
	}
}

// TestListed: a job gets a copy, in the place of the sheet's tool or as its own,
// that the record takes and that leads back to the register.
func TestListed(t *testing.T) {
	x := kit.Item{ID: "own", Kind: sheet.TorqueWrench, Label: "Long", LowCNM: 4000, HighCNM: 20_000, Class: "II A", Tolerance: 40, LengthUM: 480_000, Checked: "May"}
	r := kit.Register{Items: []kit.Item{x}}
	want := event.ToolListed{Tool: "wrench_large", Have: true, Label: "Long", LowCNM: 4000, HighCNM: 20_000, Class: "II A", Tolerance: 40, LengthUM: 480_000, Checked: "May"}
	if got := x.Listed("wrench_large"); *got != want {
		t.Errorf("in the sheet's place: %+v\nwant %+v", *got, want)
	}
	want.Tool, want.Type = "own", "torque_wrench"
	if got := x.Listed("own"); *got != want {
		t.Errorf("as its own: %+v\nwant %+v", *got, want)
	}
	copied := job.Tool{Label: "Long", LowCNM: 4000, HighCNM: 20_000, LengthUM: 480_000}
	if got := r.Match("wrench_large", copied); got == nil || got.ID != "own" {
		t.Errorf("Match = %+v, want the wrench it was copied from", got)
	}
	copied.HighCNM = 21_000
	if got := r.Match("wrench_large", copied); got != nil {
		t.Errorf("Match of another wrench = %+v, want none", got)
	}
	if got := r.Match("x", job.Tool{}); got != nil {
		t.Errorf("Match of nothing = %+v, want none", got)
	}
}

// TestErrChecked: a bare number that is no year is not taken for the time of a check;
// people's own words are.
func TestErrChecked(t *testing.T) {
	for _, kind := range []sheet.ToolKind{sheet.Gauge, sheet.TorqueWrench, sheet.Jack} {
		for _, text := range []string{"150", " 150 ", "0", "20260"} {
			_, err := kit.Read(kind, map[string]string{"checked": text}, units.Metric)
			if f := fault.Of(err); !fault.Is(err, fault.Invalid) || !strings.Contains(f.Message, "“"+strings.TrimSpace(text)+"” is no date") || f.Hint == "" {
				t.Errorf("%s, %q: %v, want a question", kind, text, err)
			}
		}
		for _, text := range []string{"", "2026", "May", "5/26", "12.5.2026, paper 150", "last week"} {
			if x, err := kit.Read(kind, map[string]string{"checked": text}, units.Metric); err != nil || x.Checked != text {
				t.Errorf("%s, %q: kept is %q, %v", kind, text, x.Checked, err)
			}
		}
	}
}
