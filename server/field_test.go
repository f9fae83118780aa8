package server_test

import (
	"context"
	"encoding/csv"
	"net/http"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

const (
	timed event.StepID = "strut_out_FL"

	fieldWords = "In the field: "
)

// fieldPage is where the figures of the demo's first sheet stand.
func fieldPage(rest string) string {
	return "/shop/sheets/" + string(sheet.Demo()[0].Hash()) + "/field" + rest
}

// entry is a payload with when it was entered, after the start of its job.
type entry struct {
	after time.Duration
	p     event.Payload
}

// brief brings a short job on the demo's first sheet, told with its own clock.
func (p phone) brief(entries ...entry) {
	p.y.t.Helper()
	sh := sheet.Demo()[0]
	chain := event.Chain{Job: storetest.NewID[event.JobID](), Device: p.device}
	var lines []string
	for _, e := range append([]entry{{0, &event.JobOpened{Sheet: sh.Hash(), Title: sh.Title, Vehicle: "Quince7 car"}}}, entries...) {
		sealed, err := chain.Seal(storetest.NewID[event.ID](), p.y.clock.now().Add(e.after), e.p)
		if err != nil {
			p.y.t.Fatal(err)
		}
		chain = chain.See(sealed)
		lines = append(lines, sealed.Line())
	}
	p.stored(lines)
}

func (p phone) stored(lines []string) {
	p.y.t.Helper()
	for _, v := range p.sync(lines...).Verdicts {
		if v.Outcome != store.Stored {
			p.y.t.Fatalf("bring: %s %v", v.Outcome, v.Reason)
		}
	}
}

// stepFor is the work at one step, so long.
func stepFor(d time.Duration) []entry {
	return []entry{{0, &event.StepStarted{Step: timed}}, {d, &event.StepDone{Step: timed}}}
}

// row is the table's row of the timed step.
func (y *yard) row(a answer) string {
	y.t.Helper()
	title := regexp.QuoteMeta(sheet.Demo()[0].Step(timed).Title)
	m := regexp.MustCompile(`(?s)<th scope="row">` + title + `</th>(.*?)</tr>`).FindStringSubmatch(a.body)
	if m == nil {
		y.t.Fatalf("the page has no row of the step: %s", a.body)
	}
	return m[1]
}

// TestField: nothing is said of no job, few are said to be few and stand one by
// one, and from five on they are summed up.
func TestField(t *testing.T) {
	y := open(t, nil)
	desk, p := y.staff(), y.joined()
	y.has(y.get(desk, fieldPage("")[:len(fieldPage(""))-len("/field")]), `href="`+fieldPage("")+`"`)
	empty := y.get(desk, fieldPage(""))
	y.has(empty, "No job on this sheet yet.")
	if strings.Contains(empty.body, "<svg") || strings.Contains(empty.body, "<table") {
		t.Error("without any job something is drawn or listed")
	}
	for n := range time.Duration(4) {
		p.brief(stepFor((n + 1) * 10 * time.Minute)...)
	}
	few := y.get(desk, fieldPage(""))
	y.has(few, "Small numbers: 4 jobs.", "4 of 5 jobs: too few to compare")
	if row := y.row(few); !strings.Contains(row, "<td>4 of 5</td><td>too few</td><td>–</td><td>10 min, 20 min, 30 min, 40 min</td>") {
		t.Errorf("four jobs are not said to be few: %s", row)
	}
	if !strings.Contains(few.body, `class="dot"`) || strings.Contains(few.body, `class="box"`) {
		t.Error("four values are not drawn one by one")
	}
	p.brief(append(stepFor(50*time.Minute), entry{time.Hour, &event.JobFinished{}})...)
	enough := y.get(desk, fieldPage(""))
	y.has(enough, "5 jobs on this version: 1 finished, 4 not.", `class="box"`)
	if row := y.row(enough); !strings.Contains(row, "<td>5</td><td>30 min</td><td>20 min to 40 min</td><td>10 min to 50 min</td>") {
		t.Errorf("five jobs are not summed up: %s", row)
	}
	if strings.Contains(enough.body, "Small numbers") {
		t.Error("five jobs are said to be few")
	}
}

var drawn = regexp.MustCompile(`(?s)<svg.*?</svg>`)

// TestFieldWhole shows whole jobs: every drawing says in words what it shows, and
// the page names no car, phone or person.
func TestFieldWhole(t *testing.T) {
	y := open(t, nil)
	desk, p := y.staff(), y.joined()
	for n := range 2 {
		j := guidetest.New(t, sheet.Demo()[0])
		j.Until("")
		if n == 1 {
			off := j.Pass(nut, "final")
			off.SetCNM *= 2
			j.Force(off)
		}
		y.bring(p, j)
	}
	got := y.get(desk, fieldPage(""))
	y.want(got, http.StatusOK, "")
	y.has(got, "Where jobs stop", "Time at each step", "Final torque against spec", "Waiting at hold points", "Before and after", "as found", "too few to compare", "Camber")
	pictures := 0
	for _, svg := range drawn.FindAllString(got.body, -1) {
		if strings.Contains(svg, `role="img"`) {
			pictures++
			if !regexp.MustCompile(`<title>[^<]+</title>\s*<desc>[^<]+</desc>`).MatchString(svg) {
				t.Errorf("a drawing says nothing in words: %s", svg)
			}
		} else if !strings.Contains(got.body, `aria-hidden="true"><span></span> `+svg) && !strings.Contains(got.body, `aria-hidden="true"><span></span>`+svg) {
			t.Errorf("a drawing is neither named nor hidden: %s", svg)
		}
	}
	if pictures < 20 {
		t.Errorf("only %d drawings: the test looks at too little", pictures)
	}
	for _, private := range []string{"test car", "Ann&#39;s phone", "Ann's phone", string(p.device)} {
		if strings.Contains(got.body, private) {
			t.Errorf("the page names %q", private)
		}
	}
}

// TestFieldTables: each table is read as one, and has a line for every step.
func TestFieldTables(t *testing.T) {
	y := open(t, nil)
	desk, p := y.staff(), y.joined()
	p.brief(stepFor(90 * time.Second)...)
	for name, column := range map[string]string{"steps": "time_each_s", "fasteners": "off_median_percent", "readings": "value_median_in_unit"} {
		a := y.get(desk, fieldPage("/"+name+".csv"))
		y.want(a, http.StatusOK, "")
		rows, err := csv.NewReader(strings.NewReader(a.body)).ReadAll()
		if err != nil || !strings.Contains(strings.Join(rows[0], " "), column) {
			t.Fatalf("%s: %v, %v", name, err, rows)
		}
		if got := a.header.Get("Content-Disposition"); !strings.Contains(got, "attachment") || !strings.Contains(got, name+".csv") {
			t.Errorf("%s: %q is no download", name, got)
		}
		if name == "steps" && (len(rows) != len(sheet.Demo()[0].Steps())+1 || !strings.Contains(a.body, ",yes,90,")) {
			t.Errorf("the steps are not all there, or the time is not: %s", a.body)
		}
	}
}

// publishedIn puts a sheet into a shop as if it had been published there.
func (y *yard) publishedIn(dir string, id shop.ID, sh *sheet.Sheet) {
	y.t.Helper()
	db, err := sqlite.Open(filepath.Join(dir, "strutcard.db"), sqlite.Options{Now: y.clock.now})
	if err != nil {
		y.t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	if err := db.AddSheet(context.Background(), id, shop.Sheet{Hash: sh.Hash(), Title: sh.Title, Version: sh.Version, Published: true, Body: sh.Encode()}); err != nil {
		y.t.Fatal(err)
	}
}

// TestFieldOfOneShop: another shop's jobs on the very same sheet are never counted.
func TestFieldOfOneShop(t *testing.T) {
	dir := t.TempDir()
	h := openHandlerAt(t, dir, "")
	desk, ours := h.staff(), h.joined()
	olga := h.otherShop(dir)
	h.publishedIn(dir, "other", sheet.Demo()[0])
	theirs := h.phoneOf(olga)
	ours.brief(stepFor(10 * time.Minute)...)
	for range 3 {
		theirs.brief(stepFor(70 * time.Minute)...)
	}
	for range 2 { // the second time round what was counted last is another shop's
		mine, other := h.get(desk, fieldPage("")), h.get(olga, fieldPage(""))
		h.has(mine, "1 job on this version: 0 finished, 1 not.")
		h.has(other, "3 jobs on this version: 0 finished, 3 not.")
		if row := h.row(mine); !strings.Contains(row, "10 min") || strings.Contains(row, "1 h 10 min") {
			t.Errorf("our figures are not ours alone: %s", row)
		}
		if row := h.row(other); !strings.Contains(row, "1 h 10 min") || strings.Contains(row, ">10 min") {
			t.Errorf("their figures are not theirs alone: %s", row)
		}
	}
	list := h.get(olga, strings.TrimSuffix(fieldPage(""), "/field"))
	if n := strings.Count(list.body, `href="/shop/jobs/`); n != 3 {
		t.Errorf("their sheet lists %d jobs, want their 3", n)
	}
	ours.brief(stepFor(20 * time.Minute)...)
	h.has(h.get(desk, fieldPage("")), "2 jobs on this version")
}

// TestFieldNewest: with many jobs those heard from last are counted, and it is said.
func TestFieldNewest(t *testing.T) {
	y := open(t, nil)
	desk, p := y.staff(), y.joined()
	p.brief(stepFor(77 * time.Minute)...)
	y.clock.pass(time.Hour)
	sh := sheet.Demo()[0]
	var lines []string
	for range 500 {
		e, err := event.Chain{Job: storetest.NewID[event.JobID](), Device: p.device}.Seal(storetest.NewID[event.ID](), y.clock.now(), &event.JobOpened{Sheet: sh.Hash(), Title: sh.Title, Vehicle: "car"})
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, e.Line())
	}
	p.stored(lines)
	got := y.get(desk, fieldPage(""))
	y.has(got, "500 jobs on this version", "There are 501. Counted are the 500 heard from last.")
	if strings.Contains(y.row(got), "1 h 17 min") {
		t.Error("the oldest job is counted too")
	}
	y.has(y.get(desk, strings.TrimSuffix(fieldPage(""), "/field")), "These are the 500 heard from last, of 501.")
}

func TestErrField(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	for _, rest := range []string{"/field", "/field/steps.csv"} {
		y.want(y.get(desk, "/shop/sheets/"+strings.Repeat("0", 64)+rest), http.StatusNotFound, "")
	}
	if reviewer := y.get(y.account(desk, "rita", "reviewer"), fieldPage("")); reviewer.status != http.StatusForbidden || strings.Contains(reviewer.body, fieldWords) {
		t.Errorf("a reviewer reads an author's page: %d", reviewer.status)
	}
}
