package web

import (
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/sync/exchange"
)

func (s *site) registerSyncRoutes(r routes) {
	r.post("/api/v1/sync", maxSync, s.handleSync)
}

// handleSync takes in a phone's events and hands out what is new to it.
func (s *site) handleSync(c echo.Context) error {
	phone, claim, err := s.claimant(c)
	if err != nil {
		return err
	}
	var req exchange.Request
	if err := readJSON(c, &req); err != nil {
		return err
	}
	ctx := c.Request().Context()
	leave, err := s.gate.enter(ctx)
	if err != nil {
		return err
	}
	defer leave()
	reply, err := exchange.Serve(ctx, s.Store.Shop(phone.Shop), s.Store.Epoch(),
		exchange.Sender{Actor: "device:" + string(phone.Device), Role: exchange.Installer, Wrote: s.Notary.Wrote}, s.Now().UnixMilli(), req)
	if err != nil {
		return err
	}
	if err := s.Store.Heard(ctx, phone); err != nil {
		s.Log.Warn("last sync not noted", "err", err) // the events are stored all the same
	}
	if claim.Aged(s.Now()) {
		if reply.Token, err = s.Tokens.Issue(claim); err != nil {
			return err
		}
	}
	return c.JSON(http.StatusOK, reply)
}

// phone returns the phone whose token came with the request, as it stands now.
func (s *site) phone(c echo.Context) (shop.Phone, error) {
	phone, _, err := s.claimant(c)
	return phone, err
}

func (s *site) claimant(c echo.Context) (shop.Phone, auth.Claim, error) {
	claim, err := s.Tokens.Check(bearer(c))
	if err != nil {
		return shop.Phone{}, claim, err
	}
	phone, found, err := s.Store.PhoneByToken(c.Request().Context(), claim.TokenID)
	if err != nil {
		return shop.Phone{}, claim, err
	}
	if !found || phone.Device != claim.Device {
		return shop.Phone{}, claim, auth.NotSignedIn(nil)
	}
	return phone, claim, nil
}

// bearer is the token that came with a request; "" when none did.
func bearer(c echo.Context) string {
	token, _ := strings.CutPrefix(c.Request().Header.Get(echo.HeaderAuthorization), "Bearer ")
	return token
}
