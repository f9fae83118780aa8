package client_test

import (
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
)

// driven is a finished job whose wheel nuts are checked again after 50 km and
// another fastener after 500. The distances are invented.
func driven(t *testing.T, vehicle string) *bench {
	t.Helper()
	s := sheet.Demo()[0]
	other := false
	for i := range s.Fasteners {
		f := &s.Fasteners[i]
		f.Recheck = 0
		switch {
		case f.Wheel:
			f.Recheck = 50
		case !other:
			f.Recheck, other = 500, true
		}
	}
	if err := s.Validate(); err != nil {
		t.Fatal(err)
	}
	j := guidetest.New(t, s)
	j.Log, j.Chain = job.NewLog(j.Chain.Job), event.Chain{Job: j.Chain.Job, Device: j.Chain.Device}
	j.Force(&event.JobOpened{Sheet: s.Hash(), Title: s.Title, Vehicle: vehicle})
	for range 1500 {
		if j.Log.State().Finished != nil {
			return newBench(t, j)
		}
		step := j.Guide().Next()
		if step != nil && step.Later {
			j.Do(&event.JobFinished{})
			continue
		}
		if step == nil || !j.Advance() {
			break
		}
	}
	t.Fatal("the job did not end")
	return nil
}

func TestRecheckReminder(t *testing.T) {
	b := driven(t, "Ostler Wren (invented)")
	b.must("home")
	if row := b.rowOf(); !strings.Contains(row, "finished · re-check wheel nuts after 50 km (31 miles)") {
		t.Errorf("the list says %q", row)
	}
	b.must("open_job", "job", string(b.job))
	b.must("card")
	b.wantSaid("Re-check wheel nuts after 50 km (31 miles).")
	b.press("Re-check: what, and a reminder")
	b.wantSaid("after 500 km (311 miles)")
	day := b.clock.now.Local().AddDate(0, 0, 3)
	if !strings.Contains(b.page.region("r-main"), `value="`+day.Format("2006-01-02")+`"`) {
		t.Errorf("the day offered is not in three days:\n%s", b.page.region("r-main"))
	}
	b.must("go", "step", "recheck")
	for range 50 {
		if b.state().Steps["recheck"].DoneN > 0 || !b.next() {
			break
		}
	}
	if b.state().Steps["recheck"].DoneN == 0 {
		t.Fatalf("the re-check could not be done:\n%s", b.screen())
	}
	b.must("card")
	b.wantUnsaid("Re-check wheel nuts after")
	b.must("home")
	if row := b.rowOf(); strings.Contains(row, "re-check") {
		t.Errorf("after the re-check the list says %q", row)
	}
}

// TestReminderFile reads the file back with a library of calendars.
func TestReminderFile(t *testing.T) {
	b := driven(t, `Long, "quoted"; back\slash, ‘ärlig’ bil med ett väldigt långt namn så att raden måste brytas 🚗🚗`)
	b.must("save_reminder", "day", "2026-10-02")
	text, made := b.page.files["strutcard-recheck-2026-10-02.ics"]
	if !made {
		t.Fatalf("files: %v", b.page.files)
	}
	for _, line := range strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n") {
		if len(line) > 75 || strings.ContainsAny(line, "\r\n") {
			t.Errorf("line of %d octets: %q", len(line), line)
		}
	}
	// The library reads unescaped text too, so what the format asks is looked at itself.
	if unfolded := strings.ReplaceAll(text, "\r\n ", ""); !strings.Contains(unfolded, `: Long\, "quoted"\; back\\slash\, `) {
		t.Errorf("the summary is not escaped:\n%s", unfolded)
	}
	cal, err := ics.ParseCalendar(strings.NewReader(text))
	if err != nil {
		t.Fatalf("the library cannot read it: %v\n%s", err, text)
	}
	if got := len(cal.Events()); got != 1 {
		t.Fatalf("%d entries, want 1", got)
	}
	e := cal.Events()[0]
	get := func(p ics.ComponentProperty) string {
		if got := e.GetProperty(p); got != nil {
			return got.Value
		}
		return ""
	}
	if got, want := get(ics.ComponentPropertySummary), "Re-check wheel nuts after 50 km (31 miles): "+b.state().Opened.Vehicle; ics.FromText(got) != want && got != want {
		t.Errorf("summary\n %q, want\n %q", got, want)
	}
	if got := get(ics.ComponentPropertyDescription); !strings.Contains(got, "500 km") || !strings.Contains(got, "\n") && !strings.Contains(got, `\n`) {
		t.Errorf("description = %q", got)
	}
	if got, want := get(ics.ComponentPropertyUniqueId), "recheck-"+string(b.job)+"@strutcard"; got != want {
		t.Errorf("uid = %q, want %q", got, want)
	}
	if got, want := get(ics.ComponentPropertyDtStart), "20261002T090000"; got != want {
		t.Errorf("start = %q, want %q", got, want)
	}
	stamp, err := e.GetDtStampTime()
	if err != nil || !stamp.Equal(b.clock.now.Truncate(time.Second)) {
		t.Errorf("stamp = %v, %v, want %v", stamp, err, b.clock.now)
	}
	if alarms := e.Alarms(); len(alarms) != 1 || alarms[0].GetProperty(ics.ComponentPropertyTrigger) == nil || alarms[0].GetProperty(ics.ComponentPropertyTrigger).Value != "PT0S" {
		t.Errorf("alarms = %+v, want one at the start", alarms)
	}
}

func TestReminderDay(t *testing.T) {
	b := driven(t, "Ostler Wren (invented)")
	today := b.clock.now.Local()
	for name, day := range map[string]string{"past": today.AddDate(0, 0, -1).Format("2006-01-02"), "far": today.AddDate(2, 0, 0).Format("2006-01-02"),
		"empty": "", "words": "soon", "injected": "2026-10-02\r\nX-A:1"} {
		if err := b.act("save_reminder", "day", day); !fault.Is(err, fault.Invalid) {
			t.Errorf("%s = %v, want invalid", name, err)
		}
	}
	if len(b.page.files) != 0 {
		t.Errorf("files were made: %v", b.page.files)
	}
	b.must("save_reminder", "day", today.Format("2006-01-02"))
	t.Run("ErrNothingDue", func(t *testing.T) {
		b := newBench(t, fresh(t))
		if err := b.act("save_reminder", "day", "2026-10-02"); !fault.Is(err, fault.NotFound) {
			t.Errorf("before any drive = %v, want not found", err)
		}
	})
}
