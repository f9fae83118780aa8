package auth_test

import (
	"strings"
	"testing"

	"strutcard/server/auth"
	"strutcard/sync/event"
	"strutcard/sync/store/storetest"
)

func notaryOf(t *testing.T, key string) auth.Notary {
	t.Helper()
	n, err := auth.NewNotary(key)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestNotary: it knows again what it sealed, byte by byte, and nothing else.
func TestNotary(t *testing.T) {
	key := auth.NewKey()
	n := notaryOf(t, key)
	chain := event.Chain{Job: storetest.NewID[event.JobID](), Device: storetest.NewID[event.DeviceID]()}
	raised, err := n.Seal(chain, storetest.NewID[event.ID](), noon, &event.FindingRaised{Step: "s", Severity: "ask", Name: "Ann", Text: "a <twist>", Proof: "-"})
	if err != nil {
		t.Fatal(err)
	}
	decided, err := n.Seal(chain.See(raised), storetest.NewID[event.ID](), noon,
		&event.DecisionMade{Finding: "f1", Decision: event.Redo, Step: "s", Fastener: "arm", Name: "Ann", Text: "torque it", Proof: "-"})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range []event.Event{raised, decided} {
		again, err := event.Decode([]byte(e.Line()))
		if err != nil || !n.Wrote(again) || !notaryOf(t, key).Wrote(again) {
			t.Errorf("%s is not known again: %v", e.Line(), err)
		}
		if notaryOf(t, auth.NewKey()).Wrote(e) {
			t.Errorf("another shop's key takes %s for its own", e.Kind)
		}
	}
	other := storetest.NewID[string]()
	for name, change := range map[string][2]string{
		"text":     {`"torque it"`, `"all is well"`},
		"finding":  {`"f1"`, `"f2"`},
		"decision": {`"redo"`, `"ask"`},
		"step":     {`"step":"s"`, `"step":"t"`},
		"fastener": {`"fastener":"arm",`, ``},
		"name":     {`"Ann"`, `"Ben"`},
		"proof":    {`"proof":"`, `"proof":"0`},
		"id":       {string(decided.ID), other},
		"job":      {string(decided.Job), other},
		"device":   {string(decided.Device), other},
		"seq":      {`"seq":2`, `"seq":3`},
		"tick":     {`"tick":2`, `"tick":99`},
		"at":       {`"at":`, `"at":1`},
		"prev":     {string(decided.Prev), strings.Repeat("a", 64)},
	} {
		altered, err := event.Decode([]byte(strings.Replace(decided.Line(), change[0], change[1], 1)))
		if err != nil || altered.Line() == decided.Line() {
			t.Fatalf("another %s: the change does nothing, or makes no event: %v", name, err)
		}
		if n.Wrote(altered) {
			t.Errorf("a decision with another %s is taken for the server's own", name)
		}
	}
	if note, err := chain.Seal(storetest.NewID[event.ID](), noon, &event.NoteAdded{Text: "n"}); err != nil || n.Wrote(note) {
		t.Errorf("a note is taken for a proven event: %v", err)
	}
	for _, bad := range []string{"", "xyz", key[2:], key + "00"} {
		if _, err := auth.NewNotary(bad); err == nil {
			t.Errorf("%q is taken for a key", bad)
		}
	}
}
