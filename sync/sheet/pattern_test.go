package sheet_test

import (
	"strings"
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
)

func TestDemo(t *testing.T) {
	for _, s := range sheet.Demo() {
		t.Run(s.Title, func(t *testing.T) {
			if !s.Invented {
				t.Error("a demo sheet does not say that it is invented")
			}
			for _, f := range s.Fasteners {
				if f.Final().TorqueCNM == 0 {
					t.Errorf("fastener %s has no torque", f.ID)
				}
			}
			again, err := sheet.Decode(s.Encode())
			if err != nil {
				t.Fatalf("decode own encoding: %v", err)
			}
			if got, want := again.Hash(), s.Hash(); got != want {
				t.Errorf("hash after a round trip = %s, want %s", got, want)
			}
		})
	}
	if got := len(sheet.Demo()[0].Fasteners); got < 40 {
		t.Errorf("the first demo has %d fasteners, want at least 40", got)
	}
}

func TestPatternsCarryNoTorque(t *testing.T) {
	for _, front := range sheet.Patterns() {
		for _, rear := range sheet.Patterns() {
			s, err := sheet.Build(sheet.Start{Title: "own", Version: "1", Own: true,
				Vehicle: sheet.Vehicle{Name: "a car"}, Front: front.ID, Rear: rear.ID})
			if !has(front.Axles, event.Front) || !has(rear.Axles, event.Rear) {
				if !fault.Is(err, fault.Invalid) {
					t.Errorf("%s/%s: a layout on the wrong axle gave %v, want a fault", front.ID, rear.ID, err)
				}
				continue
			}
			if err != nil {
				t.Fatalf("%s/%s: %v", front.ID, rear.ID, err)
			}
			for _, f := range s.Fasteners {
				for _, p := range f.Passes {
					if p.TorqueCNM != 0 || p.AngleMdeg != 0 {
						t.Errorf("%s/%s: fastener %s pass %s carries a number", front.ID, rear.ID, f.ID, p.ID)
					}
				}
			}
			if text := string(s.Encode()); strings.Contains(text, "{corner") || strings.Contains(text, "{axle") {
				t.Errorf("%s/%s: a placeholder was left standing", front.ID, rear.ID)
			}
		}
	}
}

func has(axles []event.Axle, want event.Axle) bool {
	for _, a := range axles {
		if a == want {
			return true
		}
	}
	return false
}
