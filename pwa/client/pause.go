package client

import (
	"context"
	"slices"
	"strings"
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// breakAfter is how long nothing was recorded before the app asks whether the
// car still stands as the record says. As far the other way, the clock was set
// back and the length of the break is not known: the app asks too.
const breakAfter = 30 * time.Minute

// pause is what was asked of a person who comes back. It is not kept: after a
// restart everything is asked again.
type pause struct {
	job     event.JobID // that waits; "" for none
	asked   bool        // the question was put; false right after parking, while the advice is read
	resumed int         // how often this job had been resumed when the break was noticed
	still   bool        // the car was pushed and did not move
	moved   bool        // it did
	made    bool        // the last fastener before the break was asked about
	undo    event.ID    // its pass, when it was not really done
}

// noticeBreak asks before work goes on when the open job was parked or has rested
// for long. It looks when the app opens a job or comes back into view, not during
// work: hands may be at one bolt for an hour.
func (c *Client) noticeBreak() {
	if c.log == nil || c.log.State().Finished != nil {
		return
	}
	st := c.log.State()
	known := c.pause.job == st.Job
	if known && c.pause.asked && c.gated() {
		return
	}
	if justParked := known && !c.pause.asked; !long(c.sinceOwn()) && (st.Parked() == nil || justParked) {
		return
	}
	c.pause = pause{job: st.Job, asked: true, resumed: resumes(st)}
	c.view.Place, c.view.Step = "work", ""
}

func long(d time.Duration) bool { return d > breakAfter || d < -breakAfter }

// sinceOwn is the time since this phone's last event at the car in the open job,
// by this phone's clock; where it has none, since anyone's. It is negative when the
// clock was set back.
func (c *Client) sinceOwn() time.Duration {
	var own, last event.Event
	for _, e := range c.log.Events() {
		if spoken(e.Payload()) {
			continue
		}
		if last = e; e.Device == c.device {
			own = e
		}
	}
	if own.ID == "" {
		own = last
	}
	if own.ID == "" {
		return 0
	}
	return c.cfg.Now().Sub(own.Time())
}

func resumes(st *job.State) int {
	n := 0
	for _, p := range st.Pauses {
		if p.ResumedN > 0 {
			n++
		}
	}
	return n
}

// gated reports whether the open job waits for the answer how it stands. Only a
// resumption in the record ends it, never the clock.
func (c *Client) gated() bool {
	if c.log == nil || c.sheet == nil || c.log.State().Finished != nil {
		return false
	}
	st := c.log.State()
	waits := c.pause.job == st.Job && c.pause.asked && resumes(st) == c.pause.resumed
	return waits || st.Parked() != nil
}

// allowPaused refuses every record but the resumption itself, and what comes
// with it, while the job waits.
func (c *Client) allowPaused(payloads []event.Payload) error {
	if !c.gated() {
		return nil
	}
	for _, p := range payloads {
		if p.Kind() == event.KindWorkResumed || spoken(p) {
			return nil
		}
	}
	return fault.New(fault.Blocked, "First say whether the car still stands as the record says. Nothing was recorded.", "Press Work.")
}

// park records that work stops for longer.
func park(c *Client, ctx context.Context, args map[string]string) error {
	if err := c.record(ctx, &event.WorkParked{Note: strings.TrimSpace(args["note"])}); err != nil {
		return err
	}
	c.pause = pause{job: c.log.State().Job, resumed: resumes(c.log.State())}
	c.dropDrafts(ctx, "park.note")
	return nil
}

// pushed keeps what the car did when it was pushed.
func pushed(c *Client, _ context.Context, args map[string]string) error {
	c.pause.still, c.pause.moved = args["still"] == "yes", args["still"] == "no"
	return nil
}

// lastMade keeps whether the last pass before the break was really made.
func lastMade(c *Client, _ context.Context, args map[string]string) error {
	c.pause.made, c.pause.undo = true, ""
	if args["made"] == "no" {
		c.pause.undo = event.ID(args["pass_event"])
	}
	return nil
}

// resume records how the car was found, and takes back the pass that was not
// made, in one batch.
func resume(c *Client, ctx context.Context, args map[string]string) error {
	g, ok := c.guide()
	if !ok || !c.gated() {
		return fault.New(fault.NotFound, "This job is not paused.", "Go on with the work.")
	}
	different := strings.TrimSpace(args["note"])
	asLeft := args["as_left"] == "yes"
	if !asLeft && different == "" {
		return fault.New(fault.Invalid, "It is not said what is different.", "Write it, then press again.")
	}
	lowered := args["lowered"] == "yes" && g.Lifting() != ""
	if asLeft && g.Parking().Raised() && !c.pause.still && !lowered {
		return fault.New(fault.Blocked, "The car was not yet found to stand dead still.", "Push it first, from outside.")
	}
	undone := c.pause.undo
	payloads := []event.Payload{&event.WorkResumed{AsLeft: asLeft, Note: different}}
	if lowered {
		payloads = append(payloads, &event.CarLowered{Axle: g.Lifting()})
	}
	if undone != "" {
		payloads = append(payloads, &event.Corrected{Event: undone, Reason: guide.NotReallyDone})
	}
	if err := c.record(ctx, payloads...); err != nil {
		return err
	}
	c.pause = pause{}
	c.dropDrafts(ctx, "resume.note")
	c.view.Place, c.view.Step = "work", ""
	c.message = resumedMessage(asLeft, undone != "", g.Parking().Raised())
	return nil
}

func resumedMessage(asLeft, undone, raised bool) *templates.Message {
	m := &templates.Message{}
	if undone {
		m.Text = lang.T("Taken back: it counts as not done.")
		m.Hint = lang.T("Loosen that fastener and make its passes again, in order. Fit a new one where it is for one use or was turned by an angle.")
	}
	if !asLeft {
		m.Text = strings.TrimSpace(m.Text + " " + lang.T("Kept: something is different."))
		m.Hint = strings.TrimSpace(lang.T("Make the record true before you go on: open the tally, take back or do again what no longer holds.") + " " + m.Hint)
		if raised {
			m.Stop, m.Hint = true, lang.T("The record still says that the car is up. If it was lowered, record that first, with its checks. Nobody goes under it before it stands dead still.")+" "+m.Hint
		}
	}
	if m.Text == "" {
		return nil
	}
	return m
}

// lastWork is this phone's last event about the car that stands, leaving out
// further kinds.
func (c *Client) lastWork(without ...event.Kind) (event.Event, bool) {
	without = append(without, event.KindStepStarted, event.KindWorkParked, event.KindWorkResumed, event.KindNoteAdded, event.KindCommentAdded)
	gone := map[event.ID]bool{}
	events := c.log.Events()
	for i := len(events) - 1; i >= 0; i-- {
		e := events[i]
		if gone[e.ID] || e.Device != c.device {
			continue
		}
		if p, is := e.Payload().(*event.Corrected); is {
			gone[p.Event] = true
			continue
		}
		if !slices.Contains(without, e.Kind) {
			return e, true
		}
	}
	return event.Event{}, false
}

// inDoubt is the pass that was made last before the break, or nil. A closed step
// does not settle it: the press may have come before the wrench.
func (c *Client) inDoubt() (*event.PassDone, event.ID) {
	e, _ := c.lastWork(event.KindStepDone)
	pass, _ := e.Payload().(*event.PassDone)
	return pass, e.ID
}

// parkView is the screen for leaving the car.
func (c *Client) parkView(g guide.Guide) templates.Park {
	p := g.Parking()
	v := templates.Park{Car: c.carLines(p), Loose: c.openRows(p), Never: p.Never, Leave: p.Leave, Next: p.Next, Hazard: p.Raised(), Draft: c.drafts["park.note"]}
	if parked := c.log.State().Parked(); parked != nil {
		v.Parked = templates.When(parked.At)
	}
	return v
}

func (c *Client) carLines(p guide.Parking) []string {
	var out []string
	for _, l := range p.Up {
		words := lang.F("The rear axle is up on stands since %s, by this phone's clock.", templates.When(l.RaisedAt))
		if l.Axle == event.Front {
			words = lang.F("The front axle is up on stands since %s, by this phone's clock.", templates.When(l.RaisedAt))
		}
		out = append(out, words)
	}
	switch p.Lifting {
	case event.Front:
		out = append(out, lang.T("Raising the front axle was begun: it may be in the air, on the jack alone."))
	case event.Rear:
		out = append(out, lang.T("Raising the rear axle was begun: it may be in the air, on the jack alone."))
	}
	if len(out) == 0 {
		out = append(out, lang.T("The car stands on its wheels."))
	}
	return out
}

func (c *Client) openRows(p guide.Parking) []templates.CornerRows {
	var out []templates.CornerRows
	for _, corner := range p.Loose {
		rows := templates.CornerRows{Corner: capital(lang.T(corner.Corner.Words()))}
		for _, item := range corner.Items {
			rows.Rows = append(rows.Rows, templates.TallyRow{ID: string(item.Fastener.ID), Place: item.Fastener.Place, Phase: string(item.Phase), Words: item.Phase.Words()})
		}
		out = append(out, rows)
	}
	return out
}

// resumeView is the first screen after a break and its buttons: one question at
// a time, the dangerous one first.
func (c *Client) resumeView(g guide.Guide) (templates.Resume, []templates.Button) {
	p := g.Parking()
	v := templates.Resume{Car: c.carLines(p), Loose: c.openRows(p), Hazard: p.Raised(), Draft: c.drafts["resume.note"]}
	if parked := c.log.State().Parked(); parked != nil {
		v.Note = parked.Note
	}
	if e, ok := c.lastWork(); ok {
		v.Last, v.At = guide.Describe(c.sheet, e), templates.When(e.At)
	}
	button := func(do, name, value, label string, primary bool) templates.Button {
		return templates.Button{Do: do, Label: label, Primary: primary, Args: map[string]string{name: value}}
	}
	if v.Hazard && c.pause.moved {
		v.Ask = "moved"
		return v, []templates.Button{{Do: "pushed", Label: lang.T("Made safe: ask me again"), Args: map[string]string{"still": ""}}}
	}
	if p.Lifting != "" && len(p.Up) == 0 {
		v.Ask = "raising"
		down := button("resume", "as_left", "yes", lang.T("It stands on all its wheels"), false)
		down.Args["lowered"] = "yes"
		return v, []templates.Button{down, button("pushed", "still", "no", lang.T("It is in the air, or I am not sure"), false)}
	}
	if v.Hazard && !c.pause.still {
		v.Ask = "push"
		return v, []templates.Button{button("pushed", "still", "yes", lang.T("Dead still"), true), button("pushed", "still", "no", lang.T("It moves, or I am not sure"), false)}
	}
	if pass, id := c.inDoubt(); pass != nil && !c.pause.made {
		v.Ask, v.Fastener = "made", c.passName(pass)
		no := button("last_made", "made", "no", lang.T("No, or not sure: it counts as not done"), false)
		no.Args["pass_event"] = string(id)
		return v, []templates.Button{button("last_made", "made", "yes", lang.T("Yes, really done"), true), no}
	}
	v.Ask = "stands"
	return v, []templates.Button{button("resume", "as_left", "yes", lang.T("Yes, as the record says"), true)}
}

func (c *Client) passName(p *event.PassDone) string {
	f := c.sheet.Fastener(p.Fastener)
	if f == nil {
		return string(p.Fastener)
	}
	words := f.Name()
	if pass := f.Pass(p.Pass); pass != nil {
		words += ": " + passVerb(pass)
	}
	return words
}

// rowState says in a list of jobs how one stands: where the car is and what is
// loose come first, since both outlast the person's memory.
func (c *Client) rowState(s *sheet.Sheet, st *job.State) string {
	var parts []string
	if st.Parked() != nil && st.Finished == nil {
		parts = append(parts, lang.T("Parked"))
	}
	if st.Up() {
		parts = append(parts, carWords(st.Axles[event.Front].Up, st.Axles[event.Rear].Up))
	}
	if s == nil {
		return strings.Join(append(parts, finishedWords(st, lang.T("in work"))), " · ")
	}
	g := guide.New(s, st)
	if axle := g.Lifting(); axle != "" {
		parts = append(parts, raisedWords(axle))
	}
	if n := len(g.NotFinal()); n > 0 {
		parts = append(parts, lang.F("%d not final", n))
	}
	parts = append(parts, finishedWords(st, progressWords(g)))
	for _, due := range g.Rechecks() {
		parts = append(parts, dueWords(due))
	}
	return strings.Join(parts, " · ")
}

// progressWords count what is done. What was skipped is not among it.
func progressWords(g guide.Guide) string {
	done, skipped, all := g.Progress()
	if skipped > 0 {
		return lang.F("%d of %d steps done, %d skipped", done, all, skipped)
	}
	return lang.F("%d of %d steps done", done, all)
}

func finishedWords(st *job.State, otherwise string) string {
	if st.Finished != nil {
		return lang.C("finished", "a job")
	}
	return otherwise
}

// parkBar is the foot of the screen for leaving: read only once it is parked.
func (c *Client) parkBar() templates.Bar {
	if c.log.State().Parked() != nil {
		return c.homeBar()
	}
	bar := c.placeBar("work")
	bar.Buttons = []templates.Button{{Do: "work", Label: lang.T("Go on working"), Quiet: true}}
	return bar
}
