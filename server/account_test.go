package server_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"strutcard/server"
	"strutcard/sync/fault"
)

func bare(cfg *server.Config) { cfg.Demo = false }

func setUp(y *yard, c *http.Client, token, password string) answer {
	return y.form(c, "/setup", "token", token, "shop", "A yard", "name", "Ann", "password", password)
}

func TestSetUp(t *testing.T) {
	y := open(t, bare)
	link := y.srv.SetUpURL()
	if !strings.HasPrefix(link, at(y.srv)+"/setup#") {
		t.Fatalf("set-up link %q", link)
	}
	token, ann := fragment(link), browser(t)
	for range 20 { // a preview of the link must not use it up
		y.want(y.get(browser(t), "/setup"), http.StatusOK, "")
		y.want(y.do(browser(t), "HEAD", "/setup", nil, nil), http.StatusOK, "")
	}
	y.want(setUp(y, browser(t), "guess", "four words make one"), http.StatusNotFound, "")
	y.want(setUp(y, browser(t), "", "four words make one"), http.StatusNotFound, "")
	short := setUp(y, browser(t), token, "short")
	y.want(short, http.StatusBadRequest, "")
	if !strings.Contains(short.body, "at least 10 characters") || !strings.Contains(short.body, token) || strings.Contains(short.body, `value="short"`) {
		t.Error("the form does not come back with the reason and the code, and without the password")
	}
	y.want(setUp(y, ann, token, "four words make one"), http.StatusSeeOther, "")
	y.want(y.get(ann, "/shop"), http.StatusOK, "")
	y.want(setUp(y, browser(t), token, "four words make one"), http.StatusNotFound, "")
	y.want(y.form(browser(t), "/sign-in", "name", "ANN", "password", "four words make one"), http.StatusSeeOther, "")
	if strings.Contains(y.log.String(), token) {
		t.Error("the log holds the set-up code")
	}
}

func TestSetUpLinkOfAnEarlierStart(t *testing.T) {
	dir := t.TempDir()
	old, err := server.New(server.Config{DataDir: dir, Addr: "127.0.0.1:0"})
	if err != nil {
		t.Fatal(err)
	}
	if err := old.Start(); err != nil {
		t.Fatal(err)
	}
	stale := fragment(old.SetUpURL())
	if err := old.Close(); err != nil {
		t.Fatal(err)
	}
	y := open(t, func(cfg *server.Config) { cfg.Demo, cfg.DataDir = false, dir })
	y.want(setUp(y, browser(t), stale, "four words make one"), http.StatusNotFound, "")
	y.want(setUp(y, browser(t), fragment(y.srv.SetUpURL()), "four words make one"), http.StatusSeeOther, "")
}

func TestSignIn(t *testing.T) {
	y := open(t, nil)
	if y.srv.SetUpURL() != "" {
		t.Error("a server with staff offers a set-up link")
	}
	d := y.srv.Demo()
	wrong := y.form(browser(t), "/sign-in", "name", d.Name, "password", "wrong")
	nobody := y.form(browser(t), "/sign-in", "name", "nobody", "password", d.Password)
	y.want(wrong, http.StatusUnauthorized, "")
	y.want(nobody, http.StatusUnauthorized, "")
	if strings.ReplaceAll(nobody.body, "nobody", d.Name) != wrong.body {
		t.Error("the page tells a name that nobody has from a wrong password")
	}
	desk := browser(t)
	a := y.form(desk, "/sign-in", "name", d.Name, "password", d.Password)
	if cookie := a.header.Get("Set-Cookie"); !strings.Contains(cookie, "HttpOnly") || !strings.Contains(cookie, "SameSite=Lax") {
		t.Errorf("cookie %q", cookie)
	}
	y.want(y.get(desk, "/shop"), http.StatusOK, "")
	y.clock.pass(days(30))
	y.want(y.get(desk, "/shop"), http.StatusSeeOther, "")
	if strings.Contains(y.log.String(), d.Password) {
		t.Error("the log holds the password")
	}
}

