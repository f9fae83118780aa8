package templates

import (
	"fmt"

	"strutcard/calc/lang"
)

// Drawings of one part or one tool.

func drawNuts(p *pen) {
	p.circle("heavy", 92, 94, 80)
	p.circle("ink", 92, 94, 62)
	at := [5][2]int{{92, 54}, {116, 126}, {54, 82}, {130, 82}, {68, 126}} // in star order
	for i := range 4 {
		p.line("accent dashed", at[i][0], at[i][1], at[i+1][0], at[i+1][1])
	}
	for i, nut := range at {
		p.put("ink solid", nut[0]-7, nut[1]-12, "h14l7 12-7 12h-14l-7-12z")
		p.label("middle", nut[0], nut[1]+5, fmt.Sprint(i+1))
	}
	p.put("ink", 206, 36, "h12v116h-12z")
	p.path("ink", "M218 40H238V74L224 87H218M218 148H238V114L224 101H218")
	p.path("accent fill-accent", "M226 88L242 74H260V114H242L226 100z")
	p.put("ink solid", 218, 89, "h52v10h-52z")
	p.label("end", 212, 24, lang.T("hub"))
	p.label("start", 226, 24, lang.T("wheel"))
	p.label("start", 266, 70, lang.T("nut"))
	p.note("start", 254, 142, lang.T("cone in\nits seat"))
	p.lead(252, 134, 236, 112)
	p.note("middle", 224, 176, lang.T("clean, flat, no gap"))
}

func drawHubHeld(p *pen) {
	p.good(14, 24, lang.T("by a strap"))
	p.bad(180, 24, lang.T("by the hose"))
	p.line("thin", 160, 10, 160, 190)
	for _, x := range []int{14, 180} {
		p.body(x, x+126, 52)
		p.put("heavy", x+108, 54, "v14")
	}
	p.heldHub(50, 132)
	p.path("accent", "M52 54V104M60 54V104")
	p.path("ink", "M122 68C132 128 106 160 94 148Q86 138 70 142")
	p.note("end", 152, 178, lang.T("hose slack"))
	p.turn = "rotate(-28 226 138)"
	p.heldHub(220, 144)
	p.turn = ""
	p.path("heavy", "M288 68L238 130")
	p.note("end", 314, 112, lang.T("hose\npulled"))
}

// heldHub is a knuckle with hub and disc, from the end of the car.
func (p *pen) heldHub(x, y int) {
	p.put("heavy solid", x-26, y-40, "h8v80h-8z")
	p.put("ink solid", x-18, y-12, "h14v24h-14z")
	p.put("heavy solid", x-2, y-36, "h16l4 36-8 34h-12l-4-34z")
	p.circle("ink", x+6, y-28, 3)
}

func drawHose(p *pen) {
	p.good(14, 24, lang.T("stripe straight"))
	p.bad(180, 24, lang.T("twisted"))
	p.line("thin", 160, 10, 160, 190)
	p.hoseRun(40)
	p.path("accent", "M40 58C40 130 104 92 104 160")
	p.path("ink", "M26 59C26 146 88 108 88 180")
	p.put("heavy", 21, 84, "l26-3m4 34l19-20m14 36l27-8")
	p.note("start", 64, 74, lang.T("wire in\nits clips"))
	p.lead(60, 76, 50, 80)
	p.hoseRun(206)
	for i := 1; i < 10; i++ {
		x, y := hoseAt(float64(i) / 10)
		p.put("accent", 200+int(x), 64+int(y), "l12-5")
	}
	p.note("start", 242, 74, lang.T("stripe winds\nround it"))
	p.note("end", 80, 172, lang.T("caliper"))
	p.note("end", 246, 172, lang.T("caliper"))
}

// hoseAt is a point of the hose, t from 0 to 1 on its way down.
func hoseAt(t float64) (x, y float64) {
	u := 1 - t
	return 64 * t * t * (3*u + t), 3*u*u*t*68 + 3*u*t*t*30 + t*t*t*96
}

// hoseRun is a brake hose from its bracket down to the caliper.
func (p *pen) hoseRun(x int) {
	for _, class := range []string{"tube", "tube-in"} {
		p.put(class, x, 56, "v6c0 68 64 30 64 96v6")
	}
	p.put("heavy", x-30, 56, "h56")
	p.put("ink solid", x-8, 42, "h16v14h-16z")
	p.put("ink solid", x+52, 160, "h24v18h-24z")
	p.put("heavy", x+36, 180, "h56")
}

func drawAdapter(p *pen) {
	p.label("start", 70, 20, lang.T("in line: set less"))
	p.put("ink solid", 196, 52, "h84v16h-84z")
	p.wrench(60)
	p.nut(276, 60)
	p.path("thin", "M47 74V98M206 74V98M276 76V98M47 92H276M43 96l8-8m151 8l8-8m62 8l8-8")
	p.note("middle", 126, 88, lang.T("lever of the wrench"))
	p.note("middle", 241, 88, lang.T("adapter"))
	p.label("start", 228, 124, lang.T("square:\nno change"))
	p.put("ink solid", 198, 118, "h16v56h-16z")
	p.wrench(170)
	p.nut(206, 122)
	p.note("start", 14, 204, lang.T("pull at mid grip, square to the wrench"))
}

// wrench is a torque wrench from above, its grip to the left, with the pull.
func (p *pen) wrench(y int) {
	p.put("ink solid", 80, y-4, "h112v8h-112z")
	p.put("heavy solid", 14, y-8, "h66v16h-66z")
	p.circle("heavy solid", 206, y, 14)
	p.put("ink", 201, y-5, "h10v10h-10z")
	p.arrow(47, y-12, 47, y-42)
}

func (p *pen) nut(x, y int) {
	p.put("accent solid", x-7, y-12, "h14l7 12-7 12h-14l-7-12z")
}

func drawBench(p *pen) {
	p.put("ink", 6, 100, "h308m-300 8h292")
	p.put("heavy solid", 14, 52, "h44v12h30v24h-30v12h-44z")
	p.circle("fill", 26, 64, 3)
	p.circle("fill", 26, 88, 3)
	p.put("ink solid", 88, 66, "h60v20h-60z")
	p.line("ink", 148, 76, 262, 76)
	p.put("heavy", 122, 54, "v44")
	p.spring(124, 76, 236, 76, 5, 20)
	p.put("heavy solid", 236, 58, "h10v36h-10z")
	p.put("ink solid", 246, 70, "h10v12h-10z")
	p.put("accent solid", 94, 68, "h18v16h-18z")
	p.note("middle", 103, 81, "L")
	p.label("start", 14, 24, lang.T("side mark"))
	p.lead(70, 30, 100, 66)
	p.label("end", 306, 40, lang.T("rod nut"))
	p.lead(272, 46, 254, 68)
	p.circle("ink", 64, 162, 42)
	p.circle("ink", 64, 162, 8)
	p.path("heavy", "M91 159A27 27 0 1 0 76 187")
	p.path("ink dashed", "M76 187A27 27 0 0 0 89 174")
	p.put("accent fill-accent", 82, 162, "h20v8h-20z")
	p.label("start", 130, 150, lang.T("spring's end lies\nagainst the stop"))
	p.lead(126, 156, 98, 164)
	p.note("start", 130, 188, lang.T("seat, from above"))
	p.hazard(212, lang.T("Loaded spring: rod nut stays on"))
}
