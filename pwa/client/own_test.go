package client_test

import (
	"context"
	"encoding/json"
	"regexp"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
)

// ownID is the id of the own sheet on the screen.
func (p *phone) ownID() string {
	p.t.Helper()
	m := regexp.MustCompile(`data-own="([^"]+)"`).FindStringSubmatch(p.page.region("r-main"))
	if m == nil {
		p.t.Fatalf("no own sheet on the screen:\n%s", p.text("r-main"))
	}
	return m[1]
}

// begin makes an own sheet of two layouts and returns its id.
func (p *phone) begin(front, rear string) string {
	p.t.Helper()
	p.must("own_form")
	p.must("own_save", "form", "basics", "vehicle", "My car", "kit", "Two struts", "front", front, "rear", rear)
	return p.ownID()
}

// put opens a form of an own sheet and keeps what is typed into it.
func (p *phone) put(id, form string, args ...string) {
	p.t.Helper()
	if err := p.tryPut(id, form, args...); err != nil {
		p.t.Fatalf("%s %v: %v", form, args, err)
	}
}

func (p *phone) tryPut(id, form string, args ...string) error {
	p.t.Helper()
	p.must("own_form", "own", id, "form", form)
	return p.act("own_save", append(args, "own", id, "form", form)...)
}

// value is what a field of the form on the screen holds.
func (p *phone) ownValue(name string) string {
	p.t.Helper()
	root, err := html.Parse(strings.NewReader(p.page.region("r-main")))
	if err != nil {
		p.t.Fatal(err)
	}
	for n := range root.Descendants() {
		attr := map[string]string{}
		for _, a := range n.Attr {
			attr[a.Key] = a.Val
		}
		if attr["name"] != name {
			continue
		}
		if n.Data == "input" {
			return attr["value"]
		}
		for o := range n.Descendants() {
			value, chosen := "", false
			for _, a := range o.Attr {
				chosen = chosen || a.Key == "selected"
				if a.Key == "value" {
					value = a.Val
				}
			}
			if chosen {
				return value
			}
		}
		return ""
	}
	p.t.Fatalf("no field %s:\n%s", name, p.text("r-main"))
	return ""
}

// source is the own sheet as it is kept.
func (p *phone) source(id string) sheet.Start {
	p.t.Helper()
	text, err := p.disk.Meta(context.Background(), "own")
	if err != nil {
		p.t.Fatal(err)
	}
	var list []struct {
		ID    string
		Start sheet.Start
	}
	if err := json.Unmarshal([]byte(text), &list); err != nil {
		p.t.Fatalf("what is kept is no list: %v", err)
	}
	for _, o := range list {
		if o.ID == id {
			return o.Start
		}
	}
	p.t.Fatalf("own sheet %s is not kept", id)
	return sheet.Start{}
}

// made makes the sheet and returns it with its hash.
func (p *phone) made(id string) (*sheet.Sheet, string) {
	p.t.Helper()
	p.must("own", "own", id)
	p.must("own_make", "own", id)
	m := regexp.MustCompile(`data-do="new_job" data-sheet="([0-9a-f]{64})"`).FindStringSubmatch(p.page.region("r-main"))
	if m == nil {
		p.t.Fatalf("no job is offered:\n%s", p.text("r-main"))
	}
	text, err := p.disk.Meta(context.Background(), "sheet."+m[1])
	if err != nil {
		p.t.Fatal(err)
	}
	s, err := sheet.Decode([]byte(text))
	if err != nil {
		p.t.Fatal(err)
	}
	return s, m[1]
}

func (p *phone) says(region, want string) {
	p.t.Helper()
	if got := p.text(region); !strings.Contains(got, want) {
		p.t.Errorf("%s says\n%s\nwant %q in it", region, got, want)
	}
}

