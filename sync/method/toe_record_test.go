package method_test

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
	"strutcard/sync/units"
)

// toeKept is a reading of toe in the record, in thousandths of a degree.
func toeKept(q event.Quantity, at event.Place, mdeg, u95 int64, p event.Purpose) job.Reading {
	r := job.Reading{ReadingTaken: event.ReadingTaken{Quantity: q, Corner: at.Corner(), Purpose: p}}
	if r.Corner == "" {
		r.Axle = at.Axle()
	}
	r.SetAmount(mdeg, u95)
	return r
}

func toeRecord(s *sheet.Sheet, readings ...job.Reading) method.Record {
	return method.Record{Sheet: s, State: &job.State{Readings: readings}}
}

var (
	toeSheet = &sheet.Sheet{Vehicle: sheet.Vehicle{WheelbaseUM: 2_600_000}, Targets: []sheet.Target{{Quantity: event.TotalToe, Axle: event.Front, Mdeg: -200}, {Quantity: event.TotalToe, Axle: event.Rear, Mdeg: 300}}}
	rodTyped = map[string]string{"thread": "one thread", "joint": "behind", "pitch": "1.5", "arm": "150", "arm_mark": "1"}
)

// What the record holds of the car as it stands is offered with its words and the
// larger uncertainty; what is stale or as found is not.
func TestRodFromRecord(t *testing.T) {
	left, right := toeKept(event.Toe, "FL", -123, 78, event.Setting), toeKept(event.Toe, "FR", 57, 41, event.Final)
	total, found := toeKept(event.TotalToe, "front", 333, 67, event.Setting), toeKept(event.Toe, "FR", 57, 78, event.Before)
	stale := left
	stale.Stale = "the camber adjuster was moved"
	wheels := map[string]string{"now": "wheels", "left": "0.123", "left_direction": "out", "right": "0.057", "right_direction": "in", "within": "0.078"}
	onlyTotal := map[string]string{"now": "total", "total": "0.333", "total_direction": "in", "within": "0.067"}
	want := map[string]string{"want": "0.2", "want_direction": "out", "want_scope": "total"}
	perWheel := &sheet.Sheet{Targets: []sheet.Target{{Quantity: event.Toe, Axle: event.Front, Mdeg: 100}}}
	for name, test := range map[string]struct {
		r      method.Record
		offers []map[string]string
	}{
		"none":      {method.Record{}, nil},
		"no state":  {method.Record{Sheet: toeSheet}, []map[string]string{want}},
		"wheels":    {toeRecord(toeSheet, left, right, total), []map[string]string{wheels, want}},
		"one wheel": {toeRecord(toeSheet, left), []map[string]string{want}},
		"total":     {toeRecord(toeSheet, left, total), []map[string]string{onlyTotal, want}},
		"as found":  {toeRecord(toeSheet, left, found, total), []map[string]string{onlyTotal, want}},
		"stale":     {toeRecord(nil, stale, right), nil},
		"both":      {toeRecord(&sheet.Sheet{Targets: append(perWheel.Targets, toeSheet.Targets...)}), []map[string]string{want}},
		"per wheel": {toeRecord(perWheel), []map[string]string{{"want": "0.1", "want_direction": "in", "want_scope": "per wheel"}}},
	} {
		wanted := map[string]string{}
		for _, some := range test.offers {
			maps.Copy(wanted, some)
		}
		if got := method.Find("track_rod").Fill(test.r); !maps.Equal(got, wanted) {
			t.Errorf("%s: got %v, want %v", name, got, wanted)
		}
	}
	// −0.200° total is −0.100° a wheel: the left gains 0.023°, the right loses 0.157°.
	got, err := method.Find("track_rod").Compute(rodTyped, toeRecord(toeSheet, left, right))
	if err != nil || got.Figure != "Left: no turn. Right: 1/4 turn shorter." || !strings.Contains(got.Line, "left 0.02° IN wanted") || !strings.Contains(got.Line, "right 0.16° OUT wanted") {
		t.Errorf("got %q, %q and error %v", got.Figure, got.Line, err)
	}
	minutes := toeRecord(toeSheet, left, right)
	minutes.Units = units.Set{Angle: quantity.DegreeMinute}
	same, err := method.Find("track_rod").Compute(rodTyped, minutes)
	if err != nil || same.Figure != got.Figure {
		t.Errorf("in minutes: got %q and error %v, want %q", same.Figure, err, got.Figure)
	}
}

