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

const (
	deskCookie  = "strutcard_desk"
	sessionLife = 30 * 24 * time.Hour
)

func (s *site) registerAccountRoutes(r routes) {
	r.get("/setup", s.handleSetUpForm)
	r.post("/setup", maxForm, s.try(s.handleSetUp))
	r.get("/sign-in", s.handleSignInForm)
	r.post("/sign-in", maxForm, s.try(s.handleSignIn))
	r.post("/sign-out", maxForm, s.handleSignOut)
}

func (s *site) handleSetUpForm(c echo.Context) error {
	return page(c, http.StatusOK, templates.SetUpPage(templates.SetUp{Desk: templates.Desk{Title: lang.T("Set up")}}))
}

// handleSetUp makes the first account and signs it in.
func (s *site) handleSetUp(c echo.Context) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	v := templates.SetUp{Desk: templates.Desk{Title: lang.T("Set up")}, Shop: get("shop"), Name: get("name"), Token: get("token")}
	first, err := s.setUp(ctx, v, c.Request().PostForm.Get("password"))
	if fault.Is(err, fault.Invalid) {
		f := toFault(err)
		v.Problem, v.Hint = f.Message, f.Hint
		return page(c, statusOf(f.Kind), templates.SetUpPage(v))
	}
	if err != nil {
		return err
	}
	return s.signIn(c, first.ID)
}

func (s *site) setUp(ctx context.Context, v templates.SetUp, password string) (shop.Staff, error) {
	if v.Shop == "" || v.Name == "" || len(v.Shop) > maxName || len(v.Name) > maxName {
		return shop.Staff{}, fault.New(fault.Invalid, "The shop and you both need a name of up to 80 letters. Nothing was changed.", "Fill in both.")
	}
	digest, err := s.Passwords.Hash(ctx, password)
	if err != nil {
		return shop.Staff{}, err
	}
	first := shop.Staff{ID: newID(), Name: v.Name, Password: digest}
	return first, s.Store.SetUp(ctx, auth.Digest(v.Token), shop.Shop{ID: shop.ID(newID()), Name: v.Shop}, first)
}

func (s *site) handleSignInForm(c echo.Context) error {
	none, err := s.Store.NeedsSetUp(c.Request().Context())
	if err != nil {
		return err
	}
	return page(c, http.StatusOK, templates.SignInPage(templates.SignIn{Desk: templates.Desk{Title: lang.T("Sign in")}, NoStaff: none}))
}

// handleSignIn takes as long for a name that nobody has as for a wrong password.
func (s *site) handleSignIn(c echo.Context) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	who, _, err := s.Store.StaffByName(ctx, get("name"))
	if err != nil {
		return err
	}
	fits, err := s.Passwords.Check(ctx, c.Request().PostForm.Get("password"), who.Password)
	if err != nil {
		return err
	}
	if !fits {
		v := templates.SignIn{Desk: templates.Desk{Title: lang.T("Sign in")}, Name: get("name"),
			Problem: lang.T("This name and password do not go together."), Hint: lang.T("Check both and try again. Capitals in the name do not matter.")}
		return page(c, http.StatusUnauthorized, templates.SignInPage(v))
	}
	return s.signIn(c, who.ID)
}

func (s *site) signIn(c echo.Context, staff string) error {
	secret := auth.NewSecret()
	session := shop.Session{Digest: auth.Digest(secret), Staff: staff, Expires: s.Now().Add(sessionLife)}
	if err := s.Store.AddSession(c.Request().Context(), session); err != nil {
		return err
	}
	c.SetCookie(s.cookie(deskCookie, "/", secret, sessionLife))
	return c.Redirect(http.StatusSeeOther, "/shop")
}

func (s *site) handleSignOut(c echo.Context) error {
	if had, err := c.Cookie(deskCookie); err == nil {
		if err := s.Store.EndSession(c.Request().Context(), auth.Digest(had.Value)); err != nil {
			return err
		}
	}
	c.SetCookie(s.cookie(deskCookie, "/", "", -time.Second))
	return c.Redirect(http.StatusSeeOther, "/sign-in")
}

// cookie lasts for a time from now, not until a date: the other side's clock may
// be wrong. A negative life takes the cookie back.
func (s *site) cookie(name, path, value string, life time.Duration) *http.Cookie {
	return &http.Cookie{Name: name, Value: value, Path: path, MaxAge: int(life / time.Second), HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: s.Secure}
}

// deskHandler is a handler for somebody of the staff.
type deskHandler func(c echo.Context, who shop.Staff) error

// desk lets in staff with the role that the route needs; whoever is not signed in is
// sent to do that.
func (s *site) desk(h deskHandler) echo.HandlerFunc {
	return func(c echo.Context) error {
		if had, err := c.Cookie(deskCookie); err == nil {
			who, found, err := s.Store.StaffBySession(c.Request().Context(), auth.Digest(had.Value))
			if err != nil {
				return err
			}
			if found {
				if err := allowed(c, who); err != nil {
					return err
				}
				return h(c, who)
			}
		}
		if c.Request().Method == http.MethodGet {
			return c.Redirect(http.StatusSeeOther, "/sign-in")
		}
		return fault.New(fault.SignIn, "You are not signed in. Nothing was changed.", "Sign in, then do it again.")
	}
}

func frame(who shop.Staff, title, here string) templates.Desk {
	return templates.Desk{Title: title, Shop: who.ShopName, Staff: who.Name, Here: here}
}
