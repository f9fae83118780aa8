package client

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"
	"time"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/guide"
	"strutcard/sync/job"
	"strutcard/sync/review"
	"strutcard/templates"
)

// waits are the presses that ask the shop something: nobody else waits for them.
var waits = []string{"sync", "join", "share", "share_list", "share_end"}

// Waits reports whether a press may wait for a network, and so runs beside others.
func Waits(name string) bool { return slices.Contains(waits, name) }

// spoken reports whether a payload is somebody's word about the work, and not work:
// it can be given far from the car, whatever the car does.
func spoken(p event.Payload) bool {
	switch p := p.(type) {
	case *event.CommentAdded, event.Proven:
		return true
	case *event.HoldReleased:
		return p.By == "mentor"
	}
	return false
}

// remarks are the events of the open job in which somebody says something, without
// those that were taken back.
func (c *Client) remarks() []event.Event {
	if c.log == nil {
		return nil
	}
	var out []event.Event
	for _, e := range c.log.Events() {
		if spoken(e.Payload()) {
			out = append(out, e)
		}
	}
	if out == nil {
		return nil
	}
	gone := job.TakenBack(c.log.Events())
	return slices.DeleteFunc(out, func(e event.Event) bool { return gone[e.ID] })
}

// said is what people say about the open job, the newest first.
func (c *Client) said() []templates.Said {
	var out []templates.Said
	for _, e := range slices.Backward(c.remarks()) {
		row := c.saidOf(e)
		row.New = !c.wroteHere(e.Device) && !slices.Contains(c.read[e.Job], e.ID)
		out = append(out, row)
	}
	return out
}

func (c *Client) saidOf(e event.Event) templates.Said {
	row, at := templates.Said{At: clockWords(e.Time())}, event.StepID("")
	switch p := e.Payload().(type) {
	case *event.CommentAdded:
		if row.Name, row.Text, at = p.Name, p.Text, p.Step; p.Name == guide.Installer {
			row.Name = guide.NameWords(p.Name)
		}
		row.About = c.aboutWords(p)
	case *event.HoldReleased:
		row.Name, row.Text, at = lang.T("Hold point released."), p.Reason, p.Step
	case *event.FindingRaised:
		row.Text, at = guide.Describe(c.sheet, e), p.Step
	case *event.DecisionMade:
		row.Text, at = guide.Describe(c.sheet, e), p.Step
	}
	if c.sheet != nil && c.sheet.Step(at) != nil {
		row.Step, row.About = string(at), lang.F("on “%s”", c.sheet.Step(at).Title)
	}
	return row
}

// aboutWords name the fastener or the reading that a comment is about; "" for
// another.
func (c *Client) aboutWords(p *event.CommentAdded) string {
	if c.sheet == nil {
		return ""
	}
	if f := c.sheet.Fastener(p.Fastener); f != nil {
		return lang.F("on “%s”", f.Name())
	}
	for _, r := range c.log.State().Readings {
		if r.ID == p.Reading {
			return lang.F("on %s, %s, %s", lang.T(r.Quantity.Words()), lang.T(r.Corner.Words()), c.units.Reading(&r.ReadingTaken))
		}
	}
	return ""
}

// newlySaid counts what others said and nobody has read here.
func (c *Client) newlySaid() int {
	n := 0
	for _, s := range c.said() {
		if s.New {
			n++
		}
	}
	return n
}

func (c *Client) peopleView() templates.People {
	v := templates.People{Decided: c.decided(), Said: c.said(), Joined: c.token != "", Guest: c.guest(), Draft: c.drafts}
	if g, ok := c.guide(); ok && v.Guest {
		v.Hold = holdOf(g)
	}
	for _, l := range slices.Backward(c.links[c.log.State().Job]) { // the newest stands by the button that made it
		v.Links = append(v.Links, c.linkRow(l))
	}
	return v
}

// holdOf is the hold point that waits for somebody to look, or nil.
func holdOf(g guide.Guide) *templates.HoldRow {
	for _, step := range g.Sheet.Steps() {
		if status, _ := g.Status(step); status == guide.Waiting {
			return &templates.HoldRow{Step: string(step.ID), Title: step.Title}
		}
	}
	return nil
}