func TestThrustFromRecord(t *testing.T) {
	readings := []job.Reading{toeKept(event.Toe, "RL", 250, 20, event.Setting), toeKept(event.Toe, "RR", -83, 30, event.Setting)}
	got, err := method.Find("thrust_angle").Compute(nil, toeRecord(toeSheet, readings...))
	if err != nil || got.Reading.Value != 167 || got.Figure != "0.17° ± 0.02° to the right" || strings.Contains(shown(got), "front toe to the thrust line") {
		t.Errorf("got %q, %+v and error %v", got.Figure, got.Reading, err)
	}
	readings[1] = toeKept(event.Toe, "RR", -83, 40, event.Setting)
	readings = append(readings, toeKept(event.Toe, "FL", 83, 30, event.Setting), toeKept(event.Toe, "FR", 83, 10, event.Setting))
	got, err = method.Find("thrust_angle").Compute(map[string]string{"ratio": "15"}, toeRecord(toeSheet, readings...))
	// The largest uncertainty holds for all: 0.04°/√2 for the thrust, times √2 at the road wheels, times 15.
	if err != nil || got.Reading.U95 != 28 || !strings.Contains(shown(got), "At the steering wheel: 2.50° ± 0.60° to the right") {
		t.Errorf("got %+v and error %v in\n%s", got.Reading, err, shown(got))
	}
	if got := method.Find("thrust_angle").Fill(toeRecord(toeSheet, readings[2:]...)); !maps.Equal(got, map[string]string{"wheelbase": "2600"}) {
		t.Errorf("got %v, want nothing but the wheelbase without the rear", got)
	}
}

// Thrust too small for its uncertainty has no side in words.
func TestThrustTooClose(t *testing.T) {
	typed := map[string]string{"rear_left": "0.11", "rear_left_direction": "in", "rear_right": "0.10", "rear_right_direction": "in", "within": "0.02"}
	got, err := method.Find("thrust_angle").Compute(typed, method.Record{})
	if err != nil || !strings.Contains(got.Words, "too close to tell") || strings.Contains(got.Words, "towards") {
		t.Errorf("got %q and error %v", got.Words, err)
	}
}

func TestWheelFill(t *testing.T) {
	for at, side := range map[event.Place]string{"FL": "left", "RL": "left", "FR": "right", "RR": "right", "front": "", "": ""} {
		got := method.Find("toe_strings").Fill(method.Record{At: at, Sheet: toeSheet})
		if got["side"] != side || got["wheelbase"] != "2600" {
			t.Errorf("%s: got %v, want side %q and the wheelbase", at, got, side)
		}
		if got := method.Find("toe_wheel_angle").Fill(method.Record{At: at})["side"]; got != side {
			t.Errorf("%s: got %q, want %q", at, got, side)
		}
	}
}

// The gauge's other wheel is on the other side.
func TestGaugeSides(t *testing.T) {
	for side, want := range map[string]string{"left": "Left wheel: 0.10° ± 0.01° IN\nRight wheel: 0.30° ± 0.01° OUT", "right": "Left wheel: 0.30° ± 0.01° OUT\nRight wheel: 0.10° ± 0.01° IN"} {
		got, err := method.Find("toe_wheel_angle").Compute(map[string]string{"side": side, "toe": "0.1", "toe_direction": "in", "step": "0.01", "other": "0.3", "other_direction": "out"}, method.Record{})
		if err != nil || !strings.Contains(shown(got), want+"\nTotal, left plus right: 0.20° ± 0.01° OUT") {
			t.Errorf("%s: got error %v in\n%s", side, err, shown(got))
		}
	}
}

// The ruler counts for gaps and hubs, the tape for all the rest with the
// diameter: by the derivatives of asin and atan, computed apart.
func TestStringsTape(t *testing.T) {
	typed := map[string]string{"strings": "outside", "side": "left", "gap_front": "60", "gap_rear": "40", "diameter": "431.8", "mark": "0.5", "hub_front_left": "100", "hub_front_right": "100", "hub_rear_left": "100",
		"hub_rear_right": "100", "spacing_front": "1800", "spacing_rear": "1800", "apart": "4000", "wheelbase": "2600", "tape_mark": "10"}
	got, err := method.Find("toe_strings").Compute(typed, method.Record{})
	if err != nil || got.Reading.U95 != 88 {
		t.Errorf("got %+v and error %v, want ± 88", got.Reading, err)
	}
}

