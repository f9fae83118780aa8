package web

import (
	"net/http"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
)

func (s *site) registerDeviceRoutes(r routes) {
	r.post("/api/v1/join", maxForm, s.try(s.handleJoin))
}

type joinRequest struct {
	Invitation string         `json:"invitation"`
	Device     event.DeviceID `json:"device"`
	Name       string         `json:"name"` // what the owner calls the phone
}

type joinReply struct {
	Token    string `json:"token"`
	ShopName string `json:"shop_name"`
}

const maxName = 80 // bytes

// handleJoin redeems an invitation for a device token.
func (s *site) handleJoin(c echo.Context) error {
	var req joinRequest
	if err := readJSON(c, &req); err != nil {
		return err
	}
	name := strings.TrimSpace(req.Name)
	if id, err := uuid.Parse(string(req.Device)); err != nil || id.String() != string(req.Device) || name == "" || len(name) > maxName {
		return fault.Wrap(err, fault.Invalid, "The phone did not say which phone it is. Nothing was changed.",
			"Give the phone a name of up to 80 letters and join again.")
	}
	joining := shop.Phone{Device: req.Device, Name: name, TokenID: auth.NewSecret()}
	had, _ := s.Tokens.Recognise(bearer(c)) // a phone whose token ran out shows it: nobody else can be that phone
	phone, err := s.Store.Join(c.Request().Context(), auth.Digest(req.Invitation), joining, had.TokenID)
	if err != nil {
		return err
	}
	token, err := s.Tokens.Issue(auth.Claim{Device: phone.Device, TokenID: phone.TokenID})
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, joinReply{Token: token, ShopName: phone.ShopName})
}
