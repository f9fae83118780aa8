package web

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/auth"
	"strutcard/server/shop"
	"strutcard/templates"
)

func (s *site) registerMeRoutes(r routes) {
	r.get("/shop/me", s.desk(s.handleMe))
	r.post("/shop/me/password", maxForm, s.try(s.desk(s.handlePassword)))
	r.post("/shop/me/sessions/:name/end", maxForm, s.desk(s.handleSessionEnd))
}

// handleMe shows somebody their own account.
func (s *site) handleMe(c echo.Context, who shop.Staff) error {
	return s.mePage(c, who, http.StatusOK, templates.Me{})
}

func (s *site) mePage(c echo.Context, who shop.Staff, status int, v templates.Me) error {
	sessions, err := s.Store.Sessions(c.Request().Context(), who.ID)
	if err != nil {
		return err
	}
	v.Desk, v.Runs = frame(who, lang.T("You"), "me"), who.Roles.May(shop.Administrator)
	for _, role := range roleChoices(who.Roles) {
		if role.Chosen {
			v.Roles = append(v.Roles, role.Words)
		}
	}
	here := s.session(c)
	for _, one := range sessions {
		v.Sessions = append(v.Sessions, templates.SessionRow{Name: one.Name(), Since: when(one.Created), Used: when(one.Used), Here: one.Digest == here})
	}
	return page(c, status, templates.MePage(v))
}

// session is the digest of the session that a request came by.
func (s *site) session(c echo.Context) string {
	had, err := c.Cookie(deskCookie)
	if err != nil {
		return ""
	}
	return auth.Digest(had.Value)
}

// handlePassword changes somebody's own password, and ends their other sessions.
func (s *site) handlePassword(c echo.Context, who shop.Staff) error {
	if _, err := readForm(c); err != nil {
		return err
	}
	ctx, form := c.Request().Context(), c.Request().PostForm
	fits, err := s.Passwords.Check(ctx, form.Get("old"), who.Password)
	if err != nil {
		return err
	}
	if !fits {
		return s.mePage(c, who, http.StatusUnauthorized, templates.Me{Problem: lang.T("That is not your password. Nothing was changed."), Hint: lang.T("Type the one that you sign in with now.")})
	}
	digest, err := s.Passwords.Hash(ctx, form.Get("password"))
	if f := toFault(err); err != nil && statusOf(f.Kind) < http.StatusInternalServerError {
		return s.mePage(c, who, statusOf(f.Kind), templates.Me{Problem: f.Message, Hint: f.Hint})
	}
	if err != nil {
		return err
	}
	if err := s.Store.SetPassword(ctx, who.ID, digest, s.session(c), entry(who)); err != nil {
		return err
	}
	return s.mePage(c, who, http.StatusOK, templates.Me{Changed: true})
}

func (s *site) handleSessionEnd(c echo.Context, who shop.Staff) error {
	if err := s.Store.EndSessionOf(c.Request().Context(), who.ID, c.Param("name")); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/shop/me")
}
