package server_test

import (
	"context"
	"fmt"
	"net/http"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"strutcard/server"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/job"
	"strutcard/sync/review"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
)

// work is a job that a phone brought, and what its page lets people say.
type work struct {
	*yard
	phone phone
	desk  *http.Client // an administrator's
	job   *guidetest.Job
	id    event.JobID
	page  string
}

// bring sends a job's whole record to the shop by a phone.
func (y *yard) bring(p phone, j *guidetest.Job) {
	y.t.Helper()
	var lines []string
	for _, e := range j.Events() {
		lines = append(lines, e.Line())
	}
	for from := 0; from < len(lines); from += 400 {
		for _, v := range p.sync(lines[from:min(from+400, len(lines))]...).Verdicts {
			if v.Outcome == store.Refused {
				y.t.Fatalf("bring: %v", v.Reason)
			}
		}
	}
}

// nut is a fastener that was tightened wrongly in every finished job below.
const nut event.FastenerID = "strut_top_FL"

// whole is a job that was carried out to its end, but for one final pass.
func whole(y *yard) work {
	y.t.Helper()
	j := guidetest.New(y.t, sheet.Demo()[0])
	j.Until("")
	return y.wrong(j)
}

// finished is a short job that was called finished, with the same final pass.
func finished(y *yard) work {
	y.t.Helper()
	j := guidetest.New(y.t, sheet.Demo()[0])
	j.Force(&event.StepStarted{Step: "strut_in_FL"}, &event.FastenerFitted{Fastener: nut, Renewed: true}, j.Pass(nut, "snug"), &event.StepDone{Step: "strut_in_FL"})
	return y.wrong(j)
}

// wrong makes the nut's final pass to another torque than its spec asks.
func (y *yard) wrong(j *guidetest.Job) work {
	y.t.Helper()
	wrong := j.Pass(nut, "final")
	wrong.TorqueCNM *= 2
	j.Force(wrong, &event.JobFinished{})
	return y.work(j)
}

// held is a job that waits at its hold point.
func held(y *yard) work {
	y.t.Helper()
	j := guidetest.New(y.t, sheet.Demo()[0])
	step := j.Sheet.Step("look_over")
	for _, ask := range j.Guide().Todo(step) {
		j.Force(j.Answer(step, ask))
	}
	j.Force(&event.StepStarted{Step: "strut_in_FL"}, &event.StepDone{Step: step.ID})
	if status, _ := j.Guide().Status(step); status != guide.Waiting {
		y.t.Fatalf("the hold point is %s, want %s", status, guide.Waiting)
	}
	return y.work(j)
}

func (y *yard) work(j *guidetest.Job) work {
	y.t.Helper()
	p := y.joined()
	y.bring(p, j)
	return work{y, p, y.staff(), j, j.Chain.Job, "/shop/jobs/" + string(j.Chain.Job)}
}

// events is the record as the phone reads it.
func (w work) events() []event.Event {
	w.t.Helper()
	var out []event.Event
	for _, line := range w.phone.all() {
		e, err := event.Decode([]byte(line))
		if err != nil {
			w.t.Fatal(err)
		}
		if e.Job == w.id {
			out = append(out, e)
		}
	}
	return event.Sort(out)
}

func (w work) state() *job.State { return job.Fold(w.id, w.events()) }

// finding is what a rule sees; about the nut unless the rule has nothing to do with it.
func (w work) finding(rule string) review.Finding {
	w.t.Helper()
	events := w.events()
	for _, f := range review.Findings(w.job.Sheet, job.Fold(w.id, events), events) {
		if f.Rule == rule {
			return f
		}
	}
	w.t.Fatalf("no rule %s speaks", rule)
	return review.Finding{}
}

func (w work) decide(c *http.Client, seen int, finding, decision, text string) answer {
	w.t.Helper()
	return w.form(c, w.page+"/decisions", "seen", strconv.Itoa(seen), "finding", finding, "decision", decision, "text", text)
}

