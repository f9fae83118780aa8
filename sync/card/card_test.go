package card_test

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"slices"
	"strings"
	"sync"
	"testing"

	"strutcard/sync/card"
	"strutcard/sync/event"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

var walked = struct {
	once   sync.Once
	events []event.Event
}{}

// finished is the record of the first demo job, walked once.
func finished(t *testing.T) []event.Event {
	t.Helper()
	walked.once.Do(func() { walked.events = guidetest.Walk(t, sheet.Demo()[0]) })
	if walked.events == nil {
		t.Fatal("the demo job was not walked")
	}
	return slices.Clone(walked.events)
}

func of(t *testing.T, sh *sheet.Sheet, events []event.Event) card.Card {
	t.Helper()
	c, err := card.Of(events[0].Job, sh.Encode(), events, card.Beside{Made: "2026-11-28T10:00:00Z",
		Names: map[event.DeviceID]string{events[0].Device: "Ann's phone"}})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestOf: what a stranger needs stands on the card of a finished job.
func TestOf(t *testing.T) {
	sh := sheet.Demo()[0]
	c := of(t, sh, finished(t))
	if c.Vehicle != "test car" || c.Sheet.Hash != sh.Hash() || !c.Sheet.Here || c.Finished == "" || !c.Invented || c.Deferral == "" || len(c.Cautions) == 0 {
		t.Errorf("head: %q %q %v %q", c.Vehicle, c.Sheet.Hash, c.Sheet.Here, c.Finished)
	}
	if c.Opened != "2026-09-21T08:00:00Z" || len(c.Devices) != 2 || c.Devices[0].Name != "Ann's phone" || c.Devices[0].Events+c.Devices[1].Events != len(finished(t)) {
		t.Errorf("opened %q by %+v", c.Opened, c.Devices)
	}
	if len(c.Fasteners) != len(sh.Fasteners) {
		t.Fatalf("%d fasteners, the sheet has %d", len(c.Fasteners), len(sh.Fasteners))
	}
	for _, f := range c.Fasteners {
		if strings.HasPrefix(string(f.ID), "track_rod_lock") { // nobody moved what it holds
			if f.Clear || f.Phase != "not touched" || f.Reason != "" || len(f.Passes) != 0 {
				t.Errorf("%s: %+v", f.ID, f)
			}
			continue
		}
		last := f.Passes[len(f.Passes)-1]
		if !f.Clear || f.Source == "" || last.TorqueCNM != f.TorqueCNM || last.TorqueCNM == 0 || last.Wrench == "" || last.At == "" || last.By != c.Devices[0].Device || !last.Holds {
			t.Errorf("%s: %+v", f.ID, f)
		}
	}
	met := 0
	for _, r := range c.Readings {
		if r.Purpose == event.Final && r.Target != nil && r.Verdict == "met" && r.U95 > 0 && r.Method != "" {
			met++
		}
	}
	if met == 0 || len(c.Clicks) == 0 || len(c.Positions) == 0 || len(c.Parts) == 0 || len(c.Tools) == 0 || len(c.Lifts) == 0 || len(c.Leftovers) == 0 || len(c.Rechecks) == 0 {
		t.Errorf("missing: %d readings met, %d clicks, %d positions, %d parts, %d tools, %d lifts, %d leftovers, %d rechecks",
			met, len(c.Clicks), len(c.Positions), len(c.Parts), len(c.Tools), len(c.Lifts), len(c.Leftovers), len(c.Rechecks))
	}
}

// TestOfInWork: what is not final stands there as such, and so do the words of
// those who looked.
func TestOfInWork(t *testing.T) {
	sh := sheet.Demo()[0]
	j := guidetest.New(t, sh)
	j.Until("free_FR")
	j.Force(&event.CommentAdded{Fastener: "wheel_nuts_FL", Name: "Ben", Text: "Which stud?"},
		&event.DecisionMade{Finding: "a1", Decision: event.Query, Name: "the shop", Text: "Who looked?", Proof: "00"},
		&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Final, Method: "by eye", ValueMD: -1250})
	c := of(t, sh, j.Events())
	loose := slices.IndexFunc(c.Fasteners, func(f card.Fastener) bool { return f.ID == "wheel_nuts_FL" })
	if f := c.Fasteners[loose]; f.Clear || f.Reason == "" || !strings.Contains(c.State, "Do not drive") || c.Finished != "" {
		t.Errorf("in work: %q, %+v", c.State, f)
	}
	if len(c.Review) != 2 || c.Review[0].About != "Wheel nuts, front left" || c.Review[1].Kind != "ask" {
		t.Errorf("said: %+v", c.Review)
	}
	if r := c.Readings[len(c.Readings)-1]; r.U95 != 0 || r.Value != -1250 {
		t.Errorf("a reading whose uncertainty nobody knows: %+v", r)
	}
}

// TestOfWithoutSheet: the record alone is told, and judged by nothing.
func TestOfWithoutSheet(t *testing.T) {
	events := finished(t)
	c, err := card.Of(events[0].Job, nil, events, card.Beside{})
	if err != nil {
		t.Fatal(err)
	}
	if c.Sheet.Here || len(c.Fasteners) != 0 || len(c.Readings) == 0 || c.Readings[0].Target != nil || len(c.Record) != len(events) {
		t.Errorf("without a sheet: %+v, %d fasteners, %d lines", c.Sheet, len(c.Fasteners), len(c.Record))
	}
	if c.Code != of(t, sheet.Demo()[0], events).Code {
		t.Error("the code hangs on whether the sheet is at hand")
	}
	if strings.Contains(string(c.Encode()), ": null") {
		t.Error("an empty list is written as null")
	}
}

