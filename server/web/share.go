package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"time"

	"github.com/labstack/echo/v4"

	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/templates"
)

const lookCookie = "strutcard_look"

// shareDays are the lives that a mentor's link may have.
var shareDays = []int{1, 7, 30}

func (s *site) registerShareRoutes(r routes) {
	r.post("/shop/jobs/:job/links", maxForm, s.desk(s.handleShare))
	r.post("/shop/jobs/:job/links/:link/end", maxForm, s.desk(s.handleShareEnd))
	r.get("/look", s.handleLookForm)
	r.post("/look", maxForm, s.try(s.handleLookOpen))
	r.get("/look/job/:link", s.handleLook)
}

// handleShare makes a link to one job and shows it this once.
func (s *site) handleShare(c echo.Context, who shop.Staff) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	days, err := strconv.Atoi(get("days"))
	if err != nil || !slices.Contains(shareDays, days) {
		return fault.Wrap(err, fault.Invalid, "A link lasts 1, 7 or 30 days. None was made.", "Choose one of these.")
	}
	ctx, id := c.Request().Context(), event.JobID(c.Param("job"))
	known, err := s.Store.HasJob(ctx, who.Shop, id)
	if err != nil {
		return err
	}
	if !known {
		return fault.New(fault.NotFound, "This server knows no such job. No link was made.", "Go back to the list of jobs.")
	}
	secret := auth.NewSecret()
	share := shop.Share{ID: newID(), Digest: auth.Digest(secret), Shop: who.Shop, Job: id, By: who.ID,
		Expires: s.Now().Add(time.Duration(days) * 24 * time.Hour)}
	if err := s.Store.AddShare(ctx, share); err != nil {
		return err
	}
	return s.jobPage(c, who, id, s.base(c)+"/look#"+secret)
}

func (s *site) handleShareEnd(c echo.Context, who shop.Staff) error {
	if err := s.Store.RevokeShare(c.Request().Context(), who.Shop, c.Param("link")); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/shop/jobs/"+url.PathEscape(c.Param("job")))
}

func (s *site) handleLookForm(c echo.Context) error {
	return page(c, http.StatusOK, templates.LookPage(templates.Look{Desk: templates.Desk{Title: "Look at a job"}}))
}

// handleLookOpen redeems a link. Its cookie goes to this one job's page only:
// whoever looks at two jobs never sees one in the other's place.
func (s *site) handleLookOpen(c echo.Context) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	secret := auth.NewSecret()
	share, err := s.Store.OpenShare(c.Request().Context(), auth.Digest(get("code")), auth.Digest(secret))
	if err != nil {
		return err
	}
	path := "/look/job/" + share.ID
	c.SetCookie(s.cookie(lookCookie, path, secret, share.Expires.Sub(s.Now())))
	return c.Redirect(http.StatusSeeOther, path)
}

// handleLook shows the job. The link is looked up anew each time, so that ending
// it ends it at the next request.
func (s *site) handleLook(c echo.Context) error {
	had, err := c.Cookie(lookCookie)
	if err != nil {
		return fault.Wrap(err, fault.SignIn, "This browser has not opened the job yet.", "Open the link that you were given.")
	}
	ctx := c.Request().Context()
	share, err := s.Store.ShareBySession(ctx, auth.Digest(had.Value))
	if err != nil {
		return err
	}
	if share.ID != c.Param("link") {
		return fault.New(fault.Denied, "This browser has opened another job.", "Open the link that you were given.")
	}
	v, err := s.jobView(ctx, share.Shop, share.Job, "/look/job/"+share.ID+"/photos/")
	if err != nil {
		return err
	}
	v.Desk, v.Until = templates.Desk{Title: v.Card.Vehicle}, when(share.Expires)
	return page(c, http.StatusOK, templates.DeskJobPage(v))
}

func linkRow(l shop.Share, now time.Time) templates.LinkRow {
	opened := "never"
	if l.Opened > 0 {
		opened = fmt.Sprintf("%d times", l.Opened)
	}
	if l.Opened == 1 {
		opened = "once"
	}
	return templates.LinkRow{ID: l.ID, Made: when(l.Created), Ends: when(l.Expires), Opened: opened, Holds: !l.Ended(now)}
}
