package server_test

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"time"

	"strutcard/server"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

// target is a server that is sent whatever a fuzzer thinks of, with what somebody
// who may do everything proves themselves by.
type target struct {
	http   http.Handler
	cookie string
	token  string
}

func aim(f *testing.F) *target {
	f.Helper()
	g := &target{}
	srv, err := server.New(server.Config{Addr: "127.0.0.1:0", DataDir: f.TempDir(), Demo: true, Burst: 1 << 30,
		Wrap: func(next http.Handler) http.Handler { g.http = next; return next }})
	if err != nil {
		f.Fatal(err)
	}
	if err := srv.Start(); err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() {
		if err := srv.Close(); err != nil {
			f.Errorf("close: %v", err)
		}
	})
	d := srv.Demo()
	in := g.send("POST", "/sign-in", form, url.Values{"name": {d.Name}, "password": {d.Password}}.Encode(), nil)
	g.cookie, _, _ = strings.Cut(in.Header().Get("Set-Cookie"), ";")
	joining, err := json.Marshal(map[string]string{"invitation": fragment(srv.InvitationURL()), "device": storetest.NewID[string](), "name": "a phone"})
	if err != nil {
		f.Fatal(err)
	}
	var joined struct {
		Token string `json:"token"`
	}
	reply := g.send("POST", "/api/v1/join", call, string(joining), nil)
	if err := json.Unmarshal(reply.Body.Bytes(), &joined); err != nil || joined.Token == "" || g.cookie == "" {
		f.Fatalf("nobody got in: %v, %d %s", err, reply.Code, reply.Body)
	}
	g.token = joined.Token
	return g
}

func (g *target) send(method, path, kind, body string, header http.Header) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	r.Header.Set("Content-Type", kind)
	r.Header.Set("Cookie", g.cookie)
	r.Header.Set("Authorization", "Bearer "+g.token)
	for name, values := range header {
		r.Header[name] = values
	}
	w := httptest.NewRecorder()
	g.http.ServeHTTP(w, r)
	return w
}

// FuzzSync: whatever a phone sends, the server neither falls over nor loses count.
func FuzzSync(f *testing.F) {
	g := aim(f)
	whole, err := json.Marshal(exchange.Request{V: exchange.Version, Nonce: "n", Events: []json.RawMessage{json.RawMessage(lineOf(f)), json.RawMessage(`{"id":"x"}`)}})
	if err != nil {
		f.Fatal(err)
	}
	for _, seed := range []string{string(whole), `{}`, `{"v":9}`, `{"events":[1,null,"a",{}]}`, `{"cursor":-1,"head":-9223372036854775808,"max":-1}`, `[`, ``, `{"events":[` + lineOf(f) + `],"epoch":"e","late":"l"}`} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, body string) {
		w := g.send("POST", "/api/v1/sync", call, body, nil)
		var req exchange.Request
		var reply exchange.Reply
		switch {
		case w.Code >= 500:
			t.Fatalf("status %d: %s", w.Code, w.Body)
		case w.Code != http.StatusOK:
			return
		}
		if err := json.Unmarshal([]byte(body), &req); err != nil {
			t.Fatalf("what is not JSON was taken: %v", err)
		}
		if err := json.Unmarshal(w.Body.Bytes(), &reply); err != nil || len(reply.Verdicts) != len(req.Events) {
			t.Fatalf("%d verdicts for %d events (%v)", len(reply.Verdicts), len(req.Events), err)
		}
		for _, v := range reply.Verdicts {
			if v.Outcome == store.Refused && (v.Reason == nil || v.Reason.Message == "" || v.Reason.Hint == "") {
				t.Fatalf("refused without words: %+v", v)
			}
		}
	})
}

func lineOf(f *testing.F) string {
	f.Helper()
	return storetest.Notes(f, storetest.NewID[event.JobID](), newDevice(), 1)[0].Line()
}

