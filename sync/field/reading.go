package field

import (
	"cmp"
	"slices"

	"strutcard/sync/event"
	"strutcard/sync/job"
)

// spot is what is measured, and where.
type spot struct {
	q  event.Quantity
	at event.Place
}

// Reading is one quantity at one place of the car, before and after the work, in
// the unit of the record.
type Reading struct {
	Quantity event.Quantity
	Place    event.Place
	Found    Sample
	Set      Sample
	Pairs    []Pair // of the jobs that have both
	Stale    int    // jobs whose value as set no longer held
}

// Pair is one job's two values.
type Pair struct{ Found, Set int64 }

func (r Reading) sorted() Reading {
	r.Found, r.Set = r.Found.sorted(), r.Set.sorted()
	r.Pairs = slices.SortedFunc(slices.Values(r.Pairs), func(a, b Pair) int {
		return cmp.Or(cmp.Compare(a.Found, b.Found), cmp.Compare(a.Set, b.Set))
	})
	return r
}

func (f *Field) addReadings(r record) {
	found, set := map[spot]*job.Reading{}, map[spot]*job.Reading{}
	for i := range r.state.Readings {
		taken := &r.state.Readings[i]
		at := spot{taken.Quantity, taken.Place()}
		if taken.Purpose == event.Before {
			found[at] = taken
		} else {
			set[at] = taken
		}
		if f.reads[at] == nil {
			f.reads[at] = &Reading{Quantity: at.q, Place: at.at}
		}
	}
	for at, was := range found {
		value, _ := was.Amount()
		f.reads[at].Found.add(value)
	}
	for at, is := range set {
		out := f.reads[at]
		if is.Stale != "" {
			out.Stale++
			continue
		}
		value, _ := is.Amount()
		out.Set.add(value)
		if was := found[at]; was != nil {
			before, _ := was.Amount()
			out.Pairs = append(out.Pairs, Pair{before, value})
		}
	}
}
