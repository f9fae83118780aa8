package sqlite

import (
	"context"
	"database/sql"

	"strutcard/server/shop"
	"strutcard/sync/event"
)

// notePhotos keeps which pictures the events name. The largest size counts where
// two events disagree about one picture.
func notePhotos(ctx context.Context, tx *sql.Tx, id shop.ID, events ...event.Event) error {
	for _, e := range events {
		p, ok := e.Payload().(*event.PhotoTaken)
		if !ok {
			continue
		}
		if _, err := tx.ExecContext(ctx, `INSERT INTO photo (shop, sha256, job, bytes) VALUES (?, ?, ?, ?)
			ON CONFLICT DO UPDATE SET bytes = max(bytes, excluded.bytes)`, id, p.SHA256, e.Job, p.Bytes); err != nil {
			return err
		}
	}
	return nil
}

// PhotoFor returns the size of a picture that is named in a job which the actor
// may read; found is false when there is none.
func (db *DB) PhotoFor(ctx context.Context, id shop.ID, actor, sha256 string) (bytes int64, found bool, err error) {
	err = db.read.QueryRowContext(ctx, `SELECT p.bytes FROM photo p JOIN writer w ON w.shop = p.shop AND w.job = p.job
		WHERE p.shop = ? AND p.sha256 = ? AND w.actor = ? ORDER BY p.bytes DESC LIMIT 1`, id, sha256, actor).Scan(&bytes)
	if isNone(err) {
		return 0, false, nil
	}
	return bytes, err == nil, asFault("find photo", err)
}

// HasPhoto reports whether a picture is named in a job of the shop; "" is any job.
func (db *DB) HasPhoto(ctx context.Context, id shop.ID, job event.JobID, sha256 string) (bool, error) {
	var found bool
	err := db.read.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM photo WHERE shop = ?1 AND sha256 = ?2 AND ?3 IN (job, ''))`,
		id, sha256, job).Scan(&found)
	return found, asFault("find photo", err)
}
