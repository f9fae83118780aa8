package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/review"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
	"strutcard/sync/units"
	"strutcard/templates"
)

func (s *site) registerReviewRoutes(r routes) {
	r.post("/shop/jobs/:job/comments", maxForm, s.desk(s.handleComment))
	r.post("/shop/jobs/:job/findings", maxForm, s.desk(s.handleRaise))
	r.post("/shop/jobs/:job/decisions", maxForm, s.desk(s.handleDecide))
	r.post("/shop/jobs/:job/release", maxForm, s.desk(s.handleRelease))
	r.post("/look/job/:link/comments", maxForm, s.handleLookComment)
	r.post("/look/job/:link/release", maxForm, s.handleLookRelease)
}

// opened is one job as its pages need it.
type opened struct {
	id       event.JobID
	events   []event.Event
	state    *job.State
	sheet    *sheet.Sheet // nil while it is not here
	findings []review.Finding
}

func (s *site) openJob(ctx context.Context, id shop.ID, jobID event.JobID) (o opened, err error) {
	records, err := s.allRecords(ctx, id, jobID)
	if err != nil {
		return o, err
	}
	return s.opened(ctx, id, jobID, records)
}

func (s *site) opened(ctx context.Context, id shop.ID, jobID event.JobID, records []store.Record) (o opened, err error) {
	if len(records) == 0 {
		return o, s.errNoJob(ctx, id, jobID)
	}
	o.id, o.events = jobID, eventsOf(records)
	o.state = job.Fold(jobID, o.events)
	if o.sheet, err = s.sheetOf(ctx, id, o.state); err != nil {
		return o, err
	}
	o.findings = review.Findings(o.sheet, o.state, o.events)
	return o, nil
}

// handleComment keeps what a member of staff says.
func (s *site) handleComment(c echo.Context, who shop.Staff) error {
	return s.comment(c, who.Shop, event.JobID(c.Param("job")), staffVoice(who), deskPath(c))
}

func (s *site) comment(c echo.Context, id shop.ID, jobID event.JobID, v voice, back string) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	step, fastener, reading := about(get("about"))
	p := &event.CommentAdded{Step: step, Fastener: fastener, Reading: reading, Name: v.name, Text: get("text")}
	if err := s.sayOnce(c.Request().Context(), id, jobID, v, get("once"), p); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, back+"#comments")
}

// about reads what a form speaks of: "step:…", "fastener:…", "reading:…", or the
// whole job.
func about(text string) (step event.StepID, fastener event.FastenerID, reading event.ID) {
	kind, id, _ := strings.Cut(text, ":")
	switch kind {
	case "step":
		step = event.StepID(id)
	case "fastener":
		fastener = event.FastenerID(id)
	case "reading":
		reading = event.ID(id)
	}
	return step, fastener, reading
}

// handleRaise keeps a finding that a reviewer saw and no rule did.
func (s *site) handleRaise(c echo.Context, who shop.Staff) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	step, fastener, reading := about(get("about"))
	if reading != "" {
		return fault.New(fault.Invalid, "A finding is about a step, a fastener or the whole job. It was not kept.", "Choose one of these, or say it as a comment on the reading.")
	}
	v := staffVoice(who)
	err = s.say(c.Request().Context(), who.Shop, event.JobID(c.Param("job")), v,
		&event.FindingRaised{Step: step, Fastener: fastener, Severity: get("severity"), Name: v.name, Text: get("text"), Proof: toCome})
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, deskPath(c)+"#findings")
}

// toCome stands where the notary puts its proof.
const toCome = "-"

// handleDecide keeps a reviewer's word on a finding or on the whole job. Whoever
// did not see the last decision decides nothing: two reviewers at once would
// overrule each other unread.
func (s *site) handleDecide(c echo.Context, who shop.Staff) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	ctx, jobID := c.Request().Context(), event.JobID(c.Param("job"))
	s.deciding.Lock()
	defer s.deciding.Unlock()
	o, err := s.openJob(ctx, who.Shop, jobID)
	if err != nil {
		return err
	}
	if seen, err := strconv.Atoi(get("seen")); err != nil || seen != len(o.state.Decisions) {
		return fault.New(fault.Conflict, "Somebody decided on this job since you opened the page. Your decision was not kept.",
			"Go back to the job, read what was decided, then decide.")
	}
	v := staffVoice(who)
	d := &event.DecisionMade{Finding: get("finding"), Decision: event.Decision(get("decision")), Name: v.name, Text: get("text"), Proof: toCome}
	if d.Decision != event.Accept && d.Text == "" {
		return fault.New(fault.Invalid, "The reason is missing. Your decision was not kept.", "Go back, write it for the installer, then decide.")
	}
	switch {
	case d.Finding != "":
		err = o.aim(d)
	case d.Decision == event.Accept:
		err = o.acceptable()
	}
	if err != nil {
		return err
	}
	if err := s.say(ctx, who.Shop, jobID, v, d); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, deskPath(c)+"#findings")
}

