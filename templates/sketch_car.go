package templates

import "strutcard/calc/lang"

// Drawings of the whole car, and of measuring at it.

const (
	carGround        = 160
	carFront, carEnd = 78, 238 // hubs
	carTyre          = 24
)

// car is its body from the side; the wheels come after it.
func (p *pen) car() {
	p.path("ink", "M49.6 142H42Q34 128 40 116 70 103 104 101L134 74Q138 70 144 70H204Q216 71 226 81L246 101Q274 104 281 114L283 142H266.4A29 29 0 1 0 209.6 142H106.4A29 29 0 1 0 49.6 142z")
	p.path("thin", "M113 100L139 76H175V100zM182 76H204Q212 77 219 85L231 100H182z")
}

func drawStands(p *pen) {
	p.ground(carGround)
	p.turn = "rotate(7 238 160)"
	p.car()
	p.turn = ""
	p.wheel(80, 124, carTyre)
	p.wheel(carEnd, carGround-carTyre, carTyre)
	p.stand(124, 128, carGround)
	p.chock(carEnd, carGround, carTyre, -1)
	p.chock(carEnd, carGround, carTyre, 1)
	p.label("start", 6, 20, lang.T("stand under the sill,\none on each side"))
	p.lead(100, 44, 122, 124)
	p.label("end", 314, 62, lang.T("chocks"))
	p.lead(296, 68, 264, 152)
	p.note("start", 6, 175, lang.T("points: as the car's maker says"))
	p.hazard(184, lang.T("Nobody under it on a jack alone"))
}

func drawChocks(p *pen) {
	p.line("ink", 6, 140, 204, 140)
	p.wheel(104, 92, 48)
	p.chock(104, 140, 48, -1)
	p.chock(104, 140, 48, 1)
	p.label("middle", 42, 160, lang.T("in front"))
	p.label("middle", 168, 160, lang.T("behind"))
	p.label("middle", 104, 24, lang.T("touching the tyre"))
	p.lead(150, 30, 143, 120)
	p.lead(62, 30, 66, 120)
	p.put("ink", 248, 24, "h36q8 0 8 10v96q0 10-8 10h-36q-8 0-8-10v-96q0-10 8-10z")
	p.put("ink dashed", 232, 36, "h10v26h-10zm58 0h10v26h-10z")
	p.put("heavy solid", 232, 102, "h10v26h-10zm58 0h10v26h-10z")
	p.put("accent fill-accent", 232, 92, "h10v5h-10zm58 0h10v5h-10zm-58 41h10v5h-10zm58 0h10v5h-10z")
	p.note("middle", 266, 14, lang.T("goes up"))
	p.label("middle", 266, 160, lang.T("stays down"))
}

func drawLower(p *pen) {
	p.ground(178)
	p.path("ink", "M84 132V96Q84 84 98 82L116 48Q120 40 130 40H190Q200 40 204 48L222 82Q236 84 236 96V132z")
	p.path("thin", "M106 82L122 52H198L214 82z")
	p.put("heavy solid", 66, 106, "h24v60h-24zm164 0h24v60h-24z")
	p.put("ink solid", 140, 132, "h40v8h-40z")
	p.stand(108, 134, 178)
	p.stand(212, 134, 178)
	p.jack(160, 140, 178)
	p.arrow(124, 126, 124, 98)
	p.label("start", 134, 116, lang.T("1 jack up"))
	p.arrow(86, 172, 34, 172)
	p.arrow(234, 172, 286, 172)
	p.label("start", 6, 160, lang.T("2 out"))
	p.label("end", 314, 160, lang.T("2 out"))
	p.arrow(280, 32, 280, 76)
	p.label("end", 314, 20, lang.T("3 down, slowly"))
	p.note("middle", 160, 196, lang.T("weight on the jack before a stand moves"))
	p.hazard(208, lang.T("Nobody lies or reaches under"))
}

func drawSettle(p *pen) {
	p.ground(carGround)
	p.car()
	p.wheel(carFront, carGround-carTyre, carTyre)
	p.wheel(carEnd, carGround-carTyre, carTyre)
	p.both(100, 172, 220, 172)
	p.label("middle", 160, 190, lang.T("1 roll straight, by hand"))
	p.both(60, 60, 60, 100)
	p.both(262, 60, 262, 100)
	p.label("middle", 160, 24, lang.T("2 press each end down,\nlet go at the bottom"))
}