// wholeOwn types every form of an own sheet once.
func (p *phone) wholeOwn() (id string) {
	id = p.begin("front_strut", "rear_separate")
	p.put(id, "car", "mass", "1240", "share", "58", "wheelbase", "2520", "track", "1470", "driven", "front", "brake", "rear", "source", "manual p. 2")
	p.put(id, "point.new", "use", "jack", "axle", "front", "place", "crossmember", "caution", "not the sump", "source", "manual p. 3")
	p.put(id, "point.new", "use", "stand", "axle", "rear", "place", "sill seam", "source", "manual p. 3")
	p.put(id, "part.0", "name", "Front strut", "count", "2", "place", "front", "mark", "L and R")
	p.put(id, "part.new", "name", "Rear spring, left", "count", "1", "place", "RL")
	p.put(id, "torque.wheel_nuts", "thread", "M12x1.5", "unit", "N·m", "torque", "112", "tolerance", "6", "source", "manual p. 4")
	p.put(id, "torque.knuckle_upper_front", "thread", "M14x1.5", "unit", "lbf·ft", "torque", "97", "snug", "18", "source", "manual p. 5")
	p.put(id, "target.front.ride_height", "value", "355", "tolerance", "8", "source", "kit p. 1")
	p.put(id, "target.front.camber", "value", "1.5", "side", "minus", "tolerance", "0.5", "source", "kit p. 1")
	p.put(id, "target.front.caster", "value", "4", "side", "plus", "tolerance", "0.75", "source", "kit p. 1")
	p.put(id, "target.rear.total_toe", "value", "0.2", "side", "plus", "tolerance", "0.2", "source", "kit p. 1")
	p.put(id, "damper.front.", "clicks", "12", "from", "full_hard", "stop", "0", "total", "24", "source", "kit p. 2")
	p.put(id, "damper.rear.bump", "clicks", "5", "from", "full_soft", "stop", "1", "source", "kit p. 2")
	p.put(id, "damper.rear.rebound", "clicks", "6", "from", "full_soft", "stop", "1", "source", "kit p. 2")
	p.put(id, "perch.front", "length", "42", "from", "from the foot up to the ring", "source", "kit p. 2")
	return id
}

func TestOwnSheet(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	id := p.wholeOwn()
	p.says("r-main", "2 known, 0 unverified, 20 to look up in the job")
	s, hash := p.made(id)
	if s.Version != "own 1" || !s.Own || s.Title != "Two struts" || s.Vehicle.Name != "My car" {
		t.Errorf("head: %q %v %q %q", s.Version, s.Own, s.Title, s.Vehicle.Name)
	}
	if v := s.Vehicle; v.MassG != 1_240_000 || v.FrontShare != 580 || v.WheelbaseUM != 2_520_000 || v.TrackUM != 1_470_000 || v.Driven != "front" || v.ParkingBrake != event.Rear || len(v.Points) != 2 || v.Points[0].Caution != "not the sump" {
		t.Errorf("car: %+v", v)
	}
	if len(s.Parts) != 2 || s.Parts[0].Count != 2 || s.Parts[0].Axle != event.Front || s.Parts[1].Corner != event.RL {
		t.Errorf("parts: %+v", s.Parts)
	}
	for _, corner := range event.Corners {
		f := s.Fastener(event.FastenerID("wheel_nuts_" + corner)).Final()
		if f.TorqueCNM != 11_200 || f.TolCNM != 600 || f.Source != "manual p. 4" {
			t.Errorf("wheel nuts %s: %+v", corner, f)
		}
	}
	knuckle := s.Fastener("knuckle_upper_FR")
	if knuckle.Final().TorqueCNM != 13_151 || knuckle.Pass("snug").TorqueCNM != 2440 { // 97 and 18 lbf·ft; 1.3558179 N·m each
		t.Errorf("knuckle: %+v", knuckle.Passes)
	}
	if got := s.Fastener("knuckle_lower_FR").Final().TorqueCNM; got != 0 {
		t.Errorf("a torque that nobody typed is %d cN·m", got)
	}
	camber, toe := s.Target(event.Camber, event.Front), s.Target(event.TotalToe, event.Rear)
	if camber.Mdeg != -1500 || camber.TolMdeg != 500 || toe.Mdeg != 200 || s.Target(event.Caster, event.Front).Mdeg != 4000 || s.Target(event.RideHeight, event.Front).UM != 355_000 {
		t.Errorf("targets: %+v", s.Targets)
	}
	if len(s.Dampers) != 3 || s.Damper(event.Rear, "bump").StopCounts != 1 || s.Perch(event.Front).UM != 42_000 {
		t.Errorf("presets: %+v %+v", s.Dampers, s.Perches)
	}
	p.must("new_job", "sheet", hash)
	p.says("r-main", "Torques of 46 places: 6 known, 0 unverified, 40 to look up in the job")
	if got := p.ownValue("vehicle"); got != "My car" {
		t.Errorf("the job's car is offered as %q", got)
	}
	p.must("start_job", "sheet", hash, "vehicle", "My car")
	if got := p.state().Opened.Sheet; string(got) != hash {
		t.Errorf("the job has sheet %s, want %s", got, hash)
	}
}

