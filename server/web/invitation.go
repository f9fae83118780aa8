package web

import (
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/templates"
)

const invitationLife = 7 * 24 * time.Hour

func (s *site) registerInvitationRoutes(r routes) {
	r.get("/shop/phones", s.desk(s.handlePhones))
	r.post("/shop/phones", maxForm, s.desk(s.handleInvite))
	r.post("/shop/phones/:device/end", maxForm, s.desk(s.handlePhoneEnd))
}

func (s *site) handlePhones(c echo.Context, who shop.Staff) error {
	return s.phonesPage(c, who, templates.Phones{})
}

// handleInvite makes an invitation and shows its link this once: only a digest is kept.
func (s *site) handleInvite(c echo.Context, who shop.Staff) error {
	secret := auth.NewSecret()
	expires := s.Now().Add(invitationLife)
	err := s.Store.Invite(c.Request().Context(), shop.Invitation{Digest: auth.Digest(secret), Shop: who.Shop, By: who.ID, Expires: expires})
	if err != nil {
		return err
	}
	link := s.base(c) + "/join#" + secret
	code, err := modules(link)
	if err != nil {
		return err
	}
	return s.phonesPage(c, who, templates.Phones{Invitation: link, Code: code, Ends: when(expires)})
}

func (s *site) phonesPage(c echo.Context, who shop.Staff, v templates.Phones) error {
	phones, err := s.Store.Phones(c.Request().Context(), who.Shop)
	if err != nil {
		return err
	}
	v.Desk = frame(who, lang.T("Phones"), "phones")
	for _, p := range phones {
		row := templates.PhoneRow{Device: string(p.Device), Name: p.Name, Joined: when(p.Joined), Heard: when(p.Heard)}
		if !p.Revoked.IsZero() {
			row.Ended = when(p.Revoked)
		}
		v.Rows = append(v.Rows, row)
	}
	return page(c, http.StatusOK, templates.PhonesPage(v))
}

func (s *site) handlePhoneEnd(c echo.Context, who shop.Staff) error {
	if err := s.Store.RevokePhone(c.Request().Context(), who.Shop, event.DeviceID(c.Param("device"))); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/shop/phones")
}
