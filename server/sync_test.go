package server_test

import (
	"bytes"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/golang-jwt/jwt/v5"

	"strutcard/server"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

func outcomes(r exchange.Reply) (out []store.Outcome) {
	for _, v := range r.Verdicts {
		out = append(out, v.Outcome)
	}
	return out
}

func same(got []store.Outcome, want ...store.Outcome) bool {
	if len(got) != len(want) {
		return false
	}
	for i := range want {
		if got[i] != want[i] {
			return false
		}
	}
	return true
}

func TestSyncTwice(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	lines := notes(t, p.device, 2)
	first := p.sync(lines...)
	if got := outcomes(first); !same(got, store.Stored, store.Stored) {
		t.Errorf("first: %v", got)
	}
	if first.Nonce != "n" || first.Epoch == "" || first.ServerTime != y.clock.now().UnixMilli() || len(first.Events) != 0 {
		t.Errorf("reply %+v lacks nonce, epoch or time, or repeats what was just sent", first)
	}
	if r := p.sync().Events[0]; r.Actor != "device:"+string(p.device) || r.Received != y.clock.now().UnixMilli() || r.Event.Line() != lines[0] {
		t.Errorf("record %+v", r)
	}
	again := p.sync(lines...)
	if got := outcomes(again); !same(got, store.Duplicate, store.Duplicate) {
		t.Errorf("again: %v", got)
	}
	if again.Cursor != first.Cursor || len(p.sync().Events) != 2 {
		t.Errorf("after a repeat the log goes up to %d, want 2 events up to %d", again.Cursor, first.Cursor)
	}
}

// TestSyncAgainAfterMonths: an event is known for ever, not for a day (pitfall 51).
func TestSyncAgainAfterMonths(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	lines := notes(t, p.device, 2)
	p.sync(lines...)
	y.clock.pass(days(90))
	if got := outcomes(p.sync(lines...)); !same(got, store.Duplicate, store.Duplicate) {
		t.Errorf("after 90 days: %v, want duplicates", got)
	}
	if got := p.sync().Events; len(got) != 2 {
		t.Errorf("%d events are stored, want each once", len(got))
	}
}

func TestSyncBrokenEventAmongGood(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	lines := notes(t, p.device, 2)
	sameID := strings.Replace(lines[0], string(p.device), string(newDevice()), 1)
	got := p.sync(`{"id":"x"}`, lines[0], sameID, lines[1])
	if o := outcomes(got); !same(o, store.Refused, store.Stored, store.Refused, store.Stored) {
		t.Fatalf("verdicts %v", o)
	}
	if got.Verdicts[0].Reason == nil || got.Verdicts[2].Reason == nil || got.Verdicts[2].Reason.Kind != fault.Conflict {
		t.Errorf("refusals without a reason: %+v", got.Verdicts)
	}
}

func TestSyncSeesOwnJobsOnly(t *testing.T) {
	y := open(t, nil)
	a := y.joined()
	b := y.join(y.invite(y.staff()), newDevice())
	a.sync(notes(t, a.device, 3)...)
	b.sync(notes(t, b.device, 1)...)
	if got := b.sync(); len(got.Events) != 1 {
		t.Errorf("another phone sees %d events, want its own one", len(got.Events))
	}
}

func TestErrSyncTooLarge(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	line := notes(t, p.device, 1)[0]
	body := []byte(`{"nonce":"n","device":"` + string(p.device) + `","pad":"` + strings.Repeat("x", exchange.MaxBytes+64<<10) + `","events":[` + line + `]}`)
	y.want(y.raw("POST", "/api/v1/sync", p.token, body), http.StatusRequestEntityTooLarge, fault.TooLarge)
	// The same without a Content-Length, as a stream.
	header := http.Header{"Content-Type": {"application/json"}, "Authorization": {"Bearer " + p.token}}
	y.want(y.do(browser(t), "POST", "/api/v1/sync", header, struct{ *bytes.Buffer }{bytes.NewBuffer(body)}), http.StatusRequestEntityTooLarge, fault.TooLarge)
	if got := p.sync(); len(got.Events) != 0 {
		t.Errorf("%d events stored, want none", len(got.Events))
	}
}

func TestErrSyncTooMany(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	y.want(y.call("POST", "/api/v1/sync", p.token, p.request(notes(t, p.device, exchange.MaxEvents+1)...)), http.StatusRequestEntityTooLarge, fault.TooLarge)
	if got := p.sync(); len(got.Events) != 0 {
		t.Errorf("%d events stored, want none", len(got.Events))
	}
}

func TestErrSyncToken(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	claims := jwt.MapClaims{"iss": "strutcard", "sub": string(p.device), "jti": "x", "exp": y.clock.now().Add(time.Hour).Unix()}
	none, err := jwt.NewWithClaims(jwt.SigningMethodNone, claims).SignedString(jwt.UnsafeAllowNoneSignatureType)
	if err != nil {
		t.Fatal(err)
	}
	ours := jwt.NewWithClaims(jwt.SigningMethodHS256, claims)
	otherKey, err := ours.SignedString([]byte(strings.Repeat("k", 32)))
	if err != nil {
		t.Fatal(err)
	}
	foreign := open(t, nil).joined().token
	for name, token := range map[string]string{"none given": "", "rubbish": "abc", "alg none": none, "other key": otherKey, "another server's": foreign} {
		t.Run(name, func(t *testing.T) {
			y := y.in(t)
			y.want(y.call("POST", "/api/v1/sync", token, p.request(notes(t, p.device, 1)...)), http.StatusUnauthorized, fault.SignIn)
		})
	}
	if got := p.sync(); len(got.Events) != 0 {
		t.Errorf("%d events stored without a token, want none", len(got.Events))
	}
}

// TestSyncRenewsToken: a phone that syncs now and then never runs out, and a
// reply that is lost costs it nothing.
func TestSyncRenewsToken(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	if got := p.sync(); got.Token != "" {
		t.Error("a token of today is renewed")
	}
	y.clock.pass(days(31))
	p.sync() // its reply may have been lost
	fresh := p.sync().Token
	if fresh == "" {
		t.Fatal("a token of last month is not renewed")
	}
	y.clock.pass(days(380))
	y.want(y.call("POST", "/api/v1/sync", p.token, p.request()), http.StatusUnauthorized, fault.SignIn)
	phone{y, p.device, fresh}.sync()
}

func TestErrSyncExpiredToken(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	y.clock.pass(days(399))
	p.sync()
	y.clock.pass(days(2))
	y.want(y.call("POST", "/api/v1/sync", p.token, p.request()), http.StatusUnauthorized, fault.SignIn)

	// The same phone comes back with a fresh invitation and its old token.
	ask := map[string]string{"invitation": y.invite(y.staff()), "device": string(p.device), "name": "Ann's phone"}
	y.want(y.call("POST", "/api/v1/join", open(t, nil).joined().token, ask), http.StatusConflict, fault.Conflict)
	a := y.call("POST", "/api/v1/join", p.token, ask)
	y.want(a, http.StatusOK, "")
	reply, err := decode[struct {
		Token string `json:"token"`
	}]([]byte(a.body))
	if err != nil {
		t.Fatal(err)
	}
	back := phone{y, p.device, reply.Token}
	back.sync(notes(t, p.device, 1)...)
	y.want(y.call("POST", "/api/v1/sync", p.token, p.request()), http.StatusUnauthorized, fault.SignIn)
}

// TestSyncCarries: a phone may bring what another one wrote, which may be broken
// or lost; the record says who brought it. It then reads that whole job.
func TestSyncCarries(t *testing.T) {
	y := open(t, nil)
	a, b := y.joined(), y.join(y.invite(y.staff()), newDevice())
	lines := notes(t, a.device, 3)
	a.sync(lines[0])
	if got := outcomes(b.sync(lines[1], lines[0])); !same(got, store.Stored, store.Duplicate) {
		t.Fatalf("carried: %v", got)
	}
	got := b.sync()
	if len(got.Events) != 2 || got.Events[0].Actor != "device:"+string(a.device) || got.Events[1].Actor != "device:"+string(b.device) || got.Late == "" {
		t.Errorf("after carrying, %+v", got)
	}
	a.sync(lines[2])
}

func TestErrSyncVersion(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	req := p.request(notes(t, p.device, 1)...)
	req.V = exchange.Version + 1
	y.want(y.call("POST", "/api/v1/sync", p.token, req), http.StatusUpgradeRequired, fault.Outdated)
	req.V = -1
	y.want(y.call("POST", "/api/v1/sync", p.token, req), http.StatusUpgradeRequired, fault.Outdated)
	if got := p.sync(); len(got.Events) != 0 {
		t.Errorf("%d events stored of a version that is not known", len(got.Events))
	}
}

func TestErrSyncRevoked(t *testing.T) {
	y := open(t, nil)
	p, desk := y.joined(), y.staff()
	p.sync(notes(t, p.device, 1)...)
	y.want(y.form(desk, "/shop/phones/"+string(p.device)+"/end"), http.StatusSeeOther, "")
	for _, path := range []string{"/api/v1/sync", "/api/v1/sheets/" + strings.Repeat("a", 64)} {
		method := map[bool]string{true: "POST", false: "PUT"}[path == "/api/v1/sync"]
		y.want(y.call(method, path, p.token, p.request()), http.StatusUnauthorized, fault.SignIn)
	}
	// With a fresh invitation the same phone may come back; the old token may not.
	back := y.join(y.invite(desk), p.device)
	back.sync()
	y.want(y.call("POST", "/api/v1/sync", p.token, p.request()), http.StatusUnauthorized, fault.SignIn)
}

func TestErrSyncNotJSON(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	for kind, body := range map[string]string{"text/plain": `{"nonce":"n"}`, "": `{}`, "application/json": `{"nonce":`} {
		header := http.Header{"Content-Type": {kind}, "Authorization": {"Bearer " + p.token}}
		y.want(y.do(browser(t), "POST", "/api/v1/sync", header, strings.NewReader(body)), http.StatusBadRequest, fault.Invalid)
	}
}

// A lost reply is the commonest fault of a phone in a garage.
func TestSyncAfterLostReply(t *testing.T) {
	var lose atomic.Bool
	y := open(t, func(cfg *server.Config) {
		cfg.Wrap = func(next http.Handler) http.Handler {
			return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				if lose.Load() {
					next.ServeHTTP(&deaf{header: http.Header{}}, r)
					panic(http.ErrAbortHandler)
				}
				next.ServeHTTP(w, r)
			})
		}
	})
	p := y.joined()
	lines := notes(t, p.device, 2)
	lose.Store(true)
	req, err := http.NewRequest("POST", at(y.srv)+"/api/v1/sync", strings.NewReader(
		`{"nonce":"n","device":"`+string(p.device)+`","events":[`+strings.Join(lines, ",")+`]}`))
	if err != nil {
		t.Fatal(err)
	}
	req.Header = http.Header{"Content-Type": {"application/json"}, "Authorization": {"Bearer " + p.token}}
	if res, err := browser(t).Do(req); err == nil {
		_ = res.Body.Close()
		t.Fatal("the reply was not lost")
	}
	lose.Store(false)
	if got := outcomes(p.sync(lines...)); !same(got, store.Duplicate, store.Duplicate) {
		t.Errorf("after a lost reply: %v, want duplicates", got)
	}
}

