package server

import (
	"context"
	"fmt"
	"path/filepath"
	"time"

	"strutcard/server/photo"
	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/sync/fault"
)

// tidyEvery is how often a running server looks for what is kept long enough.
const tidyEvery = 24 * time.Hour

// tidyDaily deletes what is kept long enough, now and once a day, until ctx ends.
func (s *Server) tidyDaily(ctx context.Context) {
	again := time.NewTicker(tidyEvery)
	defer again.Stop()
	for {
		if _, err := tidy(ctx, s.db, s.pictures); err != nil && ctx.Err() == nil {
			s.cfg.Log.Error("old jobs were not all deleted; tomorrow's round tries again", "err", err)
		}
		select {
		case <-ctx.Done():
			return
		case <-again.C:
		}
	}
}

// tidy deletes the finished jobs that their shops kept long enough, and the files of
// photos that a deletion left behind. It returns how many jobs went.
func tidy(ctx context.Context, db *sqlite.DB, pictures *photo.Store) (jobs int, err error) {
	old, err := db.PastKeeping(ctx)
	if err != nil {
		return 0, err
	}
	for _, j := range old {
		err := db.DeleteJob(ctx, j.Job, shop.Entry{Shop: j.Shop, Who: shop.ByItself, Reason: shop.KeptLongEnough})
		if fault.Is(err, fault.NotFound) {
			continue // somebody was faster
		}
		if err != nil {
			return jobs, fmt.Errorf("delete old job: %w", err)
		}
		jobs++
	}
	return jobs, db.DropPhotos(ctx, func(id shop.ID, sha256 string, named bool) error {
		return pictures.Drop(string(id), sha256, named)
	})
}

// Tidy is the daily round, done now; a server may be running. It returns how many
// jobs were deleted.
func Tidy(ctx context.Context, dataDir string, now func() time.Time) (jobs int, err error) {
	return jobs, with(dataDir, now, func(db *sqlite.DB) error {
		pictures, err := photo.Open(filepath.Join(dataDir, photoDir))
		if err != nil {
			return err
		}
		jobs, err = tidy(ctx, db, pictures)
		return err
	})
}
