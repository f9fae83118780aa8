package sheet

import (
	"strutcard/calc/lang"
	"strutcard/sync/event"
)

// checkClosure follows every step in order: each must find the car as it needs
// it, and in the end nothing may be loose or in the air.
func (s *Sheet) checkClosure() string {
	w := walk{sheet: s, up: map[event.Axle]bool{}, done: map[event.StepID]bool{}, loosened: map[event.FastenerID]event.StepID{},
		fitted: map[event.FastenerID]bool{}, made: map[PassRef]bool{}}
	for i := range s.Fasteners {
		f := &s.Fasteners[i]
		w.fitted[f.ID] = s.Standing(f)
		if s.Standing(f) && f.Passes[0].Car != Anywhere {
			return lang.F("Fastener %q opens when its adjuster is moved, wherever the car stands, but its first pass cannot be made there: it needs a snug pass, or the axle could never be lowered.", f.ID)
		}
	}
	for _, step := range s.index.order {
		for _, take := range []func(*Step) string{w.found, w.car, w.work, w.move} {
			if reason := take(step); reason != "" {
				return reason
			}
		}
		w.done[step.ID] = true
	}
	return w.end()
}

// walk is what someone who follows the sheet would know.
type walk struct {
	sheet    *Sheet
	up       map[event.Axle]bool
	settled  bool
	done     map[event.StepID]bool
	loosened map[event.FastenerID]event.StepID // where it was last loosened
	fitted   map[event.FastenerID]bool         // since then
	made     map[PassRef]bool                  // since it was fitted
}

// found looks at what is asked of the car as it was found.
func (w *walk) found(step *Step) string {
	for _, r := range step.Readings {
		if r.Purpose == event.Before && len(w.loosened) > 0 {
			return lang.F("Step %q asks for %s as found, after something was loosened.", step.ID, lang.T(r.Quantity.Words()))
		}
	}
	for _, p := range step.Positions {
		for _, f := range w.sheet.Fasteners {
			if in := w.loosened[f.ID]; in != "" && p.Purpose == event.Before && f.Holds == p.Adjuster && f.Corner == p.Corner {
				return lang.F("Step %q asks where the %s adjuster stood as found, after step %q has loosened what holds it.", step.ID, lang.T(p.Adjuster.Words()), in)
			}
		}
	}
	return ""
}

// car looks whether the car is as the step needs it.
func (w *walk) car(step *Step) string {
	if step.Drive && w.anyUp() {
		return lang.F("Step %q drives while an axle is still up.", step.ID)
	}
	if step.Settle && w.anyUp() {
		return lang.F("Step %q rolls the car while an axle is up.", step.ID)
	}
	if reason := w.misses(step.Car, step.Axle); reason != "" {
		return lang.F("Step %q %s", step.ID, reason)
	}
	return ""
}

// misses says why the car is not in a state, or "".
func (w *walk) misses(state CarState, axle event.Axle) string {
	switch {
	case state == Up && !w.up[axle]:
		return lang.F("needs the %s up, but no step has raised it by then.", axleWords(axle))
	case state == OnWheels && (w.up[axle] || axle == "" && w.anyUp()), state == AtRide && w.anyUp():
		return lang.T("needs the wheels on the ground, but an axle is up by then.")
	case state == AtRide && !w.settled:
		return lang.T("needs the car settled, but no step settles it before.")
	}
	return ""
}

func (w *walk) anyUp() bool { return w.up[event.Front] || w.up[event.Rear] }

// work carries out what hands do.
func (w *walk) work(step *Step) string {
	for _, id := range step.Loosen {
		w.loosened[id] = step.ID
		w.renew(id, false)
	}
	for _, id := range step.Fit {
		w.renew(id, true)
		if first := w.sheet.Fastener(id).Passes[0]; step.Car == Up && first.Car != Up && first.Car != Anywhere {
			return lang.F("Fastener %q is fitted with the axle up, but its first pass cannot be made there: it needs a snug pass, or the axle could never be lowered.", id)
		}
	}
	for _, ref := range step.Passes {
		f := w.sheet.Fastener(ref.Fastener)
		p := f.Pass(ref.Pass)
		if reason := w.misses(p.Car, f.Corner.Axle()); reason != "" {
			return lang.F("Step %q makes pass %q of fastener %q, which %s", step.ID, ref.Pass, ref.Fastener, reason)
		}
		for _, id := range p.After {
			if !w.done[id] {
				return lang.F("Step %q makes pass %q of fastener %q, which waits for the later step %q.", step.ID, ref.Pass, ref.Fastener, id)
			}
		}
		w.made[ref] = w.fitted[ref.Fastener]
	}
	if step.Settle {
		w.settled = true
	}
	return ""
}

// renew notes a fastener as fitted or loose: no pass made before counts any more.
func (w *walk) renew(id event.FastenerID, fitted bool) {
	w.fitted[id] = fitted
	for _, p := range w.sheet.Fastener(id).Passes {
		delete(w.made, PassRef{id, p.ID})
	}
}

func (w *walk) move(step *Step) string {
	switch {
	case step.Move == event.Raise && w.anyUp():
		return lang.F("Step %q raises the %s while an axle is up already.", step.ID, axleWords(step.Axle))
	case step.Move == event.Lower && !w.up[step.Axle]:
		return lang.F("Step %q lowers the %s, which is not up.", step.ID, axleWords(step.Axle))
	case step.Move != "":
		w.up[step.Axle], w.settled = step.Move == event.Raise, false
	}
	return ""
}

// end looks at what is left when every step is done.
func (w *walk) end() string {
	for _, f := range w.sheet.Fasteners {
		if in := w.loosened[f.ID]; !w.fitted[f.ID] && in != "" {
			return lang.F("No step fits fastener %q again after step %q has loosened it.", f.ID, in)
		}
		if !w.fitted[f.ID] {
			return lang.F("No step fits fastener %q.", f.ID)
		}
		for _, p := range f.Passes {
			if !w.made[PassRef{f.ID, p.ID}] {
				return lang.F("No step makes pass %q of fastener %q after it was last fitted.", p.ID, f.ID)
			}
		}
	}
	for _, axle := range event.Axles {
		if w.up[axle] {
			return lang.F("The %s is raised and never lowered.", axleWords(axle))
		}
	}
	return ""
}