// shopStop is what a reviewer saw that must not go on, until the shop has settled it;
// "" for nothing. It stands on every screen of the job: a remark is read once.
func (c *Client) shopStop() string {
	st := c.log.State()
	if !slices.ContainsFunc(st.Raised, func(r job.Raised) bool { return r.Severity == "stop" }) {
		return "" // else the rules need not run for each paint
	}
	for _, f := range review.Findings(c.sheet, st, c.log.Events()) {
		if f.Rule == "raised" && f.Severity == review.Stop && !st.Accepted(f.ID) {
			return lang.F("Stop, says the shop. %s. Leave the car as it is, do not drive, and ask them.", strings.TrimSuffix(f.Text, "."))
		}
	}
	return ""
}

// decided is the shop's last word on the whole job; "" without one.
func (c *Client) decided() string {
	d := c.log.State().DecisionOn("")
	if d == nil {
		return ""
	}
	words := lang.T("The shop accepted this job.")
	if d.Decision == event.Return {
		words = lang.T("The shop returned this job.")
	}
	return strings.TrimSuffix(words+" "+d.Name+": "+d.Text, ": ")
}

// readAll notes that everything was shown: it is no longer new at the next look.
func (c *Client) readAll(ctx context.Context) {
	if c.newlySaid() == 0 {
		return
	}
	if c.read == nil {
		c.read = map[event.JobID][]event.ID{}
	}
	var ids []event.ID // not a number: what came late may stand before what was read
	for _, e := range c.remarks() {
		ids = append(ids, e.ID)
	}
	c.read[c.log.State().Job] = ids
	c.saveJSON(ctx, metaRead, c.read)
}

// saidHere is what belongs to one step.
func (c *Client) saidHere(step event.StepID) []templates.Said {
	var out []templates.Said
	for _, s := range c.said() {
		if s.Step == string(step) {
			s.Step, s.About = "", ""
			out = append(out, s)
		}
	}
	return out
}

// draftName keeps the name under which this phone's owner speaks, for the next time.
const draftName = "people.name"

// guest reports whether this phone only holds a copy of somebody else's job: it
// has recorded no work in it.
func (c *Client) guest() bool {
	return !slices.ContainsFunc(c.log.Events(), func(e event.Event) bool { return c.wroteHere(e.Device) && !spoken(e.Payload()) })
}

func comment(c *Client, ctx context.Context, args map[string]string) error {
	if c.log == nil {
		return fault.New(fault.NotFound, "No job is open.", "Open a job first.")
	}
	name, guest := strings.TrimSpace(c.drafts[draftName]), c.guest()
	if guest && name == "" {
		return errNameless(lang.T("Your name is missing. Nothing was said."))
	}
	if strings.TrimSpace(args["comment"]) == "" {
		return fault.New(fault.Invalid, "There is nothing to say yet.", "Write it, then press again.")
	}
	p := &event.CommentAdded{Step: event.StepID(args["step"]), Name: cmp.Or(name, guide.Installer), Text: args["comment"]}
	if err := c.record(ctx, p); err != nil {
		return err
	}
	c.dropDrafts(ctx, commentDraft(args["step"]))
	if guest {
		c.handBack()
	}
	return nil
}

// commentDraft is where a comment is kept while it is written: about a step, or
// about the whole job.
func commentDraft(step string) string { return "people.text." + step }

func errNameless(message string) error {
	return fault.New(fault.Invalid, message, lang.F("Write the name that the installer knows you by, under “%s”, then press again.", lang.T("Others and this job")))
}

// handBack says how what was said on somebody else's phone reaches the installer.
func (c *Client) handBack() {
	c.message = &templates.Message{Text: lang.T("Kept on this phone."), Hint: lang.T("The installer has it once you hand back a copy of the record, or once both phones have synced.")}
}

