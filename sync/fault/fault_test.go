package fault_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"strutcard/sync/fault"
)

var errDisk = errors.New("disk: /secret/path")

func TestError(t *testing.T) {
	inner := fault.Wrap(errDisk, fault.Full, "No room.", "Make room.")
	wrapped := fmt.Errorf("append event: %w", inner)
	if !fault.Is(wrapped, fault.Full) || fault.Is(wrapped, fault.Busy) || fault.Is(errDisk, fault.Full) || fault.Is(nil, fault.Full) {
		t.Error("Is does not tell kinds apart through wrapping")
	}
	if !errors.Is(wrapped, errDisk) {
		t.Error("the cause is lost")
	}
	if got, want := inner.Error(), "No room. Make room. (disk: /secret/path)"; got != want {
		t.Errorf("Error = %q, want %q", got, want)
	}
	if got := fault.New(fault.Busy, "Busy.", "").Error(); got != "Busy." {
		t.Errorf("Error without a hint = %q", got)
	}
}

// TestNothingLeaks: what crosses the wire or is shown never holds the cause.
func TestNothingLeaks(t *testing.T) {
	for name, err := range map[string]error{"wrapped": fault.Wrap(errDisk, fault.Storage, "No.", "Ask."), "foreign": errDisk} {
		shown := fault.Of(err)
		wire, jsonErr := json.Marshal(shown)
		if jsonErr != nil {
			t.Fatal(jsonErr)
		}
		if strings.Contains(string(wire)+shown.Message+shown.Hint, "secret") {
			t.Errorf("%s: the cause is shown: %s", name, wire)
		}
		if shown.Hint == "" || !errors.Is(shown, errDisk) {
			t.Errorf("%s: hint %q, or the cause is lost for the log", name, shown.Hint)
		}
	}
	if got := fault.Of(errDisk).Kind; got != fault.Internal {
		t.Errorf("a foreign error is %q, want %q", got, fault.Internal)
	}
	if fault.Of(nil) != nil {
		t.Error("no error became one")
	}
}