// TestOwnSlip: 80 lbf·in, read as lbf·ft, are twelve times too much for an M6.
func TestOwnSlip(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	id := p.begin("front_strut", "rear_separate")
	slip := []string{"thread", "M6", "unit", "lbf·ft", "torque", "80", "source", "manual p. 9"}
	p.put(id, "torque.sensor_bracket_front", slip...)
	p.says("r-main", "ten times too much")
	p.must("own", "own", id)
	p.says("r-main", "0 known, 1 unverified")
	s, _ := p.made(id)
	if f := s.Fastener("sensor_bracket_FL").Final(); f.TorqueCNM != 10_847 || f.Confirmed != "" {
		t.Errorf("unverified it is made as %+v", f)
	}

	// A number that was not yet asked about cannot be confirmed at once.
	other := []string{"thread", "M6", "unit", "lbf·ft", "torque", "90", "source", "manual p. 9", "confirm", "yes"}
	p.put(id, "torque.sensor_bracket_front", other...)
	p.must("own", "own", id)
	p.says("r-main", "0 known, 1 unverified")

	p.put(id, "torque.sensor_bracket_front", other...)
	p.says("r-main", "1 known, 0 unverified")
	s, _ = p.made(id)
	if f := s.Fastener("sensor_bracket_FR").Final(); f.TorqueCNM != 12_202 || f.Confirmed != "by the installer, against manual p. 9" {
		t.Errorf("confirmed it is made as %+v", f)
	}

	// Another page is another confirmation.
	other[7] = "manual p. 10"
	p.put(id, "torque.sensor_bracket_front", other[:8]...)
	p.must("own", "own", id)
	p.says("r-main", "0 known, 1 unverified")
}

// TestOwnReadBack: without a thread nothing can judge a torque; not read back, it
// does not get into the sheet.
func TestOwnReadBack(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	id := p.begin("front_strut", "rear_separate")
	typed := []string{"unit", "N·m", "torque", "110", "source", "manual p. 4", "confirm", "yes"}
	p.put(id, "torque.perch_lock_front", typed[:6]...)
	p.says("r-main", "110 N·m is 81.1 lbf·ft")
	s, _ := p.made(id)
	if got := s.Fastener("perch_lock_FL").Final().TorqueCNM; got != 0 {
		t.Errorf("not read back, %d cN·m stand in the sheet", got)
	}
	p.put(id, "torque.perch_lock_front", typed...)
	s, _ = p.made(id)
	if got := s.Fastener("perch_lock_FL").Final(); got.TorqueCNM != 11_000 || got.Confirmed == "" || s.Version != "own 2" {
		t.Errorf("read back it is %+v in %s", got, s.Version)
	}
}

// TestOwnQuestions: what the sheet has no place for is confirmed here.
func TestOwnQuestions(t *testing.T) {
	for form, test := range map[string]struct {
		args []string
		asks string
	}{
		"car":                {[]string{"mass", "124", "source", "papers"}, "124 kg"},
		"damper.front.":      {[]string{"clicks", "0", "from", "full_hard", "stop", "0", "source", "kit p. 2"}, "against its hard stop"},
		"perch.rear":         {[]string{"length", "900", "from", "from the seat", "source", "kit p. 2"}, "is unusual"},
		"target.rear.camber": {[]string{"value", "7", "side", "minus", "tolerance", "0.5", "source", "kit p. 1"}, "camber"},
	} {
		t.Run(form, func(t *testing.T) {
			p := newPhone(t, store.NewMemory(time.Now))
			id := p.begin("front_strut", "rear_separate")
			p.put(id, form, test.args...)
			p.says("r-main", test.asks)
			p.must("own", "own", id)
			p.says("r-main", "unverified Mend it")
			p.put(id, form, append(test.args, "confirm", "yes")...)
			p.must("own", "own", id)
			if strings.Contains(p.text("r-main"), "unverified Mend it") {
				t.Errorf("confirmed, it still says\n%s", p.text("r-main"))
			}
			p.must("own_form", "own", id, "form", form)
			p.says("r-main", "Confirmed by the installer, against")
		})
	}
}

