package sqlite_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store/storetest"
)

const otherYard = shop.ID("other")

// openTwo opens a database with two shops, and a clock.
func openTwo(t *testing.T) (*sqlite.DB, *time.Time) {
	t.Helper()
	now := time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)
	db := openYard(t, sqlite.Options{Now: func() time.Time { return now }})
	if err := db.PutShop(context.Background(), shop.Shop{ID: otherYard, Name: "Other"}, shop.Staff{ID: "s2", Name: "Bea", Password: "digest"}); err != nil {
		t.Fatal(err)
	}
	return db, &now
}

func addDraft(t *testing.T, db *sqlite.DB) shop.Draft {
	t.Helper()
	d := shop.Draft{ID: "d1", Title: "Kit", Version: "1", Vehicle: "Wren", Base: "abc", Body: []byte(`{}`), By: "s1"}
	if err := db.AddDraft(context.Background(), yard, d); err != nil {
		t.Fatal(err)
	}
	d.Revision = 1
	return d
}

func TestDraft(t *testing.T) {
	db, now := openTwo(t)
	ctx := context.Background()
	d := addDraft(t, db)
	*now = now.Add(time.Hour)
	d.Title, d.Body = "Kit, mended", []byte(`{"title":"Kit, mended"}`)
	if err := db.SaveDraft(ctx, yard, d); err != nil {
		t.Fatal(err)
	}
	got, err := db.Draft(ctx, yard, "d1")
	if err != nil || got.Revision != 2 || got.Title != d.Title || string(got.Body) != string(d.Body) || got.ByName != "Ann" || got.Base != "abc" {
		t.Errorf("draft %+v (%v)", got, err)
	}
	if !got.Changed.Equal(*now) || !got.Created.Equal(now.Add(-time.Hour)) {
		t.Errorf("created %v, changed %v", got.Created, got.Changed)
	}
	if list, err := db.Drafts(ctx, yard); err != nil || len(list) != 1 || list[0].Revision != 2 || list[0].Body != nil {
		t.Errorf("list %+v (%v)", list, err)
	}
	t.Run("ErrStale", func(t *testing.T) {
		stale := d // still at revision 1
		stale.Title = "Lost"
		for name, err := range map[string]error{"save": db.SaveDraft(ctx, yard, stale), "drop": db.DropDraft(ctx, yard, stale),
			"publish": db.PublishDraft(ctx, yard, stale, shop.Sheet{Hash: "h", Title: "Lost", Version: "1", Body: []byte("{}")})} {
			if f := fault.Of(err); f == nil || f.Kind != fault.Conflict || !strings.Contains(f.Message, "Ann") || f.Hint == "" {
				t.Errorf("%s: got %v, want a conflict that names Ann", name, err)
			}
		}
		if got, err := db.Draft(ctx, yard, "d1"); err != nil || got.Title != "Kit, mended" || got.Revision != 2 {
			t.Errorf("the draft became %+v (%v)", got, err)
		}
	})
	t.Run("ErrOtherShop", func(t *testing.T) {
		theirs := d
		theirs.Revision, theirs.By = 2, "s2"
		_, readErr := db.Draft(ctx, otherYard, "d1")
		for name, err := range map[string]error{"read": readErr, "save": db.SaveDraft(ctx, otherYard, theirs), "drop": db.DropDraft(ctx, otherYard, theirs),
			"publish": db.PublishDraft(ctx, otherYard, theirs, shop.Sheet{Hash: "h", Body: []byte("{}")})} {
			if !fault.Is(err, fault.NotFound) {
				t.Errorf("%s: got %v, want not found", name, err)
			}
		}
		if list, err := db.Drafts(ctx, otherYard); err != nil || len(list) != 0 {
			t.Errorf("their list: %v (%v)", list, err)
		}
	})
	t.Run("Drop", func(t *testing.T) {
		d.Revision = 2
		if err := db.DropDraft(ctx, yard, d); err != nil {
			t.Fatal(err)
		}
		if _, err := db.Draft(ctx, yard, "d1"); !fault.Is(err, fault.NotFound) {
			t.Errorf("after dropping: %v", err)
		}
	})
}

