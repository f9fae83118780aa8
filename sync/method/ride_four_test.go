package method_test

import (
	"fmt"
	"maps"
	"strconv"
	"testing"
	"unicode/utf8"

	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

// heights are readings at FL, FR, RL, RR in that order, of one purpose.
func heights(q event.Quantity, p event.Purpose, stale string, values ...int64) []job.Reading {
	var out []job.Reading
	for i, v := range values {
		r := job.Reading{ReadingTaken: event.ReadingTaken{Quantity: q, Corner: event.Corners[i], Purpose: p}, Stale: stale}
		r.SetAmount(v, 577)
		out = append(out, r)
	}
	return out
}

func TestFillFour(t *testing.T) {
	found := heights(event.RideHeight, event.Before, "", 380_000, 381_000, 390_000, 391_000)
	set := heights(event.RideHeight, event.Setting, "", 350_000, 351_500)
	weights := heights(event.CornerWeight, event.Before, "", 360_250, 350_000, 340_000, 350_000)
	car := &sheet.Sheet{Vehicle: sheet.Vehicle{WheelbaseUM: 2_600_000}}
	tests := []struct {
		name, method string
		r            method.Record
		readings     []job.Reading
		want         map[string]string
	}{
		{"OKNothing", "ride_stance", method.Record{}, nil, map[string]string{}},
		{"OKFound", "ride_stance", method.Record{Sheet: car}, found, map[string]string{"front_left": "380", "front_right": "381", "rear_left": "390", "rear_right": "391", "wheelbase": "2600"}},
		{"OKFoundNotMixed", "ride_stance", method.Record{}, append(found[:4:4], set...), map[string]string{"front_left": "350", "front_right": "351.5"}},
		{"OKStaleLeftOut", "ride_stance", method.Record{}, heights(event.RideHeight, event.Final, "raised since", 350_000), map[string]string{}},
		{"OKInches", "ride_stance", method.Record{Units: units.Set{Length: quantity.Inch}}, found[:1], map[string]string{"front_left": "14.961"}},
		{"OKBeforeAndAfter", "ride_headlamp", method.Record{}, append(found[:2:2], set...),
			map[string]string{"front_left_before": "380", "front_right_before": "381", "front_left_after": "350", "front_right_after": "351.5"}},
		{"OKNothingSince", "ride_headlamp", method.Record{}, found[:1], map[string]string{"front_left_before": "380"}},
		{"OKWeights", "corner_weights", method.Record{Units: units.Set{Mass: quantity.Kilogram}}, append(weights, found...),
			map[string]string{"front_left": "360.25", "front_right": "350.00", "rear_left": "340.00", "rear_right": "350.00"}},
		{"OKPerch", "perch_turn", method.Record{}, weights[:1], map[string]string{"front_left": "360.25"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if test.readings != nil {
				test.r.State = &job.State{Readings: test.readings}
			}
			if got := method.Find(test.method).Fill(test.r); !maps.Equal(got, test.want) {
				t.Errorf("got %v, want %v", got, test.want)
			}
		})
	}
}

// box is the room that a label takes, reckoned from its letters.
type box struct {
	left, right, top, bottom float64
	text                     string
}

func room(t *testing.T, m method.Mark) box {
	t.Helper()
	wide, high := 6.5, 12.0
	if m.Class == "small" {
		wide, high = 5.5, 10
	}
	x, errX := strconv.ParseFloat(m.X, 64)
	y, errY := strconv.ParseFloat(m.Y, 64)
	if errX != nil || errY != nil {
		t.Fatalf("%q stands nowhere: %v %v", m.Text, errX, errY)
	}
	wide *= float64(utf8.RuneCountInString(m.Text))
	left := x - wide*map[string]float64{"start": 0, "middle": 0.5, "end": 1}[m.Anchor]
	return box{left, left + wide, y - high, y, m.Text}
}

// TestRideLabels holds the labels of these drawings inside their frame and off
// each other.
func TestRideLabels(t *testing.T) {
	drawn := 0
	for i, x := range examples(t) {
		m := method.Find(x.Method)
		if m == nil || m.Group != method.Ride && m.Group != method.Tyres {
			continue
		}
		r, err := m.Compute(x.Typed, method.Record{Units: x.Units, At: x.At})
		if err != nil || r.Picture == nil {
			continue
		}
		drawn++
		t.Run(fmt.Sprint(x.Method, " ", i), func(t *testing.T) {
			var boxes []box
			for _, mark := range r.Picture.Marks {
				if mark.Text == "" {
					continue
				}
				b := room(t, mark)
				if b.left < 0 || b.right > 320 || b.top < 0 || b.bottom > r.Picture.Height {
					t.Errorf("%q leaves the frame", b.text)
				}
				for _, o := range boxes {
					if o.left < b.right && b.left < o.right && o.top < b.bottom && b.top < o.bottom {
						t.Errorf("%q lies on %q", b.text, o.text)
					}
				}
				boxes = append(boxes, b)
			}
		})
	}
	if drawn == 0 {
		t.Fatal("nothing was drawn")
	}
}
