package web

import (
	"context"
	"net/http"
	"net/url"
	"time"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/job"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
	"strutcard/templates"
)

func (s *site) registerJobRoutes(r routes) {
	r.get("/shop/jobs/:job", s.desk(s.handleJob))
}

// handleJob shows one job to the shop: findings, card, timeline, links.
func (s *site) handleJob(c echo.Context, who shop.Staff) error {
	return s.jobPage(c, who, event.JobID(c.Param("job")), madeShare{})
}

// jobPage shows a job to the shop; made is a link made just now.
func (s *site) jobPage(c echo.Context, who shop.Staff, id event.JobID, made madeShare) error {
	ctx := c.Request().Context()
	v, err := s.jobView(ctx, who.Shop, id, "/shop/jobs/"+url.PathEscape(string(id)), "/shop/photos/")
	if err != nil {
		return err
	}
	links, err := s.Store.Shares(ctx, who.Shop, id)
	if err != nil {
		return err
	}
	v.Desk, v.Shop, v.NewLink, v.NewCode = frame(who, v.Card.Vehicle, ""), true, made.Link, made.Code
	v.Review.Speak, v.Review.Decide = true, who.Roles.May(shop.Reviewer)
	v.Review.Release = v.Review.Decide
	now := s.Now()
	for _, l := range links {
		v.Links = append(v.Links, linkRow(l, now))
	}
	return page(c, http.StatusOK, templates.DeskJobPage(v))
}

// jobView is what the shop and a mentor both see; at is the job's place for each of
// them, photos where they get the pictures.
func (s *site) jobView(ctx context.Context, id shop.ID, jobID event.JobID, at, photos string) (templates.DeskJob, error) {
	records, err := s.allRecords(ctx, id, jobID)
	if err != nil {
		return templates.DeskJob{}, err
	}
	o, err := s.opened(ctx, id, jobID, records)
	if err != nil {
		return templates.DeskJob{}, err
	}
	names, err := s.phoneNames(ctx, id)
	if err != nil {
		return templates.DeskJob{}, err
	}
	v := templates.DeskJob{Job: string(jobID), Card: templates.CardOf(o.sheet, o.state, o.findings), Review: s.reviewView(o, at)}
	if v.Card.Vehicle == "" {
		v.Card.Vehicle = lang.T("unnamed car")
	}
	if v.Withdrawn, err = s.withdrawnWords(ctx, id, o.state); err != nil {
		return templates.DeskJob{}, err
	}
	v.Timeline = timeline(records, o.sheet, names)
	var heard int64
	for _, r := range records {
		heard = max(heard, r.Received)
	}
	v.Heard = when(time.UnixMilli(heard))
	return v, s.placePhotos(id, photos, &v)
}

// errNoJob says what became of a job that is not here.
func (s *site) errNoJob(ctx context.Context, id shop.ID, jobID event.JobID) error {
	at, err := s.Store.JobDeleted(ctx, id, jobID)
	switch {
	case err != nil:
		return err
	case !at.IsZero():
		return fault.New(fault.NotFound, lang.F("The shop deleted this job %s.", when(at)), "Its data is gone from this server for good. Who deleted it, and why, stands in the audit.")
	}
	return fault.New(fault.NotFound, "There is no such job here.", "It may not have been synced yet: ask the installer to sync. Or go back to the list of jobs.")
}

// allRecords reads a job's records in pages: one long read would hold back the
// database's clean-up.
func (s *site) allRecords(ctx context.Context, id shop.ID, jobID event.JobID) ([]store.Record, error) {
	const at = 1000
	var all []store.Record
	var pos int64
	for {
		some, err := s.Store.Shop(id).After(ctx, store.Scope{Job: jobID}, pos, at)
		if err != nil {
			return nil, err
		}
		all = append(all, some...)
		if len(some) < at {
			return all, nil
		}
		pos = some[len(some)-1].Pos
	}
}

// sheetOf returns the sheet that the job pins, as it is shown, or nil while it is not here.
func (s *site) sheetOf(ctx context.Context, id shop.ID, state *job.State) (*sheet.Sheet, error) {
	if state.Opened == nil {
		return nil, nil
	}
	body, err := s.Store.SheetBody(ctx, id, state.Opened.Sheet)
	if fault.Is(err, fault.NotFound) {
		return sheet.ExampleOf(state.Opened.Sheet).Said(), nil // an example is part of the program: no phone sends it
	}
	if err != nil {
		return nil, err
	}
	stored, err := sheet.Decode(body)
	return stored.Said(), err
}

// withdrawnWords tells when and why the shop took the job's sheet back from use; ""
// while it stands.
func (s *site) withdrawnWords(ctx context.Context, id shop.ID, state *job.State) (string, error) {
	if state.Opened == nil {
		return "", nil
	}
	w, err := s.Store.Withdrawal(ctx, id, state.Opened.Sheet)
	if err != nil || w.At.IsZero() {
		return "", err
	}
	return when(w.At) + ": " + w.Reason, nil
}

func (s *site) phoneNames(ctx context.Context, id shop.ID) (map[event.DeviceID]string, error) {
	phones, err := s.Store.Phones(ctx, id)
	names := make(map[event.DeviceID]string, len(phones))
	for _, p := range phones {
		names[p.Device] = p.Name
	}
	return names, err
}
