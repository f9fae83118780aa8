package web

import (
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

func (s *site) registerSyncRoutes(r routes) {
	r.post("/api/v1/sync", maxSync, s.handleSync)
}

// handleSync takes in a phone's events and hands out what is new to it.
func (s *site) handleSync(c echo.Context) error {
	phone, err := s.phone(c)
	if err != nil {
		return err
	}
	var req exchange.Request
	if err := readJSON(c, &req); err != nil {
		return err
	}
	if req.Device != phone.Device {
		return fault.New(fault.Denied, "This phone sent events under another phone's name. Nothing was stored.",
			"Everything is still on the phone. Ask the shop for a fresh invitation.")
	}
	ctx := c.Request().Context()
	reply, err := exchange.Serve(ctx, s.Store.Shop(phone.Shop), s.Store.Epoch(), "device:"+string(phone.Device),
		exchange.Installer, store.Scope{Device: phone.Device}, s.Now().UnixMilli(), req)
	if err != nil {
		return err
	}
	if err := s.Store.Heard(ctx, phone); err != nil {
		s.Log.Warn("last sync not noted", "err", err) // the events are stored all the same
	}
	return c.JSON(http.StatusOK, reply)
}

// phone returns the phone whose token came with the request, as it stands now.
func (s *site) phone(c echo.Context) (shop.Phone, error) {
	token, ok := strings.CutPrefix(c.Request().Header.Get(echo.HeaderAuthorization), "Bearer ")
	if !ok {
		return shop.Phone{}, auth.NotSignedIn(nil)
	}
	claim, err := s.Tokens.Check(token)
	if err != nil {
		return shop.Phone{}, err
	}
	phone, found, err := s.Store.PhoneByToken(c.Request().Context(), claim.TokenID)
	if err != nil {
		return shop.Phone{}, err
	}
	if !found || phone.Device != claim.Device {
		return shop.Phone{}, auth.NotSignedIn(nil)
	}
	return phone, nil
}
