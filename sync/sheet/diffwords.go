package sheet

import (
	"cmp"
	"reflect"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
)

// labels are the words for fields whose name in the file says too little. All
// others are called by that name.
var labels = map[string]string{
	"do": "what to do", "car": "state of the car", "ask": "question", "stop": "what to do after a no", "must": "no way round", "why": "reason",
	"kind": "kind", "tol_cnm": "tolerance", "tol_mdeg": "tolerance", "tol_um": "tolerance", "mdeg": "value", "um": "value",
	"front_permille": "front share of the mass", "share_permille": "share of the final torque", "mass_g": "mass", "bushed": "clamps a rubber bush", "wheel": "holds a road wheel",
	"renew": "one-use", "holds": "adjuster that it clamps", "turn": "side that turns", "prepare": "state of the thread", "recheck_km": "re-check after",
	"own": "made by the installer", "invented": "invented, for no real car", "stop_counts": "the stop itself counts", "total": "clicks from stop to stop",
	"from": "counted from", "box": "count the parts", "kit": "check the tools", "specs": "every torque must be known", "settle": "roll and bounce", "drive": "needs a clear tally",
	"hold": "hold point", "later": "done after the job is finished", "leftovers": "count what is left", "confirmed": "confirmed by", "reuse": "when it may be used again",
}

// singulars are the words for one element of a list.
var singulars = map[string]string{
	"passes": "pass", "perches": "perch", "needs": "step that comes first", "after": "step that comes first", "first": "condition", "order": "order of readings",
	"loosen": "fastener loosened here", "fit": "fastener fitted here", "clicks": "clicks to note", "positions": "position to note",
}

func tagOf(f reflect.StructField) string {
	tag, _, _ := strings.Cut(f.Tag.Get("json"), ",")
	return tag
}

func label(tag string) string {
	if words, ok := labels[tag]; ok {
		return lang.T(words)
	}
	tag, _, _ = strings.Cut(tag, "_cnm")
	tag, _, _ = strings.Cut(tag, "_um")
	tag, _, _ = strings.Cut(tag, "_mdeg")
	return ownWord(tag)
}

func singular(tag string) string {
	if words, ok := singulars[tag]; ok {
		return lang.T(words)
	}
	return label(strings.TrimSuffix(tag, "s"))
}

// ownWord says a name that the file has for a field or a choice.
func ownWord(name string) string {
	return lang.C(strings.ReplaceAll(name, "_", " "), "of a fitting sheet")
}

// units are those of the record by the end of a field's name, with the decimals
// that lie between them and the ones people read.
var units = []struct {
	end, words string
	decimals   int
}{{"cnm", " N·m", 2}, {"mdeg", "°", 3}, {"um", " mm", 3}, {"mass_g", " kg", 3}, {"permille", " %", 1}, {"km", " km", 0}}

// say writes a value of a field for people, exactly: two different values never
// read alike.
func (n names) say(tag string, v reflect.Value) string {
	switch v.Kind() {
	case reflect.Bool:
		if v.Bool() {
			return lang.T("yes")
		}
		return lang.T("no")
	case reflect.Int, reflect.Int64:
		for _, u := range units {
			if strings.HasSuffix(tag, u.end) {
				return lang.Number(decimal(v.Int(), u.decimals)) + u.words
			}
		}
		return decimal(v.Int(), 0)
	}
	return n.name(v)
}

// decimal writes a whole number of the record's units with the point moved.
func decimal(v int64, places int) string {
	sign, digits := "", strconv.FormatInt(v, 10)
	if v < 0 {
		sign, digits = "−", digits[1:]
	}
	if places == 0 {
		return sign + digits
	}
	if short := places + 1 - len(digits); short > 0 {
		digits = strings.Repeat("0", short) + digits
	}
	at := len(digits) - places
	if rest := strings.TrimRight(digits[at:], "0"); rest != "" {
		return sign + digits[:at] + "." + rest
	}
	return sign + digits[:at]
}