func TestSignOut(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	cookies := desk.Jar.Cookies(mustURL(t, at(y.srv)))
	y.want(y.form(desk, "/sign-out"), http.StatusSeeOther, "")
	desk.Jar.SetCookies(mustURL(t, at(y.srv)), cookies) // whoever kept the cookie gains nothing
	a := y.get(desk, "/shop")
	y.want(a, http.StatusSeeOther, "")
	if got := a.header.Get("Location"); got != "/sign-in" {
		t.Errorf("sent to %q, want /sign-in", got)
	}
}

func TestErrShopWithoutSignIn(t *testing.T) {
	y := open(t, nil)
	for _, path := range []string{"/shop", "/shop/phones", "/shop/jobs/x"} {
		a := y.get(browser(t), path)
		y.want(a, http.StatusSeeOther, "")
		if a.body != "" && strings.Contains(a.body, "Bramley") {
			t.Errorf("%s shows the shop", path)
		}
	}
	for _, path := range []string{"/shop/phones", "/shop/phones/x/end", "/shop/jobs/x/links", "/shop/jobs/x/links/y/end"} {
		y.want(y.form(browser(t), path), http.StatusUnauthorized, "")
	}
}

func TestErrCrossSite(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	p := y.joined()
	for _, site := range []string{"cross-site", "same-site"} {
		for _, path := range []string{"/shop/phones", "/sign-out", "/sign-in", "/look", "/setup", "/api/v1/join", "/api/v1/sync", "/shop/phones/" + string(p.device) + "/end"} {
			header := http.Header{"Sec-Fetch-Site": {site}, "Content-Type": {"application/x-www-form-urlencoded"}}
			y.want(y.do(desk, "POST", path, header, strings.NewReader("")), http.StatusForbidden, "")
		}
	}
	foreign := http.Header{"Origin": {"https://elsewhere.example"}, "Content-Type": {"application/x-www-form-urlencoded"}}
	y.want(y.do(desk, "POST", "/sign-out", foreign, strings.NewReader("")), http.StatusForbidden, "")
	own := http.Header{"Sec-Fetch-Site": {"same-origin"}, "Content-Type": {"application/x-www-form-urlencoded"}}
	y.want(y.do(desk, "POST", "/shop/phones", own, strings.NewReader("")), http.StatusOK, "")
	p.sync() // still joined
}

func TestLimiter(t *testing.T) {
	y := open(t, func(cfg *server.Config) { cfg.Burst = 5 })
	forged := func(i int) http.Header {
		ip := "203.0.113." + string(rune('0'+i))
		return http.Header{"Content-Type": {"application/json"}, "X-Forwarded-For": {ip}, "X-Real-Ip": {ip}, "Forwarded": {"for=" + ip}}
	}
	for i := range 5 {
		y.want(y.do(browser(t), "POST", "/api/v1/join", forged(i), strings.NewReader(`{}`)), http.StatusBadRequest, fault.Invalid)
	}
	a := y.do(browser(t), "POST", "/api/v1/join", forged(6), strings.NewReader(`{}`))
	y.want(a, http.StatusTooManyRequests, fault.TooMany)
	if wait := a.header.Get("Retry-After"); wait != "3" || !strings.Contains(a.body, "Wait 3 seconds, then try once more.") {
		t.Errorf("Retry-After %q, and %s; want 3 seconds in both", wait, a.body)
	}
	for _, path := range []string{"/sign-in", "/setup", "/look"} { // one purse for all that guess at secrets
		y.want(y.form(browser(t), path), http.StatusTooManyRequests, "")
	}
	y.want(y.get(browser(t), "/sign-in"), http.StatusOK, "")
	y.clock.pass(3 * time.Second) // as long as was said
	y.want(y.form(browser(t), "/sign-in"), http.StatusUnauthorized, "")
	y.want(y.form(browser(t), "/sign-in"), http.StatusTooManyRequests, "")
	y.clock.pass(days(1))
	y.want(y.do(browser(t), "POST", "/api/v1/join", forged(7), strings.NewReader(`{}`)), http.StatusBadRequest, fault.Invalid)
}
