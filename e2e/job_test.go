package e2e

import (
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/job"
)

// kills are the steps at which the browser is killed in the middle of the job.
var kills = []event.StepID{"heights_before", "raise_step_front", "strut_in_FR", "spring_in_RL", "finals_RR"}

// TestWholeJob is the product in one test: joined at the shop, then days without
// a connection and five sudden deaths, then everything reaches the shop over a
// network that doubles and loses.
func TestWholeJob(t *testing.T) {
	t.Parallel() // the walks of whole jobs mostly wait, so they wait together
	shop := newShop(t)
	p := newPhone(t, shop)
	p.join()
	p.offlineReady()
	shop.stop()
	if err := p.ctx.SetOffline(true); err != nil {
		t.Fatal(err)
	}
	p.reload()
	p.openDemo()
	p.walkWithKills()

	p.narrow("the card of the whole job")
	st := p.fold()
	if st.Finished == nil || st.Up() || len(st.Lifts) != 2 {
		t.Fatalf("the job ended finished=%v up=%v lifts=%d", st.Finished != nil, st.Up(), len(st.Lifts))
	}
	if got := len(st.Fasteners); got < 40 {
		t.Errorf("%d fasteners went through their passes, want at least 40", got)
	}
	if gaps := event.Gaps(p.log()); len(gaps) != 0 {
		t.Errorf("the chain does not hold: %v", gaps)
	}

	shop.set(func() { shop.rough = true })
	shop.start(false)
	if err := p.ctx.SetOffline(false); err != nil {
		t.Fatal(err)
	}
	p.synced()
	if shop.lost == 0 || shop.twice == 0 {
		t.Errorf("the network was not rough: %d replies lost, %d batches doubled", shop.lost, shop.twice)
	}
	compare(t, p, shop)
	readByShop(t, p, shop)
}

// TestSecondDemo walks the other demo sheet: two knobs a damper, and four alike
// corners. Nothing is killed and nothing is lost here.
func TestSecondDemo(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.tap(`button[data-do=new_job]:has-text("Ostler Dart")`)
	p.fill("#f-vehicle", "Ostler Dart (invented)")
	p.tap("#start-form button[type=submit]")
	p.hurry("article.card")
	st := p.fold()
	if st.Finished == nil || st.Up() || len(st.Lifts) != 2 {
		t.Errorf("the job ended finished=%v up=%v lifts=%d", st.Finished != nil, st.Up(), len(st.Lifts))
	}
	if got := st.Clicks(event.RR, "rebound", event.Setting); got == nil || got.StopCount != 1 || got.From != "full_soft" {
		t.Errorf("the rebound clicks of the rear right are kept as %+v, want them with the sheet's rule of counting", got)
	}
}

// join takes the shop's invitation on the phone.
func (p *phone) join() {
	p.t.Helper()
	p.joinBy(strings.TrimPrefix(p.shop.invite, p.shop.url))
}

// joinBy joins with the link of an invitation.
func (p *phone) joinBy(link string) {
	p.t.Helper()
	p.open(link)
	p.wait(`() => document.querySelector("#join-form")`)
	p.fill("#f-name", "Test phone")
	p.tap("#join-form button[type=submit]")
	p.wait(`() => document.body.innerText.includes("belongs to Bramley Yard")`)
	p.tap("#dismiss")
	p.tap("#to-home")
}

func (p *phone) reload() {
	p.t.Helper()
	if _, err := p.page.Reload(); err != nil {
		p.t.Fatalf("reload without a connection: %v", err)
	}
	p.ready()
}

// restart kills the browser and opens the app again, still without a server.
func (p *phone) restart() {
	p.t.Helper()
	place, count := p.text("#r-main h1"), len(p.log())
	p.kill()
	p.launch()
	if err := p.ctx.SetOffline(true); err != nil {
		p.t.Fatal(err)
	}
	p.open("/")
	if got := p.text("#r-main h1"); got != place {
		p.t.Errorf("after the kill the app shows %q, want %q", got, place)
	}
	if got := len(p.log()); got != count {
		p.t.Errorf("after the kill %d events are there, want %d", got, count)
	}
}

func (p *phone) walkWithKills() {
	p.t.Helper()
	hands := sparing{hurried{p}, map[string]int{}}
	due := append([]event.StepID{}, kills...)
	for i := 0; ; i++ {
		if i > 1500 {
			p.t.Fatalf("the job does not end; on screen: %s", p.text("body"))
		}
		if len(due) > 0 && p.has(`section.step[data-step="`+string(due[0])+`"]`) {
			next(hands) // in the middle of the step, not at its door
			p.restart()
			due = due[1:]
		}
		if p.has("article.card") {
			break
		}
		if !next(hands) {
			p.t.Fatalf("nothing is asked; on screen: %s", p.text("body"))
		}
	}
	if len(due) > 0 {
		p.t.Errorf("the kills at %v were never reached", due)
	}
}

// synced waits until nothing waits, without a press.
func (p *phone) synced() {
	p.t.Helper()
	p.waitFor(`() => document.querySelector("#strip-sync")?.innerText.includes("All synced")`, 3*time.Minute)
}

// compare wants the same events and the same folded state, byte for byte.
func compare(t *testing.T, p *phone, shop *shopServer) {
	t.Helper()
	mine := p.log()
	theirs := shop.events(mine[0].Job)
	if len(theirs) != len(mine) {
		t.Fatalf("the server has %d events, the phone %d", len(theirs), len(mine))
	}
	for i := range mine {
		if mine[i].Line() != theirs[i].Line() {
			t.Fatalf("event %d differs:\nphone  %s\nserver %s", i, mine[i].Line(), theirs[i].Line())
		}
	}
	if got, want := p.state(), job.Fold(mine[0].Job, theirs).JSON(); got != want {
		t.Errorf("the phone's fold differs from the server's:\n%s\n%s", got, want)
	}
}

func readByShop(t *testing.T, p *phone, shop *shopServer) {
	t.Helper()
	desk := shop.staff()
	body, err := desk.Locator("body").InnerText()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(body, "Ostler Wren (invented)") || !strings.Contains(strings.ToLower(body), "finished") {
		t.Errorf("the list does not show the finished job:\n%s", body)
	}
	if err := desk.Locator(`a:has-text("Ostler Wren (invented)")`).First().Click(); err != nil {
		t.Fatal(err)
	}
	if err := desk.WaitForURL("**/shop/jobs/**"); err != nil {
		t.Fatal(err)
	}
	if body, err = desk.Locator("body").InnerText(); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"was released by the installer", "Lower arm to subframe, inner", "final", "Ride height", "Camber", "demo value, not for a real car"} {
		if !strings.Contains(body, want) {
			t.Errorf("the job's page does not say %q:\n%s", want, body)
		}
	}
	picture(t, desk, "desk-job")
}
