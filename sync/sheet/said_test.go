package sheet_test

import (
	"maps"
	"reflect"
	"slices"
	"testing"

	"strutcard/calc/lang"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
)

func speakGerman(t *testing.T) {
	t.Helper()
	if err := lang.Use(lang.German); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(lang.SpeakEnglish)
}

// codes are the text fields of a sheet that nobody reads as words.
var codes = []string{"Sheet.Version", "Vehicle.Driven", "Fastener.Thread", "Fastener.Pattern", "Fastener.Turn", "Damper.Knob", "Damper.From", "Stage.ID",
	"ClicksAsk.Knob", "Step.Picture"}

// eachText gives every text that a sheet can hold, with the name of its field.
// Ids and words of closed lists have types of their own. Empty lists grow by one
// element when fill is set.
func eachText(v reflect.Value, field string, fill bool, take func(field string, text reflect.Value)) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				eachText(v.Field(i), v.Type().Name()+"."+f.Name, fill, take)
			}
		}
	case reflect.Slice:
		if fill && v.Len() == 0 {
			v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		}
		for i := range v.Len() {
			eachText(v.Index(i), field, fill, take)
		}
	case reflect.String:
		if v.Type() == reflect.TypeFor[string]() {
			take(field, v)
		}
	}
}

func textsOf(s *sheet.Sheet) (fields, texts []string) {
	eachText(reflect.ValueOf(s).Elem(), "", false, func(field string, text reflect.Value) {
		fields, texts = append(fields, field), append(texts, text.String())
	})
	return fields, texts
}

// TestSaid: each text of a sheet is said, whatever field is added to it.
func TestSaid(t *testing.T) {
	const english, german = "Nobody sits in the car.", "Niemand sitzt im Wagen."
	s := new(sheet.Sheet)
	eachText(reflect.ValueOf(s).Elem(), "", true, func(_ string, text reflect.Value) { text.SetString(english) })
	if s.Said() != s {
		t.Error("in English it is another sheet")
	}
	speakGerman(t)
	hash := s.Hash()
	fields, texts := textsOf(s.Said())
	for i, field := range fields {
		want := german
		if slices.Contains(codes, field) {
			want = english
		}
		if texts[i] != want {
			t.Errorf("%s is %q, want %q", field, texts[i], want)
		}
	}
	if s.Hash() != hash {
		t.Error("the sheet itself was changed")
	}
}

// TestSheetsInGerman: what is built on a German phone is the sheet of an English
// one. Every text of every sheet that the layouts give, and of the demo sheets, is
// in the catalogue, and Said finds it there.
func TestSheetsInGerman(t *testing.T) {
	english := everySheet(t)
	known, err := lang.Catalogue(lang.German)
	if err != nil {
		t.Fatal(err)
	}
	speakGerman(t)
	missing := map[string]string{}
	for name, s := range everySheet(t) {
		if s.Hash() != english[name].Hash() {
			t.Errorf("%s: built on a German phone it is another sheet", name)
		}
		fields, texts := textsOf(s)
		said := s.Said()
		_, others := textsOf(said)
		for i, text := range texts {
			if text == "" || slices.Contains(codes, fields[i]) || slices.Contains([]string{"own", "a car", "p. 1"}, text) {
				continue
			}
			if want, ok := known[text]; !ok || others[i] != want {
				missing[text] = fields[i]
			}
		}
		if step := s.Steps()[0]; said.Step(step.ID).Title != known[step.Title] {
			t.Errorf("step %s is found in English: %q", step.ID, said.Step(step.ID).Title)
		}
	}
	for _, text := range slices.Sorted(maps.Keys(missing)) {
		t.Errorf("%s: the catalogue lacks %q", missing[text], text)
	}
}

func TestFaultInGerman(t *testing.T) {
	speakGerman(t)
	s := sheet.Demo()[0]
	s.Fastener("damper_upper_RL").Final().Car = sheet.AtRide
	const want = `Dieses Einbaublatt ist nicht brauchbar. Schritt "damper_in_RL" macht Durchgang "final" der Verschraubung "damper_upper_RL"; ` +
		`dieser Durchgang braucht die Räder am Boden, aber bis dahin ist eine Achse angehoben.`
	if got := fault.Of(s.Validate()).Message; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// TestSaidNone: a job whose sheet is not here has none in any language.
func TestSaidNone(t *testing.T) {
	if err := lang.Use(lang.German); err != nil {
		t.Fatal(err)
	}
	defer lang.SpeakEnglish()
	if got := (*sheet.Sheet)(nil).Said(); got != nil {
		t.Errorf("no sheet became %v", got)
	}
}