// acceptable refuses to accept a job that is not done, or that a stop stands in: the
// installer would read it as leave to drive.
func (o opened) acceptable() error {
	if o.sheet == nil {
		return fault.New(fault.Conflict, "The fitting sheet of this job is not here, so it could not be judged. Your decision was not kept.",
			"Ask the installer to sync from the phone that has it, then look again. Or return the job with a reason.")
	}
	if o.state.Finished == nil || o.state.Up() {
		return fault.New(fault.Conflict, "The job is not finished, by its record. Your decision was not kept.", "Comment on it, decide on single findings, or return it with a reason.")
	}
	for _, f := range o.findings {
		if f.Severity == review.Stop && !o.state.Accepted(f.ID) {
			return fault.New(fault.Conflict, lang.F("A finding that says stop is open: %s Your decision was not kept.", f.Text), "Decide on that finding first, or return the job with a reason.")
		}
	}
	return nil
}

// aim fills in what a decision on a finding is about.
func (o opened) aim(d *event.DecisionMade) error {
	i := slices.IndexFunc(o.findings, func(f review.Finding) bool { return f.ID == d.Finding })
	if i < 0 {
		return fault.New(fault.Conflict, "This finding is no longer there: the record has changed. Your decision was not kept.",
			"Go back to the job and look at what the rules see now.")
	}
	f := o.findings[i]
	d.Step, d.Fastener = f.Step, f.Fastener
	if d.Decision != event.Redo {
		return nil
	}
	if d.Step = o.redoStep(f); d.Step == "" {
		return fault.New(fault.Invalid, "There is no step that could be done again for this. Your decision was not kept.", "Ask the installer instead, and say what you want to see.")
	}
	return nil
}

// redoStep is the step that is opened again for a finding: its own, or the one
// that makes the fastener final. Raising and lowering are never done again by
// opening a step.
func (o opened) redoStep(f review.Finding) event.StepID {
	if o.sheet == nil {
		return ""
	}
	if step := o.sheet.Step(f.Step); step != nil {
		if step.Move != "" {
			return ""
		}
		return step.ID
	}
	var last event.StepID
	for _, step := range o.sheet.Steps() {
		if slices.ContainsFunc(step.Passes, func(p sheet.PassRef) bool { return p.Fastener == f.Fastener }) {
			last = step.ID
		}
	}
	return last
}

// handleRelease releases a hold point from the desk.
func (s *site) handleRelease(c echo.Context, who shop.Staff) error {
	return s.release(c, who.Shop, event.JobID(c.Param("job")), staffVoice(who), deskPath(c))
}

func (s *site) release(c echo.Context, id shop.ID, jobID event.JobID, v voice, back string) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	s.deciding.Lock() // two at once would release it twice
	defer s.deciding.Unlock()
	o, err := s.openJob(ctx, id, jobID)
	if err != nil {
		return err
	}
	if o.sheet == nil {
		return fault.New(fault.Conflict, "The fitting sheet of this job is not here yet. Nothing was released.", "Ask the installer to sync, then look again.")
	}
	p := &event.HoldReleased{Step: event.StepID(get("step")), By: "mentor", Reason: v.name + ": " + get("text"),
		Done: o.state.Steps[event.StepID(get("step"))].DoneBy}
	if get("text") == "" {
		return fault.New(fault.Invalid, "It is not said what was looked at. Nothing was released.", "Say what you looked at, and how.")
	}
	if err := guide.New(o.sheet, o.state).Allow(p); err != nil {
		return err
	}
	if err := s.say(ctx, id, jobID, v, p); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, back)
}

func (s *site) handleLookComment(c echo.Context) error {
	return s.fromLink(c, shop.Comment, s.comment)
}

func (s *site) handleLookRelease(c echo.Context) error {
	return s.fromLink(c, shop.Release, s.release)
}

// fromLink does what a link allows its holder.
func (s *site) fromLink(c echo.Context, what shop.ShareRole, do func(echo.Context, shop.ID, event.JobID, voice, string) error) error {
	share, visitor, err := s.share(c)
	if err != nil {
		return err
	}
	if !share.Role.May(what) {
		return fault.New(fault.Denied, "This link does not allow that. Nothing was written.", "Ask whoever gave it to you for a link that does.")
	}
	return do(c, share.Shop, share.Job, shareVoice(share, visitor), "/look/job/"+share.ID)
}

func deskPath(c echo.Context) string { return "/shop/jobs/" + url.PathEscape(c.Param("job")) }

