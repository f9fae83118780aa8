package templates

import (
	"strings"
	"testing"
)

// TestAloud: a voice gets sentences, units in words, what blocks, and every caution.
func TestAloud(t *testing.T) {
	v := Step{Title: "Strut in, front left", Do: "Top nuts first.", Blockers: []string{"The camber is not set"}, Cautions: []string{"Hold the bolt still."},
		Ask: &Ask{Text: "Strut top mount", Torque: &Torque{Figure: "23", Unit: "N·m"}}}
	const want = "Strut in, front left. Top nuts first. Not yet. The camber is not set. Strut top mount. Set the wrench to 23 newton metres. Caution. Hold the bolt still."
	if got := v.aloud(); got != want {
		t.Errorf("read aloud is %q, want %q", got, want)
	}
	v.Ask.Torque.Set, v.Blockers, v.Cautions = "19.7", nil, nil
	const adapter = "Strut in, front left. Top nuts first. Strut top mount. Set the wrench to 19.7 newton metres. The fastener is to get 23 newton metres."
	if got := v.aloud(); got != adapter {
		t.Errorf("with an adapter it is %q, want %q", got, adapter)
	}
}

// TestAloudStop: a voice says the stop first, and nothing of what the step was to do.
func TestAloudStop(t *testing.T) {
	v := Step{Title: "Raise the front onto stands", Do: "Raise the front onto both stands.",
		Ask: &Ask{Kind: "stop", Text: "Does it stand dead still?", Stop: "Lower it back onto its wheels at once."}}
	const want = "Stop. Lower it back onto its wheels at once. Raise the front onto stands. You answered No: Does it stand dead still?"
	if got := v.aloud(); got != want {
		t.Errorf("read aloud is %q, want %q", got, want)
	}
	var b strings.Builder
	if err := StepScreen(v).Render(t.Context(), &b); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	if strings.Contains(page, v.Do) || strings.Index(page, v.Ask.Stop) > strings.Index(page, "Read aloud") {
		t.Errorf("on the screen the stop comes late, or the step still says to go on:\n%s", page)
	}
}

// TestGlyphs: each state of a fastener is drawn in its own way; one that nobody
// touched is not drawn as loose.
func TestGlyphs(t *testing.T) {
	seen := map[string]string{}
	for _, phase := range []string{"untouched", "loose", "finger", "snug", "part", "final", "marked"} {
		var b strings.Builder
		if err := Glyph(phase).Render(t.Context(), &b); err != nil {
			t.Fatal(err)
		}
		_, drawing, _ := strings.Cut(b.String(), ">")
		if other, twice := seen[drawing]; twice {
			t.Errorf("%s is drawn as %s is", phase, other)
		}
		seen[drawing] = phase
	}
}
