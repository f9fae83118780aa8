package guide_test

import (
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/units"
)

// said is the preparation in words, by heading.
func said(g guide.Guide) map[string]string {
	out := map[string]string{}
	for _, s := range g.Prepare().Sections(g, units.Metric) {
		out[s.Title] = strings.Join(s.Lines, "\n")
	}
	return out
}

func prepared(t *testing.T, tools ...event.Payload) map[string]string {
	t.Helper()
	j := guidetest.New(t, wren())
	j.Force(tools...)
	return said(j.Guide())
}

func TestPrepare(t *testing.T) {
	large := &event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: 6000, HighCNM: 13_100}
	tests := map[string]struct {
		tools   []event.Payload
		heading string
		want    string // in it; "" for no such heading
	}{
		"no wrench yet":         {nil, "Torque wrenches that this sheet asks for", "One whose usable range holds 8 to 39 N·m."},
		"missing, snug":         {[]event.Payload{large}, "No wrench here can do these", "8 N·m, Strut top mount to body: front left, front right (snug)"},
		"no wrench, no missing": {nil, "No wrench here can do these", ""},
		"missing, grouped":      {[]event.Payload{large}, "No wrench here can do these", "front left, front right"},
		"missing, the torque":   {[]event.Payload{large}, "No wrench here can do these", "56 N·m, Wheel nuts: front left, front right, rear left, rear right (first stage)"},
		"to borrow":             {[]event.Payload{large}, "To borrow", "One whose usable range holds"},
		"all covered":           {[]event.Payload{&event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: 100, HighCNM: 30_000}}, "No wrench here can do these", ""},
		"tolerance not known":   {[]event.Payload{large}, "Not known of the tools", "its tolerance and class are not recorded"},
		"gauge not reversed":    {[]event.Payload{&event.ToolListed{Tool: "level", Have: true}}, "Gauges without a check", "Spirit level"},
		"gauge reversed":        {[]event.Payload{&event.ToolListed{Tool: "level", Have: true, Checked: "May"}}, "Gauges without a check", ""},
		"too weak":              {[]event.Payload{&event.ToolListed{Tool: "stands", Have: true, RatingG: 300_000}}, "Too weak", "Do not lift with it."},
		"strong":                {[]event.Payload{&event.ToolListed{Tool: "stands", Have: true, RatingG: 2_000_000}}, "Jack and stands", "Two axle stands, marked 2000 kg each"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			got, there := prepared(t, test.tools...)[test.heading]
			if there != (test.want != "") || !strings.Contains(got, test.want) {
				t.Errorf("under %q stands %q, want %q", test.heading, got, test.want)
			}
		})
	}
}

// TestPrepareAdapter: a torque above the range comes inside it with an adapter:
// 131 N·m on 480 mm with 50 mm is 131·480/530 = 118.6 N·m (arithmetic).
func TestPrepareAdapter(t *testing.T) {
	got := prepared(t, &event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: 1000, HighCNM: 12_500, LengthUM: 480_000, Label: "Long"},
		&event.ToolListed{Tool: "crowfoot", Have: true, Type: "adapter", Label: "Crowfoot", LengthUM: 50_000})
	if words := got["Only with an adapter: what to set"]; !strings.Contains(words, "131 N·m, Strut to knuckle, upper") || !strings.Contains(words, "Set 118.6 N·m on Long with Crowfoot.") {
		t.Errorf("only with an adapter: %q, want 131 N·m set to 118.6", words)
	}
}

func TestPrepareUnknownTorque(t *testing.T) {
	s := wren()
	for _, id := range []event.FastenerID{"link_RL", "link_RR"} {
		f := s.Fastener(id)
		for i := range f.Passes {
			f.Passes[i].TorqueCNM = 0
		}
	}
	words := said(guidetest.New(t, s).Guide())["Torque not known: look it up"]
	if !strings.Contains(words, "rear left, rear right") {
		t.Errorf("not known: %q, want both rear links in one line", words)
	}
}