func TestPublishDraft(t *testing.T) {
	db, _ := openTwo(t)
	ctx := context.Background()
	d := addDraft(t, db)
	sh := shop.Sheet{Hash: "h1", Title: "Kit", Version: "1", Vehicle: "Wren", Body: []byte(`{"a":1}`)}
	if err := db.PublishDraft(ctx, yard, d, sh); err != nil {
		t.Fatal(err)
	}
	got, err := db.PublishedSheet(ctx, yard, "h1")
	if err != nil || !got.Published || got.ByName != "Ann" || string(got.Body) != `{"a":1}` || got.Withdrawn != nil {
		t.Errorf("published %+v (%v)", got, err)
	}
	if _, err := db.Draft(ctx, yard, d.ID); !fault.Is(err, fault.NotFound) {
		t.Errorf("the draft is still there: %v", err)
	}
	if _, err := db.PublishedSheet(ctx, otherYard, "h1"); !fault.Is(err, fault.NotFound) {
		t.Errorf("another shop reads it: %v", err)
	}
	t.Run("ErrSameVersion", func(t *testing.T) {
		again := addDraft(t, db)
		sh.Hash, sh.Body = "h2", []byte(`{"a":2}`)
		if err := db.PublishDraft(ctx, yard, again, sh); !fault.Is(err, fault.Conflict) {
			t.Errorf("got %v, want a conflict", err)
		}
		if _, err := db.Draft(ctx, yard, again.ID); err != nil {
			t.Errorf("the draft is gone: %v", err)
		}
	})
}

func TestWithdraw(t *testing.T) {
	db, now := openTwo(t)
	ctx := context.Background()
	for _, sh := range []shop.Sheet{{Hash: "pub", Title: "A", Version: "1", Published: true, Body: []byte("{}")}} {
		if err := db.AddSheet(ctx, yard, sh); err != nil {
			t.Fatal(err)
		}
	}
	first := shop.Withdrawn{Reason: "wrong torque", Before: "box", By: "s1"}
	if err := db.Withdraw(ctx, yard, "pub", first); err != nil {
		t.Fatal(err)
	}
	at := *now
	*now = now.Add(time.Hour)
	if err := db.Withdraw(ctx, yard, "pub", shop.Withdrawn{Reason: "another", By: "s1"}); err != nil {
		t.Fatal(err)
	}
	got, err := db.PublishedSheet(ctx, yard, "pub")
	if w := got.Withdrawn; err != nil || w == nil || w.Reason != "wrong torque" || w.Before != "box" || w.ByName != "Ann" || !w.At.Equal(at) {
		t.Errorf("withdrawn %+v (%v), want the first one", got.Withdrawn, err)
	}
	if err := db.Withdraw(ctx, otherYard, "pub", shop.Withdrawn{Reason: "spite", By: "s2"}); !fault.Is(err, fault.NotFound) {
		t.Errorf("another shop withdraws: %v", err)
	}

	// A sheet that the phone neither made nor was given, but that its job pins.
	device := storetest.NewID[event.DeviceID]()
	if err := db.AddSheet(ctx, yard, shop.Sheet{Hash: pinned, Title: "B", Version: "1", Device: "elsewhere", Body: []byte("{}")}); err != nil {
		t.Fatal(err)
	}
	if got := hashes(t, db, device); strings.Contains(got, string(pinned)) {
		t.Errorf("another's own sheet is handed out: %s", got)
	}
	chain := event.Chain{Job: storetest.NewID[event.JobID](), Device: device}
	opened, err := chain.Seal(storetest.NewID[event.ID](), *now, &event.JobOpened{Sheet: pinned, Title: "B", Vehicle: "car"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Shop(yard).Append(ctx, "device:"+string(device), []event.Event{opened}); err != nil {
		t.Fatal(err)
	}
	if jobs, err := db.JobsOf(ctx, yard, pinned, 10); err != nil || len(jobs) != 1 || jobs[0].Vehicle != "car" {
		t.Errorf("jobs of the sheet: %+v (%v)", jobs, err)
	}
	if err := db.Withdraw(ctx, yard, pinned, first); err != nil {
		t.Fatal(err)
	}
	if got := hashes(t, db, device); !strings.Contains(got, string(pinned)) || !strings.Contains(got, "pub") {
		t.Errorf("the phone hears of %s, want what its job pins, too", got)
	}
	if got := hashes(t, db, "another"); strings.Contains(got, string(pinned)) {
		t.Errorf("a phone without such a job hears of %s", got)
	}
}

const pinned = event.SheetHash("00000000000000000000000000000000000000000000000000000000000000aa")

// hashes lists the sheets that a device is told of.
func hashes(t *testing.T, db *sqlite.DB, device event.DeviceID) string {
	t.Helper()
	list, err := db.Sheets(context.Background(), yard, device)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, s := range list {
		out = append(out, string(s.Hash))
	}
	return strings.Join(out, " ")
}
