package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
)

// InitMeta returns the value kept under name, keeping fresh if there is none yet.
func (db *DB) InitMeta(ctx context.Context, name, fresh string) (string, error) {
	var value string
	err := db.update(ctx, "keep "+name, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `INSERT INTO meta (name, value) VALUES (?, ?) ON CONFLICT DO NOTHING`, name, fresh); err != nil {
			return err
		}
		return tx.QueryRowContext(ctx, `SELECT value FROM meta WHERE name = ?`, name).Scan(&value)
	})
	return value, err
}

// Meta returns the value kept under name; "" when there is none.
func (db *DB) Meta(ctx context.Context, name string) (string, error) {
	var value string
	err := db.read.QueryRowContext(ctx, `SELECT value FROM meta WHERE name = ?`, name).Scan(&value)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return "", asFault("read "+name, err)
	}
	return value, nil
}

// SetMeta keeps value under name; "" removes it.
func (db *DB) SetMeta(ctx context.Context, name, value string) error {
	return db.update(ctx, fmt.Sprintf("keep %s", name), func(tx *sql.Tx) error {
		if value == "" {
			_, err := tx.ExecContext(ctx, `DELETE FROM meta WHERE name = ?`, name)
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO meta (name, value) VALUES (?, ?)
			ON CONFLICT (name) DO UPDATE SET value = excluded.value`, name, value)
		return err
	})
}