// reviewView is what people say about a job; at is where the forms go.
func (s *site) reviewView(o opened, at string) templates.Review {
	v := templates.Review{Job: string(o.id), At: at, Seen: strconv.Itoa(len(o.state.Decisions)), Whole: templates.DecidedWords(o.state.DecisionOn("")), Blind: o.sheet == nil}
	n := namer{o.sheet}
	for _, f := range o.findings {
		row := templates.JudgedRow{ID: f.ID, Severity: f.Severity.Words(), Text: f.Text, Look: f.Look, Todo: f.Todo, CanRedo: o.redoStep(f) != ""}
		if f.Step != "" {
			row.Where = lang.F("At %s.", n.step(f.Step))
		}
		if n := len(f.Evidence); n > 0 {
			row.Events = lang.N(n, "Seen in %d entry of the record.", "Seen in %d entries of the record.", n)
		}
		row.Decided, row.Accepted = templates.DecidedWords(o.state.DecisionOn(f.ID)), o.state.Accepted(f.ID)
		v.Findings = append(v.Findings, row)
	}
	for _, c := range slices.Backward(o.state.Comments) { // the newest first, as on the phone
		row := templates.CommentRow{Name: c.Name, At: when(event.Event{At: c.At}.Time()), Text: c.Text}
		switch {
		case c.Fastener != "":
			row.About = n.fastener(c.Fastener)
		case c.Step != "":
			row.About = n.step(c.Step)
		case c.Reading != "":
			row.About = o.reading(c.Reading)
		}
		v.Comments = append(v.Comments, row)
	}
	if o.sheet != nil {
		s.addWork(o, &v)
	}
	return v
}

// addWork says where the work stands, what is loose, what waits for a look, and
// what there is to speak of.
func (s *site) addWork(o opened, v *templates.Review) {
	g := guide.New(o.sheet, o.state)
	switch next := g.Next(); {
	case o.state.Finished != nil: // the head of the page says so
	case next != nil:
		v.Now = lang.F("The work stands at “%s”.", next.Title)
	default:
		v.Now = lang.T("Every step is done or skipped.")
	}
	v.Measured = measuredPlots(g)
	for _, item := range g.NotFinal() {
		v.Loose = append(v.Loose, item.Fastener.Name()+": "+item.Reason)
	}
	v.Abouts = o.abouts(g)
	for _, step := range o.sheet.Steps() {
		status, _ := g.Status(step)
		if st := o.state.Steps[step.ID]; st.ReopenedN > 0 && st.DoneN == 0 {
			v.Owed = append(v.Owed, lang.F("To be done again: “%s”. %s", step.Title, st.ReopenedAs))
		}
		if status == guide.Waiting {
			hold := templates.HoldRow{Step: string(step.ID), Title: step.Title}
			for _, p := range o.state.Photos {
				if p.Step == step.ID && p.N > o.state.Steps[step.ID].ReopenedN {
					hold.Photos = append(hold.Photos, templates.PhotoRow{SHA: p.SHA256})
				}
			}
			v.Holds = append(v.Holds, hold)
		}
	}
}

// abouts lists what a comment can be about: every step, what was touched, and what
// was measured, the newest first.
func (o opened) abouts(g guide.Guide) []templates.Abouts {
	steps, fasteners, readings := templates.Abouts{Sort: lang.T("Steps")}, templates.Abouts{Sort: lang.T("Fasteners")}, templates.Abouts{Sort: lang.T("Readings")}
	for _, step := range o.sheet.Steps() {
		steps.Rows = append(steps.Rows, templates.Choice{Value: "step:" + string(step.ID), Label: step.Title})
	}
	for _, item := range g.Tally() {
		f := item.Fastener
		fasteners.Rows = append(fasteners.Rows, templates.Choice{Value: "fastener:" + string(f.ID), Label: f.Name()})
	}
	for _, r := range slices.Backward(o.state.Readings) {
		readings.Rows = append(readings.Rows, templates.Choice{Value: "reading:" + string(r.ID), Label: o.reading(r.ID)})
	}
	return slices.DeleteFunc([]templates.Abouts{steps, fasteners, readings}, func(a templates.Abouts) bool { return len(a.Rows) == 0 })
}

// reading names one reading of the job.
func (o opened) reading(id event.ID) string {
	i := slices.IndexFunc(o.state.Readings, func(r job.Reading) bool { return r.ID == id })
	if i < 0 {
		return lang.T("a reading")
	}
	r := o.state.Readings[i]
	return fmt.Sprintf("%s, %s, %s: %s", lang.T(r.Quantity.Words()), placeWords(r.Place()), purposeWords(r.Purpose), units.Set{}.Reading(&r.ReadingTaken))
}
