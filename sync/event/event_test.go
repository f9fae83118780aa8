package event_test

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"strutcard/sync/event"
	v1 "strutcard/sync/event/testdata/v1"
	"strutcard/sync/fault"
)

const (
	jobID   event.JobID    = "01900000-0000-7000-8000-0000000000ff"
	deviceA event.DeviceID = "01900000-0000-7000-8000-00000000000a"
	deviceB event.DeviceID = "01900000-0000-7000-8000-00000000000b"
)

// id returns the n-th fixed event id.
func id(n int) event.ID { return event.ID(fmt.Sprintf("01900000-0000-7000-8000-%012d", n)) }

// plain is a line spelled by hand, not by the code under test.
const plain = `{"id":"01900000-0000-7000-8000-000000000002","job":"01900000-0000-7000-8000-0000000000ff",` +
	`"device":"01900000-0000-7000-8000-00000000000a","seq":2,"tick":7,"at":1790000000000,"kind":"note_added","v":1,` +
	`"prev":"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa","data":{"text":"a \u003cb\u003e é"}}`

func TestDecode(t *testing.T) {
	e, err := event.Decode([]byte(plain))
	if err != nil {
		t.Fatal(err)
	}
	if e.ID != id(2) || e.Job != jobID || e.Device != deviceA || e.Seq != 2 || e.Tick != 7 || e.Kind != event.KindNoteAdded || e.V != 1 {
		t.Errorf("envelope = %+v", e)
	}
	if got := e.Time().Format("2006-01-02 15:04"); got != "2026-09-21 14:13" {
		t.Errorf("Time = %s", got)
	}
	if got := e.Payload().(*event.NoteAdded).Text; got != "a <b> é" {
		t.Errorf("text = %q", got)
	}
	if got, want := string(e.Hash()), fmt.Sprintf("%x", sha256.Sum256([]byte(plain))); got != want {
		t.Errorf("Hash = %s, want the SHA-256 of the line, %s", got, want)
	}
	if string(e.Data()) != `{"text":"a \u003cb\u003e é"}` {
		t.Errorf("Data = %s", e.Data())
	}
}

func TestErrDecode(t *testing.T) {
	swap := func(old, with string) string {
		if strings.Count(plain, old) != 1 {
			panic("the test swaps a text that is not there once: " + old)
		}
		return strings.Replace(plain, old, with, 1)
	}
	tests := map[string]struct{ line, want string }{
		"empty":                {"", "not an event line"},
		"a web page":           {"<html>sign in</html>", "not an event line"},
		"null":                 {"null", "id"},
		"bad UTF-8":            {swap("é", "\xff"), "UTF-8"},
		"white space":          {swap(`"seq":2`, `"seq": 2`), "canonical"},
		"trailing line end":    {plain + "\n", "canonical"},
		"something after it":   {plain + "{}", "canonical"},
		"fields reordered":     {swap(`"seq":2,"tick":7`, `"tick":7,"seq":2`), "canonical"},
		"field twice":          {swap(`"seq":2`, `"seq":2,"seq":2`), "canonical"},
		"field in capitals":    {swap(`"seq":2`, `"SEQ":2`), "canonical"},
		"unescaped <":          {swap(`\u003cb`, `<b`), "canonical"},
		"capital escape":       {swap(`\u003cb`, `\u003Cb`), "canonical"},
		"data field twice":     {swap(`{"text"`, `{"text":"b","text"`), "canonical"},
		"data in capitals":     {swap(`{"text"`, `{"Text"`), "canonical"},
		"data spelled out":     {swap(`{"text"`, `{"step":"","text"`), "canonical"},
		"needless escape":      {swap(`"note_added"`, `"note\u005fadded"`), "canonical"},
		"space in data":        {swap(`{"text":`, `{ "text":`), "canonical"},
		"unknown field":        {swap(`"v":1`, `"v":1,"actor":"me"`), "not an event line"},
		"field left out":       {swap(`"at":1790000000000,`, ""), "canonical"},
		"no id":                {swap(string(id(2)), ""), "id"},
		"id in capitals":       {swap(`"01900000-0000-7000-8000-0000000000ff"`, `"01900000-0000-7000-8000-0000000000FF"`), "job"},
		"id in braces":         {swap(string(id(2)), "{"+string(id(2))+"}"), "id"},
		"id without dashes":    {swap(string(deviceA), strings.ReplaceAll(string(deviceA), "-", "")), "device"},
		"seq 0":                {swap(`"seq":2`, `"seq":0`), "sequence"},
		"seq above 2^53":       {swap(`"seq":2`, `"seq":9007199254740993`), "sequence"},
		"seq as a float":       {swap(`"seq":2`, `"seq":2.0`), "not an event line"},
		"first with a link":    {swap(`"seq":2`, `"seq":1`), "link"},
		"second without link":  {swap(strings.Repeat("a", 64), ""), "link"},
		"link too short":       {swap(strings.Repeat("a", 64), strings.Repeat("a", 62)), "link"},
		"link in capitals":     {swap(strings.Repeat("a", 64), strings.Repeat("A", 64)), "link"},
		"tick 0":               {swap(`"tick":7`, `"tick":0`), "tick"},
		"no kind":              {swap("note_added", ""), "kind"},
		"kind in capitals":     {swap("note_added", "Note"), "kind"},
		"endless kind":         {swap("note_added", strings.Repeat("k", 41)), "kind"},
		"version 0":            {swap(`"v":1`, `"v":0`), "version"},
		"version 1001":         {swap(`"v":1`, `"v":1001`), "version"},
		"data is a list":       {swap(`{"text":"a \u003cb\u003e é"}`, `[]`), "object"},
		"data is null":         {swap(`{"text":"a \u003cb\u003e é"}`, `null`), "object"},
		"no data":              {swap(`,"data":{"text":"a \u003cb\u003e é"}`, ``), "object"},
		"data too large":       {swap(`a \u003cb\u003e é`, strings.Repeat("x", event.MaxData)), "larger"},
		"unknown data field":   {swap(`{"text"`, `{"colour":"red","text"`), "note_added"},
		"data of another type": {swap(`"a \u003cb\u003e é"`, `7`), "note_added"},
		"wrong data value":     {swap(`a \u003cb\u003e é`, ``), "text"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			_, err := event.Decode([]byte(test.line))
			refused(t, err, test.want)
		})
	}
}