// releaseAsMentor releases a hold point for somebody who holds a copy of the job.
// A phone that the work was recorded with never speaks as a mentor.
func (c *Client) releaseAsMentor(ctx context.Context, step event.StepID, saw string) error {
	name := strings.TrimSpace(c.drafts[draftName])
	switch {
	case c.log == nil:
		return fault.New(fault.NotFound, "No job is open.", "Open a job first.")
	case !c.guest():
		return fault.New(fault.Blocked, "This phone has recorded work in this job. Nothing was released.", "Have the mentor look on a phone of their own, or release it at its step as yourself.")
	case name == "":
		return errNameless(lang.T("Your name is missing. Nothing was released."))
	case len(strings.TrimSpace(saw)) < fewWords:
		return fault.New(fault.Invalid, "It is not said what was looked at. Nothing was released.", "Say what you looked at, and how.")
	}
	if err := c.record(ctx, &event.HoldReleased{Step: step, By: "mentor", Reason: name + ": " + saw, Done: c.log.State().Steps[step].DoneBy}); err != nil {
		return err
	}
	c.dropDrafts(ctx, "release.reason")
	c.handBack()
	return nil
}

// sharedLink is a link to a job, as the shop tells it; the link itself and its
// code are known only where it was made.
type sharedLink struct {
	ID      string   `json:"id"`
	Link    string   `json:"link,omitempty"`
	Code    string   `json:"code,omitempty"`
	Role    string   `json:"role"`
	Expires int64    `json:"expires"`
	Ended   bool     `json:"ended,omitempty"`
	Visits  []string `json:"visits,omitempty"`
}

func (c *Client) linkRow(l sharedLink) templates.SharedLink {
	ends := time.UnixMilli(l.Expires)
	row := templates.SharedLink{ID: l.ID, Link: l.Link, Code: l.Code, Opened: l.Visits,
		May:   templates.MayWords(l.Role),
		State: lang.F("It ends %s.", clockWords(ends)), Holds: !l.Ended && c.cfg.Now().Before(ends)}
	if !row.Holds {
		row.State, row.Link, row.Code = lang.T("It has ended."), "", ""
	}
	return row
}

// share makes a link to the open job, ends one, or looks who opened them. The shop
// is asked without holding anybody up.
func (c *Client) share(ctx context.Context, name string, args map[string]string) error {
	c.mu.Lock()
	id, token := event.JobID(""), c.token
	if c.log != nil {
		id = c.log.State().Job
	}
	c.mu.Unlock()
	links, err := c.askLinks(ctx, name, id, token, args)
	return c.press(ctx, name, func(c *Client, ctx context.Context, _ map[string]string) error {
		if err != nil {
			return err
		}
		c.keepLinks(ctx, id, links)
		return nil
	}, args)
}

func (c *Client) askLinks(ctx context.Context, name string, id event.JobID, token string, args map[string]string) (links []sharedLink, err error) {
	if id == "" || token == "" {
		return nil, fault.New(fault.Invalid, "There is no job open, or no shop. No link was made.", "Join a shop, open the job, then try again.")
	}
	path := "/api/v1/jobs/" + string(id) + "/shares"
	switch name {
	case "share":
		days, err := strconv.Atoi(args["days"])
		if err != nil {
			days = 1
		}
		var made sharedLink
		if err := c.call(ctx, "POST", path, token, map[string]any{"role": args["role"], "days": days}, &made); err != nil {
			return nil, err
		}
		if made.ID == "" || made.Link == "" {
			return nil, errForeign()
		}
		return []sharedLink{made}, nil
	case "share_end":
		err = c.call(ctx, "POST", path+"/"+args["link"]+"/end", token, struct{}{}, &links)
	default:
		err = c.call(ctx, "GET", path, token, nil, &links)
	}
	if err == nil && links == nil {
		err = errForeign()
	}
	return links, err
}

// keepLinks brings the list up to date; what only this phone knows of a link stays.
func (c *Client) keepLinks(ctx context.Context, id event.JobID, links []sharedLink) {
	if c.links == nil {
		c.links = map[event.JobID][]sharedLink{}
	}
	had := c.links[id]
	for _, l := range links {
		at := len(had)
		for i := range had {
			if had[i].ID == l.ID {
				at, l.Link, l.Code = i, pick(l.Link, had[i].Link), pick(l.Code, had[i].Code)
			}
		}
		if l.Ended {
			l.Link, l.Code = "", ""
		}
		if at == len(had) {
			had = append(had, l)
		}
		had[at] = l
	}
	c.links[id] = had
	c.saveJSON(ctx, metaLinks, c.links)
}
