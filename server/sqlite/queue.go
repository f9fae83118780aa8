package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"strings"

	"strutcard/server/shop"
	"strutcard/sync/event"
)

// projectJobs brings the rows of some jobs up to date and returns their logs, to
// be cached once the transaction holds. Events that have just arrived are given by
// their lines.
func (db *DB) projectJobs(ctx context.Context, tx *sql.Tx, id shop.ID, jobs []event.JobID, arrived map[string]event.Event) ([]jobLog, error) {
	logs := make([]jobLog, 0, len(jobs))
	for _, job := range jobs {
		known := db.logs.get(logKey{id, job})
		later, pos, err := loadJob(ctx, tx, id, job, known.pos, arrived)
		if err != nil {
			return nil, err
		}
		full := known.with(later, pos)
		if err := db.projectJob(ctx, tx, id, full); err != nil {
			return nil, fmt.Errorf("project job %s: %w", job, err)
		}
		logs = append(logs, full)
	}
	return logs, nil
}

func (db *DB) projectJob(ctx context.Context, tx *sql.Tx, id shop.ID, log jobLog) error {
	var failed error
	sheetOf := func(hash event.SheetHash) []byte {
		body, err := sheetBody(ctx, tx, id, hash)
		if err != nil {
			failed = err
		}
		return body
	}
	row := db.project(log.key.job, event.Sort(log.events), sheetOf)
	if failed != nil {
		return failed
	}
	var first, heard int64
	if err := tx.QueryRowContext(ctx, `SELECT min(server_seq), max(received_at) FROM event WHERE shop = ? AND job = ?`, id, log.key.job).Scan(&first, &heard); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, `INSERT OR REPLACE INTO job
		(shop, id, sheet, title, vehicle, opened_at, heard_at, first_seq, up, not_final, stops, asks, notes, finished)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		id, log.key.job, row.Sheet, row.Title, row.Vehicle, ms(row.Opened), heard, first,
		row.Up, row.NotFinal, row.Stops, row.Asks, row.Notes, row.Finished)
	return err
}

// Rebuild computes the queue and the list of photos anew, job by job, each in its
// own transaction: phones may go on writing.
func (db *DB) Rebuild(ctx context.Context) error {
	err := db.update(ctx, "clear queue", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM job WHERE NOT EXISTS (SELECT 1 FROM event e WHERE e.shop = job.shop AND e.job = job.id)`)
		return err
	})
	if err != nil {
		return err
	}
	var at logKey
	for more := true; more; {
		if at, more, err = db.rebuildAfter(ctx, at); err != nil {
			return err
		}
	}
	return nil
}

// rebuildAfter computes the row of the job after another one, in order of keys. It
// looks for one job at a time, since a list of all would be one long read.
func (db *DB) rebuildAfter(ctx context.Context, at logKey) (next logKey, more bool, err error) {
	err = db.update(ctx, "rebuild queue", func(tx *sql.Tx) error {
		err := tx.QueryRowContext(ctx, `SELECT shop, job FROM event WHERE (shop, job) > (?, ?) ORDER BY shop, job LIMIT 1`, at.shop, at.job).Scan(&next.shop, &next.job)
		if isNone(err) {
			return nil
		}
		if err != nil {
			return err
		}
		more = true
		logs, err := db.projectJobs(ctx, tx, next.shop, []event.JobID{next.job}, nil)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `DELETE FROM photo WHERE shop = ? AND job = ?`, next.shop, next.job); err != nil {
			return err
		}
		return notePhotos(ctx, tx, next.shop, logs[0].events...)
	})
	return next, more, err
}

const rowColumns = `job.id, sheet, title, vehicle, opened_at, heard_at, up, not_final, stops, asks, notes, finished`

// pageQuery finds a page's ids in the index alone and then reads only their rows:
// a page far down costs no more than a walk along the index.
const pageQuery = `SELECT ` + rowColumns + `
	FROM (SELECT id FROM job WHERE shop = ? ORDER BY stops DESC, asks DESC, heard_at DESC LIMIT ? OFFSET ?) page
	CROSS JOIN job ON job.shop = ? AND job.id = page.id ORDER BY stops DESC, asks DESC, heard_at DESC`

// findQuery reads the shop's rows in the order they lie in: the plus signs keep
// it from looking up each row through the index of the order.
const findQuery = `SELECT ` + rowColumns + ` FROM job
	WHERE shop = ? AND (vehicle LIKE ? ESCAPE '\' OR title LIKE ? ESCAPE '\')
	ORDER BY +stops DESC, +asks DESC, +heard_at DESC LIMIT ? OFFSET ?`

// Queue returns the shop's jobs, gravest first, then last heard first.
func (db *DB) Queue(ctx context.Context, id shop.ID, f shop.Filter) ([]shop.Row, error) {
	query, args := pageQuery, []any{id, f.Limit, f.Offset, id}
	if f.Text != "" {
		like := "%" + escapeLike(f.Text) + "%"
		query, args = findQuery, []any{id, like, like, f.Limit, f.Offset}
	}
	rows, err := db.read.QueryContext(ctx, query, args...)
	return collect(rows, err, "read queue", scanRow)
}

// HasJob reports whether the shop has heard of a job.
func (db *DB) HasJob(ctx context.Context, id shop.ID, job event.JobID) (bool, error) {
	var n int
	err := db.read.QueryRowContext(ctx, `SELECT count(*) FROM job WHERE shop = ? AND id = ?`, id, job).Scan(&n)
	return n > 0, asFault("find job", err)
}

func scanRow(rows *sql.Rows) (shop.Row, error) {
	var r shop.Row
	var opened, heard int64
	err := rows.Scan(&r.Job, &r.Sheet, &r.Title, &r.Vehicle, &opened, &heard, &r.Up, &r.NotFinal, &r.Stops, &r.Asks, &r.Notes, &r.Finished)
	r.Opened, r.Heard = fromMS(opened), fromMS(heard)
	return r, err
}

func escapeLike(s string) string {
	return strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`).Replace(s)
}