// name is an element of a list, or a word of a closed list, as people call it.
func (n names) name(v reflect.Value) string {
	switch x := v.Interface().(type) {
	case Fastener:
		return joined(", ", lang.T(x.Place), lang.T(x.Corner.Words()))
	case Pass:
		return x.Kind.words()
	case Part:
		return lang.T(x.Name)
	case Tool:
		return lang.T(x.Name)
	case Check:
		return lang.F("check “%s”", lang.T(x.Ask))
	case StepCheck:
		return lang.F("check “%s”", lang.T(x.Ask))
	case PhotoAsk:
		return lang.F("picture “%s”", lang.T(x.What))
	case Stage:
		return lang.F("stage “%s”", lang.T(x.Title))
	case Step:
		return lang.F("step “%s”", lang.T(x.Title))
	case Target:
		return joined(", ", lang.T(x.Quantity.Words()), lang.T(x.Axle.Place().Words()))
	case Damper:
		return joined(", ", lang.T("dampers"), ownWord(x.Knob), lang.T(x.Axle.Place().Words()))
	case Perch:
		return lang.F("spring perches, %s", lang.T(x.Axle.Place().Words()))
	case Point:
		return joined(", ", x.Use.words(), lang.T(x.Axle.Place().Words()), lang.T(x.Place))
	case Order:
		return lang.F("%s before %s", lang.T(x.First.Words()), lang.T(x.Then.Words()))
	case PassRef:
		return joined(", ", cmp.Or(n.fasteners[x.Fastener], string(x.Fastener)), cmp.Or(n.passes[x], string(x.Pass)))
	case ReadingAsk:
		return joined(", ", lang.T(x.Quantity.Words()), lang.T(x.Place().Words()), n.say("", reflect.ValueOf(x.Purpose)))
	case PositionAsk:
		return joined(", ", lang.T(x.Adjuster.Words()), lang.T(x.Corner.Words()), n.say("", reflect.ValueOf(x.Purpose)))
	case ClicksAsk:
		return joined(", ", lang.T("clicks"), ownWord(x.Knob), lang.T(x.Corner.Words()), n.say("", reflect.ValueOf(x.Purpose)))
	case event.StepID:
		return cmp.Or(n.steps[x], string(x))
	case event.FastenerID:
		return cmp.Or(n.fasteners[x], string(x))
	case event.ToolID:
		return cmp.Or(n.tools[x], string(x))
	case PassKind:
		return lang.C(strings.ReplaceAll(string(x), "_", " "), "of a pass")
	case string: // a text, or a choice such as "nut"
		return lang.C(lang.T(x), "of a fitting sheet")
	case interface{ Words() string }:
		return cmp.Or(lang.T(x.Words()), v.String())
	}
	return ownWord(v.String()) // a word of a closed list
}

// words names one pass.
func (k PassKind) words() string {
	switch k {
	case Snug:
		return lang.T("snug pass")
	case Partial:
		return lang.T("part pass")
	case Final:
		return lang.T("final pass")
	case Angle:
		return lang.T("angle pass")
	case BackOff:
		return lang.T("back off pass")
	case Recheck:
		return lang.T("recheck pass")
	}
	return lang.F("%s pass", string(k))
}

// words names one point of the body.
func (u Use) words() string {
	if u == UseJack {
		return lang.T("jack point")
	}
	return lang.T("stand point")
}

// describe is all of an element: what somebody needs who has not seen it yet.
func (n names) describe(v reflect.Value) string {
	if v.Kind() != reflect.Struct || v.Type() == reflect.TypeFor[PassRef]() {
		return cmp.Or(n.name(v), lang.T(nothing))
	}
	var parts []string
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if !f.IsExported() || v.Field(i).IsZero() || f.Name == "ID" || v.Type() == reflect.TypeFor[Stage]() && f.Name == "Steps" {
			continue
		}
		tag, inner := tagOf(f), v.Field(i)
		if inner.Kind() != reflect.Slice {
			parts = append(parts, label(tag)+": "+n.say(tag, inner))
			continue
		}
		for j := range inner.Len() {
			parts = append(parts, singular(tag)+": "+n.describe(inner.Index(j)))
		}
	}
	return cmp.Or(strings.Join(parts, "; "), lang.T(nothing))
}

const nothing = "nothing in it"

// after says behind what an element stands.
func (n names) after(list reflect.Value, i int) string {
	if i == 0 {
		return lang.C("first", "in a list")
	}
	return lang.F("after %s", n.name(list.Index(i-1)))
}

func joined(between string, parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, between)
}
