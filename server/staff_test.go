package server_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"strutcard/server"
	"strutcard/sync/fault"
)

const password = "four words make one"

// send posts a form whose fields may be repeated.
func (y *yard) send(c *http.Client, path string, form url.Values) answer {
	y.t.Helper()
	return y.do(c, "POST", path, http.Header{"Content-Type": {"application/x-www-form-urlencoded"}}, strings.NewReader(form.Encode()))
}

// inviteStaff returns the secret of a link for a new account.
func (y *yard) inviteStaff(desk *http.Client, roles ...string) string {
	y.t.Helper()
	link := y.shown(y.send(desk, "/shop/staff", url.Values{"role": roles}))
	if !strings.HasPrefix(link, at(y.srv)+"/welcome#") {
		y.t.Fatalf("the invitation leads to %q", link)
	}
	return fragment(link)
}

func (y *yard) welcome(c *http.Client, token, name string) answer {
	y.t.Helper()
	return y.form(c, "/welcome", "token", token, "name", name, "password", password)
}

// account makes an account with roles and returns a browser that is signed in with it.
func (y *yard) account(desk *http.Client, name string, roles ...string) *http.Client {
	y.t.Helper()
	c := browser(y.t)
	y.want(y.welcome(c, y.inviteStaff(desk, roles...), name), http.StatusSeeOther, "")
	return c
}

// staffID finds somebody's id on the list of staff.
func (y *yard) staffID(desk *http.Client, name string) string {
	y.t.Helper()
	page := y.get(desk, "/shop/staff").body
	row := regexp.MustCompile(`<th scope="row">` + regexp.QuoteMeta(name) + `</th>(?s:.*?)/shop/staff/([^/"]+)/roles`).FindStringSubmatch(page)
	if row == nil {
		y.t.Fatalf("%s is not on the list of staff: %s", name, page)
	}
	return row[1]
}

func (y *yard) signIn(c *http.Client, name, password string) answer {
	y.t.Helper()
	return y.form(c, "/sign-in", "name", name, "password", password)
}

func TestStaffInvitation(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	token, ann := y.inviteStaff(desk, "author", "reviewer"), browser(t)
	for range 5 { // a preview of the link must not use it up
		y.want(y.get(browser(t), "/welcome"), http.StatusOK, "")
	}
	short := y.form(ann, "/welcome", "token", token, "name", "Ann", "password", "short")
	y.want(short, http.StatusBadRequest, "")
	y.has(short, "at least 10 characters", token)
	y.want(y.welcome(ann, token, ""), http.StatusBadRequest, "")
	y.want(y.welcome(ann, token, y.srv.Demo().Name), http.StatusBadRequest, "") // the name is taken, and the link still works
	y.want(y.welcome(ann, "guess", "Ann"), http.StatusNotFound, "")
	y.want(y.form(ann, "/password", "token", token, "password", password), http.StatusNotFound, "") // it is no link for a password
	y.want(y.welcome(ann, token, "Ann"), http.StatusSeeOther, "")
	y.want(y.get(ann, "/shop/sheets"), http.StatusOK, "")
	y.want(y.get(ann, "/shop/staff"), http.StatusForbidden, "")
	y.want(y.welcome(browser(t), token, "Ben"), http.StatusNotFound, "") // used
	late := y.inviteStaff(desk, "author")
	y.clock.pass(days(3))
	y.want(y.welcome(browser(t), late, "Ben"), http.StatusNotFound, "")
	y.want(y.send(desk, "/shop/staff", url.Values{"role": {"king"}}), http.StatusBadRequest, "")
	y.want(y.send(desk, "/shop/staff", nil), http.StatusBadRequest, "")
	if strings.Contains(y.log.String(), token) || strings.Contains(y.log.String(), password) {
		t.Error("the log holds a secret")
	}
	y.has(y.get(desk, "/shop/audit"), "Invited somebody as reviewer author", "Account made as reviewer author", "Ann")
}

