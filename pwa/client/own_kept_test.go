package client_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"strutcard/pwa/client"
	"strutcard/sync/fault"
	"strutcard/sync/store"
)

// TestOwnHalfTyped: a restart finds the form and what was typed in it.
func TestOwnHalfTyped(t *testing.T) {
	disk := store.NewMemory(time.Now)
	p := newPhone(t, disk)
	id := p.begin("front_strut", "rear_separate")
	p.must("own_form", "own", id, "form", "torque.rod_nut_front")
	p.c.Input(context.Background(), "own.torque."+id+".torque.rod_nut_front.torque", "6")
	again := newPhone(t, disk)
	if got := again.ownValue("torque"); got != "6" {
		t.Errorf("after a restart the torque is %q, want the half-typed 6", got)
	}
	again.put(id, "torque.rod_nut_front", "thread", "M12x1.25", "unit", "N·m", "torque", "68", "source", "manual p. 7")
	again.must("own_form", "own", id, "form", "torque.rod_nut_front")
	if got := again.ownValue("torque"); got != "68" {
		t.Errorf("kept, the torque is %q", got)
	}
	again.must("own_piece_drop", "own", id, "form", "torque.rod_nut_front")
	again.says("r-main", "0 known, 0 unverified, 22 to look up")
}

func TestOwnVersions(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	id := p.wholeOwn()
	_, first := p.made(id)
	p.must("start_job", "sheet", first, "vehicle", "My car")
	if _, again := p.made(id); again != first {
		t.Error("made again without a change it is another sheet")
	}
	p.put(id, "torque.wheel_nuts", "thread", "M12x1.5", "unit", "N·m", "torque", "110", "source", "manual p. 4")
	p.says("r-main", "Changed since own 1 was made")
	s, second := p.made(id)
	if s.Version != "own 2" || s.Fastener("wheel_nuts_FL").Final().TorqueCNM != 11_000 {
		t.Errorf("the second is %s with %+v", s.Version, s.Fastener("wheel_nuts_FL").Final())
	}
	p.must("home")
	if main := p.page.region("r-main"); strings.Contains(main, first) || !strings.Contains(main, second) {
		t.Error("the first is still offered, or the second is not")
	}
	p.must("open_job", "job", p.jobs()[0])
	if got := p.state().Opened.Sheet; string(got) != first || strings.Contains(p.text("r-main"), "sheet is not on this phone") {
		t.Errorf("the job has %s, want %s:\n%s", got, first, p.text("r-main"))
	}

	p.must("home")
	p.must("own_copy", "own", id)
	other := p.ownID()
	p.says("r-main", "Two struts, copy")
	if other == id || p.source(other).Vehicle.MassG != 1_240_000 {
		t.Errorf("the copy is %s with %+v", other, p.source(other).Vehicle)
	}
	p.must("own_drop", "own", id)
	if main := p.page.region("r-main"); strings.Contains(main, second) || strings.Contains(main, id) || !strings.Contains(main, other) {
		t.Error("removed, it is still in the list, or its copy is gone too")
	}
	p.must("open_job", "job", p.jobs()[0])
	p.says("r-main", "Count the box")
}

func (p *phone) jobs() []string {
	ids, err := p.disk.Jobs(context.Background())
	if err != nil {
		p.t.Fatal(err)
	}
	var out []string
	for _, id := range ids {
		out = append(out, string(id))
	}
	return out
}

// TestErrOwnDamaged: a list that cannot be read keeps nobody from working, and is
// not thrown away.
func TestErrOwnDamaged(t *testing.T) {
	for name, text := range map[string]string{"cut off": `[{"id":"a","start":{`, "another shape": `{"id":"a"}`, "one entry": `[{"id":7},{"id":"b","start":{"title":"Kept","front":"no such layout"}}]`} {
		t.Run(name, func(t *testing.T) {
			disk := store.NewMemory(time.Now)
			if err := disk.SetMeta(context.Background(), "own", text); err != nil {
				t.Fatal(err)
			}
			p := newPhone(t, disk)
			p.says("r-main", "could not be read")
			if name == "one entry" {
				p.says("r-main", "Kept")
				p.must("own", "own", "b")
				p.says("r-main", "It cannot be made")
			}
			id := p.begin("front_strut", "none")
			p.put(id, "part.new", "name", "Spring", "count", "2")
			if lost, _ := disk.Meta(context.Background(), "own.lost"); lost != text {
				t.Errorf("what could not be read is kept as %q", lost)
			}
		})
	}
}

func TestOwnSecondTabMayNotWrite(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	id := p.begin("front_strut", "none")
	p.page.env = client.Env{Leader: false}
	if err := p.tryPut(id, "part.new", "name", "Spring", "count", "2"); !fault.Is(err, fault.Conflict) {
		t.Errorf("a second tab wrote: %v", err)
	}
}

// TestOwnOneAxle carries out a job at one axle whose torques were all typed
// beforehand.
func TestOwnOneAxle(t *testing.T) {
	p := newPhone(t, store.NewMemory(time.Now))
	id := p.begin("none", "rear_separate")
	for i, kind := range strings.Fields("wheel_nuts hose_bracket_rear sensor_bracket_rear link_rear damper_upper_rear damper_lower_rear arm_inner_rear arm_outer_rear camber_bolt_rear toe_link_rear perch_lock_rear") {
		p.put(id, "torque."+kind, "thread", "M12", "unit", "N·m", "torque", "90", "source", fmt.Sprintf("manual p. %d", i))
	}
	p.says("r-main", "Torques of 11 kinds of fastener: 11 known, 0 unverified, 0 to look up")
	_, hash := p.made(id)
	p.must("start_job", "sheet", hash, "vehicle", "My car")
	for i := 0; p.state().Finished == nil; i++ {
		if i > 600 || !p.next() {
			t.Fatalf("the job does not end; it stands at:\n%s\n%s", p.text("r-main"), p.text("r-bar"))
		}
	}
	if st := p.state(); len(st.Lifts) != 1 || st.Up() {
		t.Errorf("%d lifts, up %v", len(st.Lifts), st.Up())
	}
}
