package templates

import (
	"fmt"

	"strutcard/calc/lang"
)

// figures are the drawings of the glossary that no step names. Lean, toe and the
// like are exaggerated.
var figures = []struct {
	name string
	sketch
}{
	{"angle", sketch{190, "Nut from above, twice. First it is tightened to the torque and a line is painted across nut and part. Then it is turned on, and the line on the nut has moved on by the angle.", drawAngle}},
	{"bump_stop", sketch{196, "Damper upright under the body. The bump stop sits round its rod; the gap between it and the damper's body is the travel that is left.", drawBumpStop}},
	{"camber", sketch{190, "A wheel from the front, twice, beside a plumb line, with the car to its right. Top in, towards the car: camber is negative. Top out: camber is positive.", drawCamber}},
	{"caster", sketch{206, "A front wheel from the side, front to the left. The steering axis leans rearward at its top against a plumb line through the hub: caster is positive.", drawCaster}},
	{"castle", sketch{190, "Castle nut from the side. A split pin goes through a slot of the nut and the hole of the bolt, both its legs bent. On to the next slot, never back.", drawCastle}},
	{"corner", sketch{212, "Car from above, its front up, with the four corners as the driver sees them: front left, front right, rear left, rear right.", drawCorner}},
	{"run_out", sketch{190, "A rim seen edge on, turning, and dashed where it wobbles to. A fixed pointer beside its edge shows the run-out between both.", drawRunOut}},
	{"set_back", sketch{212, "Car from above. The right front wheel stands further back than the left one: the wheelbase is shorter on the right.", drawSetBack}},
	{"states", sketch{176, "Torque wrench on a nut. Below it the hexagon of a fastener in five states: dashed outline, loose; outline, finger tight; lower half full, snug; full, final; full with a stripe across, marked.", drawStates}},
	{"strings", sketch{212, "Car from above with a string along each side, beside both wheels. The gap from string to rim is measured in front and behind at every wheel.", drawStrings}},
	{"sweep", sketch{212, "A left front wheel from above, twice: straight ahead dashed, steered out by 20° and beside it in by 20°. At both a level stands against its outer face, and the camber is read.", drawSweep}},
	{"thrust", sketch{212, "Car from above, both rear wheels pointing to the right. The thrust line goes from the middle of the rear axle forward and to the right of the centre line; the thrust angle is between both.", drawThrust}},
	{"toe", sketch{212, "Car from above, its front wheels pointing inwards: they are closer together in front than behind. Toe-in is positive, toe-out negative.", drawToe}},
}

func sketchOf(name string) sketch {
	for _, f := range figures {
		if f.name == name {
			return f.sketch
		}
	}
	return sketches[name]
}

// plan is a car from above, its front up, with the heading of each wheel in degrees,
// to the right positive: front left, front right, rear left, rear right.
func (p *pen) plan(headings [4]int, back int) {
	p.put("ink", 132, 22, "h56q14 0 14 18v138q0 12-12 12h-60q-12 0-12-12v-138q0-18 14-18z")
	p.put("thin", 130, 76, "q30-14 60 0l-6 18h-48zm6 76h48l4 14h-56z")
	for i, turn := range headings {
		x, y := 112+i%2*96, 62+i/2*92
		if i == 1 {
			y += back
		}
		p.turn = fmt.Sprintf("rotate(%d %d %d)", turn, x, y)
		p.put("heavy solid", x-8, y-20, "h16v40h-16z")
	}
	p.turn = ""
	p.note("middle", 160, 14, lang.T("↑ front"))
}

func drawCorner(p *pen) {
	p.plan([4]int{}, 0)
	p.note("end", 96, 66, lang.T("front left"))
	p.note("start", 224, 66, lang.T("front right"))
	p.note("end", 96, 158, lang.T("rear left"))
	p.note("start", 224, 158, lang.T("rear right"))
	p.note("middle", 160, 206, lang.T("as the driver sees them"))
}

