package sqlite

import (
	"context"
	"database/sql"

	"strutcard/server/shop"
)

// Writer and Readers open the pools to tests that look at their settings.
func (db *DB) Writer() *sql.DB  { return db.write }
func (db *DB) Readers() *sql.DB { return db.read.DB }

// Query reads the way everything in this package reads.
func (db *DB) Query(ctx context.Context, query string) (*sql.Rows, error) {
	return db.read.QueryContext(ctx, query)
}

// QueuePlans tells how the database reads a page of the queue, and its totals.
func (db *DB) QueuePlans(ctx context.Context, id shop.ID, f shop.Filter) (page, totals []string, err error) {
	plan := func(query func(shop.Filter, *[]any) string) []string {
		args := []any{id}
		text := query(f, &args)
		rows, failed := db.read.QueryContext(ctx, "EXPLAIN QUERY PLAN "+text, args...)
		steps, failed := collect(rows, failed, "explain", func(rows *sql.Rows) (step string, err error) {
			var id, parent, unused int
			err = rows.Scan(&id, &parent, &unused, &step)
			return step, err
		})
		err = errFirst(err, failed)
		return steps
	}
	return plan(pageQuery), plan(totalsQuery), err
}
