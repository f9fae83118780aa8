package e2e

import (
	"strings"
	"testing"
)

// TestNoShop is a person with no shop and no connection: their own sheet from
// two layouts, each torque typed with its source.
func TestNoShop(t *testing.T) {
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	p.offlineReady()
	shop.stop()
	p.reload()
	p.tap("#own")
	p.fill("#f-vehicle", "My own car")
	p.fill("#f-kit", "Two front struts, two springs, two dampers")
	if _, err := p.page.Locator("#f-front").SelectOption(values("front_strut")); err != nil {
		t.Fatal(err)
	}
	if _, err := p.page.Locator("#f-rear").SelectOption(values("rear_separate")); err != nil {
		t.Fatal(err)
	}
	p.tap("#own-form button[type=submit]")
	for !p.has(`section.step[data-step=specs]`) {
		if !p.next() {
			t.Fatalf("the walk ends before the torques; on screen: %s", p.text("body"))
		}
	}
	if !p.has("#spec-form") {
		t.Fatalf("a sheet without torques does not ask for them: %s", p.text("body"))
	}

	t.Run("ErrNoSource", func(t *testing.T) {
		p.fill("#f-value", "110")
		p.tap("#spec-form .action")
		p.says("A torque needs its source.")
	})
	t.Run("ErrNotANumber", func(t *testing.T) {
		p.fill("#f-value", "a lot")
		p.fill("#f-source", "workshop manual, page 12")
		p.chooseUnit()
		p.tap("#spec-form .action")
		if got := p.text("#r-sheet"); got == "" {
			t.Error("a torque that is no number gave no message")
		}
		if got := p.value("#f-value"); got != "a lot" {
			t.Errorf("the half-typed value was lost: %q", got)
		}
	})
	t.Run("ErrNoUnit", func(t *testing.T) {
		p.fill("#f-value", "110")
		if _, err := p.page.Locator("#f-unit").SelectOption(values("")); err != nil {
			t.Fatal(err)
		}
		p.tap("#spec-form .action")
		p.says("The torque has no unit.")
	})
	p.chooseUnit()
	first := p.text("#spec-form .question")
	p.fill("#f-value", "110")
	p.fill("#f-source", "workshop manual, page 12")
	p.tap("#spec-form .action")
	if got := p.text("#spec-form .caution"); !strings.Contains(got, "110 N·m is 81.1 lbf·ft") {
		t.Errorf("the torque is not read back in both units: %q", got)
	}
	p.tap("#spec-form button[value=yes]")
	if got := p.text("#spec-form .question"); got == first {
		t.Errorf("after recording it the app still asks for %q: %s", first, p.text("body"))
	}
	for _, f := range p.fold().Specs {
		for _, spec := range f {
			if spec.TorqueCNM != 11000 || spec.Source != "workshop manual, page 12" {
				t.Errorf("recorded %d cN·m from %q", spec.TorqueCNM, spec.Source)
			}
		}
	}
	if got := len(p.fold().Specs); got != 1 {
		t.Errorf("%d torques were recorded, want the one that had its source", got)
	}
}

func (p *phone) says(want string) {
	p.t.Helper()
	if got := p.text("#r-sheet"); !strings.Contains(got, want) {
		p.t.Errorf("the message is %q, want %q", got, want)
	}
}

func (p *phone) chooseUnit() {
	p.t.Helper()
	if _, err := p.page.Locator("#f-unit").SelectOption(values("N·m")); err != nil {
		p.t.Fatal(err)
	}
}
