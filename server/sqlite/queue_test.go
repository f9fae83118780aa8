package sqlite_test

import (
	"context"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/store/storetest"
)

func itoa(n int) string { return strconv.Itoa(n) }

// opened returns a job's first event and the chain after it.
func opened(t testing.TB, sheet event.SheetHash, vehicle string) (event.Event, event.Chain) {
	t.Helper()
	chain := event.Chain{Job: storetest.NewID[event.JobID](), Device: storetest.NewID[event.DeviceID]()}
	e, err := chain.Seal(storetest.NewID[event.ID](), time.UnixMilli(1_790_000_000_000), &event.JobOpened{Sheet: sheet, Title: "A sheet", Vehicle: vehicle})
	if err != nil {
		t.Fatal(err)
	}
	return e, chain.See(e)
}

var someHash = event.SheetHash(strings.Repeat("ab", 32))

func queue(t *testing.T, db *sqlite.DB, f shop.Filter) []shop.Row {
	t.Helper()
	if f.Limit == 0 {
		f.Limit = 100
	}
	rows, err := db.Queue(context.Background(), yard, f)
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func TestQueueFollowsTheLog(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	e, chain := opened(t, someHash, "The 50% car")
	log := db.Shop(yard)
	for i := range 4 { // one event a time: the cached log must not go stale
		if _, err := log.Append(context.Background(), "device:x", []event.Event{e}); err != nil {
			t.Fatal(err)
		}
		rows := queue(t, db, shop.Filter{})
		if len(rows) != 1 || rows[0].Notes != i+1 || rows[0].Vehicle != "The 50% car" || rows[0].Heard.IsZero() {
			t.Fatalf("after %d events the queue says %+v", i+1, rows)
		}
		next, err := chain.Seal(storetest.NewID[event.ID](), e.Time(), &event.NoteAdded{Text: "more"})
		if err != nil {
			t.Fatal(err)
		}
		e, chain = next, chain.See(next)
	}
}

func TestQueueAfterRollback(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	e, _ := opened(t, someHash, "car")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := db.Shop(yard).Append(ctx, "device:x", []event.Event{e}); err == nil {
		t.Fatal("a cancelled append succeeded")
	}
	if _, err := db.Shop(yard).Append(context.Background(), "device:x", []event.Event{e}); err != nil {
		t.Fatal(err)
	}
	if rows := queue(t, db, shop.Filter{}); len(rows) != 1 || rows[0].Notes != 1 {
		t.Errorf("queue = %+v, want one job of one event", rows)
	}
}

// The transaction fails after the job was read and projected: nothing of it may
// stay in memory.
func TestQueueAfterLateRollback(t *testing.T) {
	var cut context.CancelFunc
	db := openYard(t, sqlite.Options{Project: func(job event.JobID, events []event.Event, sheetOf func(event.SheetHash) []byte) shop.Summary {
		if cut != nil {
			cut()
		}
		return countEvents(job, events, sheetOf)
	}})
	first, chain := opened(t, someHash, "car")
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	cut = cancel
	if _, err := db.Shop(yard).Append(ctx, "device:x", []event.Event{first}); err == nil {
		t.Fatal("an append that was cut off succeeded")
	}
	cut = nil
	second, err := chain.Seal(storetest.NewID[event.ID](), first.Time(), &event.NoteAdded{Text: "more"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Shop(yard).Append(context.Background(), "device:x", []event.Event{second}); err != nil {
		t.Fatal(err)
	}
	if rows := queue(t, db, shop.Filter{}); len(rows) != 1 || rows[0].Notes != 1 || rows[0].Vehicle != "" {
		t.Errorf("queue = %+v, want one job of the second event only", rows)
	}
}

func TestQueueWhenTheSheetArrives(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	e, _ := opened(t, someHash, "car")
	if _, err := db.Shop(yard).Append(context.Background(), "device:x", []event.Event{e}); err != nil {
		t.Fatal(err)
	}
	if got := queue(t, db, shop.Filter{})[0].NotFinal; got != -1 {
		t.Errorf("without its sheet NotFinal = %d, want -1", got)
	}
	if err := db.AddSheet(context.Background(), yard, shop.Sheet{Hash: someHash, Title: "A sheet", Body: []byte("{}")}); err != nil {
		t.Fatal(err)
	}
	if got := queue(t, db, shop.Filter{})[0].NotFinal; got != 0 {
		t.Errorf("with its sheet NotFinal = %d, want 0", got)
	}
}

// add stores a job of the yard: its opening, and more after it.
func add(t *testing.T, db *sqlite.DB, vehicle string, more ...event.Payload) event.JobID {
	t.Helper()
	e, chain := opened(t, someHash, vehicle)
	events := []event.Event{e}
	for _, p := range more {
		next, err := chain.Seal(storetest.NewID[event.ID](), e.Time(), p)
		if err != nil {
			t.Fatal(err)
		}
		events, chain = append(events, next), chain.See(next)
	}
	if _, err := db.Shop(yard).Append(context.Background(), "device:x", events); err != nil {
		t.Fatal(err)
	}
	return e.Job
}

func decision(d event.Decision) event.Payload {
	return &event.DecisionMade{Decision: d, Name: "Ann", Text: "so be it", Proof: "-"}
}

// TestQueueWords: every word must begin a word of the job, whatever its case and its
// accents, and nothing that is typed is an operator.
func TestQueueWords(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	add(t, db, "Blue 50% van", &event.NoteAdded{Text: "Élan rattles, or knocks"})
	add(t, db, "Red van", &event.NoteAdded{Text: "kit BY-24"})
	add(t, db, "Green estate")
	for text, want := range map[string]int{"van": 2, "VAN": 2, "va": 2, "an": 0, "50%": 1, "van blue": 1, "van green": 0, "sheet": 3, "elan": 1, "éLA": 1, "ratt": 1,
		"BY-24": 1, "24-BY": 0, "van OR estate": 0, "van or": 1, "NOT van": 0, "words:van": 0, "van*": 2, `"van`: 2, `a"b`: 0, "(van)": 2, "^van": 2, "NEAR(van blue)": 0, "-van": 2} {
		if got := len(queue(t, db, shop.Filter{Words: strings.Fields(text)})); got != want {
			t.Errorf("%q finds %d, want %d", text, got, want)
		}
	}
}

// TestQueueFindsPhones: a job is found by the name of the phone that wrote it.
func TestQueueFindsPhones(t *testing.T) {
	ctx, db, device := context.Background(), openYard(t, sqlite.Options{}), storetest.NewID[event.DeviceID]()
	if err := db.Invite(ctx, shop.Invitation{Digest: "d", Shop: yard, By: "s1", Expires: time.Now().Add(time.Hour)}); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Join(ctx, "d", shop.Phone{Device: device, Name: "Nora's handset", TokenID: "t"}, ""); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Shop(yard).Append(ctx, "device:x", storetest.Notes(t, storetest.NewID[event.JobID](), device, 2)); err != nil {
		t.Fatal(err)
	}
	add(t, db, "of nobody's phone")
	if got := len(queue(t, db, shop.Filter{Words: []string{"nora"}})); got != 1 {
		t.Errorf("the phone's name finds %d jobs, want 1", got)
	}
}

// TestQueueNarrowed: each filter leaves its jobs, two leave what both do, the totals
// are those of all pages, and what the shop has decided on comes last.
func TestQueueNarrowed(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	finished, up := &event.JobFinished{}, &event.JobFinished{Note: "up"} // the latter with two stops, see countEvents
	noted := &event.NoteAdded{Text: "a word"}
	add(t, db, "accepted", up, decision(event.Accept))
	add(t, db, "returned", noted, decision(event.Return))
	add(t, db, "new")
	add(t, db, "noted", noted, noted)
	add(t, db, "up", noted, up)
	add(t, db, "done", finished)
	all := shop.Filter{}
	for _, test := range []struct {
		name   string
		filter shop.Filter
		want   string
	}{
		{"all", all, "up noted done new accepted returned"},
		{"in work", shop.Filter{Work: shop.WorkOn}, "noted new returned"},
		{"up", shop.Filter{Work: shop.WorkUp}, "up accepted"},
		{"finished", shop.Filter{Work: shop.WorkDone}, "up done accepted"},
		{"undecided", shop.Filter{Decision: shop.Undecided}, "up noted done new"},
		{"accepted", shop.Filter{Decision: event.Accept}, "accepted"},
		{"returned", shop.Filter{Decision: event.Return}, "returned"},
		{"stops", shop.Filter{Severity: "stop"}, "up accepted"},
		{"asks", shop.Filter{Severity: "ask"}, ""},
		{"notes", shop.Filter{Severity: "note"}, "up noted done new accepted returned"},
		{"rule", shop.Filter{Rule: "noted"}, "up noted returned"},
		{"rule and word", shop.Filter{Rule: "noted", Words: []string{"word"}, Work: shop.WorkOn, Decision: shop.Undecided}, "noted"},
		{"everything", shop.Filter{Rule: "noted", Words: []string{"up"}, Work: shop.WorkDone, Decision: shop.Undecided, Severity: "stop"}, "up"},
	} {
		t.Run(test.name, func(t *testing.T) {
			rows := queue(t, db, test.filter)
			names, want := "", shop.Totals{}
			for _, r := range rows {
				names += " " + r.Vehicle
				want.Jobs, want.Stops, want.Asks, want.Notes = want.Jobs+1, want.Stops+r.Stops, want.Asks+r.Asks, want.Notes+r.Notes
			}
			if got := strings.TrimSpace(names); inOrder(got) != inOrder(test.want) {
				t.Errorf("it leaves %q, want %q", got, test.want)
			}
			test.filter.Limit, test.filter.Offset = 1, 3 // the totals are of all pages
			if got, err := db.QueueTotals(context.Background(), yard, test.filter); err != nil || got != want {
				t.Errorf("the totals are %+v (%v), want %+v", got, err, want)
			}
		})
	}
	if rows := queue(t, db, all); rows[0].Vehicle != "up" || rows[4].Vehicle != "accepted" || rows[5].Vehicle != "returned" {
		t.Errorf("the order is %+v, want the gravest first and what was decided last", rows)
	}
}

func inOrder(names string) string {
	words := strings.Fields(names)
	slices.Sort(words)
	return strings.Join(words, " ")
}

// TestOpenRules: the count of a rule follows its findings as they come and go, in each
// shop by itself.
func TestOpenRules(t *testing.T) {
	settled := false
	db := openYard(t, sqlite.Options{Project: func(job event.JobID, events []event.Event, sheetOf func(event.SheetHash) []byte) shop.Summary {
		sum := countEvents(job, events, sheetOf)
		if settled {
			sum.Findings = map[string]int{"other": 1}
		}
		return sum
	}})
	want := func(want ...shop.OpenRule) {
		t.Helper()
		if got, err := db.OpenRules(context.Background(), yard); err != nil || !slices.Equal(got, want) {
			t.Errorf("open rules are %v (%v), want %v", got, err, want)
		}
	}
	want()
	one := add(t, db, "one", &event.NoteAdded{Text: "x"}, &event.NoteAdded{Text: "y"})
	two := add(t, db, "two", &event.NoteAdded{Text: "x"})
	want(shop.OpenRule{Rule: "noted", Jobs: 2})
	if err := db.DeleteJob(context.Background(), one, shop.Entry{Shop: yard, Who: "Ann"}); err != nil {
		t.Fatal(err)
	}
	want(shop.OpenRule{Rule: "noted", Jobs: 1})
	settled = true
	if _, err := db.Shop(yard).Append(context.Background(), "device:x", storetest.Notes(t, two, storetest.NewID[event.DeviceID](), 1)); err != nil {
		t.Fatal(err)
	}
	want(shop.OpenRule{Rule: "other", Jobs: 1})
	if got, err := db.OpenRules(context.Background(), "elsewhere"); err != nil || len(got) != 0 {
		t.Errorf("another shop sees %v (%v)", got, err)
	}
}

// TestQueuePlans: no filter reads through a table, and the usual view sorts nothing
// but the rows of its page.
func TestQueuePlans(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	const walk = "SEARCH job USING COVERING INDEX job_queue (shop=?)"
	for _, f := range []shop.Filter{{}, {Work: shop.WorkUp}, {Decision: shop.Undecided}, {Severity: "stop"}, {Rule: "raised"}, {Words: []string{"van"}},
		{Work: shop.WorkDone, Decision: event.Accept, Severity: "ask", Rule: "raised", Words: []string{"van", "blue"}}} {
		f.Limit = 101
		page, totals, err := db.QueuePlans(context.Background(), yard, f)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Contains(page, walk) || strings.Count(strings.Join(page, "\n"), "TEMP B-TREE") > 1 {
			t.Errorf("%+v: the page is read by %q, want the walk and one sort of its rows", f, page)
		}
		for _, step := range append(page, totals...) {
			if strings.HasPrefix(step, "SCAN") && step != "SCAN page" && !strings.HasPrefix(step, "SCAN job_text VIRTUAL TABLE INDEX 0:M") {
				t.Errorf("%+v reads through a whole table: %s", f, step)
			}
		}
		if slices.ContainsFunc(totals, func(step string) bool { return strings.Contains(step, "TEMP B-TREE") }) {
			t.Errorf("%+v: the totals are counted by %q, want nothing sorted", f, totals)
		}
	}
	if page, _, err := db.QueuePlans(context.Background(), yard, shop.Filter{}); err != nil || slices.Index(page, "USE TEMP B-TREE FOR ORDER BY") != len(page)-1 || page[0] != "CO-ROUTINE page" {
		t.Errorf("the usual view is read by %q (%v), want only its page sorted", page, err)
	}
}

func TestOtherShopsAreInvisible(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	err := db.PutShop(context.Background(), shop.Shop{ID: "other", Name: "Other"}, shop.Staff{ID: "s2", Name: "Ben", Password: "digest"})
	if err != nil {
		t.Fatal(err)
	}
	e, _ := opened(t, someHash, "car")
	for _, id := range []shop.ID{yard, "other"} { // a phone that moved brings its log along
		verdicts, err := db.Shop(id).Append(context.Background(), "device:x", []event.Event{e})
		if err != nil || verdicts[0].Outcome != "stored" {
			t.Fatalf("%s: %v, %v", id, verdicts, err)
		}
	}
	third := shop.ID("third")
	if got, err := db.Shop(third).Job(context.Background(), e.Job); err != nil || len(got) != 0 {
		t.Errorf("a third shop sees %d events (%v)", len(got), err)
	}
	if rows, err := db.Queue(context.Background(), third, shop.Filter{Limit: 9}); err != nil || len(rows) != 0 {
		t.Errorf("a third shop sees %d jobs (%v)", len(rows), err)
	}
}

func TestRebuild(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	e, _ := opened(t, someHash, "car")
	if _, err := db.Shop(yard).Append(context.Background(), "device:x", []event.Event{e}); err != nil {
		t.Fatal(err)
	}
	add(t, db, "van", &event.NoteAdded{Text: "squeaks"})
	want := queue(t, db, shop.Filter{})
	for _, query := range []string{`DELETE FROM job`, `DELETE FROM job_finding`, `DELETE FROM job_text`, `INSERT INTO job_text (rowid, words) VALUES (99, 'of nothing')`} {
		if _, err := db.Writer().Exec(query); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.Rebuild(context.Background()); err != nil {
		t.Fatal(err)
	}
	if got := queue(t, db, shop.Filter{}); !slices.Equal(got, want) || len(got) != 2 {
		t.Errorf("rebuilt queue = %+v, want %+v", got, want)
	}
	if got := queue(t, db, shop.Filter{Words: []string{"squeaks"}, Rule: "noted"}); len(got) != 1 || got[0].Vehicle != "van" {
		t.Errorf("after the rebuild the note and its finding lead to %+v, want the van", got)
	}
	var texts int
	if err := db.Writer().QueryRow(`SELECT count(*) FROM job_text`).Scan(&texts); err != nil || texts != 2 {
		t.Errorf("%d texts are kept (%v), want one for each job", texts, err)
	}
}