// unchanged runs what must be refused: no event is written.
func (w work) unchanged(status int, try func() answer) answer {
	w.t.Helper()
	before := len(w.events())
	a := try()
	w.want(a, status, "")
	if after := len(w.events()); after != before {
		w.t.Errorf("status %d, and %d events were written", a.status, after-before)
	}
	return a
}

// installers are the lines that the phones wrote.
func (w work) installers() []string {
	var out []string
	for _, e := range w.events() {
		if e.Device == w.job.Chain.Device || e.Device == w.job.Mentor.Device {
			out = append(out, e.Line())
		}
	}
	return out
}

// TestReview: a reviewer asks, has a pass made again, accepts, returns the job and
// accepts it. The phone reads each with its author; what the installer wrote stays.
func TestReview(t *testing.T) {
	w := whole(open(t, nil))
	rita := w.account(w.desk, "Rita", "reviewer")
	before, f := w.installers(), w.finding("off_torque")
	w.has(w.get(rita, w.page), "finding-"+f.ID, "Have it done again", `name="seen" value="0"`)

	w.want(w.decide(rita, 0, f.ID, "ask", "Which wrench was that?"), http.StatusSeeOther, "")
	s := w.state()
	if d := s.DecisionOn(f.ID); d == nil || d.Decision != event.Query || d.Name != "Rita" || d.Text != "Which wrench was that?" || d.Fastener != nut || s.Finished == nil {
		t.Fatalf("asked: %+v, finished %v", d, s.Finished)
	}
	w.has(w.get(rita, w.page), "Rita asked the installer", "Which wrench was that?", `name="seen" value="1"`)

	w.want(w.decide(rita, 1, f.ID, "redo", "Loosen it and torque it again."), http.StatusSeeOther, "")
	s = w.state()
	d := s.DecisionOn(f.ID)
	if d.Decision != event.Redo || d.Step != "strut_in_FL" || d.Fastener != nut {
		t.Fatalf("again: %+v", d)
	}
	if st := s.Steps[d.Step]; st.DoneN != 0 || !strings.Contains(st.ReopenedAs, "Rita: Loosen it") || guide.New(w.job.Sheet, s).Item(w.job.Sheet.Fastener(nut)).Clear || s.Finished != nil {
		t.Errorf("after that the step is %+v, the fastener %+v, finished %v", st, s.Fasteners[nut], s.Finished)
	}
	owed := "To be done again: “" + w.job.Sheet.Step(d.Step).Title + "”. Rita: Loosen it and torque it again."
	w.has(w.get(rita, w.page), owed)
	if status, _ := guide.New(w.job.Sheet, s).Status(w.job.Sheet.Step(d.Step)); status == guide.Done {
		t.Error("the guide calls the step done")
	}
	if got := w.installers(); !slices.Equal(got, before) {
		t.Error("what the installer wrote was changed")
	}

	redone := w.job // the installer takes the decision in, and does it again
	for _, e := range w.events() {
		redone.Add(e)
	}
	if !redone.Rescue() {
		t.Fatal("the installer is stuck after the decision")
	}
	w.bring(w.phone, redone)
	if strings.Contains(w.get(rita, w.page).body, owed) {
		t.Error("what was done again is still owed")
	}
	w.want(w.decide(rita, 2, "", "return", "Sign the card."), http.StatusSeeOther, "")
	if s = w.state(); s.Finished != nil || !guide.New(w.job.Sheet, s).Item(w.job.Sheet.Fastener(nut)).Clear {
		t.Errorf("returned: finished %v, and the nut %+v", s.Finished, s.Fasteners[nut])
	}
	w.has(w.unchanged(http.StatusConflict, func() answer { return w.decide(rita, 3, "", "accept", "") }), "is not finished, by its record")
	for _, e := range w.events() {
		redone.Add(e)
	}
	redone.Force(&event.JobFinished{})
	w.bring(w.phone, redone)
	w.want(w.decide(rita, 3, "", "accept", ""), http.StatusSeeOther, "")
	s = w.state()
	if d := s.DecisionOn(""); d.Decision != event.Accept || len(s.Decisions) != 4 {
		t.Errorf("at the end holds %+v of %d", d, len(s.Decisions))
	}
	w.has(w.get(rita, w.page), "Rita accepted this", "Rita returns the whole job: Sign the card.")
	if gaps := event.Gaps(w.events()); len(gaps) != 0 {
		t.Errorf("the record has gaps: %v", gaps)
	}
}

