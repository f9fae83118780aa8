package sqlite

import (
	"context"
	"database/sql"

	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
)

const shareColumns = `s.id, s.digest, s.shop, s.job, s.role, coalesce(s.staff, ''), coalesce(s.device, ''), s.created_at, s.expires_at, s.revoked_at, s.opened`

func scanShare(row interface{ Scan(...any) error }) (shop.Share, error) {
	var s shop.Share
	var created, expires, revoked int64
	err := row.Scan(&s.ID, &s.Digest, &s.Shop, &s.Job, &s.Role, &s.By, &s.Device, &created, &expires, &revoked, &s.Opened)
	s.Created, s.Expires, s.Revoked = fromMS(created), fromMS(expires), fromMS(revoked)
	return s, err
}

// AddShare keeps a link to one job.
func (db *DB) AddShare(ctx context.Context, s shop.Share) error {
	return db.update(ctx, "keep share", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO share (id, digest, shop, job, role, staff, device, created_at, expires_at)
			VALUES (?, ?, ?, ?, ?, nullif(?, ''), nullif(?, ''), ?, ?)`,
			s.ID, s.Digest, s.Shop, s.Job, s.Role, s.By, s.Device, ms(db.now()), ms(s.Expires))
		return err
	})
}

// Shares lists the links to a job, newest first, with who opened them.
func (db *DB) Shares(ctx context.Context, id shop.ID, job event.JobID) ([]shop.Share, error) {
	rows, err := db.read.QueryContext(ctx, `SELECT `+shareColumns+` FROM share s WHERE s.shop = ? AND s.job = ? ORDER BY s.created_at DESC, s.id`, id, job)
	shares, err := collect(rows, err, "list shares", func(rows *sql.Rows) (shop.Share, error) { return scanShare(rows) })
	if err != nil {
		return nil, err
	}
	for i := range shares {
		if shares[i].Visits, err = db.visits(ctx, shares[i].ID); err != nil {
			return nil, err
		}
	}
	return shares, nil
}

func (db *DB) visits(ctx context.Context, share string) ([]shop.Visit, error) {
	rows, err := db.read.QueryContext(ctx, `SELECT name, opened_at FROM visit WHERE share = ? ORDER BY opened_at`, share)
	return collect(rows, err, "list visits", func(rows *sql.Rows) (v shop.Visit, err error) {
		var at int64
		err = rows.Scan(&v.Name, &at)
		v.At = fromMS(at)
		return v, err
	})
}

// OpenShare redeems a link: it makes the session that will be looked up at
// every further request. name is what the visitor calls themselves.
func (db *DB) OpenShare(ctx context.Context, digest, session, name string) (shop.Share, error) {
	var share shop.Share
	err := db.update(ctx, "open share", func(tx *sql.Tx) error {
		var err error
		share, err = scanShare(tx.QueryRowContext(ctx, `SELECT `+shareColumns+` FROM share s WHERE s.digest = ?`, digest))
		if isNone(err) || err == nil && share.Ended(db.now()) {
			return shareEnded()
		}
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `UPDATE share SET opened = opened + 1 WHERE id = ?`, share.ID); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `INSERT INTO visit (session, share, name, opened_at) VALUES (?, ?, ?, ?)`, session, share.ID, name, ms(db.now())); err != nil {
			return err
		}
		return db.addSession(ctx, tx, shop.Session{Digest: session, Share: share.ID, Expires: share.Expires})
	})
	return share, err
}

// ShareBySession finds the share behind a session, as it stands now, and who
// opened it.
func (db *DB) ShareBySession(ctx context.Context, digest string) (share shop.Share, visitor string, err error) {
	share, err = scanShare(db.read.QueryRowContext(ctx, `SELECT `+shareColumns+`
		FROM session n JOIN share s ON s.id = n.share WHERE n.digest = ? AND n.expires_at > ?`, digest, ms(db.now())))
	if isNone(err) || err == nil && share.Ended(db.now()) {
		return shop.Share{}, "", shareEnded()
	}
	if err != nil {
		return shop.Share{}, "", asFault("find share", err)
	}
	err = db.read.QueryRowContext(ctx, `SELECT name FROM visit WHERE session = ?`, digest).Scan(&visitor)
	if isNone(err) {
		err = nil // opened before names were asked
	}
	return share, visitor, asFault("find visitor", err)
}

// RevokeShare ends a link at once.
func (db *DB) RevokeShare(ctx context.Context, id shop.ID, share string) error {
	return db.update(ctx, "revoke share", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE share SET revoked_at = ? WHERE shop = ? AND id = ? AND revoked_at = 0`, ms(db.now()), id, share)
		return err
	})
}

func shareEnded() error {
	return fault.New(fault.Denied, "This link does not work, or has ended. It opens nothing any more.",
		"Ask the shop or the installer for a fresh link.")
}
