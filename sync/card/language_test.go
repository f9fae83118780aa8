package card_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"strutcard/calc/lang"
	"strutcard/sync/card"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
)

// TestLanguages: a card says in which language it is written and is checked in
// that one; in another it is neither called right nor wrong.
func TestLanguages(t *testing.T) {
	defer lang.SpeakEnglish()
	sh, events := sheet.Demo()[0], finished(t)
	events = append(events, sealed(t, events, &event.PassDone{Fastener: "wheel_nuts_FL", Pass: "final", TorqueCNM: 11_200, Count: 5, Hurried: true}))
	cards, ids := map[string]card.Card{}, map[string][]string{}
	tags := []string{lang.English, lang.German}
	for _, tag := range tags {
		if err := lang.Use(tag); err != nil {
			t.Fatal(err)
		}
		cards[tag] = of(t, sh, events)
		for _, f := range cards[tag].Findings {
			ids[tag] = append(ids[tag], f.ID+f.Rule+f.Severity)
		}
	}
	if !slices.Equal(ids[lang.English], ids[lang.German]) || len(ids[lang.German]) == 0 {
		t.Errorf("the findings of one record differ: %q, %q", ids[lang.English], ids[lang.German])
	}
	german := cards[lang.German]
	if german.Language != "de" || german.Code != cards[lang.English].Code || !strings.HasPrefix(german.State, "Vom Monteur abgeschlossen.") {
		t.Errorf("the German card: %q, %s, %q", german.Language, german.Code, german.State)
	}
	for _, written := range tags {
		for _, spoken := range tags {
			if err := lang.Use(spoken); err != nil {
				t.Fatal(err)
			}
			_, r, err := card.VerifyJSON(cards[written].Encode())
			if written == spoken && (err != nil || !r.Holds()) {
				t.Errorf("checked in its own language, %s, it does not hold: %q, %v", written, wrong(r), err)
			}
			if written != spoken && (!fault.Is(err, fault.Invalid) || !strings.Contains(err.Error(), ", "+written+",") || len(r.Checks) > 0) {
				t.Errorf("a card in %s, checked in %s: %d checks, %v", written, spoken, len(r.Checks), err)
			}
		}
	}
}

// TestEarlierCard: a card from before there was a language is in English.
func TestEarlierCard(t *testing.T) {
	data := of(t, sheet.Demo()[0], finished(t)).Encode()
	earlier := bytes.Replace(data, []byte("\n\t\"language\": \"en\","), nil, 1)
	if c, r, err := card.VerifyJSON(earlier); err != nil || !r.Holds() || bytes.Equal(data, earlier) || c.Spoken() != lang.English {
		t.Errorf("it does not hold: %q, %v", wrong(r), err)
	}
}
