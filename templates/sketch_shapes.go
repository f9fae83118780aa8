package templates

import (
	"fmt"
	"math"
)

// The shapes that several drawings share.

func (p *pen) ground(y int) { p.line("ink", 6, y, 314, y) }

// wheel is a wheel from the side.
func (p *pen) wheel(x, y, r int) {
	p.circle("heavy solid", x, y, r)
	p.circle("ink", x, y, r*6/10)
	p.circle("fill", x, y, 2)
}

// off is a wheel that has been taken off.
func (p *pen) off(x, y, r int) { p.circle("thin dashed", x, y, r) }

// tyre is where the wheel was, from the end of the car: its outer face at x, its
// hub at y.
func (p *pen) tyre(x, y int) {
	p.put("ink dashed", x+8, y-60, "h28q8 0 8 8v104q0 8-8 8h-28q-8 0-8-8v-104q0-8 8-8z")
	p.put("thin dashed", x, y-36, "h44m0 72h-44")
}

// stand carries the body: top is where it touches.
func (p *pen) stand(x, top, ground int) {
	p.put("heavy", x-8, top-2, "v5h16v-5")
	p.put("heavy", x, top+3, fmt.Sprintf("V%dM%d %dL%d %dH%dL%d %d", ground-12, x-4, top+12, x-14, ground, x+14, x+4, top+12))
}

// jack lifts: top is where it touches.
func (p *pen) jack(x, top, ground int) {
	p.put("accent solid", x-8, top, "h16v4h-16z")
	p.put("accent", x, top+4, fmt.Sprintf("V%dM%d %dh26v7h-26z", ground-7, x-13, ground-7))
}

// chock touches a tyre of radius r in front (-1) or behind (1) of its foot at x:
// its slope of 45° lies against the tyre.
func (p *pen) chock(x, ground, r, side int) {
	near, high := r*41/100, r*2/5
	p.put("accent fill-accent", x+side*near, ground, fmt.Sprintf("l%d %dl%d %dz", side*high, -high, side*high/2, high))
}

// spring is a zigzag of so many coils from one end to the other.
func (p *pen) spring(x1, y1, x2, y2, coils int, wide float64) {
	at := along(x1, y1, x2, y2)
	d := "M" + at(0, -wide) + "L" + at(0, wide)
	for i := range 2 * coils {
		wide = -wide
		d += " " + at((float64(i)+1)/float64(2*coils), wide)
	}
	p.path("ink", d+"L"+at(1, -wide))
}

// damper is its body at the first end and its rod to the second.
func (p *pen) damper(x1, y1, x2, y2 int) {
	at := along(x1, y1, x2, y2)
	p.path("ink", "M"+at(0.5, 0)+"L"+at(1, 0))
	p.path("ink solid", "M"+at(0, -6)+"L"+at(0.62, -6)+" "+at(0.62, 6)+" "+at(0, 6)+"z")
	p.circle("ink solid", x1, y1, 5)
	p.circle("ink solid", x2, y2, 4)
}

// bush is a pivot with rubber in it; final torque at ride height.
func (p *pen) bush(class string, x, y int) {
	p.circle(class+" solid", x, y, 7)
	p.circle("fill", x, y, 2)
}

// joint is a ball joint.
func (p *pen) joint(x, y int) { p.circle("fill", x, y, 5) }

// body is a fixed line of the car's body with its hatching above.
func (p *pen) body(x1, x2, y int) {
	p.line("heavy", x1, y, x2, y)
	d := ""
	for x := x1 + 4; x < x2; x += 12 {
		d += fmt.Sprintf("M%d %dl8-9", x, y)
	}
	p.path("thin", d)
}

// wall is the same, upright, with its hatching to the right.
func (p *pen) wall(x, y1, y2 int) {
	p.line("heavy", x, y1, x, y2)
	d := ""
	for y := y1 + 10; y <= y2; y += 12 {
		d += fmt.Sprintf("M%d %dl9-8", x, y)
	}
	p.path("thin", d)
}

// arrow shows a movement, or what is measured.
func (p *pen) arrow(x1, y1, x2, y2 int) {
	p.line("accent", x1, y1, x2, y2)
	p.head(x1, y1, x2, y2)
}

// head is the point of an arrow.
func (p *pen) head(x1, y1, x2, y2 int) {
	at := along(x2, y2, x1, y1)
	back := 9 / math.Hypot(float64(x2-x1), float64(y2-y1))
	p.path("fill-accent", "M"+at(0, 0)+"L"+at(back, 5)+" "+at(back, -5)+"z")
}

// both is an arrow with two points.
func (p *pen) both(x1, y1, x2, y2 int) {
	p.arrow(x1, y1, x2, y2)
	p.head(x2, y2, x1, y1)
}

// lead joins words to what they name.
func (p *pen) lead(x1, y1, x2, y2 int) { p.line("thin", x1, y1, x2, y2) }

// good and bad stand over the two halves of a drawing.
func (p *pen) good(x, y int, words string) {
	p.put("heavy", x, y-5, "l5 6 9-13")
	p.label("start", x+20, y, words)
}

func (p *pen) bad(x, y int, words string) {
	p.put("heavy", x, y-11, "l11 11m0-11l-11 11")
	p.label("start", x+20, y, words)
}

// hazard is the hatched band with its words.
func (p *pen) hazard(y int, words string) {
	p.put("band", 0, y, "h320v26h-320z")
	for x := 0; x < 36; x += 18 {
		p.put("hatch", x, y+26, "l10-26h9l-10 26z")
	}
	p.marks = append(p.marks, stroke{class: "warn", anchor: "start", x: 44, y: y + 18, text: words})
}
