// Package sqlite keeps a server's data in one SQLite file.
package sqlite

import (
	"context"
	"crypto/rand"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"
	"net/url"
	"path/filepath"
	"time"

	"github.com/pressly/goose/v3"
	_ "modernc.org/sqlite" // the driver

	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
)

//go:embed migrations/*.sql
var migrations embed.FS

// Project computes what the queue keeps of a job from all its events, in fold order.
// sheetOf returns a sheet's bytes, or nil when the shop does not have it. It
// runs inside the transaction that stores the events: it must not call the DB.
type Project func(job event.JobID, events []event.Event, sheetOf func(event.SheetHash) []byte) shop.Summary

// Options are what a DB needs beside its file.
type Options struct {
	Now     func() time.Time // nil: time.Now
	Project Project          // required
	Wait    time.Duration    // how long a writer waits for a lock; 0: 5 s
	Query   time.Duration    // how long a query may wait for its turn and read; 0: 30 s
}

// DB is one database: one writer at a time, and readers that cannot write.
type DB struct {
	write   *sql.DB
	read    readers
	wal     *wal
	now     func() time.Time
	project Project
	epoch   string
	logs    *logCache
}

// Open opens or makes the database at path and brings its tables up to date.
func Open(path string, opts Options) (*DB, error) {
	if opts.Now == nil {
		opts.Now = time.Now
	}
	if opts.Wait == 0 {
		opts.Wait = 5 * time.Second
	}
	if opts.Query == 0 {
		opts.Query = 30 * time.Second
	}
	db := &DB{now: opts.Now, project: opts.Project, logs: newLogCache(cachedLogs)}
	if err := db.start(path, opts); err != nil {
		return nil, errFirst(err, db.Close())
	}
	return db, nil
}

func (db *DB) start(path string, opts Options) (err error) {
	ctx := context.Background()
	if db.write, err = open(path, opts.Wait, false, 1); err != nil {
		return err
	}
	if err := migrate(ctx, db.write); err != nil {
		return fmt.Errorf("migrate %s: %w", path, err)
	}
	if db.wal, err = openWAL(path, db.write); err != nil {
		return err
	}
	if db.read.DB, err = open(path, opts.Wait, true, readConns); err != nil {
		return err
	}
	db.read.limit = opts.Query
	db.epoch, err = db.InitMeta(ctx, epochName, rand.Text())
	return err
}

const (
	readConns = 4
	epochName = "epoch"
)

// open makes a pool. Every setting stands in the DSN: a PRAGMA sent once would
// reach one connection of the pool only.
func open(path string, wait time.Duration, readOnly bool, conns int) (*sql.DB, error) {
	q := url.Values{}
	q.Add("_pragma", fmt.Sprintf("busy_timeout(%d)", wait.Milliseconds())) // first: the others may have to wait
	q.Add("_pragma", "journal_mode(WAL)")
	q.Add("_pragma", "synchronous(FULL)") // a phone may forget what we acknowledged
	q.Add("_pragma", "foreign_keys(1)")
	q.Add("_pragma", "secure_delete(1)") // what was deleted is overwritten in the file too
	q.Add("_pragma", "journal_size_limit(67108864)")
	q.Set("_txlock", "immediate") // a deferred transaction that turns writer fails at once
	if readOnly {
		q.Add("_pragma", "query_only(1)")
		q.Set("_txlock", "deferred")
	}
	db, err := openWith(path, q)
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(conns)
	db.SetMaxIdleConns(conns)
	return db, nil
}

func openWith(path string, settings url.Values) (*sql.DB, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("find database file: %w", err)
	}
	dsn := url.URL{Scheme: "file", Path: filepath.ToSlash(abs), RawQuery: settings.Encode()}
	db, err := sql.Open("sqlite", dsn.String())
	if err != nil {
		return nil, fmt.Errorf("open database: %w", err)
	}
	return db, nil
}

// migrate brings the tables up to date, and leaves alone those of a later program.
func migrate(ctx context.Context, db *sql.DB) error {
	files, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	provider, err := goose.NewProvider(goose.DialectSQLite3, db, files)
	if err != nil {
		return err
	}
	has, knows, err := provider.GetVersions(ctx)
	if err != nil {
		return err
	}
	if has > knows {
		return fault.New(fault.Outdated, "This data was written by a later strutcard. Nothing was changed.", "Use that program, or one after it.")
	}
	_, err = provider.Up(ctx)
	return err
}

// Close closes all pools; everything acknowledged is on disk already.
func (db *DB) Close() error {
	var errs []error
	if db.read.DB != nil {
		errs = append(errs, db.read.Close())
	}
	if db.wal != nil {
		errs = append(errs, db.wal.pool.Close())
	}
	if db.write != nil {
		errs = append(errs, db.write.Close())
	}
	return errFirst(errs...)
}

// Epoch names this database; a restored one has another.
func (db *DB) Epoch() string { return db.epoch }

// Ready reports whether a write can be committed now.
func (db *DB) Ready(ctx context.Context) error {
	return db.update(ctx, "write a mark", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO meta (name, value) VALUES ('ready', ?)
			ON CONFLICT (name) DO UPDATE SET value = excluded.value`, db.now().UTC().Format(time.RFC3339))
		return err
	})
}

// update runs fn in one immediate transaction: all of it, or nothing.
func (db *DB) update(ctx context.Context, doing string, fn func(*sql.Tx) error) error {
	tx, err := db.write.BeginTx(ctx, nil)
	if err != nil {
		return asFault(doing, err)
	}
	defer func() { _ = tx.Rollback() }() // after Commit it does nothing
	if err := fn(tx); err != nil {
		return asFault(doing, err)
	}
	if err := tx.Commit(); err != nil {
		return asFault(doing, err)
	}
	db.wal.trim()
	return nil
}

func errFirst(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// ms is how a moment is kept: 0 for none.
func ms(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.UnixMilli()
}

func fromMS(v int64) time.Time {
	if v == 0 {
		return time.Time{}
	}
	return time.UnixMilli(v).UTC()
}
