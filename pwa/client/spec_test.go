package client_test

import (
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/store"
)

// TestKeepOnlyWhatWasAskedAbout: "The page says so: keep it" belongs to the number
// whose question was read, not to another one typed since.
func TestKeepOnlyWhatWasAskedAbout(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	_, hash := p.made(p.begin("front_strut", "twist_beam"))
	p.must("start_job", "sheet", hash, "vehicle", "My car")
	f := event.FastenerID("hose_bracket_FL")
	give := func(value, confirm string) job.Spec {
		p.must("spec", "fastener", string(f), "pass", "final", "value", value, "unit", "N·m", "source", "manual p. 3", "confirm", confirm)
		return p.state().Specs[f]["final"]
	}
	if got := give("108", "yes"); got.Confirmed || !strings.Contains(got.Questioned, "108 N·m") {
		t.Errorf("a number nobody was asked about is kept as %+v", got)
	}
	if got := give("300", "yes"); got.Confirmed {
		t.Errorf("the answer for 108 confirmed %d", got.TorqueCNM)
	}
	if got := give("300", "yes"); !got.Confirmed {
		t.Errorf("asked about and kept, and yet %+v", got)
	}
}
