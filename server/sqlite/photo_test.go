package sqlite_test

import (
	"context"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/store/storetest"
)

var (
	hashA = strings.Repeat("a", 64)
	hashB = strings.Repeat("b", 64)
)

// shots are the events of one job that name pictures.
func shots(t *testing.T, job event.JobID, payloads ...event.Payload) (out []event.Event) {
	t.Helper()
	chain := event.Chain{Job: job, Device: storetest.NewID[event.DeviceID]()}
	for _, p := range payloads {
		e, err := chain.Seal(storetest.NewID[event.ID](), time.UnixMilli(1_780_000_000_000), p)
		if err != nil {
			t.Fatal(err)
		}
		chain = chain.See(e)
		out = append(out, e)
	}
	return out
}

func taken(hash string, bytes int64) *event.PhotoTaken {
	return &event.PhotoTaken{SHA256: hash, Bytes: bytes, Width: 4, Height: 3}
}

func wantPhotoFor(t *testing.T, db *sqlite.DB, id shop.ID, actor, hash string, want int64) {
	t.Helper()
	got, found, err := db.PhotoFor(context.Background(), id, actor, hash)
	if err != nil || found != (want > 0) || got != want {
		t.Errorf("photo %.4s for %s of %s = %d, %v, %v, want %d", hash, actor, id, got, found, err, want)
	}
}

// TestPhotoFor: who brought events of a job may have the pictures that it names.
func TestPhotoFor(t *testing.T) {
	ctx := context.Background()
	db := openYard(t, sqlite.Options{})
	if err := db.PutShop(ctx, shop.Shop{ID: "other", Name: "Other"}, shop.Staff{ID: "s2", Name: "Olga", Password: "digest"}); err != nil {
		t.Fatal(err)
	}
	one, two := storetest.NewID[event.JobID](), storetest.NewID[event.JobID]()
	note := &event.NoteAdded{Text: "n"}
	for _, c := range []struct {
		shop   shop.ID
		actor  string
		events []event.Event
	}{
		{yard, "device:a", shots(t, one, note, taken(hashA, 300), taken(hashA, 500))},              // the larger size counts,
		{yard, "device:b", shots(t, two, taken(hashB, 700), taken(hashA, 900), taken(hashA, 100))}, // in any order; a second job names the same picture
		{yard, "device:c", shots(t, one, note)},
		{"other", "device:a", shots(t, two, note)},
	} {
		if _, err := db.Shop(c.shop).Append(ctx, c.actor, c.events); err != nil {
			t.Fatal(err)
		}
	}
	wantPhotoFor(t, db, yard, "device:a", hashA, 500)
	wantPhotoFor(t, db, yard, "device:a", hashB, 0)
	wantPhotoFor(t, db, yard, "device:b", hashA, 900)
	wantPhotoFor(t, db, yard, "device:b", hashB, 700)
	wantPhotoFor(t, db, yard, "device:c", hashA, 500)
	wantPhotoFor(t, db, yard, "device:nobody", hashA, 0)
	wantPhotoFor(t, db, "other", "device:a", hashA, 0)

	for _, c := range []struct {
		shop shop.ID
		job  event.JobID
		hash string
		want bool
	}{
		{yard, "", hashA, true}, {yard, one, hashA, true}, {yard, two, hashA, true}, {yard, one, hashB, false},
		{yard, "", strings.Repeat("c", 64), false}, {"other", "", hashA, false}, {"other", two, hashB, false},
	} {
		if got, err := db.HasPhoto(ctx, c.shop, c.job, c.hash); err != nil || got != c.want {
			t.Errorf("%s, job %q has %.4s = %v, %v, want %v", c.shop, c.job, c.hash, got, err, c.want)
		}
	}
}

// TestPhotoOfRefusedEvent: an event that was not stored names no picture.
func TestPhotoOfRefusedEvent(t *testing.T) {
	ctx := context.Background()
	db := openYard(t, sqlite.Options{})
	job := storetest.NewID[event.JobID]()
	chain := event.Chain{Job: job, Device: storetest.NewID[event.DeviceID]()}
	id := storetest.NewID[event.ID]()
	for i, hash := range []string{hashA, hashB} { // the same id with another content
		e, err := chain.Seal(id, time.UnixMilli(1_780_000_000_000), taken(hash, 5))
		if err != nil {
			t.Fatal(err)
		}
		verdicts, err := db.Shop(yard).Append(ctx, "device:a", []event.Event{e})
		if err != nil || (verdicts[0].Reason == nil) != (i == 0) {
			t.Fatalf("append %d: %+v, %v", i, verdicts, err)
		}
	}
	wantPhotoFor(t, db, yard, "device:a", hashA, 5)
	wantPhotoFor(t, db, yard, "device:a", hashB, 0)
}

// TestPhotosOfOlderDatabase: what the record named before there was a table of
// photos is found too.
func TestPhotosOfOlderDatabase(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "strutcard.db")
	db := openAt(t, path, sqlite.Options{})
	addYard(t, db)
	job := storetest.NewID[event.JobID]()
	if _, err := db.Shop(yard).Append(ctx, "device:a", shots(t, job, taken(hashA, 500), taken(hashA, 800), &event.NoteAdded{Text: hashB})); err != nil {
		t.Fatal(err)
	}
	for _, back := range []string{`DROP TABLE photo`, `DELETE FROM goose_db_version WHERE version_id >= 4`, // and what came after it
		`DROP TABLE visit`, `DROP TABLE staff_link`, `DROP TABLE audit`, `DROP TABLE deleted_job`, `DROP TABLE deleted_mark`, `DROP TABLE deleted_photo`,
		`ALTER TABLE staff DROP COLUMN roles`, `ALTER TABLE staff DROP COLUMN ended_at`, `ALTER TABLE shop DROP COLUMN keep_days`,
		`DROP TABLE job_text`, `DROP TABLE job_finding`, `DROP TABLE open_rule`, `DROP INDEX job_queue`, `ALTER TABLE job DROP COLUMN decision`,
		`CREATE INDEX job_queue ON job (shop, stops DESC, asks DESC, heard_at DESC)`} {
		if _, err := db.Writer().ExecContext(ctx, back); err != nil {
			t.Fatalf("%s: %v", back, err)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	db = openAt(t, path, sqlite.Options{})
	wantPhotoFor(t, db, yard, "device:a", hashA, 800)
	wantPhotoFor(t, db, yard, "device:a", hashB, 0)
	who, found, err := db.StaffByName(ctx, "ann")
	if err != nil || !found || !who.Roles.May(shop.Administrator) {
		t.Errorf("who could do everything before there were roles has %q (%v), want an administrator", who.Roles, err)
	}
}
