package sqlite

import (
	"context"
	"database/sql"
)

// Writer and Readers open the pools to tests that look at their settings.
func (db *DB) Writer() *sql.DB  { return db.write }
func (db *DB) Readers() *sql.DB { return db.read.DB }

// Query reads the way everything in this package reads.
func (db *DB) Query(ctx context.Context, query string) (*sql.Rows, error) {
	return db.read.QueryContext(ctx, query)
}
