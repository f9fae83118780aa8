package web

import (
	"context"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/sync/fault"
	"strutcard/templates"
)

// StaffLinkLife is how long a link for one person of the staff holds.
const StaffLinkLife = 3 * 24 * time.Hour

func (s *site) registerStaffRoutes(r routes) {
	r.get("/shop/staff", s.desk(s.handleStaff))
	r.post("/shop/staff", maxForm, s.try(s.desk(s.handleStaffInvite)))
	r.post("/shop/staff/:staff/roles", maxForm, s.desk(s.handleStaffRoles))
	r.post("/shop/staff/:staff/link", maxForm, s.try(s.desk(s.handleStaffLink)))
	r.post("/shop/staff/:staff/end", maxForm, s.desk(s.handleStaffEnd))
	r.get("/welcome", s.handleWelcomeForm)
	r.post("/welcome", maxForm, s.try(s.handleWelcome))
	r.get("/password", s.handleResetForm)
	r.post("/password", maxForm, s.try(s.handleReset))
}

// entry begins a line of the audit.
func entry(who shop.Staff) shop.Entry { return shop.Entry{Shop: who.Shop, Who: who.Name} }

func (s *site) handleStaff(c echo.Context, who shop.Staff) error {
	return s.staffPage(c, who, templates.StaffList{})
}

// handleStaffInvite makes a link for a new account and shows it this once.
func (s *site) handleStaffInvite(c echo.Context, who shop.Staff) error {
	roles, err := readRoles(c)
	if err != nil {
		return err
	}
	return s.staffLink(c, who, "/welcome", shop.StaffLink{Shop: who.Shop, Roles: roles})
}

// handleStaffLink makes a link with which somebody sets a new password.
func (s *site) handleStaffLink(c echo.Context, who shop.Staff) error {
	return s.staffLink(c, who, "/password", shop.StaffLink{Shop: who.Shop, Staff: c.Param("staff")})
}

func (s *site) staffLink(c echo.Context, who shop.Staff, path string, l shop.StaffLink) error {
	secret := auth.NewSecret()
	l.Digest, l.By, l.Expires = auth.Digest(secret), who.ID, s.Now().Add(StaffLinkLife)
	if err := s.Store.AddStaffLink(c.Request().Context(), l, entry(who)); err != nil {
		return err
	}
	link := s.base(c) + path + "#" + secret
	code, err := modules(link)
	if err != nil {
		return err
	}
	return s.staffPage(c, who, templates.StaffList{Link: link, Code: code, Ends: when(l.Expires), Reset: l.Staff != ""})
}

func readRoles(c echo.Context) (shop.Roles, error) {
	if _, err := readForm(c); err != nil {
		return nil, err
	}
	return shop.ParseRoles(c.Request().PostForm["role"])
}

func (s *site) handleStaffRoles(c echo.Context, who shop.Staff) error {
	roles, err := readRoles(c)
	if err != nil {
		return err
	}
	if err := s.Store.SetRoles(c.Request().Context(), c.Param("staff"), roles, entry(who)); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/shop/staff")
}

func (s *site) handleStaffEnd(c echo.Context, who shop.Staff) error {
	if err := s.Store.EndStaff(c.Request().Context(), c.Param("staff"), entry(who)); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/shop/staff")
}

func (s *site) staffPage(c echo.Context, who shop.Staff, v templates.StaffList) error {
	staff, err := s.Store.StaffList(c.Request().Context(), who.Shop)
	if err != nil {
		return err
	}
	v.Desk, v.Roles = frame(who, lang.T("Staff"), "me"), roleChoices(nil)
	for _, one := range staff {
		row := templates.StaffRow{ID: one.ID, Name: one.Name, Since: when(one.Created), Roles: roleChoices(one.Roles)}
		if !one.Ended.IsZero() {
			row.Ended = when(one.Ended)
		}
		v.Rows = append(v.Rows, row)
	}
	return page(c, http.StatusOK, templates.StaffPage(v))
}

// roleWords tells what each role is for.
var roleWords = map[shop.Role]string{
	shop.Reviewer:      "Reviewer: looks at jobs, decides on them",
	shop.Author:        "Author: writes and withdraws sheets",
	shop.Administrator: "Administrator: staff, phones, data, and all of the others",
}

func roleChoices(had shop.Roles) (out []templates.RoleChoice) {
	for _, role := range shop.AllRoles() {
		chosen := false
		for _, one := range had {
			chosen = chosen || one == role
		}
		out = append(out, templates.RoleChoice{Role: string(role), Words: lang.T(roleWords[role]), Chosen: chosen})
	}
	return out
}

func (s *site) handleWelcomeForm(c echo.Context) error {
	return page(c, http.StatusOK, templates.WelcomePage(templates.SetUp{Desk: templates.Desk{Title: lang.T("Make your account")}}))
}

// handleWelcome redeems an invitation for an account, and signs it in.
func (s *site) handleWelcome(c echo.Context) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	v := templates.SetUp{Desk: templates.Desk{Title: lang.T("Make your account")}, Name: get("name"), Token: get("token")}
	made, err := s.welcome(c.Request().Context(), v, c.Request().PostForm.Get("password"))
	return s.signedUp(c, made.ID, err, func(problem, hint string) error {
		v.Problem, v.Hint = problem, hint
		return page(c, http.StatusBadRequest, templates.WelcomePage(v))
	})
}

func (s *site) welcome(ctx context.Context, v templates.SetUp, password string) (shop.Staff, error) {
	if v.Name == "" || len(v.Name) > maxName {
		return shop.Staff{}, fault.New(fault.Invalid, "You need a name of up to 80 letters. Nothing was changed.", "Fill it in.")
	}
	digest, err := s.Passwords.Hash(ctx, password)
	if err != nil {
		return shop.Staff{}, err
	}
	made := shop.Staff{ID: newID(), Name: v.Name, Password: digest}
	return made, s.Store.Welcome(ctx, auth.Digest(v.Token), made)
}

// signedUp signs in who has just got a password; again shows the form with what was
// wrong with it.
func (s *site) signedUp(c echo.Context, staff string, err error, again func(problem, hint string) error) error {
	if fault.Is(err, fault.Invalid) {
		f := toFault(err)
		return again(f.Message, f.Hint)
	}
	if err != nil {
		return err
	}
	return s.signIn(c, staff)
}

func (s *site) handleResetForm(c echo.Context) error {
	return page(c, http.StatusOK, templates.ResetPage(templates.SetUp{Desk: templates.Desk{Title: lang.T("New password")}}))
}

// handleReset redeems a link that sets a password, and signs its owner in.
func (s *site) handleReset(c echo.Context) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	v := templates.SetUp{Desk: templates.Desk{Title: lang.T("New password")}, Token: get("token")}
	staff, err := s.reset(c.Request().Context(), v.Token, c.Request().PostForm.Get("password"))
	return s.signedUp(c, staff, err, func(problem, hint string) error {
		v.Problem, v.Hint = problem, hint
		return page(c, http.StatusBadRequest, templates.ResetPage(v))
	})
}

func (s *site) reset(ctx context.Context, token, password string) (string, error) {
	digest, err := s.Passwords.Hash(ctx, password)
	if err != nil {
		return "", err
	}
	return s.Store.ResetPassword(ctx, auth.Digest(token), digest)
}