func TestOwnUnits(t *testing.T) {
	disk := store.NewMemory(time.Now)
	p := newPhone(t, disk)
	id := p.begin("front_strut", "rear_separate")
	p.put(id, "car", "wheelbase", "2520", "mass", "1240", "source", "papers")
	p.must("own_form", "own", id, "form", "perch.front")
	p.c.Input(context.Background(), "own.length."+id+".perch.front.length", "50.8")
	p.must("set", "name", "length", "value", "in")
	p.must("set", "name", "mass", "value", "lb")
	if got := p.ownValue("length"); got != "2" {
		t.Errorf("50.8 mm half typed become %q in", got)
	}
	p.must("own_form", "own", id, "form", "car")
	if got := p.ownValue("wheelbase"); got != "99.213" {
		t.Errorf("2520 mm are shown as %q in", got)
	}
	// Kept again as it is shown, nothing is rounded.
	p.put(id, "car", "wheelbase", "99.213", "mass", p.ownValue("mass"), "source", "papers")
	if v := p.source(id).Vehicle; v.WheelbaseUM != 2_520_000 || v.MassG != 1_240_000 {
		t.Errorf("looked at in inches and pounds, the car is %d µm and %d g", v.WheelbaseUM, v.MassG)
	}
	p.put(id, "car", "wheelbase", "100", "mass", "", "source", "papers")
	if v := p.source(id).Vehicle; v.WheelbaseUM != 2_540_000 || v.MassG != 0 {
		t.Errorf("typed in inches, the car is %d µm and %d g", v.WheelbaseUM, v.MassG)
	}
	p.must("set", "name", "angle", "value", "°′")
	p.put(id, "target.front.camber", "value", "1°10′", "side", "minus", "tolerance", "0°30′", "source", "kit p. 1")
	if got := p.source(id).Targets[0]; got.Mdeg != -1167 || got.TolMdeg != 500 {
		t.Errorf("1°10′ ± 30′ are %+v", got)
	}
}

// TestOwnTorqueUnit: a torque's unit is chosen each time, and a number that is
// half typed never gets another one.
func TestOwnTorqueUnit(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	id := p.begin("front_strut", "rear_separate")
	err := p.tryPut(id, "torque.wheel_nuts", "thread", "M12x1.5", "torque", "112", "source", "manual p. 4")
	if !fault.Is(err, fault.Invalid) || !strings.Contains(err.Error(), "no unit") {
		t.Fatalf("without a unit: %v", err)
	}
	if got := p.ownValue("torque"); got != "112" {
		t.Errorf("refused, the number typed is %q", got)
	}
	p.put(id, "torque.wheel_nuts", "thread", "M12x1.5", "unit", "N·m", "torque", "112", "source", "manual p. 4")
	p.must("own_form", "own", id, "form", "torque.wheel_nuts")
	if got := p.ownValue("unit"); got != "N·m" {
		t.Errorf("a known torque is shown in %q", got)
	}
	p.c.Input(context.Background(), "own.torque."+id+".torque.wheel_nuts.torque", "80")
	p.must("set", "name", "torque", "value", "lbf·ft")
	if got, unit := p.ownValue("torque"), p.ownValue("unit"); got != "80" || unit != "N·m" {
		t.Errorf("half typed it is %q %q, want 80 N·m as before", got, unit)
	}
	// It is shown again as the page has it, and kept again it stays what it was.
	p.put(id, "torque.wheel_nuts", "thread", "M12x1.5", "unit", "lbf·ft", "torque", "80", "source", "manual p. 4")
	p.must("set", "name", "torque", "value", "N·m")
	p.must("own_form", "own", id, "form", "torque.wheel_nuts")
	if got, unit := p.ownValue("torque"), p.ownValue("unit"); got != "80" || unit != "lbf·ft" {
		t.Errorf("80 lbf·ft are shown again as %q %q", got, unit)
	}
	p.put(id, "torque.wheel_nuts", "thread", "M12x1.5", "unit", "N·m", "torque", "80", "source", "manual p. 4")
	if got := p.source(id).Torques["wheel_nuts"].CNM; got != 8000 {
		t.Errorf("the same number in another unit is kept as %d cN·m", got)
	}
}

