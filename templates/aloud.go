package templates

import (
	"strings"

	"strutcard/calc/lang"
)

// aloud is a step as it is read out: what to do, what stands against it, what is
// asked now, and every caution. A stop comes first, and in the place of what to do.
func (v Step) aloud() string {
	said := []string{v.Title, v.StatusWords, v.Withdrawn, v.Do}
	if v.stopped() {
		said = []string{lang.T("Stop."), v.Ask.Stop, v.Title, v.Withdrawn}
	}
	if len(v.Blockers) > 0 {
		said = append(append(said, lang.T("Not yet")), v.Blockers...)
	}
	if v.stopped() {
		said = append(said, lang.F("You answered No: %s", v.Ask.Text))
	} else if v.Ask != nil {
		said = append(said, v.Ask.Text, v.Ask.Torque.aloud())
	}
	said = append(said, v.Reminders...)
	if len(v.First) > 0 {
		said = append(append(said, lang.T("First make sure")), v.First...)
	}
	for _, c := range v.Cautions {
		said = append(said, lang.T("Caution."), c)
	}
	return sentences(said)
}

// stopped reports whether a check was answered so that the step must not go on.
func (v Step) stopped() bool { return v.Ask != nil && v.Ask.Kind == "stop" }

func (t *Torque) aloud() string {
	switch {
	case t == nil || t.Figure == "":
		return ""
	case t.Set != "" && t.Set != t.Figure:
		return lang.F("Set the wrench to %s %s. The fastener is to get %s %s.", t.Set, spoken(t.Unit), t.Figure, spoken(t.Unit))
	}
	return lang.F("Set the wrench to %s %s.", t.Figure, spoken(t.Unit))
}

// spoken is a unit of torque as a voice says it: signs are read wrong or not at all.
func spoken(unit string) string {
	switch unit {
	case "N·m":
		return lang.T("newton metres")
	case "lbf·ft":
		return lang.T("pound-force feet")
	case "lbf·in":
		return lang.T("pound-force inches")
	}
	return unit
}

// sentences joins texts so that a voice pauses between them.
func sentences(texts []string) string {
	var out []string
	for _, text := range texts {
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		if !strings.ContainsAny(text[len(text)-1:], ".?:!") {
			text += "."
		}
		out = append(out, text)
	}
	return strings.Join(out, " ")
}
