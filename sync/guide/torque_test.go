package guide_test

import (
	"slices"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
)

func TestSpec(t *testing.T) {
	s := wren()
	link := s.Fastener("link_RL") // as if it were turned on by an angle
	link.Passes = append(link.Passes, sheet.Pass{ID: "turn", Kind: sheet.Angle}, sheet.Pass{ID: "back", Kind: sheet.BackOff})
	bare := s.Fastener("toe_link_RL")
	bare.Source = ""
	for i := range bare.Passes {
		bare.Passes[i].TorqueCNM, bare.Passes[i].TolCNM = 0, 0
	}
	given := &event.SpecGiven{Fastener: "toe_link_RL", Pass: "final", TorqueCNM: 7777, Source: "manual, page 9"}
	tests := map[string]struct {
		give          *event.SpecGiven
		f             event.FastenerID
		p             event.PassID
		torque, angle int64
		known         bool
	}{
		"final":                        {nil, "arm_inner_RL", "final", 9400, 0, true},
		"snug":                         {nil, "arm_inner_RL", "snug", 2000, 0, true},
		"half of 112 N·m":              {nil, "wheel_nuts_FL", "half", 5600, 0, true},
		"last round is the final":      {nil, "wheel_nuts_FL", "round", 11_200, 0, true},
		"angle not known":              {nil, "link_RL", "turn", 0, 0, false},
		"backing off needs none":       {nil, "link_RL", "back", 0, 0, true},
		"angle looked up":              {&event.SpecGiven{Fastener: "link_RL", Pass: "turn", AngleMdeg: 90_000, Source: "m"}, "link_RL", "turn", 0, 90_000, true},
		"final not known":              {nil, "toe_link_RL", "final", 0, 0, false},
		"snug by hand":                 {nil, "toe_link_RL", "snug", 0, 0, true},
		"final looked up":              {given, "toe_link_RL", "final", 7777, 0, true},
		"looked up for one, not all":   {given, "toe_link_RL", "snug", 0, 0, true},
		"looked up at another's place": {given, "arm_inner_RL", "final", 9400, 0, true},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			j := guidetest.New(t, s)
			if test.give != nil {
				j.Force(test.give)
			}
			f := s.Fastener(test.f)
			got, known := j.Guide().Spec(f, f.Pass(test.p))
			if got.TorqueCNM != test.torque || got.AngleMdeg != test.angle || known != test.known {
				t.Errorf("Spec = %+v, %v, want %d, %d, %v", got, known, test.torque, test.angle, test.known)
			}
			if known && got.TorqueCNM+got.AngleMdeg > 0 && got.Source == "" {
				t.Error("a number without a source")
			}
		})
	}
}

// TestHalfOfOdd: a share is rounded once, to the hundredth of a newton metre.
func TestHalfOfOdd(t *testing.T) {
	s := wren()
	nuts := s.Fastener("wheel_nuts_FL")
	for i := range nuts.Passes {
		if nuts.Passes[i].TorqueCNM > 0 {
			nuts.Passes[i].TorqueCNM = 11_201
		}
	}
	got, _ := guidetest.New(t, s).Guide().Spec(nuts, nuts.Pass("half"))
	if got.TorqueCNM != 5601 {
		t.Errorf("half of 112.01 N·m = %d, want 5601", got.TorqueCNM)
	}
}

func TestWrench(t *testing.T) {
	small := &event.ToolListed{Tool: "wrench_small", Have: true, LowCNM: 500, HighCNM: 6000}
	large := &event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: 4000, HighCNM: 20_000}
	away := &event.ToolListed{Tool: "wrench_large", LowCNM: 4000, HighCNM: 20_000}
	tests := map[string]struct {
		tools  []event.Payload
		torque int64
		want   event.ToolID
	}{
		"none here":            {nil, 5000, ""},
		"below both":           {[]event.Payload{small, large}, 499, ""},
		"lowest of the small":  {[]event.Payload{small, large}, 500, "wrench_small"},
		"both: the closer one": {[]event.Payload{large, small}, 5000, "wrench_small"},
		"highest of the small": {[]event.Payload{small, large}, 6000, "wrench_small"},
		"above the small":      {[]event.Payload{small, large}, 6001, "wrench_large"},
		"highest":              {[]event.Payload{small, large}, 20_000, "wrench_large"},
		"above both":           {[]event.Payload{small, large}, 20_001, ""},
		"closer, listed later": {[]event.Payload{&event.ToolListed{Tool: "wrench_small", Have: true, LowCNM: 500, HighCNM: 30_000}, large}, 9000, "wrench_large"},
		"lent away":            {[]event.Payload{small, away}, 9000, ""},
		"not a torque wrench":  {[]event.Payload{&event.ToolListed{Tool: "sockets", Have: true, LowCNM: 1, HighCNM: 20_000}}, 9000, ""},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			j := guidetest.New(t, wren())
			j.Force(test.tools...)
			if got := j.Guide().Wrench(test.torque); got != test.want {
				t.Errorf("Wrench(%d) = %q, want %q", test.torque, got, test.want)
			}
		})
	}
	out := map[event.FastenerID]bool{}
	for _, ref := range guidetest.New(t, wren()).Guide().OutOfRange() {
		out[ref.Fastener] = true
	}
	if all := len(wren().Fasteners); len(out) != all {
		t.Errorf("without a wrench %d of %d fasteners are out of range", len(out), all)
	}
}

// TestOutOfRangeOnTheWay: a wrench for the final torque may not go down to the share
// of it that an earlier pass asks for.
func TestOutOfRangeOnTheWay(t *testing.T) {
	s := wren()
	f := s.Fastener("wheel_nuts_FL")
	f.Pass("half").Share = 300
	j := guidetest.New(t, s)
	j.Force(&event.ToolListed{Tool: "wrench_large", Have: true, LowCNM: 4000, HighCNM: 20_000},
		&event.ToolListed{Tool: "wrench_small", Have: true, LowCNM: 500, HighCNM: 3359})
	want := sheet.PassRef{Fastener: f.ID, Pass: "half"}
	if got := j.Guide().OutOfRange(); !slices.Contains(got, want) {
		t.Errorf("no wrench goes to 33.6 N·m, and out of range are %v", got)
	}
	j.Force(&event.ToolListed{Tool: "wrench_small", Have: true, LowCNM: 500, HighCNM: 3360})
	if got := j.Guide().OutOfRange(); slices.Contains(got, want) {
		t.Errorf("a wrench goes to 33.6 N·m, and out of range are %v", got)
	}
}

func TestUnverified(t *testing.T) {
	for _, test := range []struct {
		spec guide.Spec
		want bool
	}{{guide.Spec{}, false}, {guide.Spec{Questioned: "high"}, true}, {guide.Spec{Questioned: "high", Confirmed: true}, false}} {
		if got := test.spec.Unverified(); got != test.want {
			t.Errorf("Unverified of %+v = %v", test.spec, got)
		}
	}
}
