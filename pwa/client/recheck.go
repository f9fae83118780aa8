package client

import (
	"context"
	"strings"
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/templates"
)

const (
	dayForm     = "2006-01-02" // as a date field of a page writes it
	usualDays   = 3            // until the re-check, when the person says nothing else
	farthestDay = 366
)

// dueWords says what is to be checked again, and when.
func dueWords(d guide.Due) string {
	if d.KM == 0 {
		return lang.F("still to do: %s", d.Step.Title)
	}
	return lang.F("re-check %s after %s", d.What(), distance(d.KM))
}

// distance writes kilometres, with whole miles beside them: 1 mile is 1.609344 km.
func distance(km int64) string {
	return lang.F("%d km (%d miles)", km, (km*1_000_000+804_672)/1_609_344)
}

// remind puts the re-check on the card until it is done.
func (c *Client) remind(g guide.Guide, bar *templates.Bar) {
	due := g.Rechecks()
	if len(due) == 0 {
		return
	}
	bar.Note = capital(dueWords(due[0])) + "."
	bar.Buttons = append(bar.Buttons, templates.Button{Do: "recheck", Label: lang.T("Re-check: what, and a reminder")},
		templates.Button{Do: "go", Args: map[string]string{"step": string(due[0].Step.ID)}, Label: lang.T("Re-check now"), Quiet: true})
}

func (c *Client) recheckView(g guide.Guide) templates.Recheck {
	v := templates.Recheck{Day: pick(c.drafts["recheck.day"], c.cfg.Now().Local().AddDate(0, 0, usualDays).Format(dayForm))}
	for _, d := range g.Rechecks() {
		v.Due = append(v.Due, capital(dueWords(d)))
	}
	return v
}

// saveReminder hands over a calendar file for the day that was chosen.
func saveReminder(c *Client, ctx context.Context, args map[string]string) error {
	g, ok := c.guide()
	if !ok {
		return fault.New(fault.NotFound, "No job is open.", "Open a job first.")
	}
	due := g.Rechecks()
	if len(due) == 0 {
		return fault.New(fault.NotFound, "Nothing of this job waits for a re-check.", "Go on with the work.")
	}
	day, err := c.dayOf(args["day"])
	if err != nil {
		return err
	}
	st := c.log.State()
	var text []string
	for _, d := range due {
		text = append(text, capital(dueWords(d))+".")
	}
	text = append(text, lang.T("Do it at the day or at the distance, whichever comes first. The maker's distance and torque come first."))
	c.cfg.Platform.Download("strutcard-recheck-"+day.Format(dayForm)+".ics", "text/calendar", calendar(appointment{
		uid: "recheck-" + string(st.Job) + "@strutcard", made: c.cfg.Now(), day: day,
		summary: capital(dueWords(due[0])) + ": " + st.Opened.Vehicle, text: strings.Join(text, "\n")}))
	c.dropDrafts(ctx, "recheck.day")
	return nil
}

// dayOf reads a day from today on.
func (c *Client) dayOf(text string) (time.Time, error) {
	day, err := time.Parse(dayForm, strings.TrimSpace(text))
	if err != nil {
		return time.Time{}, fault.New(fault.Invalid, "This is not a day: year, month, day, as 2026-12-01.", "Choose the day again. No file was made.")
	}
	now := c.cfg.Now().Local()
	today := time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, time.UTC)
	if day.Before(today) || day.After(today.AddDate(0, 0, farthestDay)) {
		return time.Time{}, fault.New(fault.Invalid, "This day is past, or more than a year away, by this phone's clock.", "Choose a day soon. No file was made.")
	}
	return day, nil
}
