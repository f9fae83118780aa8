package sqlite

import (
	"context"
	"database/sql"
	"time"

	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// deletions take a job out of every table, in an order that keys allow. ?1 is the
// shop, ?2 the job, ?3 now. The pages that they free are overwritten.
var deletions = []string{
	`INSERT INTO deleted_job SELECT ?1, ?2, ?3 WHERE true ON CONFLICT DO NOTHING`,
	`INSERT INTO deleted_mark SELECT server_seq, shop, mark FROM event WHERE shop = ?1 AND job = ?2`,
	`INSERT INTO deleted_photo SELECT shop, sha256 FROM photo WHERE shop = ?1 AND job = ?2 ON CONFLICT DO NOTHING`,
	`DELETE FROM session WHERE share IN (SELECT id FROM share WHERE shop = ?1 AND job = ?2)`,
	`DELETE FROM share WHERE shop = ?1 AND job = ?2`,
	`DELETE FROM photo WHERE shop = ?1 AND job = ?2`,
	`DELETE FROM writer WHERE shop = ?1 AND job = ?2`,
	`DELETE FROM job_text WHERE rowid = (SELECT first_seq FROM job WHERE shop = ?1 AND id = ?2)`,
	`DELETE FROM job_finding WHERE shop = ?1 AND job = ?2`,
	`DELETE FROM event WHERE shop = ?1 AND job = ?2`,
	`DELETE FROM job WHERE shop = ?1 AND id = ?2`,
}

// DeleteJob takes a job out of the shop's data for good. Only its id stays, so that
// a phone which brings it again hears that it was deleted. The files of its photos
// go with DropPhotos.
func (db *DB) DeleteJob(ctx context.Context, job event.JobID, e shop.Entry) error {
	return db.update(ctx, "delete job", func(tx *sql.Tx) error {
		var there bool
		if err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM event WHERE shop = ? AND job = ?)`, e.Shop, job).Scan(&there); err != nil {
			return err
		}
		if !there {
			return fault.New(fault.NotFound, "This server knows no such job. Nothing was deleted.", "Go back to the list of jobs.")
		}
		for _, query := range deletions {
			if _, err := tx.ExecContext(ctx, query, e.Shop, job, ms(db.now())); err != nil {
				return err
			}
		}
		e.What, e.About = shop.JobDeleted, string(job)
		if err := db.note(ctx, tx, e); err != nil {
			return err
		}
		db.logs.drop(logKey{e.Shop, job})
		return nil
	})
}

// deleted tells when the shop deleted a job; zero when it did not.
func deleted(ctx context.Context, q querier, id shop.ID, job event.JobID) (time.Time, error) {
	var at int64
	err := q.QueryRowContext(ctx, `SELECT deleted_at FROM deleted_job WHERE shop = ? AND job = ?`, id, job).Scan(&at)
	if isNone(err) {
		return time.Time{}, nil
	}
	return fromMS(at), err
}

// JobDeleted tells when the shop deleted a job; zero when it did not.
func (db *DB) JobDeleted(ctx context.Context, id shop.ID, job event.JobID) (time.Time, error) {
	at, err := deleted(ctx, db.read, id, job)
	return at, asFault("look for a deleted job", err)
}

// gone is the verdict on an event of a job that the shop deleted: the phone sends
// it no more, and keeps it.
func gone(id event.ID, at time.Time) store.Verdict {
	return store.Verdict{ID: id, Outcome: store.Refused, Reason: fault.New(fault.Denied,
		fault.T("The shop deleted this job's data on %s and does not take it back. It stays on this phone.", at.Format(time.DateOnly)),
		"Ask the shop why. To keep the record, save the job as a file.")}
}

// DropPhotos removes the files of deleted photos. drop is given each picture, and
// whether a job of any shop still names it: whole pictures are kept once for all
// shops, and only the part that was arriving for this shop goes then.
func (db *DB) DropPhotos(ctx context.Context, drop func(id shop.ID, sha256 string, named bool) error) error {
	type picture struct {
		shop shop.ID
		sha  string
	}
	rows, err := db.read.QueryContext(ctx, `SELECT shop, sha256 FROM deleted_photo`)
	pictures, err := collect(rows, err, "list deleted photos", func(rows *sql.Rows) (p picture, err error) {
		err = rows.Scan(&p.shop, &p.sha)
		return p, err
	})
	if err != nil {
		return err
	}
	for _, p := range pictures { // in the writer's turn: no event may name the picture meanwhile
		err := db.update(ctx, "remove photo", func(tx *sql.Tx) error {
			var here, anywhere bool
			err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM photo WHERE shop = ?1 AND sha256 = ?2), EXISTS (SELECT 1 FROM photo WHERE sha256 = ?2)`,
				p.shop, p.sha).Scan(&here, &anywhere)
			if err != nil {
				return err
			}
			if !here {
				if err := drop(p.shop, p.sha, anywhere); err != nil {
					return err
				}
			}
			_, err = tx.ExecContext(ctx, `DELETE FROM deleted_photo WHERE shop = ? AND sha256 = ?`, p.shop, p.sha)
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// KeepDays returns how long the shop keeps finished jobs; 0 is for ever.
func (db *DB) KeepDays(ctx context.Context, id shop.ID) (int, error) {
	var days int
	err := db.read.QueryRowContext(ctx, `SELECT keep_days FROM shop WHERE id = ?`, id).Scan(&days)
	return days, asFault("read retention", err)
}

// SetKeepDays changes how long the shop keeps finished jobs.
func (db *DB) SetKeepDays(ctx context.Context, days int, e shop.Entry) error {
	return db.update(ctx, "set retention", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `UPDATE shop SET keep_days = ? WHERE id = ?`, days, e.Shop); err != nil {
			return err
		}
		return db.note(ctx, tx, e)
	})
}

// PastKeeping lists the finished jobs of all shops that are kept long enough, by
// the server's clock: nothing of them was heard for as long.
func (db *DB) PastKeeping(ctx context.Context) ([]shop.Finished, error) {
	day := (24 * time.Hour).Milliseconds()
	rows, err := db.read.QueryContext(ctx, `SELECT job.shop, job.id FROM job JOIN shop ON shop.id = job.shop
		WHERE shop.keep_days > 0 AND job.finished AND job.heard_at <= ? - shop.keep_days * ? ORDER BY job.shop, job.id`, ms(db.now()), day)
	return collect(rows, err, "list old jobs", func(rows *sql.Rows) (f shop.Finished, err error) {
		err = rows.Scan(&f.Shop, &f.Job)
		return f, err
	})
}

// Shops lists the shops of this server with their ids.
func (db *DB) Shops(ctx context.Context) ([]shop.Shop, error) {
	rows, err := db.read.QueryContext(ctx, `SELECT id, name, keep_days, created_at FROM shop ORDER BY name, id`)
	return collect(rows, err, "list shops", func(rows *sql.Rows) (s shop.Shop, err error) {
		var created int64
		err = rows.Scan(&s.ID, &s.Name, &s.KeepDays, &created)
		s.Created = fromMS(created)
		return s, err
	})
}
