package server

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"strutcard/server/disk"
	"strutcard/server/sqlite"
	"strutcard/sync/fault"
)

// Kept says what a backup or a restored data folder holds.
type Kept struct {
	Events  int64
	Photos  int
	Damaged []string // photos that are not what their name says; they were left out
}

// Backup copies a data folder to a new one, also while a server writes to the first.
// The database goes before the photos, so that the copy has every photo that its
// events name. Target appears when it is complete; what is cut off leaves a folder
// beside it, named target.tmp with a number, which may be deleted.
func Backup(ctx context.Context, dataDir, target string) (Kept, error) {
	if err := there(dataDir); err != nil {
		return Kept{}, err
	}
	var kept Kept
	err := build(target, func(made string) (err error) {
		if kept.Events, err = sqlite.Backup(ctx, dbFile(dataDir), dbFile(made)); err != nil {
			return err
		}
		return copyPhotos(ctx, dataDir, made, linkPhoto, &kept)
	})
	return kept, err
}

// Restore makes a data folder from a backup. It has an epoch of its own before any
// server can open it: phones send again what they hold.
func Restore(ctx context.Context, backup, dataDir string) (Kept, error) {
	if err := there(backup); err != nil {
		return Kept{}, err
	}
	if info, err := os.Stat(dbFile(backup) + "-wal"); err == nil && info.Size() > 0 {
		return Kept{}, fault.New(fault.Invalid, "This is the folder of a server, not a backup: part of it is not in its main file. Nothing was changed.",
			"Make a backup of that folder, then restore from the backup.")
	}
	var kept Kept
	err := build(dataDir, func(made string) (err error) {
		if _, err := copyFile(dbFile(backup), dbFile(made)); err != nil {
			return err
		}
		if kept.Events, err = sqlite.Renew(ctx, dbFile(made), sqlite.Options{Project: newProjector().summary}); err != nil {
			return err
		}
		if err := disk.Sync(dbFile(made)); err != nil {
			return err
		}
		return copyPhotos(ctx, backup, made, copyPhoto, &kept)
	})
	return kept, err
}

// Rebuild computes the queue of a data folder anew; a server may be running.
func Rebuild(ctx context.Context, dataDir string) (err error) {
	if err := there(dataDir); err != nil {
		return err
	}
	db, err := sqlite.Open(dbFile(dataDir), sqlite.Options{Project: newProjector().summary})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	if err := db.Rebuild(ctx); err != nil {
		return fmt.Errorf("rebuild queue: %w", err)
	}
	return db.SetMeta(ctx, "projection", projection)
}

// there refuses a folder without a database, which opening it would make.
func there(dir string) error {
	_, err := os.Stat(dbFile(dir))
	if errors.Is(err, fs.ErrNotExist) {
		return fault.Wrap(err, fault.NotFound, "There is no strutcard data in this folder. Nothing was changed.", "Check the name of the folder.")
	}
	return err
}

// build fills a folder beside target and gives it target's name at the end: nobody
// sees half of it. Target may be an empty folder.
func build(target string, fill func(made string) error) error {
	target, err := filepath.Abs(target)
	if err != nil {
		return err
	}
	if err := free(target); err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(target), 0o700); err != nil {
		return fmt.Errorf("make folder: %w", err)
	}
	made, err := os.MkdirTemp(filepath.Dir(target), filepath.Base(target)+".tmp")
	if err != nil {
		return fmt.Errorf("make folder: %w", err)
	}
	defer func() { _ = os.RemoveAll(made) }() // after the rename it does nothing
	if err := fill(made); err != nil {
		return err
	}
	if err := disk.Sync(made); err != nil {
		return err
	}
	if err := os.Remove(target); err != nil && !errors.Is(err, fs.ErrNotExist) { // only if it is still empty
		return fmt.Errorf("make room for folder: %w", err)
	}
	if err := os.Rename(made, target); err != nil {
		return fmt.Errorf("name folder: %w", err)
	}
	return disk.Sync(filepath.Dir(target))
}

func free(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("look at target: %w", err)
	case len(entries) > 0:
		return fault.New(fault.Conflict, "The target folder is not empty. Nothing was changed.", "Give a folder that is empty or not there yet.")
	}
	return nil
}
