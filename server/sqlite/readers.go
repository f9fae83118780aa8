package sqlite

import (
	"context"
	"database/sql"
	"time"
)

// readers is the pool of those that only read. Each query is cut when it takes
// too long, its wait for a connection included: while it runs, the write-ahead log
// cannot be emptied.
type readers struct {
	*sql.DB
	limit time.Duration
}

// QueryContext is that of sql.DB with the limit; its rows are closed with it.
func (r readers) QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	ctx, cancel := context.WithTimeout(ctx, r.limit)
	context.AfterFunc(ctx, cancel) // at the limit, or when the request ends
	return r.DB.QueryContext(ctx, query, args...)
}

// QueryRowContext is that of sql.DB with the limit.
func (r readers) QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row {
	ctx, cancel := context.WithTimeout(ctx, r.limit)
	context.AfterFunc(ctx, cancel)
	return r.DB.QueryRowContext(ctx, query, args...)
}
