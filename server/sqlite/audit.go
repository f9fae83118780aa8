package sqlite

import (
	"context"
	"database/sql"

	"strutcard/server/shop"
)

// note adds a line to the audit, in the transaction of what it tells.
func (db *DB) note(ctx context.Context, tx *sql.Tx, e shop.Entry) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO audit (shop, at, who, what, about, reason) VALUES (?, ?, ?, ?, ?, ?)`,
		e.Shop, ms(db.now()), e.Who, e.What, e.About, e.Reason)
	return err
}

// Note adds a line to the audit about something that changes no data.
func (db *DB) Note(ctx context.Context, e shop.Entry) error {
	return db.update(ctx, "keep audit", func(tx *sql.Tx) error { return db.note(ctx, tx, e) })
}

// Audit lists at most limit lines before one, newest first; before 0 starts at the newest.
func (db *DB) Audit(ctx context.Context, id shop.ID, before int64, limit int) ([]shop.Entry, error) {
	rows, err := db.read.QueryContext(ctx, `SELECT id, shop, at, who, what, about, reason FROM audit
		WHERE shop = ?1 AND (?2 = 0 OR id < ?2) ORDER BY id DESC LIMIT ?3`, id, before, limit)
	return collect(rows, err, "read audit", func(rows *sql.Rows) (e shop.Entry, err error) {
		var at int64
		err = rows.Scan(&e.ID, &e.Shop, &at, &e.Who, &e.What, &e.About, &e.Reason)
		e.At = fromMS(at)
		return e, err
	})
}
