package method

import (
	"cmp"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/toe"
	"strutcard/sync/event"
)

// closeUp is one wheel from above, its front at the top.
type closeUp struct {
	Picture
	car    float64 // +1 when the car is to the right of it, −1 to the left
	turned float64 // clockwise, radians
}

const (
	closeX, closeY       = 160.0, 105.0
	closeHalf, closeLong = 22.0, 70.0
	closeEnd             = 60.0  // ahead of the middle: where is measured
	stringFar            = 78.0  // of a string from the middle
	closeHigh            = 222.0 // of the picture
)

func wheelAbove(side toe.Side, a quantity.Angle) *closeUp {
	p := &closeUp{Picture: Picture{Height: closeHigh, Note: timesNote(timesDrawn(a), a)}, car: 1}
	corner := event.FL
	if side == toe.Right {
		p.car, corner = -1, event.FR
	}
	p.turned = drawnAt(clockwise(corner, a), timesDrawn(a))
	p.Outline("heavy", turnedWheel(closeX, closeY, closeHalf, closeLong, p.turned)...)
	p.Small("middle", closeX, 18, lang.T("front"))
	text := lang.T("car →")
	if p.car < 0 {
		text = lang.T("← car")
	}
	p.Label("middle", closeX+p.car*120, closeY+5, text)
	return p
}

// ahead draws straight ahead through the middle of the wheel, and where its own
// line points.
func (p *closeUp) ahead() {
	x, y := wheelSpot(closeX, closeY, 0, closeLong, p.turned)
	bx, by := wheelSpot(closeX, closeY, 0, -closeLong, p.turned)
	p.Line("dashed", bx, by, bx, closeY-closeLong)
	p.Line("accent", bx, by, x, y)
}

// wheelPicture is one wheel with its toe.
func (in *In) wheelPicture(side toe.Side, a quantity.Angle) *Picture {
	p := wheelAbove(cmp.Or(side, toe.Left), a)
	p.ahead()
	p.Label("middle", closeX, closeHigh-6, in.toe(a))
	p.Alt = lang.F("%s from above, its front at the top: %s. %s", theWheel(side), in.toe(a), wheelWords(a))
	return &p.Picture
}

// theWheel is the wheel on a side, the left one where none is told.
func theWheel(side toe.Side) string {
	if side == toe.Right {
		return lang.T("The right wheel")
	}
	return lang.T("The left wheel")
}

// stringPicture is one wheel beside its string, with both gaps.
func (in *In) stringPicture(side toe.Side, at toe.Place, e toe.Ends, a quantity.Angle) *Picture {
	p := wheelAbove(side, a)
	to := -p.car
	if at == toe.Inside {
		to = p.car
	}
	x := closeX + to*stringFar
	p.Line("heavy", x, 26, x, 184)
	for _, end := range []struct {
		ahead float64
		gap   quantity.Length
	}{{closeEnd, e.Front}, {-closeEnd, e.Rear}} {
		rimX, rimY := wheelSpot(closeX, closeY, to*closeHalf, end.ahead, p.turned)
		p.Line("accent", x, rimY, rimX, rimY)
		anchor := "start"
		if to < 0 {
			anchor = "end"
		}
		p.Label(anchor, x+to*5, rimY+5, in.Units.FormatLength(end.gap))
	}
	p.Small("middle", x, 198, lang.T("string"))
	p.Label("middle", closeX, closeHigh-6, in.toe(a))
	p.Alt = lang.F("%s from above beside a string %s: gap %s at the front, %s at the rear. %s", theWheel(side), lang.T(string(at)), in.Units.FormatLength(e.Front), in.Units.FormatLength(e.Rear), wheelWords(a))
	return &p.Picture
}
