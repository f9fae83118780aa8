package method_test

import (
	"fmt"
	"maps"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/units"
)

func withTools(tools map[event.ToolID]job.Tool) method.Record {
	return method.Record{State: &job.State{Tools: tools}, Units: units.Metric}
}

// The range of a wrench is offered when one is recorded, never when there is a
// choice, and never a torque.
func TestWrenchFilled(t *testing.T) {
	one := job.Tool{Have: true, LowCNM: 4000, HighCNM: 20000}
	tests := []struct {
		name      string
		tools     map[event.ToolID]job.Tool
		low, high string
	}{
		{"OK", map[event.ToolID]job.Tool{"big": one, "jack": {Have: true, RatingG: 2_000_000}}, "40", "200"},
		{"NoLowest", map[event.ToolID]job.Tool{"big": {Have: true, HighCNM: 20000}}, "", "200"},
		{"Two", map[event.ToolID]job.Tool{"big": one, "small": {Have: true, LowCNM: 500, HighCNM: 2500}}, "", ""},
		{"NotAtHand", map[event.ToolID]job.Tool{"big": {LowCNM: 4000, HighCNM: 20000}}, "", ""},
		{"None", nil, "", ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			for _, id := range []string{"torque_adapter", "torque_wrench", "torque_weight"} {
				m := method.Find(id)
				in := m.Answers(nil, withTools(test.tools))
				for _, f := range m.Fields {
					want := map[string]string{"wrench_low": test.low, "wrench_high": test.high}[f.Name]
					if got := in.Typed(f.Name); got != want {
						t.Errorf("%s: %s is %q, want %q", id, f.Name, got, want)
					}
				}
			}
		})
	}
}

// With several wrenches recorded, each is compared with the value.
func TestOtherWrenches(t *testing.T) {
	r := withTools(map[event.ToolID]job.Tool{"a": {Have: true, Label: "Big", LowCNM: 4000, HighCNM: 20000}, "b": {Have: true, LowCNM: 500, HighCNM: 2500}})
	got, err := method.Find("torque_wrench").Compute(map[string]string{"wrench_high": "200", "by": "unknown", "value": "9"}, r)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Big, 40 to 200 N·m: below the range", "Wrench, 5 to 25 N·m: inside the range"} {
		if all := shown(got); !strings.Contains(all, want) {
			t.Errorf("%q is not in:\n%s", want, all)
		}
	}
}

// Whatever is typed, the words in a picture stay in the frame and off each other.
func TestTorquePicturesFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := func(name string, low, high int) string {
			return strconv.Itoa(rapid.IntRange(low, high).Draw(t, name))
		}
		lever := rapid.IntRange(100, 900).Draw(t, "lever")
		for id, typed := range map[string]map[string]string{
			"torque_adapter": {"target": "80", "lies": "angle", "angle": n("angle", 0, 180), "lever": strconv.Itoa(lever), "adapter": n("adapter", 0, lever-1)},
			"torque_weight": {"mass": n("mass", 5, 40), "mass_mark": "0.1", "distance": n("distance", 100, 900), "length_mark": "1", "own": "weighed", "own_mass": "1.4", "own_distance": n("balance", 40, 600),
				"lean": "1", "class": "II A", "reading": "47", "step": "0.5", "wrench_high": "900", "wrench_low": "1"},
			"torque_passes": {"loosened": "no", "torque": "30", "on": n("on", 1, 720), "on_again": n("again", 1, 720)},
		} {
			for _, angle := range []string{"°", "°′"} {
				u := units.Set{}.With("angle", angle)
				if angle == "°′" {
					typed = inMinutes(typed)
				}
				got, err := method.Find(id).Compute(typed, method.Record{Units: u})
				if err != nil {
					t.Fatalf("%s: %v", id, err)
				}
				if problem := torqueCrowded(got.Picture); problem != "" {
					t.Errorf("%s: %s", id, problem)
				}
			}
		}
	})
}

// inMinutes writes the angles among the answers with their mark.
func inMinutes(typed map[string]string) map[string]string {
	out := maps.Clone(typed)
	for _, name := range []string{"angle", "lean", "on", "on_again"} {
		if out[name] != "" {
			out[name] += "°"
		}
	}
	return out
}

type torqueBox struct {
	text                     string
	left, top, right, bottom float64
}

// torqueCrowded says which words leave the frame or overlap, or "".
func torqueCrowded(p *method.Picture) string {
	if p == nil {
		return "no picture"
	}
	var boxes []torqueBox
	for _, m := range p.Marks {
		if m.Text == "" {
			continue
		}
		x, _ := strconv.ParseFloat(m.X, 64)
		y, _ := strconv.ParseFloat(m.Y, 64)
		each, high := 6.5, 11.0
		if m.Class == "small" {
			each, high = 5.5, 9
		}
		wide := each * float64(utf8.RuneCountInString(m.Text))
		left := x - wide*map[string]float64{"start": 0, "middle": 0.5, "end": 1}[m.Anchor]
		b := torqueBox{m.Text, left, y - high, left + wide, y + 2}
		if b.left < 0 || b.right > 320 || b.top < 0 || b.bottom > p.Height {
			return fmt.Sprintf("%q leaves the frame: %+v", m.Text, b)
		}
		for _, o := range boxes {
			if b.left < o.right && o.left < b.right && b.top < o.bottom && o.top < b.bottom {
				return fmt.Sprintf("%q lies over %q", b.text, o.text)
			}
		}
		boxes = append(boxes, b)
	}
	return ""
}
