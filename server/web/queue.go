package web

import (
	"cmp"
	"context"
	_ "embed"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/review"
	"strutcard/templates"
)

const (
	queuePage = 100
	maxOffset = 1_000_000
	maxSought = 200 // bytes of what is looked for
)

// queueScript moves through the queue by keys.
//
//go:embed static/queue.js
var queueScript []byte

func (s *site) registerQueueRoutes(r routes) {
	r.get("/shop", s.desk(s.handleQueue))
	r.get("/static/queue.js", fixed(queueScript, scriptType, askEachTime))
}

// sought is what the address of the queue asks for. What makes no sense in it narrows
// nothing, and the page says what does.
type sought struct {
	text   string
	filter shop.Filter
}

// choices are what a list is narrowed by, in the order that a person sees; "" is all.
var (
	workChoices     = []templates.Choice{{Value: "", Label: "any"}, {Value: string(shop.WorkOn), Label: "in work"}, {Value: string(shop.WorkUp), Label: "car is up"}, {Value: string(shop.WorkDone), Label: "finished"}}
	decisionChoices = []templates.Choice{{Value: "", Label: "any"}, {Value: string(shop.Undecided), Label: "undecided"}, {Value: string(event.Accept), Label: "accepted"}, {Value: string(event.Return), Label: "returned"}}
	severityChoices = []templates.Choice{{Value: "", Label: "any"}, {Value: "stop", Label: "has stops"}, {Value: "ask", Label: "has asks"}, {Value: "note", Label: "has notes"}}
)

func labelOf(choices []templates.Choice, value string) string {
	if i := slices.IndexFunc(choices, func(c templates.Choice) bool { return c.Value == value }); i > 0 {
		return choices[i].Label
	}
	return ""
}

func readSought(c echo.Context) sought {
	get := func(name string, choices []templates.Choice) string {
		if value := c.QueryParam(name); labelOf(choices, value) != "" {
			return value
		}
		return ""
	}
	q := sought{text: strings.TrimSpace(strings.ToValidUTF8(c.QueryParam("q"), " "))}
	q.filter = shop.Filter{Words: soughtWords(q.text), Limit: queuePage + 1,
		Work: shop.Work(get("state", workChoices)), Decision: event.Decision(get("decision", decisionChoices)), Severity: get("severity", severityChoices)}
	if rule := c.QueryParam("finding"); review.Title(rule) != "" {
		q.filter.Rule = rule
	}
	if offset, err := strconv.Atoi(c.QueryParam("from")); err == nil && offset > 0 && offset <= maxOffset {
		q.filter.Offset = offset
	}
	return q
}

// soughtWords takes a text apart into what can be looked for: a word without a letter
// or a digit is none.
func soughtWords(text string) []string {
	apart := func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }
	none := func(w string) bool {
		return !strings.ContainsFunc(w, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsNumber(r) })
	}
	return slices.DeleteFunc(strings.FieldsFunc(text, apart), none)
}

// problem says why nothing can be looked for.
func (q sought) problem() string {
	switch {
	case len(q.text) > maxSought:
		return lang.T("That is too much to look for. Give a few words, up to 200 letters in all.")
	case q.text != "" && len(q.filter.Words) == 0:
		return lang.T("There is no word and no number in that. Give the beginning of a word: of the car, the sheet, or anything that was written in the job.")
	}
	return ""
}

// inWords says what the list is narrowed to; "" when it is not.
func (q sought) inWords() string {
	var out []string
	for _, one := range []string{labelOf(workChoices, string(q.filter.Work)), labelOf(decisionChoices, string(q.filter.Decision)), labelOf(severityChoices, q.filter.Severity)} {
		if one != "" {
			out = append(out, lang.T(one))
		}
	}
	if q.filter.Rule != "" {
		out = append(out, lang.F("finding “%s”", review.Title(q.filter.Rule)))
	}
	if q.text != "" {
		out = append(out, lang.F("with “%s”", q.text))
	}
	return strings.Join(out, ", ")
}

// link is the address of the same list from another row on.
func (q sought) link(offset int) string {
	v := url.Values{}
	for name, value := range map[string]string{"q": q.text, "state": string(q.filter.Work), "decision": string(q.filter.Decision), "severity": q.filter.Severity, "finding": q.filter.Rule} {
		if value != "" {
			v.Set(name, value)
		}
	}
	if offset > 0 {
		v.Set("from", strconv.Itoa(offset))
	}
	if len(v) == 0 {
		return "/shop"
	}
	return "/shop?" + v.Encode()
}