func drawTapeHeight(p *pen) {
	p.ground(188)
	p.path("ink", "M10 160H85A68 68 0 1 1 215 160H310M10 70Q80 44 150 44T310 52")
	p.wheel(150, 136, 52)
	p.both(150, 136, 150, 73)
	p.put("accent", 136, 72, "h28")
	p.label("start", 222, 100, lang.T("arch edge"))
	p.lead(218, 96, 168, 73)
	p.label("start", 222, 140, lang.T("hub centre"))
	p.lead(218, 136, 156, 136)
	p.note("end", 72, 104, lang.T("tape\nstraight up"))
	p.lead(76, 104, 144, 104)
}

func drawLevelRim(p *pen) {
	p.ground(190)
	p.turn = "rotate(9 170 190)"
	p.put("heavy", 160, 190, "q-10 0-10-10v-130q0-10 10-10h24q10 0 10 10v130q0 10-10 10z")
	p.put("heavy", 146, 160, "h4m-4-92h4")
	p.put("thin", 150, 160, "h44m-44-92h44")
	p.turn = ""
	p.put("ink solid", 129, 54, "h20v124h-20z")
	p.put("ink", 132, 100, "h14v10h-14z")
	p.circle("fill", 139, 105, 3)
	p.put("accent solid", 112, 66, "h54v9h-54z")
	p.put("accent", 149, 66, "v9m5-9v5m5-5v5m-15-5v5m-5-5v5m-5-5v5")
	p.path("thin", "M149 50V24M165 62V24")
	p.arrow(125, 32, 149, 32)
	p.arrow(189, 32, 165, 32)
	p.label("start", 196, 18, lang.T("gap: read it"))
	p.note("start", 196, 34, lang.T("with the ruler"))
	p.label("end", 104, 104, lang.T("bubble"))
	p.note("end", 104, 119, lang.T("in the middle"))
	p.lead(108, 101, 132, 104)
	p.label("end", 104, 156, lang.T("on the rim"))
	p.note("end", 104, 171, lang.T("not the tyre"))
	p.lead(108, 152, 148, 157)
	p.note("start", 232, 110, lang.T("car →"))
	p.note("end", 314, 206, lang.T("lean exaggerated"))
}

func drawTapeToe(p *pen) {
	for _, side := range []struct {
		x    int
		turn string
	}{{60, "rotate(5 60 112)"}, {260, "rotate(-5 260 112)"}} {
		p.turn = side.turn
		p.put("heavy", side.x-14, 64, "h28v96h-28z")
		p.circle("fill-accent", side.x, 68, 4)
		p.circle("fill-accent", side.x, 156, 4)
	}
	p.turn = ""
	p.line("thin", 76, 112, 122, 112)
	p.line("thin", 198, 112, 244, 112)
	p.both(64, 48, 256, 48)
	p.both(57, 178, 263, 178)
	p.path("accent", "M64 68V42M256 68V42M57 156V184M263 156V184")
	p.label("middle", 160, 40, lang.T("2 same marks, in front"))
	p.label("middle", 160, 198, lang.T("1 mark to mark, behind"))
	p.circle("ink", 160, 112, 28)
	p.path("accent", "M196 112A36 36 0 0 0 126 99")
	p.head(134, 82, 125, 102)
	p.circle("fill-accent", 188, 112, 4)
	p.note("middle", 160, 110, lang.C("half", "of a turn"))
	p.note("middle", 160, 124, lang.T("a turn"))
	p.note("middle", 160, 14, lang.T("↑ front"))
	p.note("middle", 160, 216, lang.T("marks at hub height"))
}

func drawLocks(p *pen) {
	p.wall(228, 20, 166)
	p.turn = "rotate(28 120 104)"
	p.put("ink dashed", 94, 44, "h44v120h-44z")
	p.turn = "rotate(-28 120 104)"
	p.put("heavy solid", 94, 44, "h44v120h-44z")
	p.turn = ""
	p.put("ink", 226, 88, "h-12v24h12")
	p.path("accent", "M214 95C184 50 184 160 151 118")
	p.path("accent dashed", "M214 105C190 150 182 50 152 88")
	p.put("accent", 62, 36, "q54-40 112-4")
	p.head(148, 20, 178, 35)
	p.head(90, 21, 58, 40)
	p.label("end", 314, 84, lang.T("hose\nand wire"))
	p.note("start", 6, 104, lang.T("↑ front"))
	p.label("middle", 160, 186, lang.T("slack at both locks,\ntouching nothing"))
}
