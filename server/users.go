package server

import (
	"context"
	"errors"
	"strings"
	"time"

	"strutcard/calc/lang"
	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/server/sqlite"
	"strutcard/server/web"
	"strutcard/sync/fault"
)

// Users is the staff of one shop, as whoever runs the server sees it. What it does is
// in the shop's audit.
type Users struct {
	db   *sqlite.DB
	now  func() time.Time
	shop shop.Shop
}

// with opens a data folder that is there; a server may be running.
func with(dataDir string, now func() time.Time, do func(*sqlite.DB) error) (err error) {
	if err := there(dataDir); err != nil {
		return err
	}
	db, err := sqlite.Open(dbFile(dataDir), sqlite.Options{Now: now, Project: newProjector().summary})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	return do(db)
}

// WithUsers opens the staff of a shop in a data folder. The shop's name may be left
// out while there is only one.
func WithUsers(ctx context.Context, dataDir, shopName string, now func() time.Time, do func(Users) error) error {
	return with(dataDir, now, func(db *sqlite.DB) error {
		one, err := shopCalled(ctx, db, shopName)
		if err != nil {
			return err
		}
		return do(Users{db, now, one})
	})
}

func shopCalled(ctx context.Context, db *sqlite.DB, name string) (shop.Shop, error) {
	shops, err := db.Shops(ctx)
	if err != nil {
		return shop.Shop{}, err
	}
	var fit []shop.Shop
	var names []string
	for _, one := range shops {
		if names = append(names, "“"+one.Name+"”"); name == "" || one.Name == name {
			fit = append(fit, one)
		}
	}
	switch {
	case len(shops) == 0:
		return shop.Shop{}, fault.New(fault.NotFound, "This server is not set up yet. Nothing was changed.", "Start it: it prints a link that makes the first account.")
	case len(fit) != 1:
		return shop.Shop{}, fault.New(fault.Invalid, "Which shop is meant? Nothing was changed.", lang.F("Name it with --shop. There are: %s.", strings.Join(names, ", ")))
	}
	return fit[0], nil
}

func (u Users) entry() shop.Entry { return shop.Entry{Shop: u.shop.ID, Who: shop.AtTheServer} }

// List lists all of the staff, those whose access was ended last.
func (u Users) List(ctx context.Context) ([]shop.Staff, error) { return u.db.StaffList(ctx, u.shop.ID) }

// find finds somebody by name, as it is written, who may sign in.
func (u Users) find(ctx context.Context, name string) (shop.Staff, error) {
	who, found, err := u.db.StaffByName(ctx, name)
	if err == nil && (!found || who.Shop != u.shop.ID) {
		err = fault.New(fault.NotFound, lang.F("Nobody who may sign in has the name “%s”. Nothing was changed.", name), "strutcard user list shows all names.")
	}
	return who, err
}

// Add makes a one-time link for a new account: a path with a secret.
func (u Users) Add(ctx context.Context, roles shop.Roles) (link string, ends time.Time, err error) {
	return u.link(ctx, "/welcome", shop.StaffLink{Roles: roles})
}

// Reset makes a one-time link with which somebody sets a new password.
func (u Users) Reset(ctx context.Context, name string) (link string, ends time.Time, err error) {
	who, err := u.find(ctx, name)
	if err != nil {
		return "", time.Time{}, err
	}
	return u.link(ctx, "/password", shop.StaffLink{Staff: who.ID})
}

func (u Users) link(ctx context.Context, path string, l shop.StaffLink) (string, time.Time, error) {
	secret := auth.NewSecret()
	l.Digest, l.Shop, l.Expires = auth.Digest(secret), u.shop.ID, u.now().Add(web.StaffLinkLife)
	return path + "#" + secret, l.Expires, u.db.AddStaffLink(ctx, l, u.entry())
}

// SetRoles gives somebody other roles.
func (u Users) SetRoles(ctx context.Context, name string, roles shop.Roles) error {
	who, err := u.find(ctx, name)
	if err != nil {
		return err
	}
	return u.db.SetRoles(ctx, who.ID, roles, u.entry())
}

// End ends somebody's access at once.
func (u Users) End(ctx context.Context, name string) error {
	who, err := u.find(ctx, name)
	if err != nil {
		return err
	}
	return u.db.EndStaff(ctx, who.ID, u.entry())
}