func TestNewerAppIsKept(t *testing.T) {
	for name, line := range map[string]string{
		"unknown kind":    strings.Replace(plain, "note_added", "wing_flapped", 1),
		"newer version":   strings.Replace(plain, `"v":1`, `"v":2`, 1),
		"newer with more": strings.Replace(strings.Replace(plain, `"v":1`, `"v":1000`, 1), `{"text"`, `{"deep":{"list":[1.5,null]},"text"`, 1),
		"largest data":    strings.Replace(strings.Replace(plain, "note_added", "wing_flapped", 1), `a \u003cb\u003e é`, strings.Repeat("x", event.MaxData-len(`{"text":""}`)), 1),
	} {
		t.Run(name, func(t *testing.T) {
			e, err := event.Decode([]byte(line))
			if err != nil {
				t.Fatal(err)
			}
			if e.Known() || e.Payload() != nil {
				t.Errorf("Known = %v, Payload = %v, want an event for a newer app", e.Known(), e.Payload())
			}
			if e.Line() != line {
				t.Errorf("line changed:\n got %s\nwant %s", e.Line(), line)
			}
		})
	}
}

func TestJSONKeepsTheLine(t *testing.T) {
	e, err := event.Decode([]byte(plain))
	if err != nil {
		t.Fatal(err)
	}
	box, err := json.Marshal(map[string]event.Event{"event": e})
	if err != nil {
		t.Fatal(err)
	}
	var back map[string]event.Event
	if err := json.Unmarshal(box, &back); err != nil {
		t.Fatal(err)
	}
	if got := back["event"].Line(); got != plain {
		t.Errorf("line after JSON\n got %s\nwant %s", got, plain)
	}
	if _, err := json.Marshal(event.Event{ID: id(1)}); err == nil {
		t.Error("an event that nobody sealed was written")
	}
	if err := json.Unmarshal([]byte(`{"event":{"id":"x"}}`), &back); !fault.Is(err, fault.Invalid) {
		t.Errorf("a broken event in JSON gave %v, want a fault", err)
	}
}

// TestFrozen reads logs that an app of version 1 wrote. They are never written again.
func TestFrozen(t *testing.T) {
	kinds := map[event.Kind]bool{}
	for name, lines := range v1.Logs() {
		t.Run(name, func(t *testing.T) {
			var events []event.Event
			for i, line := range lines {
				e, err := event.Decode([]byte(line))
				if err != nil {
					t.Fatalf("line %d: %v", i+1, err)
				}
				if e.Line() != line {
					t.Errorf("line %d reads back as %s", i+1, e.Line())
				}
				kinds[e.Kind] = kinds[e.Kind] || e.Known()
				events = append(events, e)
			}
			if gaps := event.Gaps(events); len(gaps) != 0 {
				t.Errorf("Gaps = %v, want none", gaps)
			}
		})
	}
	for _, k := range event.Kinds() {
		if !kinds[k] {
			t.Errorf("no frozen line of kind %s: freeze a further log with it", k)
		}
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(plain))
	f.Add([]byte(strings.Replace(plain, `"v":1`, `"v":2`, 1)))
	for _, p := range samples {
		f.Add([]byte(seal(f, p).Line()))
	}
	f.Fuzz(func(t *testing.T, line []byte) {
		e, err := event.Decode(line)
		if err != nil {
			if !fault.Is(err, fault.Invalid) {
				t.Fatalf("refused with %v, want an %s fault", err, fault.Invalid)
			}
			return
		}
		out, err := json.Marshal(e)
		if err != nil || string(out) != string(line) || e.Line() != string(line) {
			t.Fatalf("a line that decodes comes back as %s (%v)", out, err)
		}
		if e.Known() != (e.Payload() != nil) {
			t.Fatalf("Known = %v with payload %v", e.Known(), e.Payload())
		}
		if got, want := string(e.Hash()), fmt.Sprintf("%x", sha256.Sum256(line)); got != want {
			t.Fatalf("Hash = %s, want %s", got, want)
		}
	})
}
