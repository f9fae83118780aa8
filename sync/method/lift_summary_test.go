package method_test

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/job"
	"strutcard/sync/method"
	"strutcard/sync/sheet"
)

// liftRecord is a demo sheet, wren or dart, with its jack and stands recorded.
func liftRecord(demo int, standsKG, jackKG int64) method.Record {
	s := sheet.Demo()[demo]
	state := &job.State{Tools: map[event.ToolID]job.Tool{}}
	for _, tool := range s.Tools {
		switch tool.Kind {
		case sheet.Stands:
			state.Tools[tool.ID] = job.Tool{Have: true, RatingG: standsKG * 1000}
		case sheet.Jack:
			state.Tools[tool.ID] = job.Tool{Have: true, RatingG: jackKG * 1000}
		}
	}
	return method.Record{Sheet: s, State: state}
}

func liftLines(t *testing.T, r method.Record, axle event.Axle) []string {
	t.Helper()
	lines, ok := method.LiftSummary(r, axle)
	if !ok || len(lines) < 2 || len(lines) > 5 {
		t.Fatalf("got %t and %q, want 2 to 5 lines", ok, lines)
	}
	return lines
}

var saidAtMost = regexp.MustCompile(`(?:carries|lifts) at most (\d+) kg`)

// saidLoad is the load that a line says.
func saidLoad(t *testing.T, line string) float64 {
	t.Helper()
	found := saidAtMost.FindStringSubmatch(line)
	if found == nil {
		t.Fatalf("no load in %q", line)
	}
	kg, err := strconv.ParseFloat(found[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return kg
}

// The load on one stand is at least the whole pair's, by the moment about the
// other axle with the paper mass 10 % up and the stands 600 mm in; never more
// than all of the car with what its mass may be off by.
func TestLiftSummaryLoads(t *testing.T) {
	for demo := range sheet.Demo() {
		for _, axle := range event.Axles {
			r := liftRecord(demo, 2000, 2000)
			v := r.Sheet.Vehicle
			share, base, mass := float64(v.FrontShare)/1000, float64(v.WheelbaseUM)/1e6, float64(v.MassG)/1000
			if axle == event.Rear {
				share = 1 - share
			}
			least, whole := 1.1*mass*share*base/(base-0.6), 1.12*mass
			lines := liftLines(t, r, axle)
			for _, line := range lines[:2] {
				if got := saidLoad(t, line); got < least || got > whole || got > 1.12*least {
					t.Errorf("%s %s: got %v kg, want from %.0f to %.0f kg: %s", v.Name, axle, got, least, min(whole, 1.12*least), line)
				}
			}
		}
	}
}

func TestLiftSummaryVerdicts(t *testing.T) {
	tests := []struct {
		stands, jack int64
		says         []string
	}{
		{3000, 3000, []string{"Marked 3000 kg each: enough.", "Marked 3000 kg: enough."}},
		{1361, 3000, []string{"Marked 1361 kg each: cannot tell.", "Marked 3000 kg: enough."}},
		{3000, 1361, []string{"Marked 3000 kg each: enough.", "Marked 1361 kg: cannot tell."}},
		{150, 150, []string{"Marked 150 kg each: not enough.", "Marked 150 kg: not enough."}},
		{300, 300, []string{"Marked 300 kg each: cannot tell.", "Marked 300 kg: cannot tell."}}, // too little at the worst place, perhaps not out at the bumper
		{0, 0, []string{"Marked not recorded: cannot tell.", "Marked not recorded: cannot tell."}},
		{3, 3, []string{"Marked 3 kg each, which is not that of such a tool: cannot tell.", "Marked 3 kg, which is not that of such a tool: cannot tell."}},
	}
	for _, test := range tests {
		t.Run(fmt.Sprint(test.stands, " ", test.jack), func(t *testing.T) {
			lines := liftLines(t, liftRecord(0, test.stands, test.jack), event.Front)
			for i, want := range test.says {
				if !strings.Contains(lines[i], want) {
					t.Errorf("got %q, want %q in it", lines[i], want)
				}
			}
		})
	}
}

// Enough is said exactly from 1.5 times the load that the same line states.
func TestLiftSummaryMargin(t *testing.T) {
	load := saidLoad(t, liftLines(t, liftRecord(0, 3000, 3000), event.Front)[0])
	for rating, enough := range map[int64]bool{int64(1.5 * load): true, int64(1.5*load) - 4: false} {
		line := liftLines(t, liftRecord(0, rating, 3000), event.Front)[0]
		if strings.Contains(line, ": enough.") != enough {
			t.Errorf("%d kg for 1.5 times %v kg: got %q", rating, load, line)
		}
	}
}

// Chocks and what holds: the invented wren drives its front wheels and brakes
// its rear ones, the dart does both at the rear.
func TestLiftSummaryHolds(t *testing.T) {
	tests := []struct {
		demo int
		axle event.Axle
		says []string
	}{
		{0, event.Front, []string{"parking brake, left on, holds.", "gear or P holds nothing", "Chock behind the rear left and rear right wheels, then in front of the rear left"}},
		{0, event.Rear, []string{"parking brake, left on, holds nothing", "gear or P may hold nothing", "Chock in front of the front left and front right wheels, then behind the front left"}},
		{1, event.Front, []string{"parking brake, left on, holds.", "gear or P may hold nothing", "Chock behind the rear left"}},
		{1, event.Rear, []string{"parking brake, left on, holds nothing", "gear or P holds nothing", "Chock in front of the front left"}},
	}
	for _, test := range tests {
		all := strings.Join(liftLines(t, liftRecord(test.demo, 3000, 3000), test.axle), "\n")
		for _, want := range test.says {
			if !strings.Contains(all, want) {
				t.Errorf("demo %d, %s: %q is not in\n%s", test.demo, test.axle, want, all)
			}
		}
	}
}

// What the sheet does not state is named, and never makes a load smaller or a
// hold surer.
func TestLiftSummaryLessKnown(t *testing.T) {
	for words, drop := range map[string]func(*sheet.Vehicle){
		"what each axle carries":       func(v *sheet.Vehicle) { v.FrontShare = 0 },
		"the wheelbase":                func(v *sheet.Vehicle) { v.WheelbaseUM = 0 },
		"which wheels are driven":      func(v *sheet.Vehicle) { v.Driven = "" },
		"where the parking brake acts": func(v *sheet.Vehicle) { v.ParkingBrake = "" },
	} {
		t.Run(words, func(t *testing.T) {
			r := liftRecord(0, 3000, 3000)
			before := liftLines(t, r, event.Front)
			if strings.Contains(strings.Join(before, " "), words) {
				t.Errorf("%q is named although the sheet states it", words)
			}
			drop(&r.Sheet.Vehicle)
			after := liftLines(t, r, event.Front)
			if !strings.Contains(strings.Join(after, " "), words) {
				t.Errorf("%q is not named in %q", words, after)
			}
			for i := range 2 {
				if saidLoad(t, after[i]) < saidLoad(t, before[i]) {
					t.Errorf("less is known and the load fell: %q, %q", before[i], after[i])
				}
			}
			if !strings.Contains(before[2], "left on, holds.") || words == "where the parking brake acts" && strings.Contains(after[2], "left on, holds.") {
				t.Errorf("got %q, then %q", before[2], after[2])
			}
		})
	}
}

// The weakest of several stands counts, and one without a number is not passed
// over. What is not at hand does not count.
func TestLiftSummarySeveralStands(t *testing.T) {
	r := liftRecord(0, 3000, 3000)
	r.Sheet.Tools = append(r.Sheet.Tools, sheet.Tool{ID: "others", Name: "Other stands", Kind: sheet.Stands})
	for _, test := range []struct {
		tool job.Tool
		want string
	}{
		{job.Tool{Have: true, RatingG: 500_000}, "Marked 500 kg each"},
		{job.Tool{Have: true}, "Marked not recorded"},
		{job.Tool{RatingG: 500_000}, "Marked 3000 kg each"},
	} {
		r.State.Tools["others"] = test.tool
		if line := liftLines(t, r, event.Front)[0]; !strings.Contains(line, test.want) {
			t.Errorf("%+v: got %q, want %q in it", test.tool, line, test.want)
		}
	}
}

// A car with its weight at one end may tip over stands that are far in.
func TestLiftSummaryTips(t *testing.T) {
	const warns = "nearer the car is to tipping"
	r := liftRecord(0, 3000, 3000)
	if line := liftLines(t, r, event.Front)[0]; strings.Contains(line, warns) {
		t.Errorf("got %q for a car that stays down", line)
	}
	r.Sheet.Vehicle.FrontShare = 720
	if line := liftLines(t, r, event.Front)[0]; !strings.Contains(line, warns) {
		t.Errorf("got %q, want it to warn", line)
	}
}

func TestLiftSummaryErr(t *testing.T) {
	noMass, oddShare := liftRecord(0, 2000, 2000), liftRecord(0, 2000, 2000)
	noMass.Sheet.Vehicle.MassG = 0
	oddShare.Sheet.Vehicle.FrontShare = 10
	for name, r := range map[string]method.Record{"NoSheet": {}, "NoMass": noMass, "OddShare": oddShare} {
		if lines, ok := method.LiftSummary(r, event.Front); ok || lines != nil {
			t.Errorf("%s: got %q, want nothing", name, lines)
		}
	}
	if lines, ok := method.LiftSummary(liftRecord(0, 2000, 2000), "middle"); ok || lines != nil {
		t.Errorf("no such axle: got %q", lines)
	}
	onlySheet := liftRecord(0, 0, 0)
	onlySheet.State = nil
	if line := liftLines(t, onlySheet, event.Front)[0]; !strings.Contains(line, "Marked not recorded: cannot tell.") {
		t.Errorf("without a record: got %q", line)
	}
}
