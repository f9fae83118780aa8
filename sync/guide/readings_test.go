package guide_test

import (
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
)

// The demo's front targets: camber -1.5° ± 0.5°, ride height 355 ± 8 mm.
func TestJudge(t *testing.T) {
	camber := func(value, u95 int64) event.ReadingTaken {
		return event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, ValueMD: value, U95Mdeg: u95}
	}
	height := func(value, u95 int64) event.ReadingTaken {
		return event.ReadingTaken{Quantity: event.RideHeight, Corner: event.FR, ValueUM: value, U95UM: u95}
	}
	tests := map[string]struct {
		r    event.ReadingTaken
		want guide.Verdict
	}{
		"camber in the middle":       {camber(-1500, 200), guide.Met},
		"camber just inside":         {camber(-1800, 199), guide.Met},
		"camber across the limit":    {camber(-1900, 200), guide.TooClose},
		"camber at the limit":        {camber(-2000, 100), guide.TooClose},
		"camber across, outside":     {camber(-2100, 200), guide.TooClose},
		"camber surely outside":      {camber(-2300, 200), guide.NotMet},
		"camber of the other sign":   {camber(1500, 200), guide.NotMet},
		"ruler too coarse to tell":   {camber(-1500, 600), guide.TooClose},
		"height in the middle":       {height(355_000, 2000), guide.Met},
		"height across":              {height(362_000, 2000), guide.TooClose},
		"height surely low":          {height(340_000, 2000), guide.NotMet},
		"rear has its own target":    {event.ReadingTaken{Quantity: event.Camber, Corner: event.RL, ValueMD: -1250, U95Mdeg: 100}, guide.Met},
		"uncertainty does not shift": {camber(-1500, 0), guide.Met},
	}
	g := guidetest.New(t, wren()).Guide()
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			got := g.Judge(&test.r)
			if got != test.want || got.Words() == "" {
				t.Errorf("Judge = %q (%s), want %q", got, got.Words(), test.want)
			}
		})
	}
	r := camber(-1500, 1)
	if got := guidetest.New(t, own(t)).Guide().Judge(&r); got != guide.NoTarget {
		t.Errorf("without a target: %q", got)
	}
}

func TestStaleByTightening(t *testing.T) {
	j := at(t, wren(), "look_over")
	for _, corner := range event.Corners {
		if r := j.Guide().Latest(event.Camber, corner.Place()); r == nil || r.Purpose != event.Final || j.Guide().Stale(r) != "" {
			t.Errorf("last camber %s = %+v", corner, r)
		}
	}
	j.Do(j.Pass("camber_bolt_RL", "final"))
	for _, corner := range event.Corners {
		got := j.Guide().Stale(j.Guide().Latest(event.Camber, corner.Place()))
		if (got != "") != (corner == event.RL) {
			t.Errorf("after tightening the rear left camber bolt again, %s is stale: %q", corner, got)
		}
		if corner == event.RL && !strings.Contains(got, "Upper arm eccentric") {
			t.Errorf("reason %q does not name the fastener", got)
		}
	}
	if status, _ := j.Guide().Status(j.Sheet.Step("camber_final")); status == guide.Done {
		t.Error("the step that read camber is still done")
	}
	if got := at(t, wren(), "box").Guide().Latest(event.Camber, event.FL.Place()); got != nil {
		t.Errorf("Latest before any reading = %+v", got)
	}
	if got := at(t, wren(), "camber_set_FR").Guide().Latest(event.Camber, event.FL.Place()); got == nil || got.Purpose != event.Setting {
		t.Errorf("Latest before the final one = %+v, want the setting", got)
	}
}

func TestReadingWords(t *testing.T) {
	for got, want := range map[string]string{
		guide.ReadingWords(event.Camber, event.FL.Place()):                                          "camber, front left",
		guide.ReadingWords(event.RideHeight, ""):                                                    "ride height",
		guide.Value(&event.ReadingTaken{Quantity: event.RideHeight, ValueUM: 355_250, U95UM: 1000}): "355.2 ± 1.0 mm",
		guide.TargetWords(wren().Target(event.RideHeight, event.Front)):                             "355 ± 8 mm",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	for _, part := range []string{"-1.5", "0.15"} {
		if got := guide.Value(&event.ReadingTaken{Quantity: event.Camber, ValueMD: -1500, U95Mdeg: 150}); !strings.Contains(strings.ReplaceAll(got, "−", "-"), part) {
			t.Errorf("camber is written %q, want %q in it", got, part)
		}
	}
	if got := guide.Torque(9450); !strings.Contains(got, "94.5") {
		t.Errorf("Torque(9450) = %q", got)
	}
}
