package field

import (
	"math"

	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

// Torque is how a fastener's final passes came out against their spec.
type Torque struct {
	Fastener *sheet.Fastener
	Off      Sample // hundredths of a percent of the spec, positive = tighter
	Above    int    // entries tighter than the tolerance allows
	Below    int
	NoSpec   int // entries that nothing could be compared with
}

// slack is what rounding to a hundredth of a newton metre, there and back, may do.
const slack = 1 // cN·m

// Tolerance is the half-width that a spec allows: its own, or a tenth.
func Tolerance(specCNM, tolCNM int64) int64 {
	if tolCNM > 0 {
		return tolCNM
	}
	return specCNM / 10
}

func (f *Field) addTorques(r record) {
	off := map[event.FastenerID][]int64{}
	for _, e := range r.events {
		made, ok := e.Payload().(*event.PassDone)
		if !ok || r.gone[e.ID] {
			continue
		}
		t := f.torques[made.Fastener]
		got := wrenched(made)
		if t == nil || got == 0 || t.Fastener.Final().ID != made.Pass {
			continue
		}
		spec, tol := t.Fastener.Final().TorqueCNM, t.Fastener.Final().TolCNM
		if spec == 0 {
			spec, tol = r.state.Specs[made.Fastener][made.Pass].TorqueCNM, 0
		}
		if spec == 0 {
			t.NoSpec++
			continue
		}
		switch within := Tolerance(spec, tol) + slack; {
		case got-spec > within:
			t.Above++
		case spec-got > within:
			t.Below++
		}
		off[made.Fastener] = append(off[made.Fastener], int64(math.Round(float64(got-spec)*10_000/float64(spec))))
	}
	for id, values := range off {
		f.torques[id].Off.add(values...)
	}
}

// wrenched is the torque of an entry, as far as it tells. What was set on a wrench
// with an adapter is not what the fastener got.
func wrenched(p *event.PassDone) int64 {
	if p.SetCNM > 0 && p.Adapter == "" {
		return p.SetCNM
	}
	return p.TorqueCNM
}
