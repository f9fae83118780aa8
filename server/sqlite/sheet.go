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
	return db.update(ctx, "keep sheet", func(tx *sql.Tx) error { return db.addSheet(ctx, tx, id, s) })
}

func (db *DB) addSheet(ctx context.Context, tx *sql.Tx, id shop.ID, s shop.Sheet) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO sheet (shop, hash, title, version, vehicle, published, device, body, received_at, staff)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, nullif(?, ''))
		ON CONFLICT (shop, hash) DO UPDATE SET published = max(published, excluded.published)`,
		id, s.Hash, s.Title, s.Version, s.Vehicle, s.Published, s.Device, s.Body, ms(db.now()), s.By)
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
	_, err = db.projectJobs(ctx, tx, id, jobs, nil)
	return err
}

const sheetQuery = `SELECT h.hash, h.title, h.version, h.vehicle, h.published, h.device, h.received_at, coalesce(h.staff, ''), coalesce(p.name, ''),
	(SELECT count(*) FROM job WHERE job.shop = h.shop AND job.sheet = h.hash),
	coalesce(w.withdrawn_at, 0), coalesce(w.reason, ''), coalesce(w.before_step, ''), coalesce(w.staff, ''), coalesce(q.name, '')
	FROM sheet h LEFT JOIN staff p ON p.id = h.staff
	LEFT JOIN withdrawal w ON w.shop = h.shop AND w.hash = h.hash LEFT JOIN staff q ON q.id = w.staff
	WHERE h.shop = ? AND `

func scanSheet(rows interface{ Scan(...any) error }) (shop.Sheet, error) {
	var s shop.Sheet
	var w shop.Withdrawn
	var received, at int64
	err := rows.Scan(&s.Hash, &s.Title, &s.Version, &s.Vehicle, &s.Published, &s.Device, &received, &s.By, &s.ByName, &s.Jobs,
		&at, &w.Reason, &w.Before, &w.By, &w.ByName)
	s.Received, w.At = fromMS(received), fromMS(at)
	if at != 0 {
		s.Withdrawn = &w
	}
	return s, err
}

func (db *DB) listSheets(ctx context.Context, which string, args ...any) ([]shop.Sheet, error) {
	rows, err := db.read.QueryContext(ctx, sheetQuery+which, args...)
	return collect(rows, err, "list sheets", func(rows *sql.Rows) (shop.Sheet, error) { return scanSheet(rows) })
}

// Sheets lists, without their bodies, the shop's published sheets, the device's
// own, and those that the jobs pin which the device may read.
func (db *DB) Sheets(ctx context.Context, id shop.ID, device event.DeviceID) ([]shop.Sheet, error) {
	return db.listSheets(ctx, `(h.published OR h.device = ? OR h.hash IN (SELECT job.sheet FROM writer
		JOIN job ON job.shop = writer.shop AND job.id = writer.job WHERE writer.shop = h.shop AND writer.actor = 'device:' || ?))
		ORDER BY h.title, h.received_at`, id, device, device)
}

// Published lists the shop's published sheets without their bodies, by title, the
// newest first.
func (db *DB) Published(ctx context.Context, id shop.ID) ([]shop.Sheet, error) {
	return db.listSheets(ctx, `h.published ORDER BY h.title, h.received_at DESC`, id)
}

// PublishedSheet returns one published sheet with its body.
func (db *DB) PublishedSheet(ctx context.Context, id shop.ID, hash event.SheetHash) (shop.Sheet, error) {
	s, err := scanSheet(db.read.QueryRowContext(ctx, sheetQuery+`h.published AND h.hash = ?`, id, hash))
	if isNone(err) {
		return s, noSheet()
	}
	if err == nil {
		s.Body, err = sheetBody(ctx, db.read, id, hash)
	}
	return s, asFault("read sheet", err)
}

// JobsOf lists the jobs that pin a sheet, the last heard from first, so many at most.
func (db *DB) JobsOf(ctx context.Context, id shop.ID, hash event.SheetHash, limit int) ([]shop.Row, error) {
	rows, err := db.read.QueryContext(ctx, `SELECT `+rowColumns+` FROM job WHERE shop = ? AND sheet = ? ORDER BY heard_at DESC, job.id LIMIT ?`, id, hash, limit)
	return collect(rows, err, "list jobs of sheet", scanRow)
}

// Withdraw takes a sheet of the shop back from use. It cannot be undone; a sheet
// that is withdrawn already keeps its first reason.
func (db *DB) Withdraw(ctx context.Context, id shop.ID, hash event.SheetHash, w shop.Withdrawn) error {
	return db.update(ctx, "withdraw sheet", func(tx *sql.Tx) error {
		body, err := sheetBody(ctx, tx, id, hash)
		if err != nil {
			return err
		}
		if body == nil {
			return noSheet()
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO withdrawal (shop, hash, reason, before_step, withdrawn_at, staff) VALUES (?, ?, ?, ?, ?, ?)
			ON CONFLICT DO NOTHING`, id, hash, w.Reason, w.Before, ms(db.now()), w.By)
		return err
	})
}

// Withdrawal tells when and why a sheet was taken back from use; At is zero while it
// stands.
func (db *DB) Withdrawal(ctx context.Context, id shop.ID, hash event.SheetHash) (w shop.Withdrawn, err error) {
	var at int64
	err = db.read.QueryRowContext(ctx, `SELECT withdrawn_at, reason FROM withdrawal WHERE shop = ? AND hash = ?`, id, hash).Scan(&at, &w.Reason)
	if isNone(err) {
		return w, nil
	}
	w.At = fromMS(at)
	return w, asFault("read withdrawal", err)
}

func noSheet() error {
	return fault.New(fault.NotFound, "The shop has published no such fitting sheet.", "Look in the list of sheets.")
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
