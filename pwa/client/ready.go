package client

import (
	"context"
	"slices"
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// metaTrial is written and read back to see that the record takes entries.
const metaTrial = "trial"

const (
	lookEvery    = 30 * time.Second // a look that is older is taken anew when it is shown
	roomForJob   = 100_000_000      // bytes: about a hundred photos
	lookPatience = 30 * time.Second // longest that one look may take
)

// looked is what the last look at the phone found.
type looked struct {
	at    time.Time
	job   event.JobID // the job that was open; "" at home
	files bool        // what the page said of the app's files by itself
	phone Inspection
	write Found
	jobs  []lookedJob // those in work
}

// lookedJob is one job's sheet as the disk has it.
type lookedJob struct {
	id      event.JobID
	name    string
	sheet   Found
	unknown int // torques and angles that are not known
}

// ready says what was found of working without a signal, and looks again when
// the last look is old. Nothing in it is assumed: what was not seen is unknown.
func (c *Client) ready() *templates.Ready {
	c.lookSoon()
	l := c.looked
	if l == nil || l.job != c.openID() {
		return &templates.Ready{Verdict: lang.T("Not known yet whether this phone is ready for no signal. It is being checked."), Mark: "unknown"}
	}
	lines := slices.Concat(c.phoneLines(l), c.jobLines(l))
	v := &templates.Ready{Lines: lines, Checked: l.at.Local().Format("15:04:05")}
	v.Verdict, v.Mark = verdictOf(lines)
	return v
}

func (c *Client) openID() event.JobID {
	if c.log == nil {
		return ""
	}
	return c.log.State().Job
}

// lookSoon starts a look beside the other work: comparing every file takes a
// while. When it is done the screen is painted again.
func (c *Client) lookSoon() {
	if c.cfg.Inspect == nil || c.looking {
		return
	}
	open, files := c.openID(), c.cfg.Platform.Env().OfflineReady
	if l := c.looked; l != nil && l.job == open && l.files == files && c.cfg.Now().Sub(l.at) < lookEvery {
		return
	}
	c.looking = true
	go func() {
		ctx, cancel := context.WithTimeout(context.Background(), lookPatience)
		defer cancel()
		l := c.lookAt(ctx, open)
		l.files = files
		c.mu.Lock()
		defer c.mu.Unlock()
		c.looking, c.looked = false, l
		c.paint(context.Background())
	}()
}

// lookAt looks at the phone and its disk. It holds no lock.
func (c *Client) lookAt(ctx context.Context, open event.JobID) *looked {
	l := &looked{job: open, phone: Inspection{Free: -1}}
	if phone, err := c.cfg.Inspect(ctx); err == nil {
		l.phone = phone
	}
	l.at = c.cfg.Now()
	l.write = c.tryWrite(ctx, l.at)
	jobs := []event.JobID{open}
	if open == "" {
		var err error
		if jobs, err = c.cfg.Log.Jobs(ctx); err != nil {
			l.write = No // a record that cannot be read is no record
		}
	}
	for _, id := range jobs {
		if one, inWork := c.lookAtJob(ctx, id); inWork {
			l.jobs = append(l.jobs, one)
		}
	}
	return l
}

func (c *Client) tryWrite(ctx context.Context, at time.Time) Found {
	want := at.UTC().Format(time.RFC3339Nano)
	if err := c.cfg.Log.SetMeta(ctx, metaTrial, want); err != nil {
		return No
	}
	got, err := c.cfg.Log.Meta(ctx, metaTrial)
	if err != nil || got != want {
		return No
	}
	return Yes
}

// lookAtJob reads a job and its sheet from the disk, past what is in memory.
func (c *Client) lookAtJob(ctx context.Context, id event.JobID) (one lookedJob, inWork bool) {
	one = lookedJob{id: id, name: lang.T("a job")}
	events, err := c.cfg.Log.Job(ctx, id)
	if err != nil {
		return one, true
	}
	st := job.Fold(id, events)
	if st.Opened == nil {
		return one, true
	}
	one.name = st.Opened.Vehicle
	s, err := c.storedSheet(ctx, string(st.Opened.Sheet))
	switch {
	case err != nil:
		return one, st.Finished == nil
	case s == nil:
		one.sheet = No
		return one, st.Finished == nil
	}
	one.sheet, one.unknown = Yes, unknownTorques(guide.New(s, st))
	return one, st.Finished == nil
}

// unknownTorques counts what a step for torques would still ask for.
func unknownTorques(g guide.Guide) int { return len(g.Todo(&sheet.Step{Specs: true})) }

func (c *Client) phoneLines(l *looked) []templates.ReadyLine {
	lines := []templates.ReadyLine{
		say(l.phone.Files, lang.T("Every file of the app is on this phone, compared with its hash."), lang.T("Not every file of the app is on this phone. Keep it open with a connection until it is."), lang.T("Whether every file of the app is on this phone could not be checked.")),
		say(l.phone.How, lang.T("The page \"How this is calculated\" is on this phone."), lang.T("The page \"How this is calculated\" is not on this phone."), lang.T("Whether \"How this is calculated\" is on this phone could not be checked.")),
		c.writeLine(l),
		keptLine(l.phone.Persisted),
		roomLine(l.phone.Free),
		say(l.phone.Photos, lang.T("Photos can be kept: a trial entry was written."), lang.T("Photos cannot be kept just now. The record is not touched by that."), lang.T("Whether photos can be kept could not be checked.")),
	}
	if l.phone.Photos == No {
		lines[len(lines)-1].Mark = "note"
	}
	return lines
}

func say(f Found, yes, no, unknown string) templates.ReadyLine {
	switch f {
	case Yes:
		return templates.ReadyLine{Text: yes, Mark: "yes"}
	case No:
		return templates.ReadyLine{Text: no, Mark: "no"}
	}
	return templates.ReadyLine{Text: unknown, Mark: "unknown"}
}

func (c *Client) writeLine(l *looked) templates.ReadyLine {
	switch {
	case c.cfg.Platform.Env().MemoryOnly:
		return templates.ReadyLine{Text: lang.T("This browser keeps nothing after the page is closed."), Mark: "no"}
	case c.unsaved:
		return templates.ReadyLine{Text: lang.T("The last press could not be saved."), Mark: "no"}
	}
	return say(l.write, lang.T("The record takes entries: a trial entry was written and read back."), lang.T("The record took no trial entry. Close the app fully and open it again."), lang.T("Whether the record takes entries could not be checked."))
}

func keptLine(f Found) templates.ReadyLine {
	line := say(f, lang.T("The browser has promised to keep this app's storage."), lang.T("The browser may clear this app's storage when space runs short. Save a copy often. Put the app on the home screen before the next job, not during this one."), lang.T("Whether the browser keeps this app's storage could not be found out."))
	if f == No {
		line.Mark = "note"
	}
	return line
}

func roomLine(free int64) templates.ReadyLine {
	switch {
	case free < 0:
		return templates.ReadyLine{Text: lang.T("The browser does not tell how much room there is."), Mark: "unknown"}
	case free < roomForJob:
		return templates.ReadyLine{Text: lang.F("Little room: about %d MB. Photos may not fit; the record needs little.", free/1_000_000), Mark: "note"}
	case free < 1_000_000_000:
		return templates.ReadyLine{Text: lang.F("Room for photos: about %d MB.", free/1_000_000), Mark: "yes"}
	}
	return templates.ReadyLine{Text: lang.F("Room for photos: about %d GB, says the browser.", free/1_000_000_000), Mark: "yes"}
}

func (c *Client) jobLines(l *looked) []templates.ReadyLine {
	var lines []templates.ReadyLine
	for _, one := range l.jobs {
		if g, ok := c.guide(); ok && one.id == c.openID() {
			one.unknown = unknownTorques(g) // what was typed since the look counts
		}
		lines = append(lines, say(one.sheet, lang.F("%s: its fitting sheet is on this phone and is the one that the job began with.", one.name),
			lang.F("%s: its fitting sheet is not on this phone, or is damaged. Sync while there is a signal.", one.name), lang.F("%s: whether its fitting sheet is on this phone could not be checked.", one.name)))
		switch {
		case one.sheet != Yes:
		case one.unknown > 0:
			lines = append(lines, templates.ReadyLine{Text: lang.N(one.unknown, "%s: %d torque is not known or not confirmed.", "%s: %d torques are not known or not confirmed.", one.name, one.unknown), Mark: "no"})
		default:
			lines = append(lines, templates.ReadyLine{Text: lang.F("%s: every torque is known.", one.name), Mark: "yes"})
		}
	}
	return lines
}

// verdictOf is one sentence over all lines: the worst of them speaks.
func verdictOf(lines []templates.ReadyLine) (verdict, mark string) {
	n := map[string]int{}
	for _, line := range lines {
		n[line.Mark]++
	}
	switch {
	case n["no"] > 0:
		return lang.N(n["no"], "Not ready for no signal: %d thing is missing.", "Not ready for no signal: %d things are missing.", n["no"]), "no"
	case n["unknown"] > 0:
		return lang.N(n["unknown"], "Not certain to be ready for no signal: %d thing could not be checked.", "Not certain to be ready for no signal: %d things could not be checked.", n["unknown"]), "unknown"
	case n["note"] > 0:
		return lang.T("Ready for no signal. Read what is to be noted."), "note"
	}
	return lang.T("Ready for no signal: every line was checked."), "yes"
}
