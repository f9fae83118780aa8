package sqlite

import (
	"context"
	"database/sql"
	"time"

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
	now := ms(db.now())
	_, err := tx.ExecContext(ctx, `INSERT INTO session (digest, staff, share, expires_at, created_at, used_at) VALUES (?, nullif(?, ''), nullif(?, ''), ?, ?, ?)`,
		s.Digest, s.Staff, s.Share, ms(s.Expires), now, now)
	return err
}

// EndSession signs one browser out.
func (db *DB) EndSession(ctx context.Context, digest string) error {
	return db.update(ctx, "end session", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM session WHERE digest = ?`, digest)
		return err
	})
}

const (
	usedEvery = 10 * time.Minute   // spares a write at every look
	unusedFor = 7 * 24 * time.Hour // then somebody signs in again
)

// StaffBySession finds who is signed in; found is false when nobody is. It notes
// every ten minutes that the session is in use.
func (db *DB) StaffBySession(ctx context.Context, digest string) (who shop.Staff, found bool, err error) {
	var id string
	var used int64
	now := db.now()
	err = db.read.QueryRowContext(ctx, `SELECT staff, used_at FROM session WHERE digest = ? AND staff IS NOT NULL AND expires_at > ? AND used_at > ?`,
		digest, ms(now), ms(now.Add(-unusedFor))).Scan(&id, &used)
	if isNone(err) {
		return shop.Staff{}, false, nil
	}
	if err != nil {
		return shop.Staff{}, false, asFault("find session", err)
	}
	who, found, err = oneStaff(ctx, db.read, `s.id = ? AND s.ended_at = 0`, id)
	if err != nil || !found || now.Sub(fromMS(used)) < usedEvery {
		return who, found, err
	}
	return who, found, db.update(ctx, "note use", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE session SET used_at = ? WHERE digest = ?`, ms(now), digest)
		return err
	})
}

// Sessions lists where somebody is signed in, last used first.
func (db *DB) Sessions(ctx context.Context, staff string) ([]shop.Session, error) {
	rows, err := db.read.QueryContext(ctx, `SELECT digest, staff, created_at, used_at, expires_at FROM session
		WHERE staff = ? AND expires_at > ? AND used_at > ? ORDER BY used_at DESC, digest`, staff, ms(db.now()), ms(db.now().Add(-unusedFor)))
	return collect(rows, err, "list sessions", func(rows *sql.Rows) (s shop.Session, err error) {
		var created, used, expires int64
		err = rows.Scan(&s.Digest, &s.Staff, &created, &used, &expires)
		s.Created, s.Used, s.Expires = fromMS(created), fromMS(used), fromMS(expires)
		return s, err
	})
}

// EndSessionOf ends one of somebody's sessions by its name.
func (db *DB) EndSessionOf(ctx context.Context, staff, name string) error {
	return db.update(ctx, "end session", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `DELETE FROM session WHERE staff = ? AND substr(digest, 1, 16) = ?`, staff, name)
		return err
	})
}
