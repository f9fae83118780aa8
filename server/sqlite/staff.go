package sqlite

import (
	"context"
	"database/sql"

	"strutcard/server/shop"
	"strutcard/sync/fault"
)

const metaSetUp = "setup"

// NeedsSetUp reports whether nobody can sign in yet.
func (db *DB) NeedsSetUp(ctx context.Context) (bool, error) {
	var n int
	err := db.read.QueryRowContext(ctx, `SELECT count(*) FROM staff`).Scan(&n)
	return n == 0, asFault("count staff", err)
}

// OfferSetUp makes digest the one link that can set this server up; an older
// link ends.
func (db *DB) OfferSetUp(ctx context.Context, digest string) error {
	return db.SetMeta(ctx, metaSetUp, digest)
}

// SetUp makes the first shop and its first member of staff. It works once.
func (db *DB) SetUp(ctx context.Context, digest string, s shop.Shop, first shop.Staff) error {
	return db.update(ctx, "set up", func(tx *sql.Tx) error {
		var offered string
		var staff int
		err := tx.QueryRowContext(ctx, `SELECT (SELECT count(*) FROM staff), coalesce((SELECT value FROM meta WHERE name = ?), '')`, metaSetUp).Scan(&staff, &offered)
		if err != nil {
			return err
		}
		if staff > 0 || offered == "" || offered != digest {
			return fault.New(fault.NotFound, "This set-up link does not work, or was used before. Nothing was changed.",
				"If the server is set up, sign in. If not, start it again: it prints a fresh link.")
		}
		if _, err := tx.ExecContext(ctx, `DELETE FROM meta WHERE name = ?`, metaSetUp); err != nil {
			return err
		}
		return db.addShop(ctx, tx, s, first)
	})
}

// PutShop makes a shop with one member of staff, or sets that member's password
// anew. The demo uses it.
func (db *DB) PutShop(ctx context.Context, s shop.Shop, first shop.Staff) error {
	return db.update(ctx, "make shop", func(tx *sql.Tx) error {
		res, err := tx.ExecContext(ctx, `UPDATE staff SET password = ? WHERE id = ? AND shop = ?`, first.Password, first.ID, s.ID)
		if err != nil {
			return err
		}
		if n, err := res.RowsAffected(); err != nil || n > 0 {
			return err
		}
		return db.addShop(ctx, tx, s, first)
	})
}

func (db *DB) addShop(ctx context.Context, tx *sql.Tx, s shop.Shop, first shop.Staff) error {
	now := ms(db.now())
	if _, err := tx.ExecContext(ctx, `INSERT INTO shop (id, name, created_at) VALUES (?, ?, ?)`, s.ID, s.Name, now); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO staff (id, shop, name, password, created_at) VALUES (?, ?, ?, ?, ?)`,
		first.ID, s.ID, first.Name, first.Password, now)
	return err
}

// StaffByName finds a member of staff; capitals do not matter. found is false
// when there is none.
func (db *DB) StaffByName(ctx context.Context, name string) (who shop.Staff, found bool, err error) {
	return db.staff(ctx, `s.name = ?`, name)
}

func (db *DB) staff(ctx context.Context, where string, arg any) (shop.Staff, bool, error) {
	var s shop.Staff
	var created int64
	err := db.read.QueryRowContext(ctx, `SELECT s.id, s.shop, shop.name, s.name, s.password, s.created_at
		FROM staff s JOIN shop ON shop.id = s.shop WHERE `+where, arg).Scan(&s.ID, &s.Shop, &s.ShopName, &s.Name, &s.Password, &created)
	if isNone(err) {
		return s, false, nil
	}
	s.Created = fromMS(created)
	return s, err == nil, asFault("find staff", err)
}
