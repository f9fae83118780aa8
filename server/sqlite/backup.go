package sqlite

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"

	"strutcard/calc/lang"
	"strutcard/server/disk"
	"strutcard/sync/fault"
)

// Backup writes what the database at path holds at one moment to target, and
// returns the number of events in it. Others may read and write meanwhile, in this
// process or another. Target appears only once it is on disk and was checked; a
// target that is there already is left alone.
func Backup(ctx context.Context, path, target string) (events int64, err error) {
	if err := absent(target); err != nil {
		return 0, err
	}
	source, err := openFile(path, "rw") // "rw" makes no file; a backup never migrates
	if err != nil {
		return 0, err
	}
	defer func() { _ = source.Close() }()
	least, err := lastEvent(ctx, source)
	if err != nil {
		return 0, fmt.Errorf("read %s: %w", path, err)
	}
	unchecked := target + ".tmp"
	if err := os.Remove(unchecked); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return 0, fmt.Errorf("remove what an earlier backup left: %w", err)
	}
	defer func() { _ = os.Remove(unchecked) }() // after the rename it does nothing
	// SQLite fills an empty file, and by itself would make one that others may read.
	if err := os.WriteFile(unchecked, nil, 0o600); err != nil {
		return 0, fmt.Errorf("make the copy's file: %w", err)
	}
	if _, err := source.ExecContext(ctx, `VACUUM INTO ?`, unchecked); err != nil {
		return 0, asFault("copy database", err)
	}
	if events, err = compare(ctx, source, unchecked, least); err != nil {
		return 0, err
	}
	return events, place(unchecked, target)
}

// compare checks the copy. The log only grows, so the copy has every event of the
// source up to its own last one, and all that were there when the copy began.
func compare(ctx context.Context, source *sql.DB, path string, least int64) (int64, error) {
	made, err := openFile(path, "ro")
	if err != nil {
		return 0, err
	}
	defer func() { _ = made.Close() }()
	if err := sound(ctx, made); err != nil {
		return 0, err
	}
	last, err := lastEvent(ctx, made)
	if err != nil {
		return 0, fmt.Errorf("read copy: %w", err)
	}
	got, err := countEvents(ctx, made, last)
	if err != nil {
		return 0, fmt.Errorf("read copy: %w", err)
	}
	want, err := countEvents(ctx, source, last)
	if err != nil {
		return 0, err
	}
	if last < least || got != want {
		return 0, fault.New(fault.Storage, lang.F("The copy has %d events where the server has %d. It was thrown away.", got, want),
			"The server's own data was not touched. Check the disk, then try again.")
	}
	return got, nil
}

// Renew makes a backup's file fit to be served: it is checked, its tables are
// brought up to date, it gets an epoch of its own, and its queue is computed. A
// phone that meets the new epoch sends again what it holds. Nobody else may have
// the file open.
func Renew(ctx context.Context, path string, opts Options) (events int64, err error) {
	if events, err = inspect(ctx, path); err != nil {
		return 0, err
	}
	db, err := Open(path, opts)
	if err != nil {
		return 0, err
	}
	err = db.SetMeta(ctx, epochName, rand.Text())
	if err == nil {
		err = db.Rebuild(ctx)
	}
	return events, errFirst(err, db.Close())
}

// inspect counts a backup's events, if it is one and whole.
func inspect(ctx context.Context, path string) (int64, error) {
	db, err := openFile(path, "ro")
	if err != nil {
		return 0, err
	}
	defer func() { _ = db.Close() }()
	if err := sound(ctx, db); err != nil {
		return 0, err
	}
	last, err := lastEvent(ctx, db)
	if err != nil {
		return 0, fault.Wrap(err, fault.Invalid, "This is not a backup of strutcard. Nothing was changed.", "Give the folder that a backup made.")
	}
	return countEvents(ctx, db, last)
}

// sound reads the whole file and reports damage.
func sound(ctx context.Context, db *sql.DB) error {
	var found string
	err := db.QueryRowContext(ctx, `PRAGMA integrity_check(1)`).Scan(&found)
	if err == nil && found != "ok" {
		err = errors.New(found)
	}
	if err == nil || ctx.Err() != nil {
		return ctx.Err()
	}
	return fault.Wrap(err, fault.Storage, "The copy is damaged. Nothing was changed.", "Check the disk and take another backup.")
}

func lastEvent(ctx context.Context, db *sql.DB) (last int64, err error) {
	err = db.QueryRowContext(ctx, `SELECT coalesce(max(server_seq), 0) FROM event`).Scan(&last)
	return last, err
}

func countEvents(ctx context.Context, db *sql.DB, last int64) (n int64, err error) {
	err = db.QueryRowContext(ctx, `SELECT count(*) FROM event WHERE server_seq <= ?`, last).Scan(&n)
	return n, asFault("count events", err)
}

// openFile opens a file that must be there, in one of SQLite's modes, and leaves
// its settings as they are.
func openFile(path, mode string) (*sql.DB, error) {
	if _, err := os.Stat(path); err != nil {
		return nil, fmt.Errorf("open database: %w", err)
	}
	return openWith(path, url.Values{"mode": {mode}, "_pragma": {"busy_timeout(5000)"}})
}

func absent(path string) error {
	_, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("look at target: %w", err)
	}
	return fault.New(fault.Conflict, "There is something at the target already. Nothing was changed.", "Give a name that is not taken.")
}

// place puts a finished file on disk under its name; SQLite does not sync what
// VACUUM INTO writes.
func place(made, target string) error {
	if err := disk.Sync(made); err != nil {
		return err
	}
	if err := os.Rename(made, target); err != nil {
		return fmt.Errorf("name copy: %w", err)
	}
	return disk.Sync(filepath.Dir(target))
}
