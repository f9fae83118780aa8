package web

import (
	"bytes"
	"cmp"
	_ "embed"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"
	"rsc.io/qr"

	"strutcard/calc/lang"
	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/templates"
)

const lookCookie = "strutcard_look"

// lookScript keeps a mentor's page fresh, and the job as it was last seen.
//
//go:embed static/look.js
var lookScript []byte

// lookWorker answers with what was kept, when there is no signal.
//
//go:embed static/look_worker.js
var lookWorker []byte

// shareDays are the lives that a mentor's link may have.
var shareDays = []int{1, 7, 30}

func (s *site) registerShareRoutes(r routes) {
	r.post("/shop/jobs/:job/links", maxForm, s.desk(s.handleShare))
	r.post("/shop/jobs/:job/links/:link/end", maxForm, s.desk(s.handleShareEnd))
	r.get("/look", s.handleLookForm)
	r.post("/look", maxForm, s.try(s.handleLookOpen))
	r.get("/look/job/:link", s.handleLook)
	r.get("/look/worker.js", fixed(lookWorker, scriptType, keepNone))
	r.get("/static/look.js", fixed(lookScript, scriptType, askEachTime))
}

// handleShare makes a link to one job and shows it this once.
func (s *site) handleShare(c echo.Context, who shop.Staff) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	days, err := strconv.Atoi(get("days"))
	if err != nil {
		days = 0 // refused below
	}
	id := event.JobID(c.Param("job"))
	made, err := s.makeShare(c, shop.Share{Shop: who.Shop, Job: id, Role: shop.ShareRole(get("role")), By: who.ID}, days)
	if err != nil {
		return err
	}
	return s.jobPage(c, who, id, made)
}

// madeShare is a link that was made just now. Its secret is not kept.
type madeShare struct {
	ID      string `json:"id"`
	Link    string `json:"link"`
	Code    string `json:"code"` // the link as a QR code: its modules, a row a line, "1" is dark
	Role    string `json:"role"`
	Expires int64  `json:"expires"` // ms UTC
}

func (s *site) makeShare(c echo.Context, share shop.Share, days int) (made madeShare, err error) {
	if !slices.Contains(shareDays, days) {
		return made, fault.New(fault.Invalid, "A link lasts 1, 7 or 30 days. None was made.", "Choose one of these.")
	}
	if !slices.Contains(shop.ShareRoles, share.Role) {
		return made, fault.New(fault.Invalid, "It is not said what the link allows. None was made.", "Choose to look, to comment, or to release hold points.")
	}
	ctx := c.Request().Context()
	known, err := s.Store.HasJob(ctx, share.Shop, share.Job)
	if err != nil {
		return made, err
	}
	if !known {
		return made, fault.New(fault.NotFound, "This server knows no such job. No link was made.", "Sync the job first, or go back to the list of jobs.")
	}
	secret := auth.NewSecret()
	share.ID, share.Digest, share.Expires = newID(), auth.Digest(secret), s.Now().Add(time.Duration(days)*24*time.Hour)
	if err := s.Store.AddShare(ctx, share); err != nil {
		return made, err
	}
	link := s.base(c) + "/look#" + secret
	code, err := modules(link)
	return madeShare{ID: share.ID, Link: link, Code: code, Role: string(share.Role), Expires: share.Expires.UnixMilli()}, err
}

// modules draws a QR code (ISO/IEC 18004) as rows of "0" and "1", without the quiet
// zone. Level L: on a screen nothing is torn or dirty, and fewer, larger modules are
// read from further away.
func modules(text string) (string, error) {
	code, err := qr.Encode(text, qr.L)
	if err != nil {
		return "", fmt.Errorf("draw the code of a link: %w", err)
	}
	var b strings.Builder
	for y := range code.Size {
		for x := range code.Size {
			b.WriteByte("01"[map[bool]int{false: 0, true: 1}[code.Black(x, y)]])
		}
		b.WriteByte('\n')
	}
	return strings.TrimSuffix(b.String(), "\n"), nil
}

