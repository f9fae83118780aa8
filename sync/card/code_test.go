package card_test

import (
	"strings"
	"testing"

	"strutcard/sync/card"
	"strutcard/sync/event"
)

// TestCodeByHand: the code of four events, two devices and a fork was computed
// by another program from the package comment alone.
func TestCodeByHand(t *testing.T) {
	const want = "7WDV-CA9N-7N9N-EHFC-TVMF"
	if got := card.CodeOf("5e", lines(t)); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func lines(t *testing.T) (out []event.Event) {
	t.Helper()
	for _, l := range []string{
		`{"id":"01a22383-49a8-7242-a847-345c045c0901","job":"01a22383-49a8-7242-a847-345c045c09aa","device":"01a22383-49a8-7242-a847-345c045c09d1","seq":1,"tick":1,"at":1,"kind":"note_added","v":1,"prev":"","data":{"text":"one"}}`,
		`{"id":"01a22383-49a8-7242-a847-345c045c0902","job":"01a22383-49a8-7242-a847-345c045c09aa","device":"01a22383-49a8-7242-a847-345c045c09d1","seq":1,"tick":1,"at":1,"kind":"note_added","v":1,"prev":"","data":{"text":"a fork"}}`,
		`{"id":"01a22383-49a8-7242-a847-345c045c0903","job":"01a22383-49a8-7242-a847-345c045c09aa","device":"01a22383-49a8-7242-a847-345c045c09c2","seq":1,"tick":2,"at":1,"kind":"note_added","v":1,"prev":"","data":{"text":"another phone"}}`,
		`{"id":"01a22383-49a8-7242-a847-345c045c0904","job":"01a22383-49a8-7242-a847-345c045c09aa","device":"01a22383-49a8-7242-a847-345c045c09d1","seq":2,"tick":3,"at":1,"kind":"note_added","v":1,"prev":"86f88a2722792cd63673952562679effe5117c990c56e5c8566428ad3639389f","data":{"text":"after one"}}`,
	} {
		e, err := event.Decode([]byte(l))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, e)
	}
	return out
}

// TestCodeChanges: any event more, less or other is another code; the order in
// which they came is not.
func TestCodeChanges(t *testing.T) {
	events := finished(t)
	code := card.CodeOf("5e", events)
	for name, other := range map[string]string{
		"another sheet": card.CodeOf("5f", events), "the last dropped": card.CodeOf("5e", events[:len(events)-1]),
		"one in the middle dropped": card.CodeOf("5e", append(events[:40:40], events[41:]...)), "another phone's": card.CodeOf("5e", append(events, lines(t)[2])),
	} {
		if other == code {
			t.Errorf("%s: the same code", name)
		}
	}
	if got := card.CodeOf("5e", append(events[100:len(events):len(events)], events[:100]...)); got != code {
		t.Error("the code hangs on the order in which events came")
	}
}

// TestReadCode: read aloud, typed by hand.
func TestReadCode(t *testing.T) {
	code := card.CodeOf("5e", finished(t))
	spoken := strings.NewReplacer("-", " ", "0", "o", "1", "l").Replace(strings.ToLower(code))
	for _, typed := range []string{code, spoken, strings.ReplaceAll(code, "-", "")} {
		if got, err := card.ReadCode(typed); err != nil || got != code {
			t.Errorf("%q is read as %q, %v", typed, got, err)
		}
	}
}

// TestErrReadCode: every single symbol misread, and every two neighbours
// swapped, is noticed.
func TestErrReadCode(t *testing.T) {
	plain := strings.ReplaceAll(card.CodeOf("5e", finished(t)), "-", "")
	tried := 0
	check := func(typed string) {
		t.Helper()
		tried++
		if _, err := card.ReadCode(typed); err == nil && typed != plain {
			t.Errorf("%s is taken for a code, the code is %s", typed, plain)
		}
	}
	for i := range plain {
		for _, c := range "0123456789ABCDEFGHJKMNPQRSTVWXYZ*~$=U" {
			if byte(c) != plain[i] {
				check(plain[:i] + string(c) + plain[i+1:])
			}
		}
		if i > 0 && plain[i] != plain[i-1] {
			check(plain[:i-1] + string(plain[i]) + string(plain[i-1]) + plain[i+1:])
		}
	}
	if tried < 700 {
		t.Fatalf("only %d were tried", tried)
	}
	for _, typed := range []string{"", "-", plain[1:], plain + "0", strings.Repeat("é", 10)} {
		if _, err := card.ReadCode(typed); err == nil {
			t.Errorf("%q is taken for a code", typed)
		}
	}
}
