package sqlite

import (
	"context"
	"database/sql"
	"maps"

	"strutcard/sync/event"
)

// noteFindings keeps how many findings of each rule are open in a job. Most events
// change none of them: then nothing is written.
func noteFindings(ctx context.Context, tx *sql.Tx, key logKey, open map[string]int) error {
	rows, err := tx.QueryContext(ctx, `SELECT rule, count FROM job_finding WHERE shop = ? AND job = ?`, key.shop, key.job)
	had := map[string]int{}
	_, err = collect(rows, err, "read findings", func(rows *sql.Rows) (struct{}, error) {
		var rule string
		var n int
		err := rows.Scan(&rule, &n)
		had[rule] = n
		return struct{}{}, err
	})
	if err != nil || maps.Equal(had, open) {
		return err
	}
	if _, err := tx.ExecContext(ctx, `DELETE FROM job_finding WHERE shop = ? AND job = ?`, key.shop, key.job); err != nil {
		return err
	}
	for rule, n := range open {
		if _, err := tx.ExecContext(ctx, `INSERT INTO job_finding (shop, job, rule, count) VALUES (?, ?, ?, ?)`, key.shop, key.job, rule, n); err != nil {
			return err
		}
	}
	return nil
}

// noteText keeps what a job is found by. Most events bring no words: then nothing is
// written.
func noteText(ctx context.Context, tx *sql.Tx, first int64, text string) error {
	var had string
	err := tx.QueryRowContext(ctx, `SELECT words FROM job_text WHERE rowid = ?`, first).Scan(&had)
	if err == nil && had == text {
		return nil
	}
	if err != nil && !isNone(err) {
		return err
	}
	_, err = tx.ExecContext(ctx, `INSERT OR REPLACE INTO job_text (rowid, words) VALUES (?, ?)`, first, text)
	return err
}

// phonesOf lists the names of the shop's phones that wrote in a job, as they are now.
func phonesOf(ctx context.Context, tx *sql.Tx, log jobLog) (names []string, err error) {
	seen := map[event.DeviceID]bool{}
	for _, e := range log.events {
		if seen[e.Device] {
			continue
		}
		seen[e.Device] = true
		var name string
		err := tx.QueryRowContext(ctx, `SELECT name FROM device WHERE shop = ? AND id = ?`, log.key.shop, e.Device).Scan(&name)
		if isNone(err) {
			continue // staff and mentors have no phone
		}
		if err != nil {
			return nil, err
		}
		names = append(names, name)
	}
	return names, nil
}