func (s *site) handleShareEnd(c echo.Context, who shop.Staff) error {
	ctx := c.Request().Context()
	links, err := s.Store.Shares(ctx, who.Shop, event.JobID(c.Param("job")))
	if err != nil {
		return err
	}
	i := slices.IndexFunc(links, func(l shop.Share) bool { return l.ID == c.Param("link") })
	if i < 0 {
		return fault.New(fault.NotFound, "This job has no such link. Nothing was ended.", "Go back to the job and look at its links.")
	}
	if links[i].By != who.ID && !who.Roles.May(shop.Administrator) {
		return fault.New(fault.Denied, "Somebody else made this link. Nothing was ended.", "Ask them, or an administrator.")
	}
	if err := s.Store.RevokeShare(ctx, who.Shop, links[i].ID); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, deskPath(c))
}

func (s *site) handleLookForm(c echo.Context) error {
	return page(c, http.StatusOK, templates.LookPage(templates.Look{Desk: templates.Desk{Title: lang.T("Look at a job")}}))
}

// handleLookOpen redeems a link. Its cookie goes to this one job's page only:
// whoever looks at two jobs never sees one in the other's place.
func (s *site) handleLookOpen(c echo.Context) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	name := get("name")
	if name == "" || len(name) > maxVisitor {
		return fault.New(fault.Invalid, "Your name is missing, or too long. The link was not opened and still works.", "Go back and give the name that the installer knows you by.")
	}
	secret := auth.NewSecret()
	share, err := s.Store.OpenShare(c.Request().Context(), auth.Digest(get("code")), auth.Digest(secret), name)
	if err != nil {
		return err
	}
	path := "/look/job/" + share.ID
	c.SetCookie(s.cookie(lookCookie, path, secret, share.Expires.Sub(s.Now())))
	return c.Redirect(http.StatusSeeOther, path)
}

const maxVisitor = 80 // bytes of a visitor's name

// share finds the link that a browser has opened, and who opened it. It is looked
// up anew each time, so that ending it ends it at the next request.
func (s *site) share(c echo.Context) (share shop.Share, visitor string, err error) {
	had, err := c.Cookie(lookCookie)
	if err != nil {
		return share, "", fault.Wrap(err, fault.SignIn, "This browser has not opened the job yet.", "Open the link that you were given.")
	}
	share, visitor, err = s.Store.ShareBySession(c.Request().Context(), auth.Digest(had.Value))
	if err != nil {
		return share, "", err
	}
	if share.ID != c.Param("link") {
		return shop.Share{}, "", fault.New(fault.Denied, "This browser has opened another job.", "Open the link that you were given.")
	}
	return share, visitor, nil
}

// handleLook shows the job to whoever opened a link.
func (s *site) handleLook(c echo.Context) error {
	share, _, err := s.share(c)
	if err != nil {
		return err
	}
	at := "/look/job/" + share.ID
	v, err := s.jobView(c.Request().Context(), share.Shop, share.Job, at, at+"/photos/")
	if err != nil {
		return err
	}
	v.Desk, v.Until = templates.Desk{Title: v.Card.Vehicle}, when(share.Expires)
	v.Review.Speak, v.Review.Release = share.Role.May(shop.Comment), share.Role.May(shop.Release)
	var b bytes.Buffer
	if err := templates.DeskJobPage(v).Render(c.Request().Context(), &b); err != nil {
		return fmt.Errorf("write a mentor's page: %w", err)
	}
	c.Response().Header().Set("Link-Ends", strconv.FormatInt(share.Expires.UnixMilli(), 10)) // what was kept ends with it
	return fixed(b.Bytes(), echo.MIMETextHTMLCharsetUTF8, keepNone)(c)                       // asked for again and again while it is looked at
}

func visitWords(v shop.Visit) string {
	return cmp.Or(v.Name, lang.T("without a name")) + ", " + when(v.At)
}

func linkRow(l shop.Share, now time.Time) templates.LinkRow {
	opened := lang.T("never")
	switch {
	case l.Opened > 1:
		opened = lang.F("%d times", l.Opened)
	case l.Opened == 1:
		opened = lang.T("once")
	}
	for i, v := range l.Visits {
		opened += map[bool]string{true: ": ", false: "; "}[i == 0] + visitWords(v)
	}
	return templates.LinkRow{ID: l.ID, Made: when(l.Created), May: templates.MayWords(string(l.Role)), Ends: when(l.Expires), Opened: opened, Holds: !l.Ended(now)}
}