func TestErrOfOtherSheet(t *testing.T) {
	events := finished(t)
	if _, err := card.Of(events[0].Job, sheet.Demo()[1].Encode(), events, card.Beside{}); err == nil {
		t.Error("a card was made with a sheet that the job does not follow")
	}
}

// TestOfAnyOrder: the card does not hang on the order in which events came.
func TestOfAnyOrder(t *testing.T) {
	events := finished(t)
	want := string(of(t, sheet.Demo()[0], events).Encode())
	slices.Reverse(events)
	c, err := card.Of(events[0].Job, sheet.Demo()[0].Encode(), append(events, events[3]), card.Beside{Made: "2026-11-28T10:00:00Z",
		Names: map[event.DeviceID]string{events[0].Device: "Ann's phone"}})
	if err != nil || string(c.Encode()) != want {
		t.Errorf("another card when the events come backwards and one twice: %v", err)
	}
}

// awkward is a job in which people wrote what a spreadsheet would run.
func awkward(t *testing.T) card.Card {
	sh := sheet.Demo()[0]
	j := guidetest.New(t, sh)
	final := sh.Fastener("wheel_nuts_FL").Final().ID
	for _, source := range []string{"=1+1", "+1", "-1", "@a", "\ttab", "\rreturn"} {
		j.Force(&event.SpecGiven{Fastener: "wheel_nuts_FL", Pass: final, TorqueCNM: 10_250, Source: source})
		c := of(t, sh, j.Events())
		i := slices.IndexFunc(c.Fasteners, func(f card.Fastener) bool { return f.ID == "wheel_nuts_FL" })
		if got := table(t, c.WriteFasteners)[i+1][9]; strings.ReplaceAll(got, "\r", "") != "'"+strings.ReplaceAll(source, "\r", "") {
			t.Errorf("source %q is written as %q", source, got)
		}
	}
	j.Force(&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: `level, "long" and ruler`, Instrument: "=cmd()", ValueMD: -1250, U95Mdeg: 60},
		&event.ReadingTaken{Quantity: event.RideHeight, Corner: event.FL, Purpose: event.Before, Method: "tape", ValueUM: 355_050})
	return of(t, sh, j.Events())
}

func table(t *testing.T, write func(io.Writer) error) [][]string {
	t.Helper()
	var b strings.Builder
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	if !strings.HasSuffix(b.String(), "\r\n") {
		t.Error("a line does not end as RFC 4180 has it")
	}
	rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil {
		t.Fatalf("it does not read back: %v", err)
	}
	return rows
}

// TestCSV: numbers stay numbers, also negative ones; what people wrote is never
// a formula.
func TestCSV(t *testing.T) {
	c := awkward(t)
	rows := table(t, c.WriteReadings)
	column := func(name string) int {
		i := slices.Index(rows[0], name)
		if i < 0 {
			t.Fatalf("no column %s in %v", name, rows[0])
		}
		return i
	}
	for _, w := range []struct {
		row          int
		column, want string
	}{
		{1, "value_deg", "-1.25"}, {1, "u95_deg", "0.06"}, {1, "value_mm", ""}, {1, "target_deg", "-1.5"}, {1, "tolerance_deg", "0.5"}, {1, "instrument", "'=cmd()"},
		{1, "method", `level, "long" and ruler`}, {1, "takes", "1"}, {2, "value_mm", "355.05"}, {2, "u95_mm", ""}, {2, "device", "Ann's phone"},
	} {
		if got := rows[w.row][column(w.column)]; got != w.want {
			t.Errorf("reading %d, %s: got %q, want %q", w.row, w.column, got, w.want)
		}
	}
	c = of(t, sheet.Demo()[0], finished(t))
	rows = table(t, c.WriteFasteners)
	passes := 0
	for _, f := range sheet.Demo()[0].Fasteners {
		if f.Holds == event.Toe {
			passes++ // one line says that nobody touched it
		} else {
			passes += len(f.Passes)
		}
	}
	if len(rows) != passes+1 {
		t.Errorf("%d lines, want %d passes and the names", len(rows), passes)
	}
	for name, want := range map[string]string{"asked_Nm": "112", "made_Nm": "56", "wrench_set_Nm": "56", "made_count": "5", "clear": "yes", "hurried": "no"} {
		if got := rows[2][column(name)]; got != want {
			t.Errorf("wheel nuts, second pass, %s: got %q, want %q (%v)", name, got, want, rows[2])
		}
	}
}

// TestFoldAgrees: the card tells no other state than the fold.
func TestFoldAgrees(t *testing.T) {
	events := finished(t)
	c, st := of(t, sheet.Demo()[0], events), job.Fold(events[0].Job, events)
	if len(c.Readings) != len(st.Readings) || c.Counts.All != int(st.Count) || len(c.Lifts) != len(st.Lifts) {
		t.Errorf("card: %d readings, %d events, %d lifts; fold: %d, %d, %d", len(c.Readings), c.Counts.All, len(c.Lifts), len(st.Readings), st.Count, len(st.Lifts))
	}
	var back card.Card
	if err := json.Unmarshal(c.Encode(), &back); err != nil || string(back.Encode()) != string(c.Encode()) {
		t.Errorf("the card changes when it is read and written again: %v", err)
	}
}