func TestRoles(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	ann := y.account(desk, "Ann", "reviewer")
	id := y.staffID(desk, "Ann")
	y.want(y.get(ann, "/shop/sheets"), http.StatusForbidden, "")
	y.want(y.send(desk, "/shop/staff/"+id+"/roles", url.Values{"role": {"author"}}), http.StatusSeeOther, "")
	y.want(y.get(ann, "/shop/sheets"), http.StatusOK, "") // at the next request, without signing in again
	y.want(y.send(desk, "/shop/staff/"+id+"/roles", nil), http.StatusBadRequest, "")
	y.want(y.send(desk, "/shop/staff/nobody/roles", url.Values{"role": {"author"}}), http.StatusNotFound, "")
	me := y.staffID(desk, "demo")
	t.Run("ErrLastAdministrator", func(t *testing.T) {
		y := y.in(t)
		y.want(y.send(desk, "/shop/staff/"+me+"/roles", url.Values{"role": {"author"}}), http.StatusConflict, "")
		y.want(y.form(desk, "/shop/staff/"+me+"/end"), http.StatusConflict, "")
		y.want(y.get(desk, "/shop/staff"), http.StatusOK, "")
		y.want(y.send(desk, "/shop/staff/"+id+"/roles", url.Values{"role": {"administrator"}}), http.StatusSeeOther, "")
		y.want(y.send(desk, "/shop/staff/"+me+"/roles", url.Values{"role": {"author"}}), http.StatusSeeOther, "")
		y.want(y.get(desk, "/shop/staff"), http.StatusForbidden, "")
	})
	y.has(y.get(ann, "/shop/audit"), "Roles changed from reviewer to author", "Roles changed from administrator to author")
}

func TestEndAccess(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	ann := y.account(desk, "Ann", "administrator")
	id := y.staffID(desk, "Ann")
	staff, phone := y.inviteStaff(ann, "author"), y.invite(ann)
	reset := fragment(y.shown(y.form(desk, "/shop/staff/"+id+"/link")))
	y.want(y.form(desk, "/shop/staff/"+id+"/end"), http.StatusSeeOther, "")
	y.want(y.get(ann, "/shop"), http.StatusSeeOther, "") // sent to sign in
	y.want(y.signIn(browser(t), "Ann", password), http.StatusUnauthorized, "")
	y.want(y.welcome(browser(t), staff, "Ben"), http.StatusNotFound, "") // nor do those come in whom she invited
	y.want(y.tryJoin(phone, newDevice()), http.StatusNotFound, fault.NotFound)
	y.want(y.form(browser(t), "/password", "token", reset, "password", password), http.StatusNotFound, "")
	y.want(y.form(desk, "/shop/staff/"+id+"/end"), http.StatusNotFound, "")
	y.has(y.get(desk, "/shop/staff"), "Ann", "ended")
	y.has(y.get(desk, "/shop/audit"), "Access ended")
	y.want(y.welcome(browser(t), y.inviteStaff(desk, "author"), "ann"), http.StatusBadRequest, "") // her name stays hers
}

func TestPasswordChange(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	ann, elsewhere, other := y.account(desk, "Ann", "reviewer"), browser(t), "another four words"
	y.want(y.signIn(elsewhere, "Ann", password), http.StatusSeeOther, "")
	reset := fragment(y.shown(y.form(desk, "/shop/staff/"+y.staffID(desk, "Ann")+"/link")))
	y.want(y.form(ann, "/shop/me/password", "old", "wrong", "password", other), http.StatusUnauthorized, "")
	y.want(y.form(ann, "/shop/me/password", "old", password, "password", "short"), http.StatusBadRequest, "")
	y.want(y.get(elsewhere, "/shop"), http.StatusOK, "") // nothing was changed
	y.want(y.form(ann, "/shop/me/password", "old", password, "password", other), http.StatusOK, "")
	y.want(y.get(ann, "/shop"), http.StatusOK, "")
	y.want(y.get(elsewhere, "/shop"), http.StatusSeeOther, "")
	y.want(y.get(desk, "/shop"), http.StatusOK, "") // somebody else's session
	y.want(y.signIn(browser(t), "Ann", password), http.StatusUnauthorized, "")
	y.want(y.signIn(browser(t), "Ann", other), http.StatusSeeOther, "")
	y.want(y.form(browser(t), "/password", "token", reset, "password", password), http.StatusNotFound, "") // made before
}

