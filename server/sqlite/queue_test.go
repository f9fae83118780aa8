package sqlite_test

import (
	"context"
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
	db := openYard(t, sqlite.Options{Project: func(job event.JobID, events []event.Event, sheetOf func(event.SheetHash) []byte) shop.Row {
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

func TestQueueFilter(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	for _, vehicle := range []string{"Blue 50% van", "Red van", "Green estate"} {
		e, _ := opened(t, someHash, vehicle)
		if _, err := db.Shop(yard).Append(context.Background(), "device:x", []event.Event{e}); err != nil {
			t.Fatal(err)
		}
	}
	for text, want := range map[string]int{"": 3, "van": 2, "VAN": 2, "50%": 1, "%": 1, "_": 0, "A sheet": 3, `\`: 0} {
		if got := len(queue(t, db, shop.Filter{Text: text})); got != want {
			t.Errorf("filter %q finds %d, want %d", text, got, want)
		}
	}
	if got := len(queue(t, db, shop.Filter{Limit: 2, Offset: 2})); got != 1 {
		t.Errorf("second page has %d rows, want 1", got)
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
	want := queue(t, db, shop.Filter{})
	if _, err := db.Writer().Exec(`DELETE FROM job`); err != nil {
		t.Fatal(err)
	}
	if err := db.Rebuild(context.Background()); err != nil {
		t.Fatal(err)
	}
	if got := queue(t, db, shop.Filter{}); len(got) != 1 || got[0] != want[0] {
		t.Errorf("rebuilt queue = %+v, want %+v", got, want)
	}
}
