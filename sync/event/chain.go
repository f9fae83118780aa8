package event

import (
	"encoding/json"
	"sort"
	"time"

	"strutcard/sync/fault"
)

// Chain is where one device stands in one job: the last event it sealed and the
// highest tick it has seen from anyone.
type Chain struct {
	Job    JobID
	Device DeviceID
	Seq    int64
	Tick   int64
	Head   Hash
}

// ChainOf replays a job's events to find where device stands.
func ChainOf(job JobID, device DeviceID, events []Event) Chain {
	c := Chain{Job: job, Device: device}
	for _, e := range events {
		c = c.See(e)
	}
	return c
}

// See returns the chain after an event from any device of the job.
func (c Chain) See(e Event) Chain {
	if e.Job != c.Job {
		return c
	}
	c.Tick = max(c.Tick, e.Tick)
	if e.Device == c.Device && e.Seq > c.Seq {
		c.Seq, c.Head = e.Seq, e.Hash()
	}
	return c
}

// Seal makes the chain's next event from a payload. The chain itself is
// unchanged: call See with the event once it is on disk.
func (c Chain) Seal(id ID, at time.Time, p Payload) (Event, error) {
	if reason := p.check(); reason != "" {
		return Event{}, fault.New(fault.Invalid, fault.T("That was not recorded. %s Nothing was changed.", reason), "Look at the value and its unit, then type it again.")
	}
	data, err := json.Marshal(p)
	if err != nil {
		return Event{}, broken(err, fault.T("Its data cannot be written."))
	}
	return fromWire(wire{ID: id, Job: c.Job, Device: c.Device, Seq: c.Seq + 1, Tick: c.Tick + 1,
		At: at.UnixMilli(), Kind: p.Kind(), V: versionOf(p.Kind()), Prev: c.Head, Data: data})
}

// Less is the one order of the fold: tick, then device, then sequence. Never wall time.
func Less(a, b Event) bool {
	if a.Tick != b.Tick {
		return a.Tick < b.Tick
	}
	if a.Device != b.Device {
		return a.Device < b.Device
	}
	if a.Seq != b.Seq {
		return a.Seq < b.Seq
	}
	return a.ID < b.ID
}

// Sort returns the events in fold order, each id once.
func Sort(events []Event) []Event {
	seen := make(map[ID]bool, len(events))
	out := make([]Event, 0, len(events))
	for _, e := range events {
		if !seen[e.ID] {
			seen[e.ID] = true
			out = append(out, e)
		}
	}
	sort.Slice(out, func(i, j int) bool { return Less(out[i], out[j]) })
	return out
}

// Gap is a place where a device's chain does not hold.
type Gap struct {
	Device DeviceID `json:"device"`
	Seq    int64    `json:"seq"`    // the event whose link fails
	Reason string   `json:"reason"` // in words
}

// Gaps checks every device's chain in a job's events: missing numbers, a number
// used twice, and a link that does not match the event before it.
func Gaps(events []Event) []Gap {
	byDevice := map[DeviceID][]Event{}
	for _, e := range Sort(events) {
		byDevice[e.Device] = append(byDevice[e.Device], e)
	}
	var gaps []Gap
	for device, chain := range byDevice {
		gaps = append(gaps, gapsIn(device, chain)...)
	}
	sort.Slice(gaps, func(i, j int) bool {
		a, b := gaps[i], gaps[j]
		return a.Device < b.Device || a.Device == b.Device && a.Seq < b.Seq
	})
	return gaps
}

func gapsIn(device DeviceID, chain []Event) []Gap {
	sort.SliceStable(chain, func(i, j int) bool { return chain[i].Seq < chain[j].Seq })
	var gaps []Gap
	var seq int64
	before, heads := map[Hash]bool{}, map[Hash]bool{"": true} // of the number before, and of seq
	for _, e := range chain {
		again := e.Seq == seq
		if !again {
			before, heads = heads, map[Hash]bool{}
		}
		switch {
		case again:
			gaps = append(gaps, Gap{device, e.Seq, fault.T("two events carry this number: the phone was set back, or copied")})
		case e.Seq > seq+1:
			gaps = append(gaps, Gap{device, e.Seq, fault.T("the events before this one are missing")})
		case !before[e.Prev]:
			gaps = append(gaps, Gap{device, e.Seq, fault.T("the event before this one was changed")})
		}
		seq = e.Seq
		heads[e.Hash()] = true
	}
	return gaps
}
