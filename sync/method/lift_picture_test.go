package method_test

import (
	"strings"
	"testing"

	"strutcard/sync/method"
)

// TestLiftPictures: chocks on both faces of every wheel that stays down, and
// nothing written outside the frame or over another word.
func TestLiftPictures(t *testing.T) {
	chocks := map[string]int{"front_axle": 4, "rear_axle": 4, "all_wheels": 4, "left_side": 4, "front_left": 6} // all wheels: while the first end goes up
	for _, x := range examples(t) {
		m := method.Find(x.Method)
		if m == nil || m.Group != method.Equipment || x.Refused != "" {
			continue
		}
		out, err := m.Compute(x.Typed, method.Record{Units: x.Units})
		if err != nil || out.Picture == nil {
			continue // stand_rating draws nothing; TestExamples tells errors
		}
		liftLabels(t, out.Picture)
		if x.Method != "lift_plan" {
			continue
		}
		filled := map[string]bool{} // by where they lie, so that none covers another
		for _, mark := range out.Picture.Marks {
			if mark.Class == "fill" {
				filled[mark.Points] = true
			}
		}
		if raised := x.Typed["raised"]; len(filled) != chocks[raised] {
			t.Errorf("%s: %d chocks are drawn, want %d", raised, len(filled), chocks[raised])
		}
	}
}

// liftLabels holds the labels of a drawing in its frame and off each other.
func liftLabels(t *testing.T, p *method.Picture) {
	t.Helper()
	var before []box
	for _, m := range p.Marks {
		if m.Text == "" {
			continue
		}
		b := room(t, m)
		if b.left < 0 || b.right > 320 || b.top < 0 || b.bottom > p.Height {
			t.Errorf("%q leaves the frame: %+v", m.Text, b)
		}
		for _, o := range before {
			if b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom {
				t.Errorf("%q is written over %q", m.Text, o.text)
			}
		}
		before = append(before, b)
	}
}

// TestLiftPictureWords: the drawing's words say what the drawing shows.
func TestLiftPictureWords(t *testing.T) {
	out, err := method.Find("lift_plan").Compute(goodPlan(t), method.Record{})
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range out.Picture.Marks {
		if load, ok := strings.CutPrefix(m.Text, "≤ "); ok && !strings.Contains(out.Picture.Alt, load) {
			t.Errorf("%q is drawn and not said: %s", m.Text, out.Picture.Alt)
		}
	}
}
