package guide_test

import (
	"strings"
	"testing"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/guide/guidetest"
)

// TestGerman: the gates say the same in German and let the same work through, and
// what somebody typed is never looked up.
func TestGerman(t *testing.T) {
	if err := lang.Use(lang.German); err != nil {
		t.Fatal(err)
	}
	defer lang.SpeakEnglish()
	blocked(t, guidetest.New(t, wren()).Guide().Allow(&event.CarLowered{Axle: event.Front}), "Die Vorderachse ist schon unten.")
	blocked(t, at(t, wren(), "raise_step_front").Guide().Allow(&event.CarRaised{Axle: event.Rear}), "Nicht anheben: Der Wagen stünde auf Rädern, die nicht fest sind.", ": lose.")
	if got, want := guide.ReadingWords(event.TotalToe, event.Rear.Place()), "Gesamtspur, Hinterachse"; got != want {
		t.Errorf("a reading is called %q, want %q", got, want)
	}
	for p, want := range map[event.Payload]string{
		&event.NoteAdded{Text: "yes"}: "Notiz: yes",
		&event.DecisionMade{Name: "mentor", Decision: event.Redo, Step: "box", Text: "no", Proof: "p"}:                               "mentor verlangt noch einmal: ",
		&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "m", ValueMD: -900}:             "Gemessen: Sturz, vorn links (vorgefunden)",
		&event.PassDone{Fastener: "link_RL", Pass: "snug", Count: 1}:                                                                 "Angezogen (Anlegen): ",
		&event.CheckAnswered{Axle: event.Front, Move: event.Raise, Check: "ground", Answer: event.No}:                                ": nein",
		&event.PositionNoted{Adjuster: event.RideHeight, Corner: event.RR, Purpose: event.Setting, Text: "camber", LengthUM: 30_000}: "Versteller für Fahrhöhe, hinten rechts: camber",
	} {
		if got := guide.Describe(wren(), guidetest.New(t, wren()).Force(p)); !strings.Contains(got, want) {
			t.Errorf("%T is described as %q, want %q in it", p, got, want)
		}
	}
	guidetest.Walk(t, wren())
}
