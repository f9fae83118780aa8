package sheet

import (
	"fmt"
	"strings"

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

func blank(s string) bool { return strings.TrimSpace(s) == "" }

func checkPart(p Part) string {
	switch {
	case blank(p.Name):
		return fmt.Sprintf("Part %q has no name.", p.ID)
	case p.Count < 1:
		return fmt.Sprintf("Part %q has no count.", p.ID)
	case p.Corner != "" && !p.Corner.Valid():
		return fmt.Sprintf("Part %q belongs to the unknown corner %q.", p.ID, p.Corner)
	case p.Axle != "" && !p.Axle.Valid():
		return fmt.Sprintf("Part %q belongs to the unknown axle %q.", p.ID, p.Axle)
	case p.Corner != "" && p.Axle != "" && p.Corner.Axle() != p.Axle:
		return fmt.Sprintf("Part %q belongs to a corner of one axle and to the other axle.", p.ID)
	}
	return ""
}

func checkTool(t Tool) string {
	switch {
	case blank(t.Name):
		return fmt.Sprintf("Tool %q has no name.", t.ID)
	case !toolKinds[t.Kind]:
		return fmt.Sprintf("Tool %q is of the unknown kind %q.", t.ID, t.Kind)
	}
	return ""
}

func checkCheck(c Check) string {
	switch {
	case c.Move != event.Raise && c.Move != event.Lower || blank(c.Ask):
		return fmt.Sprintf("Check %q does not say what it asks, or before which move.", c.ID)
	case c.Axle != "" && !c.Axle.Valid():
		return fmt.Sprintf("Check %q is for the unknown axle %q.", c.ID, c.Axle)
	case c.Must && blank(c.Stop):
		return fmt.Sprintf("Check %q has no way round, and does not say what to do on a no.", c.ID)
	}
	return ""
}

func (s *Sheet) checkVehicle() string {
	for _, p := range s.Vehicle.Points {
		switch {
		case p.Use != UseJack && p.Use != UseStand:
			return fmt.Sprintf("A point of the vehicle is for %q, which is neither jack nor stand.", p.Use)
		case !p.Axle.Valid():
			return fmt.Sprintf("A %s point of the vehicle is at the unknown axle %q.", p.Use, p.Axle)
		case blank(p.Place):
			return fmt.Sprintf("A %s point at the %s does not say where it is.", p.Use, p.Axle)
		}
	}
	if len(s.Vehicle.Points) > 0 && blank(s.Vehicle.Source) {
		return "The points of the vehicle have no source."
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
			reasons = append(reasons, fmt.Sprintf("A damper preset of the %s axle %s", d.Axle, reason))
			continue
		}
		count[d.Axle][d.Knob]++
		if n := count[d.Axle]; n[d.Knob] > 1 || n[""] > 0 && len(n) > 1 {
			reasons = append(reasons, fmt.Sprintf("The dampers of the %s axle are preset twice, or by one knob and by two.", d.Axle))
		}
	}
	perches := map[event.Axle]bool{}
	for _, p := range s.Perches {
		if reason := checkPerch(p); reason != "" {
			reasons = append(reasons, fmt.Sprintf("A perch preset of the %s axle %s", p.Axle, reason))
		}
		if perches[p.Axle] {
			reasons = append(reasons, fmt.Sprintf("The perches of the %s axle are preset twice.", p.Axle))
		}
		perches[p.Axle] = true
	}
	return firstOf(reasons)
}

func checkTarget(t Target) string {
	switch {
	case !t.Quantity.Known() || !t.Axle.Valid():
		return fmt.Sprintf("A target of %q at the %q axle names no reading of this car.", t.Quantity, t.Axle)
	case t.Confirmed != "" && blank(t.Confirmed):
		return fmt.Sprintf("The %s target of the %s axle is confirmed, but does not say by whom and against what.", t.Quantity.Words(), t.Axle)
	}
	return ""
}

func checkDamper(d Damper) string {
	switch {
	case !d.Axle.Valid():
		return "names no axle."
	case !knobs[d.Knob]:
		return fmt.Sprintf("has the unknown knob %q.", d.Knob)
	case d.From != "full_hard" && d.From != "full_soft":
		return "does not say from which end stop it counts."
	case d.StopCounts != 0 && d.StopCounts != 1:
		return "does not say whether the stop itself counts 0 or 1."
	case d.Clicks < 0 || d.Clicks > maxClicks || d.Total < 0 || d.Total > maxClicks:
		return fmt.Sprintf("has clicks outside 0 to %d.", maxClicks)
	case d.Total > 0 && d.Clicks > d.Total:
		return "has more clicks than there are from stop to stop."
	case blank(d.Source):
		return "has no source."
	}
	return ""
}

func checkPerch(p Perch) string {
	switch {
	case !p.Axle.Valid():
		return "names no axle."
	case blank(p.From):
		return "does not say what it is measured from."
	case p.UM < 1 || p.UM > maxPerchUM:
		return "has a length outside 0 to 1,000 mm."
	case blank(p.Source):
		return "has no source."
	}
	return ""
}
