package client_test

import (
	"context"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
)

// shopThat answers a phone that joined: it has no events, and lists the demo
// sheets, the first of them as withdrawn when gone is not nil.
func shopThat(t *testing.T, gone *sheet.Withdrawal) func(method, path string, body []byte, token string) (int, string, []byte, error) {
	return func(method, path string, body []byte, _ string) (int, string, []byte, error) {
		var reply any
		switch path {
		case "/api/v1/sync":
			var req exchange.Request
			if err := json.Unmarshal(body, &req); err != nil {
				t.Error(err)
			}
			reply = exchange.Reply{Nonce: req.Nonce, Epoch: "e", ServerTime: 1} // no verdicts: events that wait do not go through
		case "/api/v1/sheets":
			type item struct {
				Hash      string            `json:"hash"`
				Withdrawn *sheet.Withdrawal `json:"withdrawn,omitempty"`
			}
			reply = []item{{string(sheet.Demo()[0].Hash()), gone}, {string(sheet.Demo()[1].Hash()), nil}}
		default:
			t.Errorf("%s %s was not expected", method, path)
		}
		out, err := json.Marshal(reply)
		return 200, "application/json", out, err
	}
}

func TestWithdrawnSheet(t *testing.T) {
	disk := store.NewMemory(time.Now)
	p := newPhone(t, disk)
	first, second := sheet.Demo()[0], sheet.Demo()[1]
	offered := func(p *phone, s *sheet.Sheet) bool { return strings.Contains(p.text("r-main"), s.Title) }
	if !offered(p, first) || !offered(p, second) {
		t.Fatalf("the demo sheets are not offered: %s", p.text("r-main"))
	}
	ctx := context.Background()
	for key, value := range map[string]string{"shop.token": "t", "shop.name": "A yard"} {
		if err := disk.SetMeta(ctx, key, value); err != nil {
			t.Fatal(err)
		}
	}
	p = newPhone(t, disk)
	p.page.http = shopThat(t, nil)
	p.must("sync")
	if !offered(p, first) {
		t.Error("a sheet that stands is not offered after a sync")
	}
	p.page.http = shopThat(t, &sheet.Withdrawal{Reason: "A torque is wrong.", Before: "box", At: 1})
	p.must("sync")
	if offered(p, first) || !offered(p, second) {
		t.Errorf("after the withdrawal these are offered: %s", p.text("r-main"))
	}
	err := p.act("start_job", "sheet", string(first.Hash()), "vehicle", "A car")
	if f := fault.Of(err); f == nil || f.Kind != fault.Blocked || !strings.Contains(f.Message, "A torque is wrong.") || f.Hint == "" {
		t.Errorf("a job with the withdrawn sheet: %v, want it refused with the reason", err)
	}

	// It is never forgotten: not at the next start, and not when another list comes.
	p = newPhone(t, disk)
	p.page.http = shopThat(t, nil)
	p.must("sync")
	if offered(p, first) {
		t.Error("the withdrawal was forgotten")
	}
}

// TestWithdrawnSheetOfOpenJob: the guide of a job that runs hears of it, too.
func TestWithdrawnSheetOfOpenJob(t *testing.T) {
	disk := store.NewMemory(time.Now)
	if err := disk.SetMeta(context.Background(), "shop.token", "t"); err != nil {
		t.Fatal(err)
	}
	p := newPhone(t, disk)
	p.openDemo()
	p.page.http = shopThat(t, &sheet.Withdrawal{Reason: "A torque is wrong.", At: 1})
	p.must("sync")
	if all := p.text("r-strip") + p.text("r-main") + p.text("r-bar"); !strings.Contains(all, "A torque is wrong.") {
		t.Errorf("the open job does not say that its sheet was withdrawn: %s", all)
	}
}
