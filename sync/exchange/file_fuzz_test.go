package exchange_test

import (
	"bytes"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/store/storetest"
)

// FuzzReadFile: what can be read of a file is written and read again without loss,
// and no line is lost without being counted.
func FuzzReadFile(f *testing.F) {
	e := storetest.Notes(f, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), 1)[0]
	whole := exchange.File{Events: []event.Event{e}}.String()
	for _, seed := range []string{whole, whole[:len(whole)/2], whole + whole, `{"sheet":{}}`, `{"sheet":null}`, "\r\n\n", "{", "\x00", `{"sheet":{"a": 1 }}` + "\r\n" + whole} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		got := exchange.ReadFile(data)
		lines := 0
		for line := range bytes.SplitSeq(data, []byte("\n")) {
			if len(bytes.TrimSpace(line)) > 0 {
				lines++
			}
		}
		if n := len(got.Events) + len(got.Sheets) + got.Broken; n != lines {
			t.Fatalf("%d of %d lines are accounted for", n, lines)
		}
		again := exchange.ReadFile([]byte(got.String()))
		if len(again.Events) != len(got.Events) || len(again.Sheets) != len(got.Sheets) || again.Broken != 0 {
			t.Fatalf("written and read again: %d events, %d sheets, %d broken, want %d, %d, 0", len(again.Events), len(again.Sheets), again.Broken, len(got.Events), len(got.Sheets))
		}
		for i := range got.Events {
			if again.Events[i].Line() != got.Events[i].Line() {
				t.Fatalf("event %d changed", i)
			}
		}
	})
}
