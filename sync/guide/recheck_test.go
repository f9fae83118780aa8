package guide_test

import (
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
)

// withDistances is a demo sheet whose wheel nuts and one other fastener are
// checked again on the road. The distances are invented.
func withDistances(t *testing.T) *sheet.Sheet {
	t.Helper()
	s := sheet.Demo()[0]
	others := 0
	for i := range s.Fasteners {
		f := &s.Fasteners[i]
		f.Recheck = 0
		switch {
		case f.Wheel:
			f.Recheck = 50
		case others == 0:
			f.Recheck, others = 500, 1
		}
	}
	if err := s.Validate(); err != nil {
		t.Fatal(err)
	}
	return s
}

func TestRechecks(t *testing.T) {
	j := guidetest.New(t, withDistances(t))
	if due := j.Guide().Rechecks(); len(due) != 0 {
		t.Fatalf("before any drive %d re-checks are due, want none", len(due))
	}
	j.Until("first_drive")
	if due := j.Guide().Rechecks(); len(due) != 0 {
		t.Fatalf("before the drive is recorded %d re-checks are due, want none", len(due))
	}
	for range 1500 {
		if st := j.Log.State(); st.Steps["first_drive"].DoneN > 0 || !j.Advance() {
			break
		}
	}
	if j.Log.State().Finished != nil {
		t.Fatal("the job is finished already; the drive alone was to be tested")
	}
	due := j.Guide().Rechecks()
	if len(due) != 2 || due[0].KM != 50 || due[1].KM != 500 {
		t.Fatalf("re-checks = %+v, want at 50 and 500 km in this order", due)
	}
	if got, want := due[0].What(), "wheel nuts"; got != want {
		t.Errorf("what is checked at 50 km = %q, want %q once for all corners", got, want)
	}
	if len(due[0].Fasteners) < 4 || len(due[1].Fasteners) != 1 {
		t.Errorf("%d and %d fasteners, want every wheel and one", len(due[0].Fasteners), len(due[1].Fasteners))
	}
	j.Until("")
	if j.Log.State().Finished == nil {
		t.Fatal("the walk did not finish the job")
	}
	if due := j.Guide().Rechecks(); len(due) != 0 {
		t.Errorf("after the re-check step %d are still due", len(due))
	}
}

func TestRechecksWithoutDistances(t *testing.T) {
	s := sheet.Demo()[0]
	for i := range s.Fasteners {
		s.Fasteners[i].Recheck = 0
	}
	if err := s.Validate(); err != nil {
		t.Fatal(err)
	}
	j := guidetest.New(t, s)
	j.Force(&event.JobFinished{})
	if due := j.Guide().Rechecks(); len(due) != 1 || due[0].KM != 0 || due[0].Step == nil || !due[0].Step.Later {
		t.Errorf("re-checks = %+v, want the step that comes later, without a distance", due)
	}
}
