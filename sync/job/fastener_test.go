package job_test

import (
	"testing"

	"strutcard/sync/event"
	"strutcard/sync/job"
)

func TestFastener(t *testing.T) {
	loosen := &event.FastenerLoosened{Fastener: "arm"}
	fit := &event.FastenerFitted{Fastener: "arm", Renewed: true}
	snug := &event.PassDone{Fastener: "arm", Pass: "snug", TorqueCNM: 2000, Count: 1}
	final := &event.PassDone{Fastener: "arm", Pass: "final", TorqueCNM: 9400, AngleMdeg: 90_000, SetCNM: 8800, Wrench: "w", Count: 2}
	mark := &event.FastenerMarked{Fastener: "arm"}
	tests := map[string]struct {
		write  []event.Payload
		want   job.Fastener // without its passes
		passes []event.PassID
	}{
		"never touched":               {nil, job.Fastener{}, nil},
		"loosened":                    {[]event.Payload{loosen}, job.Fastener{LoosenedN: 1}, nil},
		"fitted":                      {[]event.Payload{loosen, fit}, job.Fastener{LoosenedN: 1, FittedN: 2, Renewed: true}, nil},
		"fitted, never loosened":      {[]event.Payload{fit}, job.Fastener{FittedN: 1, Renewed: true}, nil},
		"tightened":                   {[]event.Payload{fit, snug, final}, job.Fastener{FittedN: 1, Renewed: true}, []event.PassID{"snug", "final"}},
		"marked":                      {[]event.Payload{fit, final, mark}, job.Fastener{FittedN: 1, Renewed: true, MarkedN: 3}, []event.PassID{"final"}},
		"a new pass breaks the mark":  {[]event.Payload{fit, final, mark, final}, job.Fastener{FittedN: 1, Renewed: true}, []event.PassID{"final"}},
		"loosening cancels it all":    {[]event.Payload{fit, snug, final, mark, loosen}, job.Fastener{LoosenedN: 5}, nil},
		"fitting anew cancels passes": {[]event.Payload{fit, final, mark, &event.FastenerFitted{Fastener: "arm"}}, job.Fastener{FittedN: 4}, nil},
		"tightened, never fitted":     {[]event.Payload{final}, job.Fastener{}, []event.PassID{"final"}},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			r := newRecord(t)
			r.do(append(test.write, &event.FastenerLoosened{Fastener: "another"})...)
			got := r.state().Fasteners["arm"]
			if got.LoosenedN != test.want.LoosenedN || got.FittedN != test.want.FittedN || got.Renewed != test.want.Renewed || got.MarkedN != test.want.MarkedN {
				t.Errorf("fastener = %+v, want %+v", got, test.want)
			}
			if got.Touched() != (len(test.write) > 0) {
				t.Errorf("Touched = %v", got.Touched())
			}
			for _, p := range test.passes {
				if _, made := got.Passes[p]; !made {
					t.Errorf("pass %s is not there", p)
				}
			}
			if len(got.Passes) != len(test.passes) {
				t.Errorf("passes = %+v, want %v", got.Passes, test.passes)
			}
		})
	}
}

func TestPassKeepsHowTheCarStood(t *testing.T) {
	final := &event.PassDone{Fastener: "arm", Pass: "final", TorqueCNM: 9400, AngleMdeg: 90_000, SetCNM: 8800, Wrench: "w", Count: 2}
	r := newRecord(t)
	first := r.do(final)
	if got, want := r.state().Fasteners["arm"].Passes["final"], (job.Pass{TorqueCNM: 9400, AngleMdeg: 90_000, SetCNM: 8800, Wrench: "w", Count: 2, At: 1000, N: 1, Event: first}); got != want {
		t.Errorf("pass = %+v, want %+v", got, want)
	}
	r.do(&event.CarRaised{Axle: event.Front}, final)
	if got := r.state().Fasteners["arm"].Passes["final"]; !got.FrontUp || got.RearUp || got.N != 3 {
		t.Errorf("pass with the front up = %+v", got)
	}
	r.do(&event.CarRaised{Axle: event.Rear}, &event.CarLowered{Axle: event.Front}, final)
	if got := r.state().Fasteners["arm"].Passes["final"]; got.FrontUp || !got.RearUp || got.N != 6 {
		t.Errorf("pass with the rear up = %+v", got)
	}
}
