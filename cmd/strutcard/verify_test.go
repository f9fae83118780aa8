package main

import (
	"os"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"strutcard/calc/lang"
	"strutcard/sync/card"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
	"strutcard/templates/paper"
)

func TestVerify(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/verify", Cmds: map[string]func(*testscript.TestScript, bool, []string){
		"finish": func(ts *testscript.TestScript, _ bool, _ []string) { finish(t, ts) },
		"change": change,
	}})
}

// finish writes the three files of a finished demo job, two of them also in German
// and one in a language that nobody speaks, and its code.
func finish(t *testing.T, ts *testscript.TestScript) {
	sh := sheet.Demo()[0]
	events := guidetest.Walk(t, sh)
	c, page := drawn(ts, sh, events)
	ts.Check(lang.Use(lang.German))
	german, germanPage := drawn(ts, sh, events)
	lang.SpeakEnglish()
	foreign := german
	foreign.Language = "xx"
	record := exchange.File{Events: events}
	record.Sheets = append(record.Sheets, sh.Encode())
	for name, text := range map[string]string{"card.json": string(c.Encode()), "card.html": string(page), "copy.txt": record.String(),
		"karte.json": string(german.Encode()), "karte.html": string(germanPage), "foreign.json": string(foreign.Encode())} {
		ts.Check(os.WriteFile(ts.MkAbs(name), []byte(text), 0o600))
	}
	ts.Setenv("CODE", c.Code)
}

func drawn(ts *testscript.TestScript, sh *sheet.Sheet, events []event.Event) (card.Card, []byte) {
	c, err := card.Of(events[0].Job, sh.Encode(), events, card.Beside{})
	ts.Check(err)
	page, err := paper.Whole(c)
	ts.Check(err)
	return c, page
}

// change writes a file again with the first of one text made another.
func change(ts *testscript.TestScript, _ bool, args []string) {
	from, to, old, other := args[0], args[1], args[2], args[3]
	text := ts.ReadFile(from)
	if !strings.Contains(text, old) {
		ts.Fatalf("%s does not say %q", from, old)
	}
	ts.Check(os.WriteFile(ts.MkAbs(to), []byte(strings.Replace(text, old, other, 1)), 0o600))
}
