package client_test

import (
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // the zones, wherever the test runs

	ics "github.com/arran4/golang-ical"
)

// TestReminderDayInEveryZone: the day that the person sees is the day in the file,
// far from Greenwich, around midnight and across a change of the clocks.
func TestReminderDayInEveryZone(t *testing.T) {
	was := time.Local
	defer func() { time.Local = was }()
	for name, now := range map[string]string{
		"Pacific/Auckland": "2026-09-25T00:30:00", // clocks go forward on the 27th
		"Europe/Madrid":    "2026-10-24T00:30:00", // and back on the 25th
		"Pacific/Honolulu": "2026-10-24T23:30:00",
		"UTC":              "2026-12-30T12:00:00",
	} {
		t.Run(name, func(t *testing.T) {
			zone, err := time.LoadLocation(name)
			if err != nil {
				t.Fatal(err)
			}
			time.Local = zone
			b := driven(t, "car")
			if b.clock.now, err = time.ParseInLocation("2006-01-02T15:04:05", now, zone); err != nil {
				t.Fatal(err)
			}
			today, _ := time.Parse("2006-01-02", now[:10])
			want := today.AddDate(0, 0, 3)
			b.must("card")
			b.press("Re-check: what, and a reminder")
			if !strings.Contains(b.page.region("r-main"), `value="`+want.Format("2006-01-02")+`"`) {
				t.Errorf("in three days from %s is not %s", now[:10], want.Format("2006-01-02"))
			}
			b.must("save_reminder", "day", want.Format("2006-01-02"))
			cal, err := ics.ParseCalendar(strings.NewReader(b.page.files["strutcard-recheck-"+want.Format("2006-01-02")+".ics"]))
			if err != nil || len(cal.Events()) != 1 {
				t.Fatalf("the file cannot be read: %v", err)
			}
			at, err := cal.Events()[0].GetStartAt()
			if got := cal.Events()[0].GetProperty(ics.ComponentPropertyDtStart).Value; err != nil || got != want.Format("20060102")+"T090000" || at.Day() != want.Day() {
				t.Errorf("the file begins at %s (%v, %v), want nine on %s wherever the phone is", got, at, err, want.Format("2006-01-02"))
			}
		})
	}
}
