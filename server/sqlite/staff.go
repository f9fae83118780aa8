package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"

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

// addShop makes a shop; its first member of staff is an administrator.
func (db *DB) addShop(ctx context.Context, tx *sql.Tx, s shop.Shop, first shop.Staff) error {
	if _, err := tx.ExecContext(ctx, `INSERT INTO shop (id, name, created_at) VALUES (?, ?, ?)`, s.ID, s.Name, ms(db.now())); err != nil {
		return err
	}
	first.Shop, first.Roles = s.ID, shop.Roles{shop.Administrator}
	return db.addStaff(ctx, tx, first)
}

func (db *DB) addStaff(ctx context.Context, tx *sql.Tx, s shop.Staff) error {
	_, err := tx.ExecContext(ctx, `INSERT INTO staff (id, shop, name, password, roles, created_at) VALUES (?, ?, ?, ?, ?, ?)`,
		s.ID, s.Shop, s.Name, s.Password, s.Roles.String(), ms(db.now()))
	return err
}

const staffColumns = `SELECT s.id, s.shop, shop.name, s.name, s.password, s.roles, s.created_at, s.ended_at
	FROM staff s JOIN shop ON shop.id = s.shop WHERE `

func scanStaff(row interface{ Scan(...any) error }) (shop.Staff, error) {
	var s shop.Staff
	var roles string
	var created, ended int64
	err := row.Scan(&s.ID, &s.Shop, &s.ShopName, &s.Name, &s.Password, &roles, &created, &ended)
	for _, word := range strings.Fields(roles) {
		s.Roles = append(s.Roles, shop.Role(word))
	}
	s.Created, s.Ended = fromMS(created), fromMS(ended)
	return s, err
}

// StaffByName finds a member of staff who may sign in; capitals do not matter.
// found is false when there is none.
func (db *DB) StaffByName(ctx context.Context, name string) (who shop.Staff, found bool, err error) {
	return oneStaff(ctx, db.read, `s.name = ? AND s.ended_at = 0`, name)
}

func oneStaff(ctx context.Context, q querier, where string, args ...any) (shop.Staff, bool, error) {
	s, err := scanStaff(q.QueryRowContext(ctx, staffColumns+where, args...))
	if isNone(err) {
		return shop.Staff{}, false, nil
	}
	return s, err == nil, asFault("find staff", err)
}

// StaffList lists a shop's staff by name, those whose access was ended last.
func (db *DB) StaffList(ctx context.Context, id shop.ID) ([]shop.Staff, error) {
	rows, err := db.read.QueryContext(ctx, staffColumns+`s.shop = ? ORDER BY s.ended_at > 0, s.name`, id)
	return collect(rows, err, "list staff", func(rows *sql.Rows) (shop.Staff, error) { return scanStaff(rows) })
}

// ofShop finds somebody of a shop who may sign in.
func ofShop(ctx context.Context, tx *sql.Tx, id shop.ID, staff string) (shop.Staff, error) {
	who, found, err := oneStaff(ctx, tx, `s.shop = ? AND s.id = ? AND s.ended_at = 0`, id, staff)
	if err == nil && !found {
		err = fault.New(fault.NotFound, "Nobody of this shop's staff is meant by that. Nothing was changed.", "Look at the list of staff again.")
	}
	return who, err
}

// SetRoles gives somebody of the shop other roles.
func (db *DB) SetRoles(ctx context.Context, staff string, roles shop.Roles, e shop.Entry) error {
	return db.update(ctx, "set roles", func(tx *sql.Tx) error {
		who, err := ofShop(ctx, tx, e.Shop, staff)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `UPDATE staff SET roles = ? WHERE id = ?`, roles.String(), staff); err != nil {
			return err
		}
		e.What, e.About = fmt.Sprintf(shop.RolesChanged, who.Roles, roles), who.Name
		return db.changedStaff(ctx, tx, e)
	})
}

// EndStaff ends somebody's access at once: sessions, and the invitations that
// nobody has used yet. What they wrote stays, with their name.
func (db *DB) EndStaff(ctx context.Context, staff string, e shop.Entry) error {
	return db.update(ctx, "end access", func(tx *sql.Tx) error {
		who, err := ofShop(ctx, tx, e.Shop, staff)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `UPDATE staff SET ended_at = ? WHERE id = ?`, ms(db.now()), staff); err != nil {
			return err
		}
		for _, query := range []string{`DELETE FROM session WHERE staff = ?`, `DELETE FROM staff_link WHERE ? IN (made_by, staff)`,
			`DELETE FROM invitation WHERE staff = ? AND device = ''`} {
			if _, err := tx.ExecContext(ctx, query, staff); err != nil {
				return err
			}
		}
		e.What, e.About = shop.AccessEnded, who.Name
		return db.changedStaff(ctx, tx, e)
	})
}

// changedStaff refuses to leave a shop without an administrator.
func (db *DB) changedStaff(ctx context.Context, tx *sql.Tx, e shop.Entry) error {
	rows, err := tx.QueryContext(ctx, staffColumns+`s.shop = ? AND s.ended_at = 0`, e.Shop)
	staff, err := collect(rows, err, "list staff", func(rows *sql.Rows) (shop.Staff, error) { return scanStaff(rows) })
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(staff, func(s shop.Staff) bool { return s.Roles.May(shop.Administrator) }) {
		return fault.New(fault.Blocked, "This is the shop's last administrator. Nothing was changed.", "Make somebody else an administrator first.")
	}
	return db.note(ctx, tx, e)
}

// SetPassword changes somebody's password and ends every session but the one that
// is kept.
func (db *DB) SetPassword(ctx context.Context, staff, password, keep string, e shop.Entry) error {
	return db.update(ctx, "set password", func(tx *sql.Tx) error {
		who, err := ofShop(ctx, tx, e.Shop, staff)
		if err != nil {
			return err
		}
		e.What, e.About = shop.PasswordChanged, who.Name
		return db.setPassword(ctx, tx, staff, password, keep, e)
	})
}

func (db *DB) setPassword(ctx context.Context, tx *sql.Tx, staff, password, keep string, e shop.Entry) error {
	if _, err := tx.ExecContext(ctx, `UPDATE staff SET password = ? WHERE id = ?`, password, staff); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, `DELETE FROM session WHERE staff = ? AND digest <> ?`, staff, keep); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, `DELETE FROM staff_link WHERE staff = ?`, staff); err != nil {
		return err
	}
	return db.note(ctx, tx, e)
}
