package e2e

import (
	"strings"
	"testing"
	"time"
)

// TestNoShop is a person with no shop and no connection: their own sheet for one
// axle, with some torques typed beforehand and the rest in the job.
func TestNoShop(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	p.offlineReady()
	shop.stop()
	p.reload()
	p.ownSheet()
	t.Run("Slip", p.ownSlip)
	p.ownTorque("wheel_nuts", "M12x1.5", "112")
	p.ownTorque("damper_lower_rear", "M12", "87")
	p.narrow("own sheet")
	p.tap("#own-make")
	p.tap("#own-job")
	if got := p.text("#r-main .target"); !strings.Contains(got, "6 known, 0 unverified") {
		t.Errorf("before the job it says %q", got)
	}
	p.narrow("new job")
	p.tap("#start-form button[type=submit]")

	typed := false
	for i := 0; !p.has("article.card"); i++ {
		switch {
		case i > 400:
			t.Fatalf("the job does not end; on screen: %s", p.text("body"))
		case p.has("#spec-form") && !typed:
			t.Run("Spec", p.firstSpec)
			typed = true
		case p.has("#spec-form"):
			p.spec("40")
		case !next(hurried{p}):
			t.Fatalf("the walk ends too soon; on screen: %s", p.text("body"))
		}
	}
	st := p.fold()
	for id := range st.Specs {
		for _, known := range []string{"wheel_nuts", "damper_lower", "sensor_bracket"} {
			if strings.HasPrefix(string(id), known) {
				t.Errorf("the torque of %s was typed beforehand, and asked for again", id)
			}
		}
	}
	if len(st.Specs) == 0 || len(st.Lifts) != 1 {
		t.Errorf("%d torques were looked up in the job, %d lifts", len(st.Specs), len(st.Lifts))
	}
}

// ownSheet begins an own sheet for the rear axle.
func (p *phone) ownSheet() {
	p.t.Helper()
	p.tap("#own")
	p.fill("#f-vehicle", "My own car")
	p.fill("#f-kit", "Two rear springs, two dampers")
	p.pick("#f-front", "none")
	p.pick("#f-rear", "twist_beam")
	p.tap("#own-form .action")
}

func (p *phone) pick(selector, value string) {
	p.t.Helper()
	if _, err := p.page.Locator(selector).SelectOption(values(value)); err != nil {
		p.t.Fatalf("choose %s in %s: %v", value, selector, err)
	}
}

// ownTorque types the torque of one kind of fastener into the own sheet.
func (p *phone) ownTorque(kind, thread, value string) {
	p.t.Helper()
	p.tap(`[data-form="torque.` + kind + `"]`)
	p.fill("#f-thread", thread)
	p.fill("#f-torque", value)
	p.pick("#f-unit", "N·m")
	p.fill("#f-source", "workshop manual, page 12")
	p.tap("#own-form .action")
}

// ownSlip types lbf·in as lbf·ft, kills the app over it, and settles it.
func (p *phone) ownSlip(t *testing.T) {
	p.tap(`[data-form="torque.sensor_bracket_rear"]`)
	p.fill("#f-thread", "M6")
	p.fill("#f-torque", "80")
	time.Sleep(time.Second) // a person pauses; what is typed is kept within half a second
	p.reload()
	if got := p.value("#f-torque"); got != "80" {
		t.Errorf("after a restart the half-typed torque is %q", got)
	}
	p.pick("#f-unit", "lbf·ft")
	p.fill("#f-source", "workshop manual, page 9")
	p.tap("#own-form .action")
	if got := p.text("#own-form .caution"); !strings.Contains(got, "ten times too much") {
		t.Errorf("80 lbf·ft on an M6 is not asked about: %q", got)
	}
	p.narrow("own question")
	p.tap("#own-back")
	if got := p.text("#own-open"); !strings.Contains(got, "unverified") {
		t.Errorf("it is not marked as unverified: %q", got)
	}
	p.tap(`[data-form="torque.sensor_bracket_rear"]`)
	p.pick("#f-unit", "N·m")
	p.fill("#f-torque", "9")
	p.tap("#own-form .action")
	if p.has("#own-form") || !strings.Contains(p.text(`[data-form="torque.sensor_bracket_rear"]`), "M6: 9 N·m. workshop manual, page 9") {
		t.Errorf("typed anew it says %s", p.text("#r-main"))
	}
}

// firstSpec looks up a torque in the job, with every slip on the way.
func (p *phone) firstSpec(t *testing.T) {
	t.Run("ErrNoSource", func(t *testing.T) {
		p.fill("#f-value", "40")
		p.tap("#spec-form .action")
		p.says("A torque needs its source.")
	})
	t.Run("ErrNotANumber", func(t *testing.T) {
		p.fill("#f-value", "a lot")
		p.fill("#f-source", "workshop manual, page 12")
		p.pick("#f-unit", "N·m")
		p.tap("#spec-form .action")
		if got := p.text("#r-sheet"); got == "" {
			t.Error("a torque that is no number gave no message")
		}
		if got := p.value("#f-value"); got != "a lot" {
			t.Errorf("the half-typed value was lost: %q", got)
		}
	})
	t.Run("ErrNoUnit", func(t *testing.T) {
		p.fill("#f-value", "40")
		p.pick("#f-unit", "")
		p.tap("#spec-form .action")
		p.says("The torque has no unit.")
	})
	first := p.text("#spec-form .question")
	p.spec("40")
	if p.has("#spec-form") && p.text("#spec-form .question") == first {
		t.Errorf("after recording it the app still asks for %q: %s", first, p.text("body"))
	}
	if got := len(p.fold().Specs); got != 1 {
		t.Errorf("%d torques were recorded, want the one that had its source", got)
	}
}

// spec gives the torque that the job asks for, and confirms what is read back.
func (p *phone) spec(value string) {
	p.t.Helper()
	p.pace()
	p.fill("#f-value", value)
	p.pick("#f-unit", "N·m")
	p.fill("#f-source", "workshop manual, page 12")
	p.tap("#spec-form .action")
	if !p.has("#spec-form button[value=yes]") {
		return
	}
	if got := p.text("#spec-form .caution"); !strings.Contains(got, value+" N·m is 29.5 lbf·ft") {
		p.t.Errorf("the torque is not read back in both units: %q", got)
	}
	p.tap("#spec-form button[value=yes]")
}

func (p *phone) says(want string) {
	p.t.Helper()
	if got := p.text("#r-sheet"); !strings.Contains(got, want) {
		p.t.Errorf("the message is %q, want %q", got, want)
	}
}
