package method

import (
	"slices"
	"strings"

	"strutcard/calc/adjust"
	"strutcard/calc/lang"
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
		Words:  learningWords,
		Fields: learningFields(kind),
		Fill:   func(r Record) map[string]string { return learningFill(r, kind) },
		Work:   func(in *In) (Result, error) { return learningWork(in, kind) },
	}
}

var (
	learningWords = "Settle the car and read. Move the adjuster by a counted step, settle and read again, at this wheel only. Never reach under a car held only by a jack."
	archHint      = "Hub centre to arch edge."
	learningAsked = []Field{cornerField, unitField, upField,
		{Name: "stage", Label: "At all these readings, the bolts were", Hint: "Tightening moves the reading.", Kind: Choice, Options: []Option{snug, firm, {mixed, "not the same at all of them"}}},
		{Name: "count", Label: "How many readings", Kind: Choice, Options: []Option{{"2", "2"}, {"3", "3"}, {"4", "4"}}},
		{Name: "position_1", Label: "Position 1", Hint: "Counted from where it stood as found, or from any mark.", Kind: Count}, {Name: "reading_1", Label: "Reading 1"},
		{Name: "position_2", Label: "Position 2", Kind: Count}, {Name: "reading_2", Label: "Reading 2"},
		{Name: "position_3", Label: "Position 3", Kind: Count, When: "count=3|4"}, {Name: "reading_3", Label: "Reading 3", When: "count=3|4"},
		{Name: "position_4", Label: "Position 4", Kind: Count, When: "count=4"}, {Name: "reading_4", Label: "Reading 4", When: "count=4"}}
	learningNow    = Field{Name: "now", Label: "Position now, if moved since the last reading", Kind: Count, Optional: true}
	learningTarget = Field{Name: "target", Label: "Target"}
)

// learningFields takes kind for what is read.
func learningFields(kind Kind) []Field {
	effect, hint := effectField, archHint
	effect.Optional = true
	out := slices.Concat(learningAsked, gaugeFields(kind), []Field{learningNow, learningTarget}, ends, []Field{effect})
	if kind == Angle {
		out, hint = slices.Insert(out, 0, angleField), signHint
	}
	for i := range out {
		f := &out[i]
		if f.Kind == "" {
			f.Kind = kind
		}
		if f.Name == "reading_1" || f.Name == "target" {
			f.Hint = hint
		}
	}
	return out
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
	out.Rows = append(out.Rows, Row{lang.T("Learned from"), lang.F("%s readings", in.Typed("count"))})
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
				"%s was filled in from the record for the %s, not for what is chosen now.", lang.T(f.Label), lang.T(event.Corner(offered["corner"]).Words()))
		}
	}
	return nil
}
