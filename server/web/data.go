package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/job"
	"strutcard/templates"
)

const maxKeepDays = 36_525 // a hundred years

func (s *site) registerDataRoutes(r routes) {
	r.get("/shop/data", s.desk(s.handleData))
	r.post("/shop/data/keep", maxForm, s.desk(s.handleKeep))
	r.post("/shop/data/export", maxForm, s.desk(s.handleShopExport))
	r.get("/shop/jobs/:job/data", s.desk(s.handleJobData))
	r.post("/shop/jobs/:job/export", maxForm, s.desk(s.handleJobExport))
	r.post("/shop/jobs/:job/delete", maxForm, s.desk(s.handleJobDelete))
}

func (s *site) handleData(c echo.Context, who shop.Staff) error {
	days, err := s.Store.KeepDays(c.Request().Context(), who.Shop)
	if err != nil {
		return err
	}
	return page(c, http.StatusOK, templates.DataPage(templates.Data{Desk: frame(who, lang.T("Data"), "me"), Days: strconv.Itoa(days)}))
}

// handleKeep sets how long finished jobs are kept. The daily round does the rest.
func (s *site) handleKeep(c echo.Context, who shop.Staff) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	days, err := strconv.Atoi(get("days"))
	if err != nil || days < 0 || days > maxKeepDays {
		return fault.Wrap(err, fault.Invalid, "That is no number of days. Nothing was changed.", "Give whole days. 0 keeps finished jobs for ever.")
	}
	e := entry(who)
	e.What = fmt.Sprintf(shop.KeptForDays, strconv.Itoa(days))
	if days == 0 {
		e.What = shop.KeptForEver
	}
	if err := s.Store.SetKeepDays(c.Request().Context(), days, e); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/shop/data")
}

// jobData is a job's car, by which a person knows what they are about to delete.
func (s *site) jobData(ctx context.Context, who shop.Staff, id event.JobID) (templates.JobData, error) {
	events, err := s.Store.Shop(who.Shop).Job(ctx, id)
	if err != nil {
		return templates.JobData{}, err
	}
	if len(events) == 0 {
		return templates.JobData{}, s.errNoJob(ctx, who.Shop, id)
	}
	v := templates.JobData{Desk: frame(who, lang.T("Data of a job"), ""), Job: string(id), Vehicle: lang.T("unnamed car"), Events: len(events)}
	if o := job.Fold(id, events).Opened; o != nil && strings.TrimSpace(o.Vehicle) != "" {
		v.Vehicle = strings.TrimSpace(o.Vehicle)
	}
	return v, nil
}

func (s *site) handleJobData(c echo.Context, who shop.Staff) error {
	v, err := s.jobData(c.Request().Context(), who, event.JobID(c.Param("job")))
	if err != nil {
		return err
	}
	return page(c, http.StatusOK, templates.JobDataPage(v))
}

// handleJobDelete deletes a job for good. Whoever does it types the name of the car,
// and why.
func (s *site) handleJobDelete(c echo.Context, who shop.Staff) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	ctx, id := c.Request().Context(), event.JobID(c.Param("job"))
	v, err := s.jobData(ctx, who, id)
	if err != nil {
		return err
	}
	v.Reason = get("reason")
	switch {
	case get("car") != v.Vehicle:
		v.Problem, v.Hint = lang.T("That is not the name of this car. Nothing was deleted."), lang.T("Type it as it stands there, or leave this page.")
	case v.Reason == "" || len(v.Reason) > maxReason:
		v.Problem, v.Hint = lang.T("A reason of up to 1,000 letters is needed. Nothing was deleted."), lang.T("Say why, without names of customers: the reason stays.")
	}
	if v.Problem != "" {
		return page(c, http.StatusBadRequest, templates.JobDataPage(v))
	}
	e := entry(who)
	e.Reason = v.Reason
	if err := s.Store.DeleteJob(ctx, id, e); err != nil {
		return err
	}
	if err := s.Store.DropPhotos(ctx, s.dropPhoto); err != nil {
		s.Log.Error("photos of a deleted job are still there; the daily round tries again", "err", err)
	}
	return c.Redirect(http.StatusSeeOther, "/shop/audit")
}

func (s *site) dropPhoto(id shop.ID, sha256 string, named bool) error {
	return s.Pictures.Drop(string(id), sha256, named)
}