func drawToe(p *pen) {
	p.plan([4]int{9, -9, 0, 0}, 0)
	p.path("accent dashed", "M105 106L119 18M215 106L201 18")
	p.both(118, 38, 202, 38)
	p.both(108, 88, 212, 88)
	p.label("end", 92, 36, lang.T("closer"))
	p.label("end", 92, 92, lang.T("wider"))
	p.label("start", 222, 36, lang.T("toe-in: +"))
	p.label("start", 222, 92, lang.T("toe-out: −"))
	p.note("middle", 160, 206, lang.T("toe exaggerated"))
}

func drawThrust(p *pen) {
	p.plan([4]int{0, 0, 9, 9}, 0)
	p.line("thin", 160, 190, 160, 22)
	p.line("thin", 112, 154, 208, 154)
	p.arrow(160, 154, 181, 22)
	p.path("accent", "M160 74Q167 74 173 75")
	p.label("start", 220, 40, lang.T("thrust line"))
	p.lead(217, 38, 182, 38)
	p.label("end", 92, 112, lang.T("centre\nline"))
	p.lead(96, 112, 158, 118)
	p.note("middle", 160, 206, lang.T("angle exaggerated"))
}

func drawSetBack(p *pen) {
	p.plan([4]int{}, 18)
	p.both(88, 62, 88, 154)
	p.both(232, 80, 232, 154)
	p.path("thin", "M84 62H236M84 154H236M200 80H236")
	p.line("accent", 222, 62, 222, 80)
	p.label("end", 80, 112, lang.T("longer"))
	p.label("start", 240, 122, lang.T("shorter"))
	p.label("start", 222, 54, lang.T("set-back"))
}

func drawStrings(p *pen) {
	p.plan([4]int{}, 0)
	p.path("accent", "M82 26V186M238 26V186")
	for _, y := range []int{44, 80, 136, 172} {
		p.put("accent", 82, y, "h22m112 0h22")
	}
	p.label("end", 74, 112, lang.T("string"))
	p.note("start", 246, 48, lang.T("gap in\nfront"))
	p.note("start", 246, 84, lang.T("gap\nbehind"))
	p.note("middle", 160, 206, lang.T("to the rim, both ends of every wheel"))
}

func drawCamber(p *pen) {
	p.ground(150)
	for i, words := range []string{lang.T("top in: −"), lang.T("top out: +")} {
		x := 70 + 160*i
		p.turn = fmt.Sprintf("rotate(%d %d 150)", 12-24*i, x)
		p.put("heavy", x-12, 150, "q-8 0-8-8v-88q0-8 8-8h24q8 0 8 8v88q0 8-8 8z")
		p.put("thin", x+20, 98, "h36m-36 6h36")
		p.turn = ""
		p.line("accent dashed", x, 150, x, 38)
		p.label("middle", x, 24, words)
		p.note("middle", x+24, 168, lang.T("car →"))
	}
	p.line("thin", 152, 10, 152, 172)
	p.note("middle", 160, 184, lang.T("lean exaggerated"))
}

func drawCaster(p *pen) {
	p.ground(186)
	p.wheel(140, 128, 58)
	p.line("accent dashed", 140, 186, 140, 26)
	p.path("heavy", "M123 186L166 44")
	p.path("accent", "M140 50Q152 48 164 52")
	p.joint(162, 58)
	p.joint(128, 168)
	p.label("middle", 140, 18, lang.T("plumb"))
	p.label("start", 178, 42, lang.T("top back: +"))
	p.label("start", 212, 96, lang.T("steering\naxis"))
	p.lead(208, 92, 155, 82)
	p.note("start", 6, 66, lang.T("← front"))
	p.note("middle", 160, 202, lang.T("lean exaggerated"))
}

func drawSweep(p *pen) {
	p.wall(286, 34, 160)
	for i, words := range []string{lang.T("out 20°"), lang.T("in 20°")} {
		x, turn := 84+120*i, 40*i-20
		p.put("thin dashed", x-17, 60, "h34v88h-34z")
		p.turn = fmt.Sprintf("rotate(%d %d 104)", turn, x)
		p.put("heavy", x-17, 60, "h34v88h-34z")
		p.put("accent fill-accent", x-27, 88, "h10v32h-10z")
		p.turn = ""
		p.arrow(x, 44, x+turn*3/2, 50)
		p.label("middle", x, 24, words)
	}
	p.label("start", 6, 182, lang.T("level"))
	p.lead(36, 168, 58, 126)
	p.note("end", 314, 182, lang.T("car →"))
	p.note("middle", 160, 204, lang.T("read the camber at both"))
}

