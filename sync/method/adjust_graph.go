package method

import (
	"fmt"
	"math"
	"strings"

	"strutcard/calc/lang"
	"strutcard/calc/measure"
)

// The plotting area of a graph, in units of the picture.
const (
	graphLeft, graphRight = 72.0, 300.0
	graphTop, graphFoot   = 18.0, 150.0
)

// axis maps numbers onto a stretch of the picture.
type axis struct{ low, high, from, to float64 }

func axisOver(from, to float64, values ...float64) axis {
	a := axis{low: values[0], high: values[0], from: from, to: to}
	for _, v := range values {
		a.low, a.high = math.Min(a.low, v), math.Max(a.high, v)
	}
	if a.high == a.low {
		a.low, a.high = a.low-1, a.high+1
	}
	margin := (a.high - a.low) * 0.06
	a.low, a.high = a.low-margin, a.high+margin
	return a
}

func (a axis) at(v float64) float64 { return a.from + (a.to-a.from)*(v-a.low)/(a.high-a.low) }

// graph is readings against positions, the line through them, the target, and
// where the next move should lead.
func (s scale) graph(l learned, a advice, trials []trial, target turns) *Picture {
	xs, ys := []float64{float64(a.Setting)}, []float64{float64(target), float64(a.Expected.Low()), float64(a.Expected.High())}
	var said []string
	for _, t := range trials {
		xs, ys = append(xs, float64(t.Setting)), append(ys, float64(t.Reading.Low()), float64(t.Reading.High()))
		said = append(said, fmt.Sprintf(lang.C("%s at %s", "of an adjuster"), s.reading(t.Reading.Value), s.setting(t.Setting)))
	}
	x := axisOver(graphLeft, graphRight, xs...)
	line := func(at float64) float64 { return float64(l.Line.At(turns(at)).Value) }
	y := axisOver(graphFoot, graphTop, append(ys, line(x.low), line(x.high))...)

	p := &Picture{Height: 192, Alt: lang.F("Graph of the %s read against the position of the adjuster: %s. A straight line through them, and the target %s, for which to set %s.",
		lang.T(s.q.Words()), strings.Join(said, ", "), s.reading(target), s.setting(a.Setting)),
		Note: lang.T("Points: what was read, with its uncertainty. Ring: what to expect after the move. Dashed: the target.")}
	p.Line("ink thin", graphLeft, graphTop, graphLeft, graphFoot, graphRight, graphFoot)
	p.Line("ink", x.from, y.at(line(x.low)), x.to, y.at(line(x.high)))
	p.Line("accent dashed", x.from, y.at(float64(target)), x.to, y.at(float64(target)))
	for _, t := range trials {
		errorBar(p, "ink thin", x.at(float64(t.Setting)), y, t.Reading)
		p.Circle("fill", x.at(float64(t.Setting)), y.at(float64(t.Reading.Value)), 3)
	}
	errorBar(p, "accent", x.at(float64(a.Setting)), y, a.Expected)
	p.Circle("accent", x.at(float64(a.Setting)), y.at(float64(a.Expected.Value)), 6)
	s.graphLabels(p, x, y, a, trials, target)
	return p
}

// graphLabels writes the real numbers beside the axes; of two that would
// overlap, the first is written.
func (s scale) graphLabels(p *Picture, x, y axis, a advice, trials []trial, target turns) {
	values, settings := []turns{target}, []turns{a.Setting}
	for i := len(trials) - 1; i >= 0; i-- { // the last is where it stands
		values, settings = append(values, trials[i].Reading.Value), append(settings, trials[i].Setting)
	}
	var used []float64
	for _, v := range values {
		if at := y.at(float64(v)); freePlace(&used, at, 13) {
			p.Small("end", graphLeft-5, at+4, s.reading(v))
		}
	}
	used = nil
	for _, v := range settings {
		text := s.count(v)
		if at := x.at(float64(v)); freePlace(&used, at, 7*float64(len([]rune(text)))+6) {
			p.Small("middle", at, graphFoot+15, text)
		}
	}
	p.Small("end", graphRight, graphFoot+32, lang.F("position, %s", map[string]string{"mm": "mm", "turn": lang.T("turns"), "graduation": lang.T("graduations")}[s.unit]))
	p.Small("start", graphLeft+6, graphTop-6, lang.T(s.q.Words()))
}

// freePlace takes a place, unless another one is nearer than gap.
func freePlace(used *[]float64, at, gap float64) bool {
	for _, u := range *used {
		if math.Abs(u-at) < gap {
			return false
		}
	}
	*used = append(*used, at)
	return true
}

func errorBar(p *Picture, class string, x float64, y axis, v measure.Value[turns]) {
	low, high := y.at(float64(v.Low())), y.at(float64(v.High()))
	p.Line(class, x-4, low, x+4, low, x, low, x, high, x-4, high, x+4, high)
}