// The usual way to total toe is the one that cancels the run-out, with the
// fields that its name promises.
func TestUsualToe(t *testing.T) {
	ways := method.For(event.TotalToe)
	var names []string
	for _, f := range ways[0].Fields {
		names = append(names, f.Name)
	}
	if got := ways[0].ID + " " + strings.Join(names, " "); got != "toe_marks rear front diameter mark diameter_mark" {
		t.Errorf("got %s", got)
	}
}

// Toe-in wheels are drawn with their fronts towards the middle of the car, ahead
// being up, on the axle that was read.
func TestPlanView(t *testing.T) {
	typed := map[string]string{"rear": "1503", "front": "1500", "diameter": "600", "mark": "1", "diameter_mark": "1"}
	for _, axle := range event.Axles {
		got, err := method.Find("toe_marks").Compute(typed, method.Record{At: axle.Place()})
		if err != nil {
			t.Fatal(err)
		}
		wheels := got.Picture.Marks[2:6] // after the car and the word front
		for i, c := range event.Corners {
			x := wheelCorners(t, wheels[i].Points)
			ahead, behind := (x[0][0]+x[1][0])/2, (x[2][0]+x[3][0])/2
			left, turned := c == event.FL || c == event.RL, c.Axle() == axle
			middle := (ahead + behind) / 2
			if (middle < 160) != left || (x[0][1] < 150) != (c.Axle() == event.Front) || x[0][1] > x[2][1] {
				t.Errorf("%s stands at %v", c, x)
			}
			if lean := ahead - behind; turned && (left != (lean > 1) || left == (lean < -1)) || !turned && math.Abs(lean) > 0.1 {
				t.Errorf("%s axle: %s is drawn with its front %v to the right of its rear", axle, c, lean)
			}
		}
		// asin(3/600) is 0.286° total, half of it 20 times as large 2.86°, over 44 of length 2.2.
		x := wheelCorners(t, wheels[2*axleIndex(axle)].Points)
		if lean := (x[0][0]+x[1][0])/2 - (x[2][0]+x[3][0])/2; math.Abs(lean-2.2) > 0.11 || !strings.Contains(got.Picture.Note, "20 times") {
			t.Errorf("got a lean of %v, %q", lean, got.Picture.Note)
		}
	}
}

func axleIndex(a event.Axle) int {
	if a == event.Rear {
		return 1
	}
	return 0
}

func wheelCorners(t *testing.T, points string) [][2]float64 {
	t.Helper()
	var out [][2]float64
	for _, p := range strings.Fields(points) {
		x, y, _ := strings.Cut(p, ",")
		fx, err := strconv.ParseFloat(x, 64)
		fy, err2 := strconv.ParseFloat(y, 64)
		if err != nil || err2 != nil {
			t.Fatalf("not a point: %q", p)
		}
		out = append(out, [2]float64{fx, fy})
	}
	if len(out) != 4 {
		t.Fatalf("not a wheel: %q", points)
	}
	return out
}

// What a method gives to keep is the same in German, and can be said in German.
func TestToeRecordInGerman(t *testing.T) {
	defer lang.SpeakEnglish()
	said := 0
	for _, x := range examples(t) {
		m := method.Find(x.Method)
		if !slices.Contains([]method.Group{method.Ride, method.Toe, method.Tyres}, m.Group) {
			continue
		}
		lang.SpeakEnglish()
		english, _ := m.Compute(x.Typed, x.Record())
		if err := lang.Use(lang.German); err != nil {
			t.Fatal(err)
		}
		german, _ := m.Compute(x.Typed, x.Record())
		if german.Reading == nil {
			continue
		}
		if *english.Reading != *german.Reading {
			t.Errorf("%s: kept %+v in English, %+v in German", x.Method, english.Reading, german.Reading)
		}
		kept := german.Reading.Instrument
		if method.Instrument(kept) == kept {
			t.Errorf("%s: no German for %q", x.Method, kept)
		}
		said++
	}
	if said == 0 {
		t.Error("no reading was kept")
	}
	m := method.Find("thrust_angle")
	out, err := m.Compute(map[string]string{"rear_left": "0,10", "rear_left_direction": "in", "rear_right": "0,20", "rear_right_direction": "in", "within": "0,02"}, method.Record{})
	want := "Die Hinterachse schiebt nach links. Bei gleicher Spur vorn steht das Lenkrad nach links gedreht, während der Wagen geradeaus fährt. Zur Fahrachse hat das linke Vorderrad mehr Vorspur als zur Mittellinie, das andere mehr Nachspur."
	if err != nil || out.Words != want {
		t.Errorf("got %q and error %v, want %q", out.Words, err, want)
	}
}
