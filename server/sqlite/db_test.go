package sqlite_test

import (
	"context"
	"database/sql"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

const yard = shop.ID("yard")

// countEvents is a projection that tests can see through: Notes is the number
// of events, NotFinal is -1 until the sheet is there, a note is a finding, and a
// finished job has a stop for each letter of what was said.
func countEvents(_ event.JobID, events []event.Event, sheetOf func(event.SheetHash) []byte) shop.Summary {
	row := shop.Summary{Row: shop.Row{Notes: len(events), NotFinal: -1}, Findings: map[string]int{}}
	for _, e := range events {
		switch p := e.Payload().(type) {
		case *event.JobOpened:
			row.Sheet, row.Title, row.Vehicle, row.Opened = p.Sheet, p.Title, p.Vehicle, e.Time()
			row.Text += p.Vehicle + " " + p.Title
			if sheetOf(p.Sheet) != nil {
				row.NotFinal = 0
			}
		case *event.NoteAdded:
			row.Text += " " + p.Text
			row.Findings["noted"]++
		case *event.JobFinished:
			row.Finished, row.Up = true, p.Note == "up"
			row.Stops = len(p.Note)
		case *event.DecisionMade:
			row.Decision = p.Decision
		}
	}
	return row
}

func open(t testing.TB, opts sqlite.Options) *sqlite.DB {
	t.Helper()
	return openAt(t, filepath.Join(t.TempDir(), "a shop?#%20.db"), opts)
}

func openAt(t testing.TB, path string, opts sqlite.Options) *sqlite.DB {
	t.Helper()
	if opts.Project == nil {
		opts.Project = countEvents
	}
	db, err := sqlite.Open(path, opts)
	if err != nil {
		t.Fatalf("open: %v", err)
	}
	t.Cleanup(func() { _ = db.Close() })
	return db
}

// openYard opens a database with one shop and one member of staff.
func openYard(t testing.TB, opts sqlite.Options) *sqlite.DB {
	t.Helper()
	db := open(t, opts)
	addYard(t, db)
	return db
}

func addYard(t testing.TB, db *sqlite.DB) {
	t.Helper()
	err := db.PutShop(context.Background(), shop.Shop{ID: yard, Name: "Yard"}, shop.Staff{ID: "s1", Name: "Ann", Password: "digest"})
	if err != nil {
		t.Fatalf("make shop: %v", err)
	}
}

func TestStore(t *testing.T) {
	storetest.Run(t, func(t *testing.T) store.Store { return openYard(t, sqlite.Options{}).Shop(yard) })
}

func TestSettingsOnEveryConnection(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	ctx := context.Background()
	pools := map[string]struct {
		pool  *sql.DB
		conns int
		only  string
	}{"writer": {db.Writer(), 1, "0"}, "readers": {db.Readers(), 7, "1"}}
	for name, p := range pools {
		p.pool.SetMaxOpenConns(p.conns)
		for range p.conns {
			conn, err := p.pool.Conn(ctx)
			if err != nil {
				t.Fatal(err)
			}
			defer func() { _ = conn.Close() }() // all stay open at once: each is a new one
			for pragma, want := range map[string]string{"busy_timeout": "5000", "foreign_keys": "1", "journal_mode": "wal", "synchronous": "2", "query_only": p.only} {
				var got string
				if err := conn.QueryRowContext(ctx, "PRAGMA "+pragma).Scan(&got); err != nil {
					t.Fatal(err)
				}
				if got != want {
					t.Errorf("%s: %s = %s, want %s", name, pragma, got, want)
				}
			}
		}
	}
	if n := db.Readers().Stats().OpenConnections; n != 7 {
		t.Errorf("looked at %d readers, want 7", n)
	}
}

func TestReadersCannotWrite(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	if _, err := db.Readers().Exec(`DELETE FROM staff`); err == nil {
		t.Error("a reader deleted rows")
	}
}

func TestSixteenReadThenWrite(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	// A second pool with several connections, as another process would have it,
	// shows that transactions take the write lock when they begin.
	other := openAt(t, filepath.Join(t.TempDir(), "x.db"), sqlite.Options{})
	addYard(t, other)
	other.Writer().SetMaxOpenConns(16)
	for name, w := range map[string]*sql.DB{"one writer": db.Writer(), "sixteen writers": other.Writer()} {
		t.Run(name, func(t *testing.T) { readThenWrite(t, w) })
	}
}

func readThenWrite(t *testing.T, w *sql.DB) {
	ctx := context.Background()
	if _, err := w.Exec(`INSERT INTO meta (name, value) VALUES ('n', '0')`); err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for range 16 {
		wg.Go(func() {
			tx, err := w.BeginTx(ctx, nil)
			if err != nil {
				t.Errorf("begin: %v", err)
				return
			}
			defer func() { _ = tx.Rollback() }()
			var n int
			if err := tx.QueryRow(`SELECT value FROM meta WHERE name = 'n'`).Scan(&n); err != nil {
				t.Errorf("read: %v", err)
				return
			}
			time.Sleep(5 * time.Millisecond)
			if _, err := tx.Exec(`UPDATE meta SET value = ? WHERE name = 'n'`, n+1); err != nil {
				t.Errorf("write: %v", err)
				return
			}
			if err := tx.Commit(); err != nil {
				t.Errorf("commit: %v", err)
			}
		})
	}
	wg.Wait()
	var n int
	if err := w.QueryRow(`SELECT value FROM meta WHERE name = 'n'`).Scan(&n); err != nil || n != 16 {
		t.Errorf("counted to %d (%v), want 16", n, err)
	}
}

func TestSameBatchAtOnce(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	job := storetest.NewID[event.JobID]()
	events := storetest.Notes(t, job, storetest.NewID[event.DeviceID](), 5)
	var mu sync.Mutex
	stored := 0
	var wg sync.WaitGroup
	for range 50 {
		wg.Go(func() {
			verdicts, err := db.Shop(yard).Append(context.Background(), "device:x", events)
			if err != nil {
				t.Errorf("append: %v", err)
				return
			}
			mu.Lock()
			defer mu.Unlock()
			for _, v := range verdicts {
				if v.Outcome == store.Stored {
					stored++
				}
			}
		})
	}
	wg.Wait()
	if stored != len(events) {
		t.Errorf("%d verdicts say stored, want %d", stored, len(events))
	}
	var rows int
	if err := db.Readers().QueryRow(`SELECT count(*) FROM event`).Scan(&rows); err != nil || rows != len(events) {
		t.Errorf("%d rows (%v), want %d", rows, err, len(events))
	}
}

func TestErrFullStoresNothing(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	job := storetest.NewID[event.JobID]()
	events := storetest.Notes(t, job, storetest.NewID[event.DeviceID](), 500)
	var pages int
	if err := db.Writer().QueryRow(`PRAGMA page_count`).Scan(&pages); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Writer().Exec(`PRAGMA max_page_count = ` + itoa(pages+8)); err != nil {
		t.Fatal(err)
	}
	_, err := db.Shop(yard).Append(context.Background(), "device:x", events)
	if !fault.Is(err, fault.Full) {
		t.Fatalf("append to a full disk: %v, want kind %s", err, fault.Full)
	}
	got, err := db.Shop(yard).Job(context.Background(), job)
	if err != nil || len(got) != 0 {
		t.Errorf("%d events stored (%v), want none", len(got), err)
	}
	if rows, err := db.Queue(context.Background(), yard, shop.Filter{Limit: 10}); err != nil || len(rows) != 0 {
		t.Errorf("queue has %d rows (%v), want none", len(rows), err)
	}
	if _, err := db.Writer().Exec(`PRAGMA max_page_count = 1000000`); err != nil {
		t.Fatal(err)
	}
	if _, err := db.Shop(yard).Append(context.Background(), "device:x", events); err != nil {
		t.Errorf("after making room: %v", err)
	}
}

func TestErrBusy(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.db")
	first := openAt(t, path, sqlite.Options{})
	addYard(t, first)
	second := openAt(t, path, sqlite.Options{Wait: 50 * time.Millisecond})
	tx, err := first.Writer().Begin()
	if err != nil {
		t.Fatal(err)
	}
	events := storetest.Notes(t, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), 1)
	if _, err := second.Shop(yard).Append(context.Background(), "device:x", events); !fault.Is(err, fault.Busy) {
		t.Errorf("append beside a writer: %v, want kind %s", err, fault.Busy)
	}
	if err := tx.Rollback(); err != nil {
		t.Fatal(err)
	}
	if _, err := second.Shop(yard).Append(context.Background(), "device:x", events); err != nil {
		t.Errorf("append after the writer left: %v", err)
	}
}

func TestReopenKeepsEpochAndLog(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.db")
	first := openAt(t, path, sqlite.Options{})
	addYard(t, first)
	events := storetest.Notes(t, storetest.NewID[event.JobID](), storetest.NewID[event.DeviceID](), 3)
	if _, err := first.Shop(yard).Append(context.Background(), "device:x", events); err != nil {
		t.Fatal(err)
	}
	epoch := first.Epoch()
	if err := first.Close(); err != nil {
		t.Fatal(err)
	}
	again := openAt(t, path, sqlite.Options{})
	if again.Epoch() != epoch || epoch == "" {
		t.Errorf("epoch %q became %q", epoch, again.Epoch())
	}
	got, err := again.Shop(yard).Job(context.Background(), events[0].Job)
	if err != nil || len(got) != 3 {
		t.Errorf("%d events (%v), want 3", len(got), err)
	}
	if open(t, sqlite.Options{}).Epoch() == epoch {
		t.Error("two databases have the same epoch")
	}
}

func TestReady(t *testing.T) {
	db := openYard(t, sqlite.Options{})
	if err := db.Ready(context.Background()); err != nil {
		t.Errorf("ready: %v", err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if err := db.Ready(context.Background()); err == nil {
		t.Error("a closed database is ready")
	}
}
