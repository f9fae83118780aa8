package guide_test

import (
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
)

func says(lines []string, what string) bool {
	return strings.Contains(strings.ToLower(strings.Join(lines, "\n")), strings.ToLower(what))
}

func TestParking(t *testing.T) {
	t.Run("UpAndLoose", func(t *testing.T) {
		j := guidetest.New(t, sheet.Demo()[0])
		walkUntilLooseUp(j)
		p := j.Guide().Parking()
		if len(p.Up) != 1 || p.Up[0].RaisedAt == 0 {
			t.Fatalf("lifts that last = %+v, want one with its time", p.Up)
		}
		axle := string(p.Up[0].Axle)
		for _, want := range []string{"do not drive", "do not lower the " + axle, "nobody goes under", "children and animals", "lean"} {
			if !says(p.Never, want) {
				t.Errorf("what must not be done lacks %q: %q", want, p.Never)
			}
		}
		if !says(p.Never, "not even snug") {
			t.Errorf("lowering is not forbidden for what is loose: %q", p.Never)
		}
		for _, want := range []string{"lower it", "pin", "under the sill", "area off", "steering wheel", "key", "charge"} {
			if !says(p.Leave, want) {
				t.Errorf("what to do before leaving lacks %q: %q", want, p.Leave)
			}
		}
		if !strings.Contains(p.Next, "dead still") {
			t.Errorf("first thing next time = %q, want the push", p.Next)
		}
		counted := 0
		for _, c := range p.Loose {
			for _, item := range c.Items {
				if item.Fastener.Corner != c.Corner || item.Clear {
					t.Errorf("%s stands at %s, clear %v", item.Fastener.ID, c.Corner, item.Clear)
				}
				counted++
			}
		}
		if want := len(j.Guide().NotFinal()); counted != want || want == 0 {
			t.Errorf("%d loose at the corners, want all %d", counted, want)
		}
	})
	t.Run("SeveralLoose", func(t *testing.T) {
		j := guidetest.New(t, sheet.Demo()[0])
		walkUntilLooseUp(j)
		axle := j.Guide().Parking().Up[0].Axle
		loosened := 0
		for _, f := range j.Sheet.Fasteners {
			if f.Corner.Axle() == axle && loosened < 3 {
				j.Force(&event.FastenerLoosened{Fastener: f.ID})
				loosened++
			}
		}
		if p := j.Guide().Parking(); !says(p.Never, "fasteners there are not even snug") {
			t.Errorf("what must not be done = %q, want the count of what is loose", p.Never)
		}
	})
	t.Run("FreshOnItsWheels", func(t *testing.T) {
		p := guidetest.New(t, sheet.Demo()[0]).Guide().Parking()
		if p.Raised() || len(p.Never) > 0 || len(p.Loose) > 0 {
			t.Errorf("an untouched car: raised %v, never %q, loose %v; want none", p.Raised(), p.Never, p.Loose)
		}
		if says(p.Leave, "steering wheel") || !says(p.Leave, "charge") {
			t.Errorf("before leaving an untouched car = %q", p.Leave)
		}
	})
	t.Run("LooseWheelsOnTheGround", func(t *testing.T) {
		j := guidetest.New(t, sheet.Demo()[0])
		j.Until("raise_step_front") // its nuts are cracked, the car is down
		p := j.Guide().Parking()
		if p.Raised() || !says(p.Never, "do not drive") || !strings.Contains(p.Next, "wheel nuts") {
			t.Errorf("raised %v, never %q, next %q", p.Raised(), p.Never, p.Next)
		}
		if says(p.Never, "lower") {
			t.Errorf("a car on its wheels is told not to be lowered: %q", p.Never)
		}
	})
	t.Run("BeingRaised", func(t *testing.T) {
		j := guidetest.New(t, sheet.Demo()[0])
		j.Until("raise_step_front")
		for _, c := range j.Sheet.ChecksFor(event.Front, event.Raise) {
			if c.Lifts {
				break
			}
			j.Do(&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: c.ID, Answer: event.Yes})
		}
		if p := j.Guide().Parking(); p.Lifting != event.Front || !says(p.Never, "nobody goes under") {
			t.Errorf("lifting %q, never %q; it may be in the air", p.Lifting, p.Never)
		}
	})
}

// walkUntilLooseUp works on until an axle is up and something there is loose.
func walkUntilLooseUp(j *guidetest.Job) {
	j.T.Helper()
	for range 1500 {
		if j.Log.State().Up() {
			for _, item := range j.Guide().NotFinal() {
				f := item.Fastener
				if !f.Wheel && item.Phase == guide.Loose && j.Log.State().Axles[f.Corner.Axle()].Up {
					return
				}
			}
		}
		if !j.Advance() {
			break
		}
	}
	j.T.Fatal("nothing came loose on stands")
}
