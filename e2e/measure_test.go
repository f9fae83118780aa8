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
	var painted, ready []float64
	for range 7 {
		p.reload()
		painted = append(painted, p.mark("sc-snapshot"))
		ready = append(ready, p.mark("sc-ready"))
	}
	t.Logf("cold open without a connection, 4x throttle, %d opens: something readable %.0f ms, usable %.0f ms (medians)", len(ready), median(painted), median(ready))
	p.tapToDisk(40)
	p.longJob(2000)
	p.tapToDisk(40)
}

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
