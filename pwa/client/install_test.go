package client_test

import (
	"strings"
	"testing"
	"time"

	"strutcard/pwa/client"
	"strutcard/sync/store"
)

// TestFirstMinute: who opens the app for the first time reads what it is, and one
// press leads through a whole job that needs no car, no account and no signal.
func TestFirstMinute(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	if got := p.text("r-main"); !strings.HasPrefix(got, "A suspension swap, step by step") {
		t.Fatalf("the first screen begins: %s", got)
	}
	presses, loose := 0, false
	for ; presses == 0 || p.state().Finished == nil; presses++ {
		if presses > 25 || !p.next() {
			t.Fatalf("after %d presses it stands at:\n%s\n%s", presses, p.text("r-main"), p.text("r-bar"))
		}
		loose = loose || strings.Contains(p.text("r-strip"), "1 not final")
	}
	if presses > 15 {
		t.Errorf("a look takes %d presses, want 15 at most", presses)
	}
	if !loose {
		t.Error("the strip never said that something is left half-tight on purpose")
	}
	if got := p.text("r-strip"); !strings.Contains(got, "Invented values") || strings.Contains(got, "not final") {
		t.Errorf("in the end the strip says %s", got)
	}
	p.must("home")
	if got := p.text("r-main"); strings.Contains(got, "A suspension swap, step by step") || !strings.Contains(got, "A bracket in a vice (invented)") {
		t.Errorf("the second time the first screen says: %s", got)
	}
	if _, _, ok := p.button("r-bar", "action"); ok {
		t.Errorf("the look is still what stands first: %s", p.text("r-bar"))
	}
}

// TestInstall: the way to the home screen is said once the phone is ready for no
// signal, and until somebody puts it off; in the settings it stays.
func TestInstall(t *testing.T) {
	said := func(p *phone) string { // what the block says, "" without it
		_, after, _ := strings.Cut(p.page.region("r-main"), `id="install-block"`)
		block, _, _ := strings.Cut(after, "</div>")
		return block
	}
	for _, test := range []struct {
		name, how, want, not string
		ready, alone         bool
	}{
		{"Prompt", "prompt", `data-do="install"`, "share button", true, false},
		{"Share", "share", "share button", `data-do="install"`, true, false},
		{"NotReady", "prompt", "", "", false, false},
		{"NoWay", "", "", "", true, false},
		{"ThereAlready", "prompt", "", "", true, true},
	} {
		t.Run(test.name, func(t *testing.T) {
			p := newPhone(t, store.NewMemory(time.Now))
			p.page.env = client.Env{Leader: true, OfflineReady: test.ready, Standalone: test.alone, Install: test.how}
			p.must("look")
			got := said(p)
			if (got == "") != (test.want == "") || !strings.Contains(got, test.want) || test.not != "" && strings.Contains(got, test.not) {
				t.Errorf("it says %q", got)
			}
			if apart := strings.Contains(p.text("r-main"), "Was there a record in the browser?"); apart != test.alone {
				t.Errorf("that the record may be elsewhere is said: %v", apart)
			}
		})
	}
	t.Run("NotNow", func(t *testing.T) {
		p := newPhone(t, store.NewMemory(time.Now))
		p.page.env = client.Env{Leader: true, OfflineReady: true, Install: "share"}
		p.openDemo()
		p.must("home")
		if got := said(p); !strings.Contains(got, "It starts empty there.") || !strings.Contains(got, "Not now") {
			t.Errorf("with a job it says %q", got)
		}
		p.must("no_install")
		if got := said(p); got != "" {
			t.Errorf("after it was put off it says %q", got)
		}
		p.must("sync_screen")
		if got := said(p); got == "" || strings.Contains(got, "Not now") {
			t.Errorf("the settings say %q", got)
		}
		p.page.env.Install = "prompt"
		p.must("install")
		if p.page.installs != 1 {
			t.Errorf("the browser was asked %d times", p.page.installs)
		}
	})
}
