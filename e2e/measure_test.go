package e2e

import (
	"sort"
	"testing"
)

// TestMeasure prints the figures of the budgets that need a browser. It judges
// nothing: machines are noisy, and a figure is for people to look at.
func TestMeasure(t *testing.T) {
	if !*measure {
		t.Skip("not measured: run go run ./cmd/dev bench")
	}
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	p.offlineReady()
	p.openDemo()
	for range 40 {
		p.next()
	}
	shop.stop()
	p.throttle(4)
	marks := map[string][]float64{}
	const opens = 7
	for range opens {
		p.reload()
		for _, name := range bootMarks {
			marks[name] = append(marks[name], p.mark(name))
		}
	}
	t.Logf("cold open without a connection, 4x throttle, medians of %d opens: something readable %.0f ms, usable %.0f ms", opens, median(marks["sc-snapshot"]), median(marks["sc-ready"]))
	for _, name := range bootMarks {
		t.Logf("  %s %.0f ms", name, median(marks[name]))
	}
	p.tapToDisk(40)
	p.longJob(2000)
	p.tapToDisk(40)
}

// bootMarks are what boot.js and guard.js mark, in their usual order.
var bootMarks = []string{"sc-snapshot", "sc-stored", "sc-compiled", "sc-launch", "sc-ready"}

func (p *phone) mark(name string) float64 {
	v := p.eval(`(name) => performance.getEntriesByName(name)[0].startTime`, name)
	if f, ok := v.(float64); ok {
		return f
	}
	return float64(v.(int))
}

func (p *phone) throttle(rate float64) {
	p.t.Helper()
	cdp, err := p.ctx.NewCDPSession(p.page)
	if err != nil {
		p.t.Fatal(err)
	}
	if _, err := cdp.Send("Emulation.setCPUThrottlingRate", map[string]any{"rate": rate}); err != nil {
		p.t.Fatal(err)
	}
}

// longJob grows the open job to about n events.
func (p *phone) longJob(n int) {
	p.t.Helper()
	p.throttle(1)
	p.eval(`async (n) => {
		for (let i = (await host.log.waiting()); i < n; i++) await strutcard.act("tool", JSON.stringify({tool: "paint", have: i % 2 ? "yes" : "no"}));
	}`, n)
	p.throttle(4)
}

// tapToDisk measures from the call of a press until its event is on disk and
// the screen is painted.
func (p *phone) tapToDisk(n int) {
	p.t.Helper()
	var times []float64
	for range n {
		ms := p.eval(`async () => {
			const start = performance.now();
			await strutcard.act("tool", JSON.stringify({tool: "paint", have: "yes"}));
			return performance.now() - start + 0.001;
		}`)
		times = append(times, ms.(float64))
	}
	sort.Float64s(times)
	p.t.Logf("tap to disk and painted, 4x throttle, job of %d events, %d taps: median %.0f ms, p95 %.0f ms", len(p.log()), n, median(times), times[n*95/100])
}

func median(v []float64) float64 {
	sort.Float64s(v)
	return v[len(v)/2]
}
