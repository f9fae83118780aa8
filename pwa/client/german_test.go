package client_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/store"
)

// written makes a whole job, and own sheets, in a language. It gives the lines of
// the record and the hashes of the sheets: without the ids, which are random, the
// hashes of the chain, which follow from them, and the instrument, which is told in
// the words of who measured.
func written(t *testing.T, tag string) (lines []string, sheets []string) {
	t.Helper()
	if err := lang.Use(tag); err != nil {
		t.Fatal(err)
	}
	defer lang.SpeakEnglish()

	own := newPhone(t, store.NewMemory(time.Now))
	_, whole := own.made(own.wholeOwn())
	slip := own.begin("front_strut", "none")
	for range 2 { // the second press confirms what looks unusual
		own.put(slip, "torque.sensor_bracket_front", "thread", "M6", "unit", "lbf·ft", "torque", "80", "source", "manual p. 9", "confirm", "yes")
	}
	_, confirmed := own.made(slip)

	p := newPhone(t, store.NewMemory(time.Now))
	p.openDemo()
	p.must("comment", "comment", "The box was open.")
	p.must("reading", "quantity", "ride_height", "place", "FL", "purpose", "before", "height", "383.5", "mark", "1", "load", lang.T("as it stands, nobody in the car"))
	for i := 0; p.state().Finished == nil && i < 800; i++ {
		p.next()
	}
	p.must("export")
	for name, text := range p.page.files {
		if strings.HasSuffix(name, ".jsonl.txt") {
			text = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f-]{27}`).ReplaceAllString(text, "id")
			text = regexp.MustCompile(`("prev":")[0-9a-f]{64}`).ReplaceAllString(text, "${1}hash")
			text = regexp.MustCompile(`"instrument":"[^"]*",`).ReplaceAllString(text, "")
			lines = strings.Split(text, "\n")
		}
	}
	return lines, []string{whole, confirmed}
}

// What is recorded and what is hashed is the same in every language.
func TestGermanWritesTheSame(t *testing.T) {
	want, sheets := written(t, lang.English)
	got, same := written(t, lang.German)
	if !slices.Equal(same, sheets) {
		t.Errorf("own sheets made in German have the hashes %v, want %v", same, sheets)
	}
	if len(want) < 100 || len(got) != len(want) {
		t.Fatalf("%d lines in German, %d in English", len(got), len(want))
	}
	for i := range want {
		if got[i] != want[i] {
			t.Fatalf("in German line %d is\n%s\nwant\n%s", i, got[i], want[i])
		}
	}
}

func TestGermanWords(t *testing.T) {
	if err := lang.Use(lang.German); err != nil {
		t.Fatal(err)
	}
	defer lang.SpeakEnglish()
	p := newPhone(t, store.NewMemory(time.Now))
	id := p.wholeOwn()
	p.must("own", "own", id)
	p.says("r-main", "Drehmomente von 22 Arten von Verschraubungen: 2 bekannt, 0 ungeprüft, 20 im Auftrag nachzuschlagen.")
	p.says("r-main", "58 % auf der Vorderachse, Radstand 2520 mm, Spurweite 1470 mm, angetrieben: vorn, Feststellbremse: hinten.")
	p.says("r-main", "M14x1.5: 131,5 N·m, angelegt mit 24,4 N·m. manual p. 5")
}

// The words that a stop begins with tell it from other texts.
func TestGermanStops(t *testing.T) {
	texts, err := lang.Catalogue(lang.German)
	if err != nil {
		t.Fatal(err)
	}
	for text, german := range texts {
		for english, begins := range map[string]string{"Stop: ": "Halt: ", "Stop. ": "Halt. "} {
			if strings.HasPrefix(text, english) && !strings.HasPrefix(german, begins) {
				t.Errorf("%q is %q: want it to begin with %q", text, german, begins)
			}
		}
	}
}
