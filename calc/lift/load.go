package lift

import (
	"math"

	"strutcard/calc/quantity"
)

// The loads of a plan, each over the box of all that its facts can be.

// narrowest is the least distance between the two stands of a pair, for what a
// slope across the car moves to the lower one. Common practice, no source.
const narrowest = 0.8 // m

// sillInset is how much more than the wheels of one side a jack under the sill
// carries, as it sits further in. Common practice, no source: 1.5 m of track
// with 0.2 m of inset give 1.15.
const sillInset = 1.15

func (k *known) steepest() float64 {
	return math.Hypot(steep(k.along), steep(k.across))
}

func steep(s span) float64 { return max(math.Abs(s.lo), math.Abs(s.hi)) }

// trig is the cosine of the whole slope, and the sine of that along the car,
// downhill towards the end positive.
func (k *known) trig(end End) (cos, sin span) {
	cos = span{math.Cos(math.Atan(k.steepest())), 1}
	sin = span{math.Sin(math.Atan(k.along.lo)), math.Sin(math.Atan(k.along.hi))}
	if end == Rear {
		sin = span{-sin.hi, -sin.lo}
	}
	return cos, sin
}

// height of the centre of gravity above the ground while the car goes up.
func (k *known) up() span { return span{k.height.lo, k.height.hi + k.raise.hi} }

// onStands is the load on a pair, or a central jack, at the worst moment of the
// lift, and what is left at the other end. When all wheels go up, the first
// pair also stands alone with the other end still on its wheels.
func (k *known) onStands(end End, at place) (load, rest span) {
	if k.lift.Raised != AllWheels {
		return k.pair(end, at)
	}
	load, rest = k.four(end, at)
	if k.lift.First == end.other() {
		return load, rest
	}
	alone, restAlone := k.pair(end, at)
	rest = span{min(rest.lo, restAlone.lo), min(rest.hi, restAlone.hi)}
	if k.lift.First == end {
		return load.peak(alone), rest
	}
	return span{load.lo, load.peak(alone).hi}, rest
}

func (k *known) pair(end End, at place) (load, rest span) {
	if !at.known {
		return k.anything()
	}
	lever := span{k.height.lo - k.radius.hi, k.height.hi - k.radius.lo}.clamp(span{0, math.Inf(1)})
	tan := span{0, tilt(k.raise.hi, k.base.lo)} // 0: the load of the first moment counts
	cos, sin := k.trig(end)
	box := []span{k.axle[end], k.axle[end.other()], k.base, at.offset, k.up(), cos, sin, lever, tan}
	return k.both(pairKernel, box)
}

func (k *known) four(end End, at place) (load, rest span) {
	far := k.at[end.other()]
	if !at.known || !far.known {
		return k.anything()
	}
	cos, sin := k.trig(end)
	return k.both(fourKernel, []span{k.axle[end], k.axle[end.other()], k.base, at.offset, far.offset, k.up(), cos, sin})
}

// anything is all that a support can carry while its place is not known.
func (k *known) anything() (load, rest span) {
	return span{0, k.total.hi}, span{-k.total.hi, k.total.hi}
}

// both is the load and the rest. A load beyond the whole weight would mean that
// the other end is in the air, which rest shows: it may be below zero.
func (k *known) both(f kernel, box []span) (load, rest span) {
	if k.tooClose(box) {
		return k.anything()
	}
	load = f.over(box...).clamp(span{0, k.total.hi})
	rest = kernel(func(x ...float64) float64 { return x[0] + x[1] - f(x...) }).over(box...)
	return load, rest.clamp(span{-k.total.hi, k.total.hi})
}

// tooClose reports whether the supports may leave no lever between them.
func (k *known) tooClose(box []span) bool {
	reach := box[3].hi
	if len(box) == 8 { // four stands
		reach += box[4].hi
	}
	return box[2].lo-reach < 0.3
}

// side is the share of the heavier side, with what the slope across adds.
func (k *known) side() span {
	shift := k.up().hi * steep(k.across) / narrowest
	return span{max(0.5, k.share.lo-shift), min(1, k.share.hi+shift)}
}

// heavier is the load on the stand of a pair that carries more. A stiff car on
// four stands, or one with a corner on the jack, may rest on two stands across
// the diagonal: then one stand carries all of its pair, or all of its side,
// whichever is less.
func (k *known) heavier(pair span) span {
	share := k.side()
	out := span{share.lo * pair.lo, share.hi * pair.hi}
	if k.lift.Raised == AllWheels || k.lift.Jack.Where != Centre {
		out.hi = max(out.hi, k.corner(pair))
	}
	return out
}

func (k *known) corner(pair span) float64 {
	return min(pair.hi, sillInset*k.side().hi*k.total.hi)
}

// jackLoad is the most the jack has to lift in the course of the lift.
func (k *known) jackLoad() span {
	var out span
	share := k.side()
	for _, end := range k.jackedEnds() {
		pair, _ := k.onStands(end, k.jackAt[end])
		centre := pair
		corner := span{share.lo * pair.lo, k.corner(pair)}
		switch k.lift.Jack.Where {
		case Centre:
			out = out.peak(centre)
		case Corners:
			out = out.peak(corner)
		case "":
			out = out.peak(span{corner.lo, centre.hi})
		}
	}
	bySide := span{share.lo * k.total.lo, min(k.total.hi, sillInset*share.hi*k.total.hi)}
	switch {
	case k.lift.Jack.Where == "":
		return span{min(out.lo, bySide.lo), max(out.hi, bySide.hi)}
	case k.lift.Jack.Where == SideSill || k.lift.raisesSide():
		return out.peak(bySide)
	}
	return out
}

func (l Lift) raisesSide() bool { return l.Raised == LeftSide || l.Raised == RightSide }

// jackedEnds are the ends that the jack takes up by axle or by corner.
func (k *known) jackedEnds() []End {
	up := raisedWheels[k.lift.Raised]
	var out []End
	if up&frontWheels != 0 {
		out = append(out, Front)
	}
	if up&rearWheels != 0 {
		out = append(out, Rear)
	}
	return out
}

func (l Lift) stands(e End) PairOfStands {
	if e == Front {
		return l.Front
	}
	return l.Rear
}

func fit(rated, load span, margin quantity.Ratio) Fit {
	f, _ := Compare(rangeOf[quantity.Mass](rated), rangeOf[quantity.Mass](load), margin)
	return f
}

func times(margin quantity.Ratio, load quantity.Mass) quantity.Mass {
	return quantity.Mass(margin) * load
}