func TestErrOwn(t *testing.T) {
	torque := func(args ...string) []string {
		return append(args, "thread", "M12", "source", "manual p. 4")
	}
	for name, test := range map[string]struct {
		form string
		args []string
		want string
	}{
		"no source":           {"torque.wheel_nuts", []string{"unit", "N·m", "torque", "112"}, "needs its source"},
		"no number":           {"torque.wheel_nuts", torque("unit", "N·m", "torque", "a lot"), "does not start with a number"},
		"a range":             {"torque.wheel_nuts", torque("unit", "N·m", "torque", "100-120"), "range"},
		"nothing":             {"torque.wheel_nuts", torque("unit", "N·m"), "torque is missing"},
		"zero":                {"torque.wheel_nuts", torque("unit", "N·m", "torque", "0"), "torque is missing"},
		"tolerance as wide":   {"torque.wheel_nuts", torque("unit", "N·m", "torque", "112", "tolerance", "112"), "as wide as its torque"},
		"too much":            {"torque.wheel_nuts", torque("unit", "N·m", "torque", "2001"), "2,000 N·m"},
		"no such kind":        {"torque.wing_nuts", torque("unit", "N·m", "torque", "9"), "form is gone"},
		"no such form":        {"colour", nil, "form is gone"},
		"no such part":        {"part.9", nil, "form is gone"},
		"half a part":         {"part.new", []string{"name", "Spring", "count", "1.5"}, "not a whole number"},
		"car without source":  {"car", []string{"mass", "1240"}, "no source"},
		"more than the whole": {"car", []string{"share", "101", "source", "p. 1"}, "more than the whole"},
		"mass below zero":     {"car", []string{"mass", "-1", "source", "p. 1"}, "Mass of the empty car"},
		"point without place": {"point.new", []string{"use", "jack", "axle", "front", "source", "p. 1"}, "no place"},
		"target without side": {"target.front.camber", []string{"value", "1", "tolerance", "0.5", "source", "p. 1"}, "Which way"},
		"signed angle":        {"target.front.camber", []string{"value", "-1", "side", "minus", "tolerance", "0.5", "source", "p. 1"}, "below zero"},
		"side unknown":        {"target.front.camber", []string{"value", "1", "side", "up", "tolerance", "0.5", "source", "p. 1"}, "nothing is chosen"},
		"clicks beyond all":   {"damper.front.", []string{"clicks", "25", "total", "24", "from", "full_hard", "stop", "0", "source", "p. 1"}, "more clicks"},
		"neither axle":        {"basics", []string{"vehicle", "My car", "kit", "Kit", "front", "none", "rear", "none"}, "No axle"},
		"no name":             {"basics", []string{"kit", "Kit", "front", "front_strut", "rear", "none"}, "car has no name"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPhone(t, store.NewMemory(time.Now))
			id := p.begin("front_strut", "rear_separate")
			before, _ := p.disk.Meta(context.Background(), "own")
			err := p.tryPut(id, test.form, test.args...)
			if f := fault.Of(err); f == nil || !strings.Contains(f.Message, test.want) || f.Hint == "" {
				t.Fatalf("got %v, want %q in it, and a hint", err, test.want)
			}
			if after, _ := p.disk.Meta(context.Background(), "own"); after != before {
				t.Errorf("refused, it was kept: %s", after)
			}
		})
	}
}
