package sqlite

import (
	"context"
	"database/sql"

	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
)

func sheetBody(ctx context.Context, q querier, id shop.ID, hash event.SheetHash) ([]byte, error) {
	var body []byte
	err := q.QueryRowContext(ctx, `SELECT body FROM sheet WHERE shop = ? AND hash = ?`, id, hash).Scan(&body)
	if isNone(err) {
		return nil, nil
	}
	return body, err
}

// AddSheet keeps a sheet for ever. One that is there already stays as it is,
// except that publishing it makes it seen. Jobs that waited for it are
// projected anew.
func (db *DB) AddSheet(ctx context.Context, id shop.ID, s shop.Sheet) error {
	return db.update(ctx, "keep sheet", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO sheet (shop, hash, title, version, vehicle, published, device, body, received_at)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
			ON CONFLICT (shop, hash) DO UPDATE SET published = max(published, excluded.published)`,
			id, s.Hash, s.Title, s.Version, s.Vehicle, s.Published, s.Device, s.Body, ms(db.now()))
		if err != nil {
			return err
		}
		rows, err := tx.QueryContext(ctx, `SELECT id FROM job WHERE shop = ? AND sheet = ?`, id, s.Hash)
		jobs, err := collect(rows, err, "find jobs of sheet", func(rows *sql.Rows) (job event.JobID, err error) {
			err = rows.Scan(&job)
			return job, err
		})
		if err != nil {
			return err
		}
		_, err = db.projectJobs(ctx, tx, id, jobs)
		return err
	})
}

// Sheets lists the shop's published sheets and the device's own, without their bodies.
func (db *DB) Sheets(ctx context.Context, id shop.ID, device event.DeviceID) ([]shop.Sheet, error) {
	rows, err := db.read.QueryContext(ctx, `SELECT hash, title, version, vehicle, published, device, received_at
		FROM sheet WHERE shop = ? AND (published OR device = ?) ORDER BY title, received_at`, id, device)
	return collect(rows, err, "list sheets", func(rows *sql.Rows) (shop.Sheet, error) {
		var s shop.Sheet
		var received int64
		err := rows.Scan(&s.Hash, &s.Title, &s.Version, &s.Vehicle, &s.Published, &s.Device, &received)
		s.Received = fromMS(received)
		return s, err
	})
}

// SheetBody returns a sheet's bytes, published or not.
func (db *DB) SheetBody(ctx context.Context, id shop.ID, hash event.SheetHash) ([]byte, error) {
	body, err := sheetBody(ctx, db.read, id, hash)
	if err != nil {
		return nil, asFault("read sheet", err)
	}
	if body == nil {
		return nil, fault.New(fault.NotFound, "The shop does not have this fitting sheet.",
			"Open the job on the phone that has it and sync there once.")
	}
	return body, nil
}
