package sheet

import (
	"cmp"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
)

// Limits of presets.
const (
	maxClicks  = 100       // as in the log
	maxPerchUM = 1_000_000 // as in the log
)

var toolKinds = map[ToolKind]bool{Plain: true, TorqueWrench: true, Stands: true, Jack: true, Adapter: true, Gauge: true, Consumable: true}

// knobs names what a damper can be set by: one knob, or one for each direction.
var knobs = map[string]bool{"": true, "bump": true, "rebound": true}

// axleWords is an axle in words, also one that there is not.
func axleWords(a event.Axle) string {
	return cmp.Or(lang.T(a.Place().Words()), lang.F("%s axle", string(a)))
}

func blank(s string) bool { return strings.TrimSpace(s) == "" }

func checkPart(p Part) string {
	switch {
	case blank(p.Name):
		return lang.F("Part %q has no name.", p.ID)
	case p.Count < 1:
		return lang.F("Part %q has no count.", p.ID)
	case p.Corner != "" && !p.Corner.Valid():
		return lang.F("Part %q belongs to the unknown corner %q.", p.ID, p.Corner)
	case p.Axle != "" && !p.Axle.Valid():
		return lang.F("Part %q belongs to the unknown axle %q.", p.ID, p.Axle)
	case p.Corner != "" && p.Axle != "" && p.Corner.Axle() != p.Axle:
		return lang.F("Part %q belongs to a corner of one axle and to the other axle.", p.ID)
	}
	return ""
}

func checkTool(t Tool) string {
	switch {
	case blank(t.Name):
		return lang.F("Tool %q has no name.", t.ID)
	case !toolKinds[t.Kind]:
		return lang.F("Tool %q is of the unknown kind %q.", t.ID, t.Kind)
	}
	return ""
}

func checkCheck(c Check) string {
	switch {
	case c.Move != event.Raise && c.Move != event.Lower || blank(c.Ask):
		return lang.F("Check %q does not say what it asks, or before which move.", c.ID)
	case c.Axle != "" && !c.Axle.Valid():
		return lang.F("Check %q is for the unknown axle %q.", c.ID, c.Axle)
	case c.Must && blank(c.Stop):
		return lang.F("Check %q has no way round, and does not say what to do on a no.", c.ID)
	}
	return ""
}

func (s *Sheet) checkVehicle() string {
	for _, p := range s.Vehicle.Points {
		switch {
		case p.Use != UseJack && p.Use != UseStand:
			return lang.F("A point of the vehicle is for %q, which is neither jack nor stand.", p.Use)
		case !p.Axle.Valid():
			return lang.F("A %s of the vehicle is at the unknown axle %q.", p.Use.words(), p.Axle)
		case blank(p.Place) && p.Axle == event.Front:
			return lang.F("A %s at the front does not say where it is.", p.Use.words())
		case blank(p.Place):
			return lang.F("A %s at the rear does not say where it is.", p.Use.words())
		}
	}
	if len(s.Vehicle.Points) > 0 && blank(s.Vehicle.Source) {
		return lang.T("The points of the vehicle have no source.")
	}
	return ""
}

// checkPresets looks at what the car is set to.
func (s *Sheet) checkPresets() string {
	var reasons []string
	for _, t := range s.Targets {
		reasons = append(reasons, checkTarget(t))
	}
	count := map[event.Axle]map[string]int{event.Front: {}, event.Rear: {}}
	for _, d := range s.Dampers {
		if reason := checkDamper(d); reason != "" {
			reasons = append(reasons, reason)
			continue
		}
		count[d.Axle][d.Knob]++
		if n := count[d.Axle]; n[d.Knob] > 1 || n[""] > 0 && len(n) > 1 {
			reasons = append(reasons, lang.F("The dampers of the %s are preset twice, or by one knob and by two.", axleWords(d.Axle)))
		}
	}
	perches := map[event.Axle]bool{}
	for _, p := range s.Perches {
		reasons = append(reasons, checkPerch(p))
		if perches[p.Axle] {
			reasons = append(reasons, lang.F("The perches of the %s are preset twice.", axleWords(p.Axle)))
		}
		perches[p.Axle] = true
	}
	return firstOf(reasons)
}

func checkTarget(t Target) string {
	switch {
	case !t.Quantity.Known() || !t.Axle.Valid():
		return lang.F("A target of %q at the %q axle names no reading of this car.", t.Quantity, t.Axle)
	case t.Confirmed != "" && blank(t.Confirmed):
		return lang.F("The %s target of the %s is confirmed, but does not say by whom and against what.", lang.T(t.Quantity.Words()), axleWords(t.Axle))
	}
	return ""
}

func checkDamper(d Damper) string {
	switch {
	case !d.Axle.Valid():
		return lang.F("A damper preset of the %s names no axle.", axleWords(d.Axle))
	case !knobs[d.Knob]:
		return lang.F("A damper preset of the %s has the unknown knob %q.", axleWords(d.Axle), d.Knob)
	case d.From != "full_hard" && d.From != "full_soft":
		return lang.F("A damper preset of the %s does not say from which end stop it counts.", axleWords(d.Axle))
	case d.StopCounts != 0 && d.StopCounts != 1:
		return lang.F("A damper preset of the %s does not say whether the stop itself counts 0 or 1.", axleWords(d.Axle))
	case d.Clicks < 0 || d.Clicks > maxClicks || d.Total < 0 || d.Total > maxClicks:
		return lang.F("A damper preset of the %s has clicks outside 0 to %d.", axleWords(d.Axle), maxClicks)
	case d.Total > 0 && d.Clicks > d.Total:
		return lang.F("A damper preset of the %s has more clicks than there are from stop to stop.", axleWords(d.Axle))
	case blank(d.Source):
		return lang.F("A damper preset of the %s has no source.", axleWords(d.Axle))
	}
	return ""
}

func checkPerch(p Perch) string {
	switch {
	case !p.Axle.Valid():
		return lang.F("A perch preset of the %s names no axle.", axleWords(p.Axle))
	case blank(p.From):
		return lang.F("A perch preset of the %s does not say what it is measured from.", axleWords(p.Axle))
	case p.UM < 1 || p.UM > maxPerchUM:
		return lang.F("A perch preset of the %s has a length outside 0 to 1,000 mm.", axleWords(p.Axle))
	case blank(p.Source):
		return lang.F("A perch preset of the %s has no source.", axleWords(p.Axle))
	}
	return ""
}