// TestErrDecide: what cannot be decided is refused with words, and nothing is written.
func TestErrDecide(t *testing.T) {
	w := finished(open(t, nil))
	f := w.finding("off_torque")
	for name, test := range map[string]struct {
		seen                    int
		finding, decision, text string
		status                  int
		words                   string
	}{
		"no such finding":           {0, "0000000000000000", "accept", "", http.StatusConflict, "no longer there"},
		"others decided":            {1, f.ID, "accept", "", http.StatusConflict, "decided on this job since"},
		"no reason":                 {0, f.ID, "redo", "", http.StatusBadRequest, "reason"},
		"no reason to return":       {0, "", "return", " ", http.StatusBadRequest, "reason"},
		"return of a finding":       {0, f.ID, "return", "r", http.StatusBadRequest, "cannot be decided"},
		"the whole job again":       {0, "", "redo", "r", http.StatusBadRequest, "cannot be decided"},
		"no decision":               {0, f.ID, "", "r", http.StatusBadRequest, "decision"},
		"a decision nobody knows":   {0, f.ID, "burn", "r", http.StatusBadRequest, "decision"},
		"a reason beyond all sizes": {0, f.ID, "ask", strings.Repeat("x", 9000), http.StatusBadRequest, "reason"},
	} {
		t.Run(name, func(t *testing.T) {
			sub := w
			sub.yard = w.in(t)
			sub.has(sub.unchanged(test.status, func() answer { return sub.decide(w.desk, test.seen, test.finding, test.decision, test.text) }), test.words)
		})
	}
	w.unchanged(http.StatusConflict, func() answer { return w.form(w.desk, w.page+"/decisions", "decision", "accept") }) // it does not say what was seen
	w.want(w.form(w.desk, "/shop/jobs/"+string(newDevice())+"/decisions", "seen", "0", "decision", "accept"), http.StatusNotFound, "")
}

// TestErrAcceptWithStop: a job that a stop stands in is not accepted, until that
// finding is decided on; nor one whose car is up.
func TestErrAcceptWithStop(t *testing.T) {
	w := finished(open(t, nil))
	w.want(w.form(w.desk, w.page+"/findings", "severity", "stop", "text", "recalled spring"), http.StatusSeeOther, "")
	w.has(w.unchanged(http.StatusConflict, func() answer { return w.decide(w.desk, 0, "", "accept", "") }), "A finding that says stop is open")
	for n := 0; ; n++ {
		i := slices.IndexFunc(review.Findings(w.job.Sheet, w.state(), w.events()), func(f review.Finding) bool {
			return f.Severity == review.Stop && w.state().DecisionOn(f.ID) == nil
		})
		if i < 0 {
			w.want(w.decide(w.desk, n, "", "accept", ""), http.StatusSeeOther, "")
			break
		}
		w.want(w.decide(w.desk, n, review.Findings(w.job.Sheet, w.state(), w.events())[i].ID, "accept", "seen"), http.StatusSeeOther, "")
	}

	up := finished(open(t, nil))
	up.job.Force(&event.CarRaised{Axle: event.Front})
	up.bring(up.phone, up.job)
	up.has(up.unchanged(http.StatusConflict, func() answer { return up.decide(up.desk, 0, "", "accept", "") }), "is not finished, by its record")
}

// TestErrDecideOnOldEvidence: the record went on while the reviewer read.
func TestErrDecideOnOldEvidence(t *testing.T) {
	w := finished(open(t, nil))
	f := w.finding("off_torque")
	w.job.Force(w.job.Pass(nut, "final"))
	w.bring(w.phone, w.job)
	a := w.unchanged(http.StatusConflict, func() answer { return w.decide(w.desk, 0, f.ID, "accept", "") })
	w.has(a, "This finding is no longer there: the record has changed.", "Go back to the job")
	if w.state().DecisionOn(f.ID) != nil {
		t.Error("the decision was kept")
	}
}

