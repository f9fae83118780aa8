package job

import "strutcard/sync/event"

// fasten keeps what was done to a fastener. Loosening or fitting it anew
// cancels every pass made before.
func (s *State) fasten(e event.Event, n N) {
	switch p := e.Payload().(type) {
	case *event.FastenerLoosened:
		s.Fasteners[p.Fastener] = Fastener{LoosenedN: n, LastN: n, LastAt: e.At, Passes: map[event.PassID]Pass{}}
	case *event.FastenerFitted:
		f := s.Fasteners[p.Fastener]
		s.Fasteners[p.Fastener] = Fastener{LoosenedN: f.LoosenedN, FittedN: n, Renewed: p.Renewed, LastN: n, LastAt: e.At, Passes: map[event.PassID]Pass{}}
	case *event.PassDone:
		f := s.Fasteners[p.Fastener]
		if f.Passes == nil {
			f.Passes = map[event.PassID]Pass{}
		}
		// A group is counted up one by one; one of it done in a hurry stays so.
		hurried := p.Hurried || p.Count > 1 && f.Passes[p.Pass].Hurried
		f.Passes[p.Pass] = Pass{TorqueCNM: p.TorqueCNM, AngleMdeg: p.AngleMdeg, SetCNM: p.SetCNM, Wrench: p.Wrench, Count: p.Count,
			Adapter: p.Adapter, Hurried: hurried,
			FrontUp: s.Axles[event.Front].Up, RearUp: s.Axles[event.Rear].Up, At: e.At, N: n, Event: e.ID}
		f.MarkedN = 0
		s.Fasteners[p.Fastener] = f
	case *event.FastenerMarked:
		f := s.Fasteners[p.Fastener]
		f.MarkedN = n
		s.Fasteners[p.Fastener] = f
	}
}