func TestPasswordReset(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	ann, other := y.account(desk, "Ann", "reviewer"), "another four words"
	path := "/shop/staff/" + y.staffID(desk, "Ann") + "/link"
	first := fragment(y.shown(y.form(desk, path)))
	link := y.shown(y.form(desk, path))
	y.want(y.get(browser(t), "/password"), http.StatusOK, "")
	y.want(y.form(browser(t), "/password", "token", first, "password", other), http.StatusNotFound, "") // the newer one ended it
	y.want(y.welcome(browser(t), fragment(link), "Ben"), http.StatusNotFound, "")                       // it makes no account
	y.want(y.form(browser(t), "/password", "token", fragment(link), "password", "short"), http.StatusBadRequest, "")
	fresh := browser(t)
	y.want(y.form(fresh, "/password", "token", fragment(link), "password", other), http.StatusSeeOther, "")
	y.want(y.get(fresh, "/shop"), http.StatusOK, "")
	y.want(y.get(ann, "/shop"), http.StatusSeeOther, "") // signed out
	y.want(y.form(browser(t), "/password", "token", fragment(link), "password", other), http.StatusNotFound, "")
	y.want(y.signIn(browser(t), "Ann", other), http.StatusSeeOther, "")
	y.has(y.get(desk, "/shop/audit"), "Link made to set a new password", "Password set by a link")
}

var endSession = regexp.MustCompile(`/shop/me/sessions/([0-9a-f]{16})/end`)

func TestSessions(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	y.clock.pass(days(1))
	elsewhere := y.staff()
	y.clock.pass(days(1))
	page := y.get(elsewhere, "/shop/me").body
	here := endSession.FindAllStringSubmatch(page, -1)
	if len(here) != 1 || !strings.Contains(page, "this browser") || !strings.Contains(page, "1 Jun 2026") || !strings.Contains(page, "3 Jun 2026") {
		t.Fatalf("the page does not tell this session from the other, or since when: %s", page)
	}
	ann := y.account(desk, "Ann", "administrator")
	y.want(y.form(ann, "/shop/me/sessions/"+here[0][1]+"/end"), http.StatusSeeOther, "")
	y.want(y.get(desk, "/shop"), http.StatusOK, "") // nobody ends a session of somebody else
	y.want(y.form(elsewhere, "/shop/me/sessions/"+here[0][1]+"/end"), http.StatusSeeOther, "")
	y.want(y.get(desk, "/shop"), http.StatusSeeOther, "")
	y.want(y.get(elsewhere, "/shop"), http.StatusOK, "")
}

// TestUnusedSessionEnds: a browser that nobody used for a week signs in again, and
// one that is used goes on until its thirty days are over.
func TestUnusedSessionEnds(t *testing.T) {
	y := open(t, nil)
	used, forgotten := y.staff(), y.staff()
	for day := 1; day <= 29; day++ {
		y.clock.pass(days(1))
		y.want(y.get(used, "/shop"), http.StatusOK, "")
	}
	y.want(y.get(forgotten, "/shop"), http.StatusSeeOther, "")
	if listed := y.get(used, "/shop/me").body; endSession.MatchString(listed) {
		t.Error("the list still has the session that ended")
	}
	y.clock.pass(days(1))
	y.want(y.get(used, "/shop"), http.StatusSeeOther, "")
}

// TestTries: whoever guesses at a secret is slowed down, at each place that takes one.
func TestTries(t *testing.T) {
	const burst = 6
	y := open(t, func(cfg *server.Config) { cfg.Burst = burst })
	desk := y.staff()
	for _, path := range []string{"/sign-in", "/setup", "/look", "/welcome", "/password", "/api/v1/join", "/shop/me/password", "/shop/staff"} {
		y.clock.pass(days(1)) // all tries are back
		for i := range burst {
			if a := y.form(desk, path); a.status == http.StatusTooManyRequests {
				t.Fatalf("%s: refused at try %d of %d", path, i+1, burst)
			}
		}
		a := y.form(desk, path)
		if a.status != http.StatusTooManyRequests || a.header.Get("Retry-After") == "" {
			t.Errorf("%s: status %d after %d tries, want 429 and when to come again", path, a.status, burst)
		}
	}
}

// phoneOf is a device that joins another shop than the demo's.
func (y *yard) phoneOf(desk *http.Client) phone {
	y.t.Helper()
	device := newDevice()
	a := y.tryJoin(y.invite(desk), device)
	y.want(a, http.StatusOK, "")
	reply, err := decode[struct {
		Token string `json:"token"`
	}]([]byte(a.body))
	if err != nil {
		y.t.Fatal(err)
	}
	return phone{y, device, reply.Token}
}