// TestErrRedoOfAMove: a car is not raised or lowered again by opening a step.
func TestErrRedoOfAMove(t *testing.T) {
	y := open(t, nil)
	j := guidetest.New(t, sheet.Demo()[0])
	j.Force(&event.CarRaised{Axle: event.Front}, &event.StepSkipped{Step: "lower_step_front", Reason: "no jack"})
	w := y.work(j)
	f := w.finding("skipped")
	if f.Step != "lower_step_front" {
		t.Fatalf("the finding is about %q", f.Step)
	}
	if a := y.get(w.desk, w.page); strings.Contains(a.body, "Have it done again") {
		t.Error("the page offers it")
	}
	a := w.unchanged(http.StatusBadRequest, func() answer { return w.decide(w.desk, 0, f.ID, "redo", "Lower it.") })
	w.has(a, "no step that could be done again", "Ask the installer instead")
	w.want(w.decide(w.desk, 0, f.ID, "ask", "Is it down?"), http.StatusSeeOther, "")
}

// TestTwoReviewers: whoever did not see the other's word decides nothing.
func TestTwoReviewers(t *testing.T) {
	w := finished(open(t, nil))
	f := w.finding("off_torque")
	both := []*http.Client{w.account(w.desk, "Rita", "reviewer"), w.account(w.desk, "Rob", "reviewer")}
	var wrote, refused atomic.Int32
	var wg sync.WaitGroup
	for i, c := range both {
		wg.Go(func() {
			switch a := w.decide(c, 0, f.ID, []string{"accept", "ask"}[i], "because"); a.status {
			case http.StatusSeeOther:
				wrote.Add(1)
			case http.StatusConflict:
				refused.Add(1)
				w.has(a, "Somebody decided on this job since you opened the page.", "Go back to the job, read what was decided")
			default:
				t.Errorf("status %d: %s", a.status, a.body)
			}
		})
	}
	wg.Wait()
	first := w.state().Decisions
	if wrote.Load() != 1 || refused.Load() != 1 || len(first) != 1 {
		t.Fatalf("%d wrote, %d were refused, %d decisions are kept, want one of each", wrote.Load(), refused.Load(), len(first))
	}
	w.want(w.decide(w.desk, 1, f.ID, "ask", "and yet"), http.StatusSeeOther, "")
	if all := w.state().Decisions; len(all) != 2 || all[0].ID != first[0].ID || all[0].Text != first[0].Text {
		t.Errorf("the first decision did not stay: %+v", all)
	}
}

// TestReviewRoles: an author says what they think and decides nothing.
func TestReviewRoles(t *testing.T) {
	w := finished(open(t, nil))
	f := w.finding("off_torque")
	alva := w.account(w.desk, "Alva", "author")
	w.unchanged(http.StatusForbidden, func() answer { return w.decide(alva, 0, f.ID, "accept", "") })
	w.unchanged(http.StatusForbidden, func() answer { return w.form(alva, w.page+"/findings", "severity", "ask", "text", "a twist") })
	w.unchanged(http.StatusForbidden, func() answer { return w.form(alva, w.page+"/release", "step", "look_over", "text", "looked") })
	if page := w.get(alva, w.page).body; strings.Contains(page, "/decisions") || strings.Contains(page, "/findings") || !strings.Contains(page, "/comments") {
		t.Error("the page offers an author what they may not do, or not what they may")
	}
	w.want(w.form(alva, w.page+"/comments", "about", "step:strut_in_FL", "text", "Mind the <b>bush</b>."), http.StatusSeeOther, "")
	c := w.state().Comments
	if len(c) != 1 || c[0].Name != "Alva" || c[0].Step != "strut_in_FL" || c[0].Text != "Mind the <b>bush</b>." {
		t.Errorf("comments = %+v", c)
	}
	w.has(w.get(w.desk, w.page), "<strong>Alva</strong>", "Mind the &lt;b&gt;bush&lt;/b&gt;.", ", on “")
	w.unchanged(http.StatusBadRequest, func() answer { return w.form(alva, w.page+"/comments", "text", " ") })
	w.want(w.form(alva, "/shop/jobs/"+string(newDevice())+"/comments", "text", "hello"), http.StatusNotFound, "")
}