// FuzzForms: whatever a form of the desk is sent, by somebody who may do everything
// or with a code from a link, is answered with words and not with a failure.
func FuzzForms(f *testing.F) {
	g := aim(f)
	copied := g.send("POST", "/shop/sheets/"+string(sheet.Demo()[0].Hash())+"/copy", form, "", nil)
	draft := copied.Header().Get("Location")
	if !strings.HasPrefix(draft, "/shop/drafts/") {
		f.Fatalf("no draft: %d %s", copied.Code, copied.Body)
	}
	paths := []string{"/setup", "/welcome", "/password", "/look", "/shop/drafts", draft + "/edit/head", draft + "/edit/steps/0", draft + "/edit/fasteners", draft + "/confirm", draft + "/drop",
		draft + "/publish", "/shop/staff", "/shop/staff/x/roles", "/shop/data/keep", "/shop/jobs/x/links", "/shop/jobs/x/delete", "/shop/me/sessions/x/end"}
	for i := range paths {
		for _, body := range []string{"token=x&name=y&password=short&role=author&days=1&revision=1&op=save", "", "%", "a;b", "revision=-1&op=add&title=%00",
			"revision=9223372036854775808", "op=save&json=%7B%7D&revision=1", "role=&role=king"} {
			f.Add(uint8(i), body)
		}
	}
	f.Fuzz(func(t *testing.T, which uint8, body string) {
		path := paths[int(which)%len(paths)]
		if w := g.send("POST", path, form, body, nil); w.Code >= 500 && w.Code != http.StatusServiceUnavailable || w.Code < 400 && w.Body.Len() == 0 && w.Header().Get("Location") == "" {
			t.Fatalf("%s: status %d: %s", path, w.Code, w.Body)
		}
	})
}

// FuzzPieceHeaders: what stands before a piece of a photo comes from outside too.
func FuzzPieceHeaders(f *testing.F) {
	g := aim(f)
	chain := event.Chain{Job: storetest.NewID[event.JobID](), Device: newDevice()}
	hash := strings.Repeat("0f", 32)
	e, err := chain.Seal(storetest.NewID[event.ID](), time.UnixMilli(1), &event.PhotoTaken{SHA256: hash, Bytes: 900_000, Width: 4, Height: 3})
	if err != nil {
		f.Fatal(err)
	}
	if w := g.send("POST", "/api/v1/sync", call, `{"v":1,"events":[`+e.Line()+`]}`, nil); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), `"stored"`) {
		f.Fatalf("no record names the picture: %d %s", w.Code, w.Body)
	}
	for _, seed := range [][3]string{{"", piece, hash}, {"x0", piece, hash}, {"0", piece, hash}, {"5", piece, hash}, {"-1", piece, hash}, {"9223372036854775808", piece, hash}, {"1e3", "a/b;c", hash}, {"", "", hash},
		{"0", "application/octet-stream; q=\"", hash}, {"0", piece, ".."}, {"0", piece, strings.ToUpper(hash)}, {"0", piece, "%00"}} {
		f.Add(seed[0], seed[1], seed[2])
	}
	f.Fuzz(func(t *testing.T, offset, kind, hash string) {
		header := http.Header{"Upload-Offset": {offset}, "Content-Type": {kind}}
		w := g.send("PATCH", "/api/v1/photos/"+url.PathEscape(hash), piece, "bytes", header)
		at, err := strconv.ParseInt(offset, 10, 64)
		switch {
		case w.Code == http.StatusNoContent && (err != nil || at < 0):
			t.Fatalf("a piece at %q was taken", offset)
		case w.Code != http.StatusNoContent && (w.Code < 400 || w.Code >= 500):
			t.Fatalf("status %d: %s", w.Code, w.Body)
		}
	})
}

// FuzzProof: no cookie and no token that anybody makes up opens anything.
func FuzzProof(f *testing.F) {
	g := aim(f)
	name, _, _ := strings.Cut(g.cookie, "=")
	for _, seed := range []string{"", "x", "=", `"`, g.cookie[:len(g.cookie)-1], g.token[:len(g.token)-1], strings.Repeat("a", 5000), "a.b.c", "eyJhbGciOiJub25lIn0.e30."} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, made string) {
		if strings.Contains(g.cookie, made) && len(made) >= 22 || made == g.token {
			return // the real one
		}
		proof := http.Header{"Cookie": {name + "=" + made, made}, "Authorization": {"Bearer " + made}}
		if w := g.send("GET", "/shop", form, "", proof); w.Header().Get("Location") != "/sign-in" {
			t.Fatalf("opens the shop: %d", w.Code)
		}
		if w := g.send("POST", "/api/v1/sync", call, "{}", proof); w.Code != http.StatusUnauthorized {
			t.Fatalf("opens the log: %d", w.Code)
		}
	})
}
