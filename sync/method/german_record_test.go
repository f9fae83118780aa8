package method_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
)

// What a method gives to keep is the same in every language, and only then said.
func TestRecordHasNoLanguage(t *testing.T) {
	defer lang.SpeakEnglish()
	for _, x := range examples(t) {
		m := method.Find(x.Method)
		if !slices.Contains([]string{"floor_drop", "gauge_reversal", "camber_gap", "camber_shim", "camber_gauge", "camber_half_turn", "camber_round", "caster_sweep"}, m.ID) {
			continue
		}
		lang.SpeakEnglish()
		english, _ := m.Compute(x.Typed, x.Record())
		if err := lang.Use(lang.German); err != nil {
			t.Fatal(err)
		}
		german, _ := m.Compute(x.Typed, x.Record())
		if !reflect.DeepEqual(english.Reading, german.Reading) {
			t.Errorf("%s: kept in English %+v, in German %+v", x.Method, english.Reading, german.Reading)
		}
		if r := german.Reading; r != nil && r.Instrument != "" && method.Instrument(r.Instrument) == r.Instrument {
			t.Errorf("%s: no German for the instrument %q", x.Method, r.Instrument)
		}
	}
}

func TestGermanSentences(t *testing.T) {
	if err := lang.Use(lang.German); err != nil {
		t.Fatal(err)
	}
	defer lang.SpeakEnglish()
	s := &sheet.Sheet{Vehicle: sheet.Vehicle{MassG: 1_200_000}}
	lines, ok := method.LiftSummary(method.Record{Sheet: s, State: &job.State{}}, event.Front)
	if !ok {
		t.Fatal("no summary")
	}
	all := strings.Join(lines, " ")
	for _, part := range []string{
		"jeder vordere Bock trägt höchstens",
		"Ist der Wagen vorn angehoben: Die Feststellbremse, angezogen gelassen, hält",
		"Unterlegkeile hinter den Rädern hinten links und hinten rechts, dann vor den Rädern hinten links und hinten rechts setzen.",
	} {
		if !strings.Contains(all, part) {
			t.Errorf("%q is missing in %q", part, all)
		}
	}
}