// TestRaise: what a reviewer saw stands among the findings, gravest first, and is
// decided on like them.
func TestRaise(t *testing.T) {
	w := finished(open(t, nil))
	rita := w.account(w.desk, "Rita", "reviewer")
	w.want(w.form(rita, w.page+"/findings", "about", "step:strut_in_FL", "severity", "stop", "text", "The hose is twisted."), http.StatusSeeOther, "")
	raised := w.state().Raised
	if len(raised) != 1 || raised[0].Name != "Rita" || raised[0].Step != "strut_in_FL" || raised[0].Severity != "stop" {
		t.Fatalf("raised = %+v", raised)
	}
	page := w.get(w.desk, w.page).body
	var order []string
	for _, m := range regexp.MustCompile(`<strong>(stop|ask|note):</strong>`).FindAllStringSubmatch(page, -1) {
		order = append(order, m[1])
	}
	found := regexp.MustCompile(`id="finding-([0-9a-f]+)"[^!]{0,100}<strong>stop:</strong> Rita saw: The hose is twisted.`).FindStringSubmatch(page)
	if found == nil {
		t.Fatalf("the finding is not listed: %s", page)
	}
	if !slices.IsSortedFunc(order, func(a, b string) int { return strings.Index("stop ask note", a) - strings.Index("stop ask note", b) }) || len(order) < 2 {
		t.Errorf("in this order: %v", order)
	}
	w.want(w.decide(rita, 0, found[1], "redo", "Turn the hose."), http.StatusSeeOther, "")
	if s := w.state(); s.DecisionOn(found[1]) == nil || s.Steps["strut_in_FL"].DoneN != 0 {
		t.Error("what was raised cannot be decided on")
	}
	for _, form := range [][]string{{"severity", "grave", "text", "x"}, {"text", "x"}, {"severity", "ask"}} {
		w.unchanged(http.StatusBadRequest, func() answer { return w.form(rita, w.page+"/findings", form...) })
	}
}