func drawRunOut(p *pen) {
	for _, turn := range []int{-5, 5} {
		p.turn = fmt.Sprintf("rotate(%d 130 92)", turn)
		p.put(map[int]string{-5: "heavy", 5: "ink dashed"}[turn], 122, 20, "h16v144h-16z")
	}
	p.turn = ""
	p.line("thin", 40, 92, 220, 92)
	p.path("accent", "M62 70C46 76 46 108 62 114")
	p.head(52, 106, 64, 115)
	p.path("fill", "M146 160L166 154V166z")
	p.path("ink", "M166 160H214V178M196 178H232")
	p.both(114, 12, 138, 12)
	p.label("start", 146, 18, lang.T("run-out"))
	p.label("start", 200, 148, lang.T("fixed pointer"))
	p.note("start", 6, 138, lang.T("turn it\nonce"))
}

func drawStates(p *pen) {
	p.wrench(60)
	p.nut(206, 60)
	p.label("start", 62, 30, lang.T("to the torque, and stop"))
	for i, words := range []string{lang.T("loose"), lang.T("finger\ntight"), lang.C("snug", "of a fastener"), lang.C("final", "of a fastener"), lang.T("marked")} {
		x := 34 + 63*i
		p.put([...]string{"ink dashed", "ink", "ink", "fill", "fill"}[i], x, 94, "l16 9v18l-16 9-16-9v-18z")
		if i == 2 {
			p.put("fill", x-16, 112, "h32v9l-16 9-16-9z")
		}
		if i == 4 {
			p.put("solid", x-20, 122, "l38-25 3 5-38 25z")
		}
		p.note("middle", x, 148, words)
	}
}

func drawAngle(p *pen) {
	for i, words := range []string{lang.T("1 torque"), lang.T("2 angle")} {
		x := 82 + 156*i
		p.circle("ink", x, 96, 56)
		p.put("heavy solid", x-30, 96, "l15-26h30l15 26-15 26h-30z")
		p.circle("ink", x, 96, 12)
		p.label("middle", x, 24, words)
		p.line("accent", x, 68, x, 44)
		if i == 0 {
			p.line("accent", x, 84, x, 68)
		}
	}
	p.line("accent", 250, 96, 264, 96)
	p.path("accent", "M247 58A38 38 0 0 1 276 92")
	p.head(272, 80, 276, 96)
	p.note("middle", 160, 176, lang.T("paint a line first: it shows the turn"))
}

func drawCastle(p *pen) {
	p.put("heavy", 40, 146, "h170")
	p.put("ink solid", 106, 22, "h40v124h-40z")
	p.put("thin", 106, 32, "h40m0 10h-40m0 10h40")
	p.path("heavy solid", "M78 146V66H92V92H102V66H118V92H134V66H150V92H160V66H174V146z")
	p.path("accent", "M196 84H62M62 92H196M62 84Q54 100 60 114M62 92Q58 104 66 116")
	p.circle("accent solid", 202, 88, 8)
	p.label("start", 212, 72, lang.T("new pin"))
	p.label("start", 222, 130, lang.T("slot"))
	p.lead(218, 126, 156, 90)
	p.note("start", 6, 40, lang.T("bend both\nlegs"))
	p.lead(42, 60, 58, 88)
	p.note("middle", 160, 178, lang.T("on to the next slot, never back"))
}

func drawBumpStop(p *pen) {
	p.body(70, 230, 30)
	p.line("heavy", 150, 30, 150, 112)
	p.put("accent fill-accent", 136, 30, "h28l-4 12 4 10-6 12h-16l-6-12 4-10z")
	p.put("ink solid", 134, 110, "h32v66h-32z")
	p.circle("ink solid", 150, 184, 8)
	p.both(184, 66, 184, 108)
	p.path("thin", "M162 65H192M168 109H192")
	p.label("start", 192, 52, lang.T("bump stop"))
	p.lead(190, 48, 162, 48)
	p.label("start", 198, 94, lang.T("travel left"))
	p.label("end", 122, 146, lang.T("damper"))
	p.lead(124, 142, 134, 142)
}
