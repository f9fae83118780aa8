package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"strings"

	"strutcard/server/shop"
	"strutcard/sync/fault"
)

// AddStaffLink keeps a link for one person, and throws out those that ended. A new
// link to set somebody's password ends an older one.
func (db *DB) AddStaffLink(ctx context.Context, l shop.StaffLink, e shop.Entry) error {
	return db.update(ctx, "keep link", func(tx *sql.Tx) error {
		e.What, e.About = fmt.Sprintf(shop.Invited, l.Roles), ""
		if l.Staff != "" {
			who, err := ofShop(ctx, tx, l.Shop, l.Staff)
			if err != nil {
				return err
			}
			e.What, e.About = shop.PasswordLinkMade, who.Name
		}
		if _, err := tx.ExecContext(ctx, `DELETE FROM staff_link WHERE expires_at <= ? OR staff = ?`, ms(db.now()), l.Staff); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO staff_link (digest, shop, staff, roles, made_by, expires_at) VALUES (?, ?, nullif(?, ''), ?, nullif(?, ''), ?)`,
			l.Digest, l.Shop, l.Staff, l.Roles.String(), l.By, ms(l.Expires))
		if err != nil {
			return err
		}
		return db.note(ctx, tx, e)
	})
}

// Welcome redeems a link for a new account. It works once.
func (db *DB) Welcome(ctx context.Context, digest string, s shop.Staff) error {
	return db.update(ctx, "make account", func(tx *sql.Tx) error {
		l, err := db.useStaffLink(ctx, tx, digest, `staff IS NULL`)
		if err != nil {
			return err
		}
		_, taken, err := oneStaff(ctx, tx, `s.name = ?`, s.Name)
		if err != nil {
			return err
		}
		if taken {
			return fault.New(fault.Invalid, "Somebody has this name already. Nothing was changed.", "Choose another name to sign in with.")
		}
		s.Shop, s.Roles = l.Shop, l.Roles
		if err := db.addStaff(ctx, tx, s); err != nil {
			return err
		}
		return db.note(ctx, tx, shop.Entry{Shop: l.Shop, Who: s.Name, What: fmt.Sprintf(shop.AccountMade, l.Roles), About: s.Name})
	})
}

// ResetPassword redeems a link that sets a password, and ends every session of
// whoever it was made for. It returns their id.
func (db *DB) ResetPassword(ctx context.Context, digest, password string) (staff string, err error) {
	return staff, db.update(ctx, "set password", func(tx *sql.Tx) error {
		l, err := db.useStaffLink(ctx, tx, digest, `staff IS NOT NULL`)
		if err != nil {
			return err
		}
		who, err := ofShop(ctx, tx, l.Shop, l.Staff)
		if err != nil {
			return err
		}
		staff = l.Staff
		return db.setPassword(ctx, tx, l.Staff, password, "", shop.Entry{Shop: l.Shop, Who: who.Name, What: shop.PasswordSet, About: who.Name})
	})
}

// useStaffLink takes a link out, so that it works once. What fails later in the
// same transaction puts it back.
func (db *DB) useStaffLink(ctx context.Context, tx *sql.Tx, digest, which string) (shop.StaffLink, error) {
	var l shop.StaffLink
	var roles string
	err := tx.QueryRowContext(ctx, `DELETE FROM staff_link WHERE digest = ? AND expires_at > ? AND `+which+`
		RETURNING shop, coalesce(staff, ''), roles`, digest, ms(db.now())).Scan(&l.Shop, &l.Staff, &roles)
	if isNone(err) {
		return l, fault.New(fault.NotFound, "This link does not work, was used before, or has ended. Nothing was changed.", "Ask an administrator of the shop for a fresh one.")
	}
	for _, word := range strings.Fields(roles) {
		l.Roles = append(l.Roles, shop.Role(word))
	}
	return l, err
}
