package plausible

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/sheet"
)

// mostClicks is far above the 11 and 23 clicks of case REC-06. Common practice,
// no source.
const mostClicks = 60

// Damper is a question about a damper's clicks. Source: case REC-06: makers
// count from either end, and the stop itself as 0 or as 1.
func Damper(d *sheet.Damper) string {
	counted := d.Clicks - d.StopCounts // away from the stop
	switch {
	case d.Clicks < 0 || d.Total < 0 || d.StopCounts != 0 && d.StopCounts != 1:
		return lang.T("The clicks are below zero, or the stop counts neither 0 nor 1. Compare them with the source.")
	case counted < 0:
		return lang.T("The stop itself counts 1, so that 0 clicks cannot be set. Does the source count the stop as 0?")
	case d.Total > 0 && d.Clicks == d.Total+1 && d.StopCounts == 1:
		return lang.T("This is one click more than there are. Does the source count the stop as 0, or leave it out of the total?")
	case d.Total > 0 && d.Clicks > d.Total:
		return lang.F("%d clicks are more than the %d that there are from stop to stop. Compare both with the source.", d.Clicks, d.Total)
	case max(d.Clicks, d.Total) > mostClicks:
		return lang.F("%d clicks are unusual. Does the source count degrees or turns? Compare it once more.", max(d.Clicks, d.Total))
	case counted == 0 && d.From == "full_hard":
		return lang.T("This sets the damper against its hard stop. Does the source count from the soft end?")
	}
	return ""
}

// Perches stand some way along their thread. Common practice, no source.
const leastPerch, mostPerch quantity.Length = 0.001, 0.5

// Perch is a question about where the spring perches are set.
func Perch(p *sheet.Perch) string {
	if at := quantity.LengthFromUM(p.UM); at < leastPerch || at > mostPerch {
		return lang.F("A perch at %s is unusual. Check the number, its unit, and what it is measured from.", at.String())
	}
	return ""
}