// deaf takes a reply and drops it.
type deaf struct{ header http.Header }

func (d *deaf) Header() http.Header         { return d.header }
func (d *deaf) Write(p []byte) (int, error) { return len(p), nil }
func (d *deaf) WriteHeader(int)             {}

func TestJoin(t *testing.T) {
	y := open(t, nil)
	desk := y.staff()
	t.Run("AgainAfterLostReply", func(t *testing.T) {
		y := y.in(t)
		code, device := y.invite(desk), newDevice()
		y.join(code, device)
		y.join(code, device).sync()
	})
	t.Run("ErrAnotherPhone", func(t *testing.T) {
		y := y.in(t)
		code := y.invite(desk)
		y.join(code, newDevice())
		y.want(y.tryJoin(code, newDevice()), http.StatusConflict, fault.Conflict)
	})
	t.Run("ErrNameOfPhoneInUse", func(t *testing.T) {
		y := y.in(t)
		victim := y.join(y.invite(desk), newDevice())
		y.want(y.tryJoin(y.invite(desk), victim.device), http.StatusConflict, fault.Conflict)
		victim.sync()
	})
	t.Run("ErrRevokedCannotUseItAgain", func(t *testing.T) {
		y := y.in(t)
		code, device := y.invite(desk), newDevice()
		y.join(code, device)
		y.form(desk, "/shop/phones/"+string(device)+"/end")
		y.want(y.tryJoin(code, device), http.StatusConflict, fault.Conflict)
	})
	t.Run("ErrUnknown", func(t *testing.T) {
		y := y.in(t)
		y.want(y.tryJoin("nonsense", newDevice()), http.StatusNotFound, fault.NotFound)
	})
	t.Run("ErrDevice", func(t *testing.T) {
		y := y.in(t)
		for _, device := range []event.DeviceID{"", "x", event.DeviceID(strings.ToUpper(string(newDevice())))} {
			y.want(y.tryJoin(y.invite(desk), device), http.StatusBadRequest, fault.Invalid)
		}
	})
	t.Run("ErrExpired", func(t *testing.T) {
		y := y.in(t)
		code := y.invite(desk)
		y.clock.pass(days(7))
		y.want(y.tryJoin(code, newDevice()), http.StatusNotFound, fault.NotFound)
	})
}

func TestJoinLinkGetChangesNothing(t *testing.T) {
	y := open(t, nil)
	code := fragment(y.srv.InvitationURL())
	for range 50 {
		y.get(browser(t), "/join")
		y.get(browser(t), "/join?id="+code)
		y.do(browser(t), "HEAD", "/join", nil, nil)
		y.get(browser(t), "/api/v1/join?invitation="+code)
	}
	y.join(code, newDevice())
}