// TestDecisionsComeBack: a restored server takes its own words back from a phone, and
// no others.
func TestDecisionsComeBack(t *testing.T) {
	dir, kept := t.TempDir(), filepath.Join(t.TempDir(), "monday")
	w := finished(open(t, inFolder(dir)))
	if _, err := server.Backup(context.Background(), dir, kept); err != nil {
		t.Fatal(err)
	}
	f := w.finding("off_torque")
	w.want(w.form(w.desk, w.page+"/findings", "severity", "ask", "text", "a twist"), http.StatusSeeOther, "")
	w.want(w.decide(w.desk, 0, f.ID, "accept", "fine"), http.StatusSeeOther, "")
	w.want(w.decide(w.desk, 1, "", "return", "not so"), http.StatusSeeOther, "")
	w.want(w.form(w.desk, w.page+"/comments", "text", "see above"), http.StatusSeeOther, "")
	var ours []string
	for _, e := range w.events() {
		if _, proven := e.Payload().(event.Proven); proven || e.Kind == event.KindCommentAdded {
			ours = append(ours, e.Line())
		}
	}
	if len(ours) != 4 {
		t.Fatalf("%d events of the desk reached the phone, want 4", len(ours))
	}
	before := w.state()

	fresh := filepath.Join(t.TempDir(), "fresh")
	if _, err := server.Restore(context.Background(), kept, fresh); err != nil {
		t.Fatal(err)
	}
	restored := w
	restored.yard = open(t, inFolder(fresh))
	restored.phone.y = restored.yard
	if s := restored.state(); len(s.Decisions) != 0 || len(s.Raised) != 0 {
		t.Fatal("the backup was to be older than the decisions")
	}
	chain := event.Chain{Job: w.id, Device: w.phone.device}
	made, err := chain.Seal(event.ID(newDevice()), w.clock.now(), &event.DecisionMade{Decision: event.Accept, Name: "Ann", Proof: strings.Repeat("0", 64)})
	if err != nil {
		t.Fatal(err)
	}
	first, err := event.Decode([]byte(ours[1]))
	if err != nil || first.Kind != event.KindDecisionMade {
		t.Fatalf("%s: %v", ours[1], err)
	}
	foreign := []string{made.Line()}
	for _, change := range [][2]string{{`"text":"fine"`, `"text":"very fine"`}, {f.ID, "0000000000000000"}, {fmt.Sprintf(`"seq":%d`, first.Seq), `"seq":9`},
		{fmt.Sprintf(`"tick":%d`, first.Tick), `"tick":99999`}, {string(first.ID), string(newDevice())}, {string(first.Prev), strings.Repeat("a", 64)}} {
		line := strings.Replace(ours[1], change[0], change[1], 1)
		if line == ours[1] {
			t.Fatalf("%s is not in the line", change[0])
		}
		foreign = append(foreign, line)
	}
	for i, v := range restored.phone.sync(foreign...).Verdicts {
		if v.Outcome != store.Refused || v.Reason == nil || !strings.Contains(v.Reason.Message, "decision of another shop") {
			t.Errorf("%s: %s %v, want it refused", foreign[i], v.Outcome, v.Reason)
		}
	}
	if got := outcomes(restored.phone.sync(ours...)); !same(got, store.Stored, store.Stored, store.Stored, store.Stored) {
		t.Errorf("its own words: %v", got)
	}
	if got, want := restored.state().JSON(), before.JSON(); got != want {
		t.Error("the job is not as it was before the restore")
	}
	restored.desk = restored.staff()
	restored.has(restored.get(restored.desk, w.page), "returned the job", "a twist", "see above")
	restored.want(restored.decide(restored.desk, 2, "", "return", "again"), http.StatusSeeOther, "") // the chain goes on
	if gaps := event.Gaps(restored.events()); len(gaps) != 0 {
		t.Errorf("the record has gaps: %v", gaps)
	}
}

// TestNewestCommentFirst: the desk's remarks stand as the phone's do.
func TestNewestCommentFirst(t *testing.T) {
	w := finished(open(t, nil))
	for _, text := range []string{"the older word", "the newer word"} {
		w.want(w.form(w.desk, w.page+"/comments", "text", text), http.StatusSeeOther, "")
	}
	_, comments, _ := strings.Cut(w.get(w.desk, w.page).body, `<section id="comments">`)
	newer, older := strings.Index(comments, "the newer word"), strings.Index(comments, "the older word")
	if newer < 0 || older < newer {
		t.Errorf("the newest remark does not stand first:\n%s", comments)
	}
}

// TestManyComments: staff and guests speak at once, and all of it is kept in chains
// without a gap.
func TestManyComments(t *testing.T) {
	w := finished(open(t, nil))
	var speakers []func(text string) answer
	for _, c := range []*http.Client{w.desk, w.account(w.desk, "Alva", "author")} {
		speakers = append(speakers, func(text string) answer { return w.form(c, w.page+"/comments", "text", text) })
	}
	for _, name := range []string{"Ben", "Bea"} {
		c, look := w.guest(w.link("comment", "1"), name)
		speakers = append(speakers, func(text string) answer { return w.form(c, look+"/comments", "text", text) })
	}
	const count = 20
	var wg sync.WaitGroup
	for i := range count {
		wg.Go(func() {
			if a := speakers[i%len(speakers)](fmt.Sprintf("word %d", i)); a.status != http.StatusSeeOther {
				t.Errorf("comment %d: status %d, %s", i, a.status, a.body)
			}
		})
	}
	wg.Wait()
	events := w.events()
	kept := map[string]int{}
	for _, c := range job.Fold(w.id, events).Comments {
		kept[c.Text]++
	}
	for i := range count {
		if kept[fmt.Sprintf("word %d", i)] != 1 {
			t.Errorf("word %d is kept %d times", i, kept[fmt.Sprintf("word %d", i)])
		}
	}
	if gaps := event.Gaps(events); len(gaps) != 0 {
		t.Errorf("gaps: %v", gaps)
	}
}
