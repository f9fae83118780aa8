package sqlite

import (
	"context"
	"database/sql"

	"strutcard/server/shop"
)

// AddSession keeps a session and throws out those that ended.
func (db *DB) AddSession(ctx context.Context, s shop.Session) error {
	return db.update(ctx, "keep session", func(tx *sql.Tx) error { return db.addSession(ctx, tx, s) })
}

func (db *DB) addSession(ctx context.Context, tx *sql.Tx, s shop.Session) error {
	if _, err := tx.ExecContext(ctx, `DELETE FROM session WHERE expires_at <= ?`, ms(db.now())); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO session (digest, staff, share, expires_at) VALUES (?, nullif(?, ''), nullif(?, ''), ?)`,
		s.Digest, s.Staff, s.Share, ms(s.Expires))
	return err
}

// EndSession signs one browser out.
func (db *DB) EndSession(ctx context.Context, digest string) error {
	return db.update(ctx, "end session", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM session WHERE digest = ?`, digest)
		return err
	})
}

// StaffBySession finds who is signed in; found is false when nobody is.
func (db *DB) StaffBySession(ctx context.Context, digest string) (who shop.Staff, found bool, err error) {
	var id string
	err = db.read.QueryRowContext(ctx, `SELECT staff FROM session WHERE digest = ? AND staff IS NOT NULL AND expires_at > ?`,
		digest, ms(db.now())).Scan(&id)
	if isNone(err) {
		return shop.Staff{}, false, nil
	}
	if err != nil {
		return shop.Staff{}, false, asFault("find session", err)
	}
	return db.staff(ctx, `s.id = ?`, id)
}