// handleQueue lists the shop's jobs: what waits for the shop's word first, gravest first.
func (s *site) handleQueue(c echo.Context, who shop.Staff) error {
	ctx, q := c.Request().Context(), readSought(c)
	rules, err := s.Store.OpenRules(ctx, who.Shop)
	if err != nil {
		return err
	}
	v := templates.Queue{Desk: frame(who, lang.T("Jobs"), "queue"), Text: q.text, Words: q.inWords(), Problem: q.problem(), Selects: queueSelects(q.filter, rules)}
	if v.Problem != "" {
		return page(c, http.StatusOK, templates.QueuePage(v))
	}
	if err := s.fillQueue(ctx, who.Shop, q, &v); err != nil {
		return err
	}
	if v.Totals == "" && v.Words == "" {
		phones, err := s.Store.Phones(ctx, who.Shop)
		if err != nil {
			return err
		}
		v.NoPhones = len(phones) == 0
	}
	return page(c, http.StatusOK, templates.QueuePage(v))
}

// fillQueue puts in the rows, the totals over all pages, and the ways to the others.
func (s *site) fillQueue(ctx context.Context, id shop.ID, q sought, v *templates.Queue) error {
	totals, err := s.Store.QueueTotals(ctx, id, q.filter)
	if err != nil {
		return err
	}
	rows, err := s.Store.Queue(ctx, id, q.filter)
	if err != nil {
		return err
	}
	if totals.Jobs > 0 {
		v.Totals = lang.F("%s. Open findings: %s.", jobsWords(totals.Jobs), templates.FindingWords(totals.Stops, totals.Asks, totals.Notes))
	}
	if len(rows) > queuePage {
		rows, v.Older = rows[:queuePage], q.link(q.filter.Offset+queuePage)
	}
	if q.filter.Offset > 0 {
		v.Newer = q.link(max(0, q.filter.Offset-queuePage))
	}
	for _, r := range rows {
		v.Rows = append(v.Rows, queueRow(r))
	}
	return nil
}

func jobsWords(n int) string {
	return lang.N(n, "%d job", "%d jobs", n)
}

func queueSelects(f shop.Filter, open []shop.OpenRule) []templates.Select {
	rules := []templates.Choice{{Value: "", Label: lang.T("any")}}
	for _, r := range open {
		rules = append(rules, templates.Choice{Value: r.Rule, Label: fmt.Sprintf("%s (%s)", cmp.Or(review.Title(r.Rule), lang.T("another finding")), jobsWords(r.Jobs))})
	}
	slices.SortStableFunc(rules[1:], func(a, b templates.Choice) int { return strings.Compare(a.Label, b.Label) })
	if f.Rule != "" && labelOf(rules, f.Rule) == "" {
		rules = append(rules, templates.Choice{Value: f.Rule, Label: lang.F("%s (no job)", review.Title(f.Rule))})
	}
	return []templates.Select{
		{Name: "state", Label: lang.T("Work"), Choices: said(workChoices, lang.T), Chosen: string(f.Work)},
		{Name: "decision", Label: lang.T("Decision"), Choices: said(decisionChoices, lang.T), Chosen: string(f.Decision)},
		{Name: "severity", Label: lang.T("Severity"), Choices: said(severityChoices, lang.T), Chosen: f.Severity},
		{Name: "finding", Label: lang.T("Finding"), Choices: rules, Chosen: f.Rule},
	}
}

func queueRow(r shop.Row) templates.QueueRow {
	v := templates.QueueRow{Job: string(r.Job), Vehicle: r.Vehicle, Sheet: lang.T(r.Title), Opened: when(r.Opened), Heard: when(r.Heard),
		Up: r.Up, Stops: r.Stops, Asks: r.Asks, Notes: r.Notes, State: lang.T("in work"), NotFinal: strconv.Itoa(r.NotFinal),
		Decision: lang.T(labelOf(decisionChoices, string(r.Decision)))}
	if v.Vehicle == "" {
		v.Vehicle = lang.T("unnamed car")
	}
	if r.NotFinal < 0 {
		v.NotFinal, v.Unjudged = lang.T("sheet not here"), lang.T("not judged")
	}
	if !r.Withdrawn.IsZero() {
		v.Withdrawn = when(r.Withdrawn)
	}
	switch {
	case r.Up && r.Finished:
		v.State = lang.T("car is up, finished")
	case r.Up:
		v.State = lang.T("car is up")
	case r.Finished && r.NotFinal > 0:
		v.State = lang.F("finished with %d not final", r.NotFinal)
	case r.Finished:
		v.State = lang.T("finished")
	}
	return v
}
