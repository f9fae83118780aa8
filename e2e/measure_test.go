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
	marks, longest := map[string][]float64{}, []float64{}
	const opens = 7
	for range opens {
		p.reload()
		for _, name := range bootMarks {
			marks[name] = append(marks[name], p.mark(name))
		}
		longest = append(longest, p.longest("true", `await new Promise((later) => setTimeout(later, 300));`))
	}
	t.Logf("cold open without a connection, 4x throttle, medians of %d opens: something readable %.0f ms, usable %.0f ms, longest task %.0f ms (0: none over 50)", opens, median(marks["sc-snapshot"]), median(marks["sc-ready"]), median(longest))
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
	return number(p.eval(`(name) => performance.getEntriesByName(name)[0].startTime`, name))
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
	var times, longest []float64
	for range n {
		longest = append(longest, p.longest("false", `
			const start = performance.now();
			await strutcard.act("tool", JSON.stringify({tool: "paint", have: "yes"}));
			globalThis.took = performance.now() - start;`))
		times = append(times, number(p.eval(`() => took`)))
	}
	sort.Float64s(times)
	sort.Float64s(longest)
	p.t.Logf("tap to disk and painted, 4x throttle, job of %d events, %d taps: median %.0f ms, p95 %.0f ms, longest task %.0f ms (0: none over 50)", len(p.log()), n, median(times), times[n*95/100], longest[n-1])
}

// longest is the longest time in ms for which the page stood still while a script ran,
// and before that if asked for; 0 when none was over 50 ms.
func (p *phone) longest(before, script string) float64 {
	p.t.Helper()
	return number(p.eval(`async () => {
		let longest = 0;
		const watch = new PerformanceObserver((list) => { for (const { duration } of list.getEntries()) longest = Math.max(longest, duration); });
		watch.observe({ type: "longtask", buffered: ` + before + ` });
		` + script + `
		await new Promise((later) => setTimeout(later, 50)); // it hears a little later
		watch.disconnect();
		return longest;
	}`))
}

func median(v []float64) float64 {
	sort.Float64s(v)
	return v[len(v)/2]
}
