package method_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/calc/quantity"
	"strutcard/sync/method"
	"strutcard/sync/method/methodtest"
)

func examples(t testing.TB) []methodtest.Example {
	t.Helper()
	all, err := methodtest.Examples()
	if err != nil || len(all) == 0 {
		t.Fatalf("%d examples: %v", len(all), err)
	}
	return all
}

func TestExamples(t *testing.T) {
	for _, x := range examples(t) {
		t.Run(x.Method+" "+x.Figure+x.Refused, func(t *testing.T) {
			m := method.Find(x.Method)
			if m == nil {
				t.Fatalf("no method %q", x.Method)
			}
			if x.Source == "" || !slices.Contains([]string{"READ", "LIB", "MEMORY", "COMMON-PRACTICE"}, x.Provenance) {
				t.Errorf("source %q, provenance %q", x.Source, x.Provenance)
			}
			in := m.Answers(x.Typed, x.Record())
			for name := range x.Typed {
				if !in.Shown(name) { // panics when there is no such field
					t.Errorf("%s is typed but hidden", name)
				}
			}
			got, err := m.Compute(x.Typed, x.Record())
			if x.Refused != "" {
				if err == nil || !strings.Contains(err.Error(), x.Refused) {
					t.Errorf("got error %v, want %q in it", err, x.Refused)
				}
				return
			}
			check(t, x, got, err)
		})
	}
}

func check(t *testing.T, x methodtest.Example, got method.Result, err error) {
	t.Helper()
	if err != nil || got.Figure != x.Figure {
		t.Fatalf("got %q and error %v, want %q", got.Figure, err, x.Figure)
	}
	all := shown(got)
	for _, part := range x.Says {
		if !strings.Contains(all, part) {
			t.Errorf("%q is not among what is shown:\n%s", part, all)
		}
	}
	if (x.Asks == "") != (got.Ask == "") || !strings.Contains(got.Ask, x.Asks) {
		t.Errorf("asks %q, want %q", got.Ask, x.Asks)
	}
	if x.Reading != 0 && (got.Reading == nil || got.Reading.Value != x.Reading) {
		t.Errorf("reading %+v, want %d", got.Reading, x.Reading)
	}
}

// shown is every word of a result.
func shown(r method.Result) string {
	parts := slices.Concat([]string{r.Figure, r.Words, r.Line, r.Ask}, r.Stop, r.Warn)
	for _, row := range r.Rows {
		parts = append(parts, row.Label+": "+row.Value)
	}
	if r.Picture != nil {
		parts = append(parts, r.Picture.Alt, r.Picture.Note)
		for _, m := range r.Picture.Marks {
			parts = append(parts, m.Text)
		}
	}
	return strings.Join(parts, "\n")
}

// TestEveryMethod holds for all of them: nothing is asked with a sign where a
// side has words, nothing is drawn without words, and what sets a quantity gives
// a reading that the record takes.
func TestEveryMethod(t *testing.T) {
	ids, used := map[string]bool{}, map[string][]method.Result{}
	for _, x := range examples(t) {
		if m := method.Find(x.Method); m != nil && x.Refused == "" {
			if r, err := m.Compute(x.Typed, x.Record()); err == nil {
				used[x.Method] = append(used[x.Method], r)
			}
		}
	}
	for _, m := range method.All() {
		t.Run(m.ID, func(t *testing.T) {
			if ids[m.ID] || m.Title == "" || m.Words == "" || !slices.Contains(method.Groups, m.Group) {
				t.Errorf("twice, or without a title, words or group: %+v", m)
			}
			ids[m.ID] = true
			checkFields(t, m)
			if len(used[m.ID]) == 0 {
				t.Fatal("no example that computes")
			}
			for _, r := range used[m.ID] {
				checkResult(t, m, r)
			}
		})
	}
}

func checkFields(t *testing.T, m method.Method) {
	t.Helper()
	names := map[string]bool{}
	for _, f := range m.Fields {
		if names[f.Name] || f.Label == "" || f.Kind == "" || (f.Kind == method.Choice) != (len(f.Options) > 1) {
			t.Errorf("field is twice, has no label or kind, or no choices: %+v", f)
		}
		names[f.Name] = true
		if other, _, ok := strings.Cut(f.When, "="); ok && !names[other] {
			t.Errorf("%s depends on %s, which is not asked before it", f.Name, other)
		}
	}
	// An empty form says what is missing, and never computes.
	_, err := m.Compute(nil, method.Record{})
	var input *quantity.InputError
	if !errors.As(err, &input) || input.Next == "" {
		t.Errorf("empty form: got error %v, want an input error", err)
	}
}

func checkResult(t *testing.T, m method.Method, r method.Result) {
	t.Helper()
	if r.Figure == "" || r.Line == "" {
		t.Errorf("no figure or no arithmetic: %+v", r)
	}
	if strings.Contains(shown(r), "NaN") || strings.Contains(shown(r), "not a number") || strings.Contains(shown(r), "%!") {
		t.Errorf("a number is missing in:\n%s", shown(r))
	}
	if r.Picture != nil && (r.Picture.Alt == "" || len(r.Picture.Marks) == 0 || r.Picture.Height <= 0) {
		t.Errorf("picture without words or lines: %+v", r.Picture)
	}
	if (m.Sets != "") != (r.Reading != nil) {
		t.Fatalf("sets %q, reading %+v", m.Sets, r.Reading)
	}
	if r.Reading == nil {
		return
	}
	if r.Reading.U95 <= 0 || r.Reading.Instrument == "" {
		t.Errorf("reading without an uncertainty or an instrument: %+v", r.Reading)
	}
}

// TestNothingTypedPanics types anything anywhere.
func TestNothingTypedPanics(t *testing.T) {
	known := map[string][]string{}
	for _, x := range examples(t) {
		for name, text := range x.Typed {
			known[x.Method+"."+name] = append(known[x.Method+"."+name], text)
		}
	}
	all := method.All()
	rapid.Check(t, func(t *rapid.T) {
		m := all[rapid.IntRange(0, len(all)-1).Draw(t, "method")]
		typed := map[string]string{}
		for _, f := range m.Fields {
			texts := append([]string{"", "0", "-1", "1e9", "999999999", "1°30'", "x", "NaN", "0.0000001"}, known[m.ID+"."+f.Name]...)
			for _, o := range f.Options {
				texts = append(texts, o.Value)
			}
			typed[f.Name] = rapid.SampledFrom(texts).Draw(t, f.Name)
		}
		r, err := m.Compute(typed, method.Record{})
		var input *quantity.InputError
		if err != nil && (!errors.As(err, &input) || input.What == "" || input.Next == "") {
			t.Fatalf("%s: error %v is not fit to show", m.ID, err)
		}
		if err == nil && strings.Contains(shown(r), "not a number") {
			t.Fatalf("%s: shows a number that is none:\n%s", m.ID, shown(r))
		}
	})
}
