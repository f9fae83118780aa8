package paper_test

import (
	"bytes"
	"strings"
	"testing"

	"strutcard/sync/card"
	"strutcard/sync/event"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
	"strutcard/templates/paper"
)

func whole(t *testing.T, j *guidetest.Job) string {
	t.Helper()
	events := j.Events()
	c, err := card.Of(events[0].Job, j.Sheet.Encode(), events, card.Beside{Made: "2026-11-28T10:00:00Z"})
	if err != nil {
		t.Fatal(err)
	}
	page, err := paper.Whole(c)
	if err != nil {
		t.Fatal(err)
	}
	data, err := paper.Data(page)
	if err != nil || !bytes.Equal(data, c.Encode()) {
		t.Errorf("the page carries other data than the card: %v", err)
	}
	return string(page)
}

// TestInWork: what is not final, not measured again or not sure stands there in
// so many words.
func TestInWork(t *testing.T) {
	j := guidetest.New(t, sheet.Demo()[0])
	j.Until("free_FR")
	j.Force(&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Setting, Method: "by eye", ValueMD: -1250},
		&event.DecisionMade{Decision: event.Return, Name: "the shop", Text: "Who looked?", Proof: "00"})
	page := whole(t, j)
	for _, want := range []string{"NOT FINAL. Loose.", "Do not drive", "−1.25°, uncertainty not known", "not measured again", "not tightened in this job", "the shop, returned, about the whole job: Who looked?",
		"Invented: demo values", "not done yet", card.Deferral[:40], string(sheet.Demo()[0].Hash())} {
		if !strings.Contains(page, want) {
			t.Errorf("it does not say %q", want)
		}
	}
	if strings.Contains(page, "± 0.00°") {
		t.Error("it claims an uncertainty of nothing")
	}
}

// TestEscape: what people wrote stays text, and cannot end the data block.
func TestEscape(t *testing.T) {
	j := guidetest.New(t, sheet.Demo()[0])
	j.Force(&event.NoteAdded{Text: `</script><img src=x onerror=alert(1)><!-- "&`})
	page := whole(t, j)
	if n := strings.Count(page, "</script"); n != 1 {
		t.Errorf("%d scripts end in it, want the data block alone", n)
	}
	if strings.Contains(page, "<img") || strings.Contains(page, "<!--") || !strings.Contains(page, "&lt;img src=x") {
		t.Error("a note became part of the page")
	}
	for _, sent := range []string{"src=\"", "url(", "http://", "https://", "<link", "@import"} {
		if strings.Contains(page, sent) {
			t.Errorf("it asks for something elsewhere: %s", sent)
		}
	}
}

func TestErrData(t *testing.T) {
	for _, text := range []string{"", "<!doctype html>", `<script type="application/json" id="card">{}`} {
		if _, err := paper.Data([]byte(text)); err == nil {
			t.Errorf("%q: taken for a card", text)
		}
	}
}
