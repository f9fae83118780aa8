package method

import (
	"strconv"
	"strings"

	"strutcard/calc/adjust"
	"strutcard/calc/measure"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
)

// adjustLearned and adjustLearnedHeight learn what a step does from what
// earlier steps did at this very corner.
var (
	adjustLearned       = learning("adjust_learned", "Learn from this corner", Angle)
	adjustLearnedHeight = learning("adjust_learned_height", "Learn ride height", Length)
)

// mixed is refused by calc, which says why.
const mixed = "mixed"

func learning(id, title string, kind Kind) Method {
	return Method{
		ID: id, Group: Adjusting, Title: title,
		Words:  "Settle the car and read. Move the adjuster by a counted step, settle and read again, at this wheel only." + underWords,
		Fields: learningFields(kind),
		Fill:   func(r Record) map[string]string { return learningFill(r, kind) },
		Work:   func(in *In) (Result, error) { return learningWork(in, kind) },
	}
}

func learningFields(kind Kind) []Field {
	var out []Field
	hint := "Hub centre to arch edge."
	if kind == Angle {
		out, hint = append(out, angleField), signHint
	}
	out = append(out, cornerField, unitField, upField,
		Field{Name: "stage", Label: "At all these readings, the bolts were", Hint: "Tightening moves the reading.", Kind: Choice, Options: []Option{snug, firm, {mixed, "not the same at all of them"}}},
		Field{Name: "count", Label: "How many readings", Kind: Choice, Options: []Option{{"2", "2"}, {"3", "3"}, {"4", "4"}}})
	for i, when := range []string{"", "", "count=3|4", "count=4"} {
		n := strconv.Itoa(i + 1)
		out = append(out, Field{Name: "position_" + n, Label: "Position " + n, Kind: Count, When: when}, Field{Name: "reading_" + n, Label: "Reading " + n, Kind: kind, When: when})
	}
	position, reading := &out[len(out)-8], &out[len(out)-7]
	position.Hint, reading.Hint = "Counted from where it stood as found, or from any mark.", hint
	out = append(append(out, gaugeFields(kind)...),
		Field{Name: "now", Label: "Position now, if moved since the last reading", Kind: Count, Optional: true},
		Field{Name: "target", Label: "Target", Hint: hint, Kind: kind})
	effect := effectField
	effect.Optional = true
	return append(append(out, ends...), effect)
}

func learningWork(in *In, kind Kind) (Result, error) {
	q := event.RideHeight
	if kind == Angle {
		q = event.Quantity(in.Choice("of"))
	}
	a, s := adjusterOf(in, q)
	trials := learningTrials(in, a.Place)
	target, now := adjustAmount(in, "target"), in.Count("now")
	if in.Err() != nil {
		return Result{}, in.Err()
	}
	if err := leftOver(in, learningFill(in.Record, kind)); err != nil {
		return Result{}, err
	}
	l, err := adjust.Learn(a, trials)
	if err != nil {
		return Result{}, err
	}
	if in.Has("now") {
		l.Last.Setting = now
	}
	out, err := nextMove(s, l, trials, target)
	out.Rows = append(out.Rows, Row{"Learned from", in.Typed("count") + " readings"})
	return out, err
}

func learningTrials(in *In, at adjust.Place) []trial {
	stage, count := in.Choice("stage"), in.Choice("count")
	u := gauge(in)
	var out []trial
	for _, n := range []string{"1", "2", "3", "4"} {
		t := trial{Setting: in.Count("position_" + n), Place: at, Stage: adjust.Stage(stage),
			Reading: measure.Value[turns]{Value: adjustAmount(in, "reading_"+n), Standard: u}}
		if stage == mixed {
			t.Stage = map[bool]adjust.Stage{true: adjust.Snug, false: adjust.FinalTorque}[n == "1"]
		}
		if n <= count {
			out = append(out, t)
		}
	}
	return out
}

// leftOver refuses readings that the record offered for another wheel, another
// angle or another count than the one chosen since. Fill writes its numbers as
// nobody types them, so that they are known again.
func leftOver(in *In, offered map[string]string) error {
	differs := func(name string) bool { return offered[name] != "" && in.Typed(name) != offered[name] }
	if offered["count"] == "" || !differs("of") && !differs("corner") && !differs("unit") {
		return nil
	}
	axles := event.Corner(in.Typed("corner")).Axle() != event.Corner(offered["corner"]).Axle()
	for _, f := range in.fields {
		number := strings.HasPrefix(f.Name, "position_") || strings.HasPrefix(f.Name, "reading_") || f.Name == "now" ||
			f.Name == "target" && (axles || differs("of"))
		if number && in.Has(f.Name) && in.Typed(f.Name) == offered[f.Name] {
			return quantity.Inputf("Type over what was filled in, or choose that wheel, angle and count again.",
				"%s was filled in from the record for the %s, not for what is chosen now.", f.Label, event.Corner(offered["corner"]).Words())
		}
	}
	return nil
}
