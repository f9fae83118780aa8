package client_test

import (
	"strings"
	"testing"
	"time"

	"strutcard/sync/store"
)

// The words of a step stand first in the glossary; back leads to the same step, also when the
// app was closed in between.
func TestWordsOfAStep(t *testing.T) {
	disk := store.NewMemory(time.Now)
	p := newPhone(t, disk)
	p.openDemo()
	p.must("go", "step", "strut_in_FL") // looked at, not the step where the work is
	before := p.page.region("r-main")
	p.must("words")
	here, all, found := strings.Cut(p.text("r-main"), "All words")
	if !found || !strings.HasPrefix(here, "What the words mean On the screen before") || !strings.Contains(here, "knuckle The piece that carries the hub") || strings.Contains(here, "shackle") {
		t.Errorf("first stand other words than the step says:\n%s", here)
	}
	if !strings.HasPrefix(strings.TrimSpace(all), "adapter") || !strings.Contains(all, "wishbone An arm with two pivots") || !strings.Contains(all, "shackle") {
		t.Errorf("all words are:\n%s", all)
	}

	p = newPhone(t, disk)
	p.must("words") // pressed again, it is the same glossary of the same step
	if again, _, _ := strings.Cut(p.text("r-main"), "All words"); again != here {
		t.Errorf("after a restart it shows:\n%s", again)
	}
	do, _, _ := p.button("r-bar", "second")
	p.must(do)
	if after := p.page.region("r-main"); after != before {
		t.Errorf("back led to:\n%s", p.text("r-main"))
	}
}

// The words are also opened from the settings, without a job, and from the tally, a
// reading and a calculator; nothing is recorded.
func TestWordsFromElsewhere(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	back := func(want string) {
		t.Helper()
		if !strings.Contains(p.page.region("r-main"), `data-do="words"`) {
			t.Errorf("%q has no way to the words", want)
		}
		p.must("words")
		p.must("words_back")
		if text := p.text("r-main"); !strings.Contains(text, want) {
			t.Errorf("back led to:\n%s\nwant %q", text, want)
		}
	}
	p.must("sync_screen")
	back("Record and settings")
	p.must("method", "method", "caster_sweep")
	back("Wheel steered out and in")
	p.must("home")
	p.openDemo()
	entries := len(p.state().JSON())
	p.must("tally")
	back("Tally")
	p.must("take", "quantity", "camber", "place", "FL")
	back("Camber")
	p.must("card")
	if strings.Contains(p.page.region("r-main"), `data-do="words"`) {
		t.Error("the card, which is printed, has words below it")
	}
	if len(p.state().JSON()) != entries {
		t.Error("looking at words recorded something")
	}
}
