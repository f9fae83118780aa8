package method

import (
	"math"

	"strutcard/calc/adjust"
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// topPicture is the steering axis before and after, from the front with the
// wheel beside it, or from the side.
func topPicture(in *In, x adjust.Axis, m adjust.Move, angle string, change quantity.Angle) *Picture {
	const foot, head, ground = 176.0, 46.0, 190.0
	p := &Picture{Height: 215, Note: lang.F("The move and the lean drawn %d times as large.", exaggeration)}
	base := 150.0
	if angle == "camber" {
		p.Alt = lang.T("From the front: the strut from the lower ball joint up to its top mount, beside the wheel.")
		wheel(p, 70, max(-20, min(20, change.Degrees()*exaggeration)))
		p.Small("end", 310, 208, lang.T("car this side →"))
	} else {
		p.Alt = lang.T("From the side: the steering axis from the lower ball joint up to the top mount.")
		p.Line("ink", 10, ground, 310, ground)
		p.Small("start", 10, 208, lang.T("← front"))
	}
	perMetre := (foot - head) / float64(x.Height)
	top := base + across(x.Offset, x.UpperLies, perMetre)
	after := max(40, min(280, top+across(m.By, m.To, perMetre*exaggeration)))
	top = max(40, min(280, top))
	p.Alt += " " + lang.F("Height %s, top %s, moved %s.", in.Units.FormatLength(x.Height), moveWords(in, x.Offset, x.UpperLies), moveWords(in, m.By, m.To))
	p.Line("ink dashed", base, foot, base, head)
	p.Line("ink", base, foot, top, head)
	p.Line("accent", base, foot, after, head)
	p.Line("accent", top, head-6, after, head-6)
	p.Circle("fill", base, foot, 4)
	p.Circle("ink", top, head, 4)
	p.Circle("accent", after, head, 4)
	p.Label("middle", max(70, min(250, (top+after)/2)), 16, lang.F("move %s", moveWords(in, m.By, m.To)))
	p.Small("middle", max(60, min(260, (top+base)/2)), 32, moveWords(in, x.Offset, x.UpperLies))
	p.Label("start", 243, 115, in.Units.FormatLength(x.Height))
	p.Line("ink thin", 236, head+14, 236, foot)
	if angle == "camber" {
		p.Label("start", 10, 208, lang.F("camber %s", in.Units.FormatAngle(change)))
	} else {
		p.Label("end", 310, 208, lang.F("caster %s", in.Units.FormatAngle(change)))
	}
	return p
}

// across is a distance on the picture: out and forward to the left.
func across(by quantity.Length, to adjust.Way, perMetre float64) float64 {
	v := float64(by) * perMetre
	if to == adjust.Out || to == adjust.Forward {
		return -v
	}
	return v
}

// footPicture is the foot of the strut from the front, its two bolts and the
// knuckle before and after.
func footPicture(in *In, f adjust.Foot, m adjust.Move, camber quantity.Angle) *Picture {
	const x, upper, lower = 190.0, 80.0, 140.0
	p := &Picture{Height: 215, Note: lang.F("Lean drawn %d times as large.", exaggeration),
		Alt: lang.F("From the front: the foot of the strut with two bolts %s apart, the %s one slotted. The knuckle moves %s there. %s",
			in.Units.FormatLength(f.Spacing), boltWords(f.Slotted), moveWords(in, m.By, m.To), leanChange(in, camber))}
	lean := max(-20, min(20, camber.Degrees()*exaggeration))
	wheel(p, 70, lean)
	p.Small("end", 310, 208, lang.T("car this side →"))
	p.Outline("ink", x-14, 20, x+14, 20, x+14, 160, x-14, 160)
	pivot, slot, way := lower, upper, 1.0
	if f.Slotted == adjust.LowerBolt {
		pivot, slot, way = upper, lower, -1
	}
	shift := -way * (lower - upper) * math.Tan(lean*math.Pi/180)
	p.Line("accent", x, pivot, x+shift, slot, x+1.4*shift, pivot+1.4*(slot-pivot))
	p.Circle("fill", x, pivot, 5)
	p.Circle("ink", x, slot, 5)
	p.Circle("accent", x+shift, slot, 5)
	p.Label("start", x+30, slot+5, moveWords(in, m.By, m.To))
	p.Line("ink thin", x+22, upper, x+22, lower)
	p.Label("start", x+30, (upper+lower)/2+5, in.Units.FormatLength(f.Spacing))
	p.Small("start", x+30, pivot+5, lang.T("turns here"))
	if f.ToTop > 0 {
		p.Small("start", x+30, 56, lang.F("to top %s", in.Units.FormatLength(f.ToTop)))
		p.Small("start", x+30, 168, lang.F("to joint %s", in.Units.FormatLength(f.ToBallJoint)))
	}
	p.Label("end", 310, 30, lang.F("camber %s", in.Units.FormatAngle(camber)))
	return p
}
