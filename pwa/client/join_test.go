package client_test

import (
	"strings"
	"testing"
	"time"

	"strutcard/sync/store"
)

// TestJoinHoldsNobodyUp: while the shop does not answer, the work goes on.
func TestJoinHoldsNobodyUp(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	asked, answer := make(chan bool), make(chan bool)
	p.page.http = func(_, path string, _ []byte, _ string) (int, string, []byte, error) {
		if path == "/api/v1/join" {
			asked <- true
			<-answer
		}
		return 200, "application/json", []byte(`{"token":"t","shop_name":"Bramley Yard"}`), nil
	}
	joined := make(chan error)
	go func() { joined <- p.c.Act(t.Context(), "join", map[string]string{"invite": "x", "name": "n"}) }()
	<-asked
	p.openDemo()
	p.must("note", "text", "while it hangs")
	close(answer)
	if err := <-joined; err != nil {
		t.Fatal(err)
	}
	if got := p.text("r-sheet"); !strings.Contains(got, "belongs to Bramley Yard now") {
		t.Errorf("after the answer the person is told %q", got)
	}
}

// TestJoinNoShop: an answer without a key is not the shop's, whatever its form.
func TestJoinNoShop(t *testing.T) {
	for _, body := range []string{`{}`, `null`, `{"token":"t"}`, `{"shop_name":"Free network"}`} {
		p := newPhone(t, store.NewMemory(time.Now))
		p.page.http = func(string, string, []byte, string) (int, string, []byte, error) {
			return 200, "application/json", []byte(body), nil
		}
		if err := p.act("join", "invite", "x", "name", "n"); err == nil {
			t.Errorf("%s was taken for a shop", body)
		}
		for _, name := range []string{"shop.token", "shop.name"} {
			if got, err := p.disk.Meta(t.Context(), name); got != "" || err != nil {
				t.Errorf("after %s the phone keeps %s %q (%v)", body, name, got, err)
			}
		}
		if got := p.text("r-sheet"); !strings.Contains(got, "Check whether this network wants a sign-in page") {
			t.Errorf("after %s the person is told %q", body, got)
		}
	}
}

// TestErrJoinNameless: phones without a name cannot be told apart when one is to be
// ended, so none joins; the invitation is not used up.
func TestErrJoinNameless(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	p.page.http = func(string, string, []byte, string) (int, string, []byte, error) {
		t.Error("the shop was asked")
		return 200, "application/json", []byte(`{"token":"t","shop_name":"A yard"}`), nil
	}
	if err := p.act("join", "invite", "x", "name", " "); err == nil {
		t.Error("a phone without a name joined")
	}
}
