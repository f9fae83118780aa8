package sqlite

import (
	"database/sql"
	"errors"
)

func isNone(err error) bool { return errors.Is(err, sql.ErrNoRows) }

// collect scans every row and closes them, so that no query runs inside another.
func collect[T any](rows *sql.Rows, err error, doing string, scan func(*sql.Rows) (T, error)) ([]T, error) {
	if err != nil {
		return nil, asFault(doing, err)
	}
	defer func() { _ = rows.Close() }()
	var out []T
	for rows.Next() {
		v, err := scan(rows)
		if err != nil {
			return nil, asFault(doing, err)
		}
		out = append(out, v)
	}
	return out, asFault(doing, rows.Err())
}
