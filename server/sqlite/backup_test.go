package sqlite_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store/storetest"
)

// fill stores n events of one job and returns them.
func fill(t *testing.T, db *sqlite.DB, n int) []event.Event {
	t.Helper()
	events := storetest.Notes(t, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), n)
	if _, err := db.Shop(yard).Append(context.Background(), "device:x", events); err != nil {
		t.Fatal(err)
	}
	return events
}

func names(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return strings.Join(all, " ")
}

func TestBackupUnderWriteLoad(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.db")
	db := openAt(t, path, sqlite.Options{})
	addYard(t, db)
	before := fill(t, db, 300)
	ctx, stop := context.WithCancel(context.Background())
	wrote := make(chan struct{}, 1)
	var wg sync.WaitGroup
	wg.Go(func() {
		for ctx.Err() == nil {
			fill(t, db, 10)
			select {
			case wrote <- struct{}{}:
			default:
			}
		}
	})
	to := t.TempDir()
	for i := range 5 {
		<-wrote
		made := filepath.Join(to, itoa(i)+".db")
		n, err := sqlite.Backup(context.Background(), path, made)
		if err != nil {
			t.Fatalf("backup: %v", err)
		}
		if info, err := os.Stat(made); err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("others may read the copy, which holds keys: %v (%v)", info.Mode(), err)
		}
		copied := openAt(t, made, sqlite.Options{})
		got, err := copied.Shop(yard).Job(context.Background(), before[0].Job)
		if err != nil || len(got) != 300 {
			t.Errorf("the copy has %d of the events that were there (%v), want 300", len(got), err)
		}
		var rows int64
		if err := copied.Readers().QueryRow(`SELECT count(*) FROM event`).Scan(&rows); err != nil || rows != n || rows%10 != 0 {
			t.Errorf("the copy has %d events (%v), want the %d that were reported, whole batches", rows, err, n)
		}
		if err := copied.Close(); err != nil {
			t.Fatal(err)
		}
	}
	stop()
	wg.Wait()
	if got := names(t, to); got != "0.db 1.db 2.db 3.db 4.db" {
		t.Errorf("the folder holds %s", got)
	}
}

func TestErrBackup(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "x.db")
	db := openAt(t, path, sqlite.Options{})
	addYard(t, db)
	fill(t, db, 3)
	ctx := context.Background()
	t.Run("TargetTaken", func(t *testing.T) {
		taken := filepath.Join(t.TempDir(), "taken.db")
		if err := os.WriteFile(taken, []byte("mine"), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := sqlite.Backup(ctx, path, taken); !fault.Is(err, fault.Conflict) {
			t.Errorf("backup over a file: %v, want kind %s", err, fault.Conflict)
		}
		if kept, err := os.ReadFile(taken); err != nil || string(kept) != "mine" {
			t.Errorf("the file became %d bytes, %v", len(kept), err)
		}
	})
	t.Run("NoSource", func(t *testing.T) {
		none := filepath.Join(t.TempDir(), "none.db")
		if _, err := sqlite.Backup(ctx, none, none+".copy"); err == nil {
			t.Error("nothing was backed up without a word")
		}
		if got := names(t, filepath.Dir(none)); got != "" {
			t.Errorf("a backup of nothing made %s", got)
		}
	})
	t.Run("DamagedSource", func(t *testing.T) {
		source, to := filepath.Join(t.TempDir(), "y.db"), t.TempDir()
		if _, err := sqlite.Backup(ctx, path, source); err != nil {
			t.Fatal(err)
		}
		damage(t, source)
		if _, err := sqlite.Backup(ctx, source, filepath.Join(to, "z.db")); !fault.Is(err, fault.Storage) {
			t.Errorf("backup of a damaged file: %v, want kind %s", err, fault.Storage)
		}
		if got := names(t, to); got != "" {
			t.Errorf("it left %s", got)
		}
	})
	t.Run("Cancelled", func(t *testing.T) {
		ctx, cancel := context.WithCancel(ctx)
		cancel()
		if _, err := sqlite.Backup(ctx, path, filepath.Join(t.TempDir(), "y.db")); !errors.Is(err, context.Canceled) {
			t.Errorf("backup: %v, want that it was cancelled", err)
		}
	})
}

