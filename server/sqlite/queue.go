package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"strings"

	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
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
		if body != nil {
			return body
		}
		if example := sheet.ExampleOf(hash); example != nil {
			return example.Encode() // it is part of the program: no phone sends it
		}
		return nil
	}
	sum := db.project(log.key.job, event.Sort(log.events), sheetOf)
	if failed != nil {
		return failed
	}
	var first, heard int64
	if err := tx.QueryRowContext(ctx, `SELECT min(server_seq), max(received_at) FROM event WHERE shop = ? AND job = ?`, id, log.key.job).Scan(&first, &heard); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, `INSERT OR REPLACE INTO job
		(shop, id, sheet, title, vehicle, opened_at, heard_at, first_seq, up, not_final, stops, asks, notes, finished, decision)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		id, log.key.job, sum.Sheet, sum.Title, sum.Vehicle, ms(sum.Opened), heard, first,
		sum.Up, sum.NotFinal, sum.Stops, sum.Asks, sum.Notes, sum.Finished, sum.Decision)
	if err != nil {
		return err
	}
	if err := noteFindings(ctx, tx, log.key, sum.Findings); err != nil {
		return err
	}
	names, err := phonesOf(ctx, tx, log)
	if err != nil {
		return err
	}
	return noteText(ctx, tx, first, strings.Join(append([]string{sum.Text}, names...), "\n"))
}

// Rebuild computes the queue, what it is searched by and the list of photos anew, job
// by job, each in its own transaction: phones may go on writing.
func (db *DB) Rebuild(ctx context.Context) error {
	err := db.update(ctx, "clear queue", func(tx *sql.Tx) error {
		for _, query := range []string{
			`DELETE FROM job WHERE NOT EXISTS (SELECT 1 FROM event e WHERE e.shop = job.shop AND e.job = job.id)`,
			`DELETE FROM job_finding WHERE NOT EXISTS (SELECT 1 FROM event e WHERE e.shop = job_finding.shop AND e.job = job_finding.job)`,
			`DELETE FROM job_text WHERE rowid NOT IN (SELECT server_seq FROM event)`,
		} {
			if _, err := tx.ExecContext(ctx, query); err != nil {
				return err
			}
		}
		return nil
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

const (
	rowColumns = `job.id, job.sheet, job.title, job.vehicle, job.opened_at, job.heard_at, job.up, job.not_final, job.stops, job.asks, job.notes, job.finished, job.decision,
	coalesce((SELECT withdrawn_at FROM withdrawal w WHERE w.shop = job.shop AND w.hash = job.sheet), 0)`
	queueOrder = ` ORDER BY job.decision <> '', job.stops DESC, job.asks DESC, job.heard_at DESC`
)

// pageQuery finds a page's ids in the index alone and then reads only their rows:
// a page far down costs no more than a walk along the index.
func pageQuery(f shop.Filter, args *[]any) string {
	which := narrow(f, args)
	*args = append(*args, f.Limit, f.Offset)
	return `SELECT ` + rowColumns + ` FROM (SELECT job.id FROM job WHERE ` + which + queueOrder + ` LIMIT ? OFFSET ?) page
	CROSS JOIN job ON job.shop = ?1 AND job.id = page.id` + queueOrder
}

func totalsQuery(f shop.Filter, args *[]any) string {
	return `SELECT count(*), coalesce(sum(stops), 0), coalesce(sum(asks), 0), coalesce(sum(notes), 0) FROM job WHERE ` + narrow(f, args)
}

var (
	workIs   = map[shop.Work]string{shop.WorkOn: `NOT job.finished`, shop.WorkUp: `job.up`, shop.WorkDone: `job.finished`}
	severeIs = map[string]string{"stop": `job.stops > 0`, "ask": `job.asks > 0`, "note": `job.notes > 0`}
	wordIs   = map[event.Decision]string{event.Accept: `job.decision = 'accept'`, event.Return: `job.decision = 'return'`, shop.Undecided: `job.decision = ''`}
)

// narrow is the condition of a filter over the shop that is the first argument. The
// plus sign keeps to the walk along the queue: its order costs nothing there.
func narrow(f shop.Filter, args *[]any) string {
	which := []string{`job.shop = ?1`}
	for _, one := range []string{workIs[f.Work], severeIs[f.Severity], wordIs[f.Decision]} {
		if one != "" {
			which = append(which, one)
		}
	}
	if f.Rule != "" {
		which, *args = append(which, `job.id IN (SELECT f.job FROM job_finding f WHERE f.shop = ?1 AND f.rule = ?)`), append(*args, f.Rule)
	}
	if len(f.Words) > 0 {
		which, *args = append(which, `+job.first_seq IN (SELECT rowid FROM job_text WHERE job_text MATCH ?)`), append(*args, match(f.Words))
	}
	return strings.Join(which, ` AND `)
}

// match asks for all of some words, each as the beginning of one. In quotation marks
// nothing of them is taken for an operator.
func match(words []string) string {
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = `"` + strings.ReplaceAll(w, `"`, `""`) + `"*`
	}
	return strings.Join(quoted, " ")
}

// Queue returns a page of the shop's jobs, in the order of shop.Filter.
func (db *DB) Queue(ctx context.Context, id shop.ID, f shop.Filter) ([]shop.Row, error) {
	args := []any{id}
	query := pageQuery(f, &args)
	rows, err := db.read.QueryContext(ctx, query, args...)
	return collect(rows, err, "read queue", scanRow)
}

// QueueTotals counts what a filter leaves, on all its pages.
func (db *DB) QueueTotals(ctx context.Context, id shop.ID, f shop.Filter) (t shop.Totals, err error) {
	args := []any{id}
	query := totalsQuery(f, &args)
	err = db.read.QueryRowContext(ctx, query, args...).Scan(&t.Jobs, &t.Stops, &t.Asks, &t.Notes)
	return t, asFault("count queue", err)
}

// OpenRules lists the rules that have something open in the shop's jobs.
func (db *DB) OpenRules(ctx context.Context, id shop.ID) ([]shop.OpenRule, error) {
	rows, err := db.read.QueryContext(ctx, `SELECT rule, jobs FROM open_rule WHERE shop = ? ORDER BY rule`, id)
	return collect(rows, err, "list open rules", func(rows *sql.Rows) (r shop.OpenRule, err error) {
		err = rows.Scan(&r.Rule, &r.Jobs)
		return r, err
	})
}

// HasJob reports whether the shop has heard of a job.
func (db *DB) HasJob(ctx context.Context, id shop.ID, job event.JobID) (bool, error) {
	var n int
	err := db.read.QueryRowContext(ctx, `SELECT count(*) FROM job WHERE shop = ? AND id = ?`, id, job).Scan(&n)
	return n > 0, asFault("find job", err)
}

func scanRow(rows *sql.Rows) (shop.Row, error) {
	var r shop.Row
	var opened, heard, withdrawn int64
	err := rows.Scan(&r.Job, &r.Sheet, &r.Title, &r.Vehicle, &opened, &heard, &r.Up, &r.NotFinal, &r.Stops, &r.Asks, &r.Notes, &r.Finished, &r.Decision, &withdrawn)
	r.Opened, r.Heard, r.Withdrawn = fromMS(opened), fromMS(heard), fromMS(withdrawn)
	return r, err
}
