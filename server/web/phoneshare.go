package web

import (
	"context"
	"net/http"

	"github.com/labstack/echo/v4"

	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

func (s *site) registerPhoneShareRoutes(r routes) {
	const path = "/api/v1/jobs/:job/shares"
	r.get(path, s.handlePhoneShares)
	r.post(path, maxForm, s.try(s.handlePhoneShare))
	r.post(path+"/:link/end", maxForm, s.handlePhoneShareEnd)
}

// sharedLink is a link as a phone lists it. Its secret is not kept here.
type sharedLink struct {
	ID      string   `json:"id"`
	Role    string   `json:"role"`
	Expires int64    `json:"expires"` // ms UTC
	Ended   bool     `json:"ended"`
	Visits  []string `json:"visits"` // who opened it, and when, in words
}

// handlePhoneShare lets an installer share a job of theirs.
func (s *site) handlePhoneShare(c echo.Context) error {
	phone, job, err := s.jobOfPhone(c)
	if err != nil {
		return err
	}
	var ask struct {
		Role string `json:"role"`
		Days int    `json:"days"`
	}
	if err := readJSON(c, &ask); err != nil {
		return err
	}
	made, err := s.makeShare(c, shop.Share{Shop: phone.Shop, Job: job, Role: shop.ShareRole(ask.Role), Device: phone.Device}, ask.Days)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, made)
}

func (s *site) handlePhoneShares(c echo.Context) error {
	phone, job, err := s.jobOfPhone(c)
	if err != nil {
		return err
	}
	return s.listShares(c, phone, job)
}

// handlePhoneShareEnd ends a link at once, also one that the shop made: it is the
// installer's job that is looked at.
func (s *site) handlePhoneShareEnd(c echo.Context) error {
	phone, job, err := s.jobOfPhone(c)
	if err != nil {
		return err
	}
	links, err := s.Store.Shares(c.Request().Context(), phone.Shop, job)
	if err != nil {
		return err
	}
	for _, l := range links {
		if l.ID == c.Param("link") {
			if err := s.Store.RevokeShare(c.Request().Context(), phone.Shop, l.ID); err != nil {
				return err
			}
			return s.listShares(c, phone, job)
		}
	}
	return fault.New(fault.NotFound, "This job has no such link. Nothing was ended.", "Look at the list of its links.")
}

func (s *site) listShares(c echo.Context, phone shop.Phone, job event.JobID) error {
	links, err := s.Store.Shares(c.Request().Context(), phone.Shop, job)
	if err != nil {
		return err
	}
	now := s.Now()
	out := []sharedLink{}
	for _, l := range links {
		row := sharedLink{ID: l.ID, Role: string(l.Role), Expires: l.Expires.UnixMilli(), Ended: l.Ended(now), Visits: []string{}}
		for _, v := range l.Visits {
			row.Visits = append(row.Visits, visitWords(v))
		}
		out = append(out, row)
	}
	return c.JSON(http.StatusOK, out)
}

// jobOfPhone is the phone that asks, and the job that it asks about: one to which
// it has sent something.
func (s *site) jobOfPhone(c echo.Context) (shop.Phone, event.JobID, error) {
	phone, err := s.phone(c)
	if err != nil {
		return phone, "", err
	}
	job := event.JobID(c.Param("job"))
	known, err := s.mayRead(c.Request().Context(), phone, job)
	if err == nil && !known {
		err = fault.New(fault.NotFound, "The shop has no such job of this phone. Nothing was done.", "Sync first, then try again.")
	}
	return phone, job, err
}

func (s *site) mayRead(ctx context.Context, phone shop.Phone, job event.JobID) (bool, error) {
	records, err := s.Store.Shop(phone.Shop).After(ctx, store.Scope{Job: job, Actor: "device:" + string(phone.Device)}, 0, 1)
	return len(records) > 0, err
}
