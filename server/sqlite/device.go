package sqlite

import (
	"context"
	"database/sql"
	"time"

	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
)

// Invite keeps an invitation.
func (db *DB) Invite(ctx context.Context, i shop.Invitation) error {
	return db.update(ctx, "keep invitation", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO invitation (digest, shop, staff, created_at, expires_at) VALUES (?, ?, ?, ?, ?)`,
			i.Digest, i.Shop, i.By, ms(db.now()), ms(i.Expires))
		return err
	})
}

// Join redeems an invitation for a phone and returns the phone as kept. The same
// phone may redeem it again until it expires, since a reply can be lost; another
// phone may not, and nobody may take the name of a phone that is still in use, but
// that phone itself: it shows the id of the token that it had.
func (db *DB) Join(ctx context.Context, digest string, p shop.Phone, hadToken string) (shop.Phone, error) {
	err := db.update(ctx, "join", func(tx *sql.Tx) error {
		usedBy, err := db.invitation(ctx, tx, digest, &p)
		if err != nil {
			return err
		}
		old, known, err := phone(ctx, tx, `d.shop = ? AND d.id = ?`, p.Shop, p.Device)
		if err != nil {
			return err
		}
		switch {
		case usedBy == p.Device && known && old.Revoked.IsZero():
			p = old
			return nil
		case usedBy != "":
			return fault.New(fault.Conflict, "This invitation was used before. Nothing was changed.", "Ask the shop for a fresh one. One invitation is for one phone.")
		case known && old.Revoked.IsZero() && old.TokenID == hadToken:
			p.TokenID = old.TokenID
		case known && old.Revoked.IsZero():
			return fault.New(fault.Conflict, "This phone has joined already. Nothing was changed.",
				"If it cannot sync, ask the shop to end its access and to send a fresh invitation.")
		}
		return db.addPhone(ctx, tx, digest, p)
	})
	return p, err
}

// invitation fills in the shop and returns the device that used it, if any.
func (db *DB) invitation(ctx context.Context, tx *sql.Tx, digest string, p *shop.Phone) (usedBy event.DeviceID, err error) {
	var expires int64
	err = tx.QueryRowContext(ctx, `SELECT i.shop, shop.name, i.device, i.expires_at FROM invitation i JOIN shop ON shop.id = i.shop WHERE i.digest = ?`,
		digest).Scan(&p.Shop, &p.ShopName, &usedBy, &expires)
	if isNone(err) || err == nil && expires <= ms(db.now()) {
		return "", fault.New(fault.NotFound, "This invitation does not work, or has ended. Nothing was changed.",
			"Ask the shop for a fresh one. The app works without it.")
	}
	return usedBy, err
}

func (db *DB) addPhone(ctx context.Context, tx *sql.Tx, digest string, p shop.Phone) error {
	if _, err := tx.ExecContext(ctx, `UPDATE invitation SET device = ? WHERE digest = ?`, p.Device, digest); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO device (shop, id, name, jti, joined_at) VALUES (?, ?, ?, ?, ?)
		ON CONFLICT (shop, id) DO UPDATE SET name = excluded.name, jti = excluded.jti, joined_at = excluded.joined_at, revoked_at = 0`,
		p.Shop, p.Device, p.Name, p.TokenID, ms(db.now()))
	return err
}

// PhoneByToken finds the phone that a token was made for; found is false when
// there is none or its access was ended.
func (db *DB) PhoneByToken(ctx context.Context, tokenID string) (p shop.Phone, found bool, err error) {
	p, found, err = phone(ctx, db.read, `d.jti = ?`, tokenID)
	return p, found && p.Revoked.IsZero(), asFault("find phone", err)
}

const phoneColumns = `SELECT d.shop, shop.name, d.id, d.name, d.jti, d.joined_at, d.heard_at, d.revoked_at
	FROM device d JOIN shop ON shop.id = d.shop WHERE `

func phone(ctx context.Context, q querier, where string, args ...any) (shop.Phone, bool, error) {
	p, err := scanPhone(q.QueryRowContext(ctx, phoneColumns+where, args...))
	if isNone(err) {
		return p, false, nil
	}
	return p, err == nil, err
}

func scanPhone(row interface{ Scan(...any) error }) (shop.Phone, error) {
	var p shop.Phone
	var joined, heard, revoked int64
	err := row.Scan(&p.Shop, &p.ShopName, &p.Device, &p.Name, &p.TokenID, &joined, &heard, &revoked)
	p.Joined, p.Heard, p.Revoked = fromMS(joined), fromMS(heard), fromMS(revoked)
	return p, err
}

// Phones lists the shop's phones, last joined first.
func (db *DB) Phones(ctx context.Context, id shop.ID) ([]shop.Phone, error) {
	rows, err := db.read.QueryContext(ctx, phoneColumns+`d.shop = ? ORDER BY d.joined_at DESC, d.id`, id)
	return collect(rows, err, "list phones", func(rows *sql.Rows) (shop.Phone, error) { return scanPhone(rows) })
}

// heardEvery spares a write at every sync.
const heardEvery = time.Minute

// Heard notes that a phone synced, to the minute.
func (db *DB) Heard(ctx context.Context, p shop.Phone) error {
	now := db.now()
	if now.Sub(p.Heard) < heardEvery {
		return nil
	}
	return db.update(ctx, "note sync", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE device SET heard_at = ? WHERE shop = ? AND id = ?`, ms(now), p.Shop, p.Device)
		return err
	})
}

// RevokePhone ends a phone's access. What it sent stays.
func (db *DB) RevokePhone(ctx context.Context, id shop.ID, device event.DeviceID) error {
	return db.update(ctx, "revoke phone", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE device SET revoked_at = ? WHERE shop = ? AND id = ? AND revoked_at = 0`, ms(db.now()), id, device)
		return err
	})
}
