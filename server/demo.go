package server

import (
	"context"
	"time"

	"strutcard/calc/lang"
	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/sync/sheet"
)

// Demo is how to get into the invented shop.
type Demo struct {
	Shop     string
	Name     string
	Password string

	invitation string
}

const (
	demoShop  = shop.ID("demo")
	demoStaff = "demo"
)

// Demo tells how to get into the invented shop, and is empty without one.
func (s *Server) Demo() Demo { return s.demo }

// InvitationURL is the link by which one phone joins the invented shop. Call it
// after Start.
func (s *Server) InvitationURL() string {
	if s.demo.invitation == "" {
		return ""
	}
	return s.URL() + "/join#" + s.demo.invitation
}

// makeDemo makes the invented shop, or gives an older one a fresh password and a
// fresh invitation: neither is kept in a form that could be printed again.
func (s *Server) makeDemo(ctx context.Context, passwords *auth.Passwords) (Demo, error) {
	d := Demo{Shop: lang.T("Bramley Yard (invented)"), Name: "demo", Password: auth.NewSecret(), invitation: auth.NewSecret()}
	digest, err := passwords.Hash(ctx, d.Password)
	if err != nil {
		return Demo{}, err
	}
	err = s.db.PutShop(ctx, shop.Shop{ID: demoShop, Name: d.Shop}, shop.Staff{ID: demoStaff, Name: d.Name, Password: digest})
	if err != nil {
		return Demo{}, err
	}
	for _, sh := range sheet.Demo() {
		if err := s.db.AddSheet(ctx, demoShop, published(sh)); err != nil {
			return Demo{}, err
		}
	}
	return d, s.db.Invite(ctx, shop.Invitation{Digest: auth.Digest(d.invitation), Shop: demoShop, By: demoStaff,
		Expires: s.cfg.Now().Add(7 * 24 * time.Hour)})
}

func published(sh *sheet.Sheet) shop.Sheet {
	return shop.Sheet{Hash: sh.Hash(), Title: sh.Title, Version: sh.Version, Vehicle: sh.Vehicle.Name, Published: true, Body: sh.Encode()}
}