// A backup that lost its power leaves an unfinished file; the next one goes over it.
func TestBackupAfterOneThatWasCut(t *testing.T) {
	path, target := filepath.Join(t.TempDir(), "x.db"), filepath.Join(t.TempDir(), "y.db")
	addYard(t, openAt(t, path, sqlite.Options{}))
	if err := os.WriteFile(target+".tmp", []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := sqlite.Backup(context.Background(), path, target); err != nil {
		t.Errorf("backup: %v", err)
	}
}

// damage overwrites pages in the middle of a file.
func damage(t *testing.T, path string) {
	t.Helper()
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	copy(whole[len(whole)/2:], strings.Repeat("\xff", 8192))
	if err := os.WriteFile(path, whole, 0o600); err != nil {
		t.Fatal(err)
	}
}

func TestRenew(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "x.db")
	db := openAt(t, path, sqlite.Options{})
	addYard(t, db)
	e, _ := opened(t, someHash, "car")
	if _, err := db.Shop(yard).Append(context.Background(), "device:x", []event.Event{e}); err != nil {
		t.Fatal(err)
	}
	made := filepath.Join(dir, "copy.db")
	if _, err := sqlite.Backup(context.Background(), path, made); err != nil {
		t.Fatal(err)
	}
	broken, err := sqlite.Open(made, sqlite.Options{Project: countEvents})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := broken.Writer().Exec(`UPDATE job SET notes = 99; INSERT INTO job SELECT shop, 'ghost', sheet, title, vehicle, opened_at, heard_at, first_seq, up, not_final, stops, asks, notes, finished, decision FROM job`); err != nil {
		t.Fatal(err)
	}
	if err := broken.Close(); err != nil {
		t.Fatal(err)
	}
	n, err := sqlite.Renew(context.Background(), made, sqlite.Options{Project: countEvents})
	if err != nil || n != 1 {
		t.Fatalf("renew: %d events, %v, want 1", n, err)
	}
	again := openAt(t, made, sqlite.Options{})
	if again.Epoch() == db.Epoch() || again.Epoch() == "" {
		t.Errorf("the epoch %q of the copy is not its own", again.Epoch())
	}
	if rows := queue(t, again, shop.Filter{}); len(rows) != 1 || rows[0].Notes != 1 {
		t.Errorf("the queue of the copy is %+v, want one job of one event", rows)
	}
}

func TestRebuildPhotos(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	job := storetest.NewID[event.JobID]()
	if _, err := db.Shop(yard).Append(context.Background(), "device:a", shots(t, job, taken(hashA, 500))); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Writer().Exec(`DELETE FROM photo; INSERT INTO photo (shop, sha256, job, bytes) VALUES (?, ?, ?, 1)`, yard, hashB, job); err != nil {
		t.Fatal(err)
	}
	if err := db.Rebuild(context.Background()); err != nil {
		t.Fatal(err)
	}
	wantPhotoFor(t, db, yard, "device:a", hashA, 500)
	wantPhotoFor(t, db, yard, "device:a", hashB, 0)
}

func TestErrRenew(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "x.db")
	db := openAt(t, path, sqlite.Options{})
	addYard(t, db)
	fill(t, db, 300)
	tests := map[string]struct {
		change func(t *testing.T, path string)
		kind   fault.Kind
	}{
		"Damaged": {damage, fault.Storage},
		"Later": {func(t *testing.T, path string) {
			alter(t, path, `INSERT INTO goose_db_version (version_id, is_applied) VALUES (999, 1)`)
		}, fault.Outdated},
		"Other": {func(t *testing.T, path string) { alter(t, path, `DROP TABLE event`) }, fault.Invalid},
		"Text": {func(t *testing.T, path string) {
			if err := os.WriteFile(path, []byte(strings.Repeat("no database ", 1000)), 0o600); err != nil {
				t.Fatal(err)
			}
		}, fault.Storage},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			made := filepath.Join(t.TempDir(), "copy.db")
			if _, err := sqlite.Backup(context.Background(), path, made); err != nil {
				t.Fatal(err)
			}
			test.change(t, made)
			if _, err := sqlite.Renew(context.Background(), made, sqlite.Options{Project: countEvents}); !fault.Is(err, test.kind) {
				t.Errorf("renew: %v, want kind %s", err, test.kind)
			}
		})
	}
}

// alter changes a file behind the program's back.
func alter(t *testing.T, path, statement string) {
	t.Helper()
	db, err := sqlite.Open(path, sqlite.Options{Project: countEvents})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Writer().Exec(statement); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}
