package e2e

import (
	"flag"
	"fmt"
	"testing"
	"time"
)

var manyPhotos = flag.Bool("photos", false, "carry 200 photos instead of 20, and report the memory")

// TestManyPhotos: the memory of page and program is the same before and after,
// since one piece is held at a time and none in Go (pitfall 90).
func TestManyPhotos(t *testing.T) {
	t.Parallel()
	many := 20
	if *manyPhotos {
		many = 200
	}
	shop, post := newPostedShop(t)
	p := newPhone(t, shop)
	p.plant(`WebAssembly.instantiate = ((real) => async (...args) => {
		const got = await real(...args);
		globalThis.wasm = (got.instance ?? got).exports.mem;
		return got;
	})(WebAssembly.instantiate)`)
	p.join()
	p.openDemo()
	p.more()
	post.set(func() { post.shut = true })
	p.snap("#photo-own", shot(t, 1600, 1200, 100))
	first := p.memory()
	for i := range many - 1 {
		p.snap("#photo-own", shot(t, 1600, 1200, 101+i))
	}
	photos := p.photos(many)
	p.synced()
	p.tap("#strip-sync")
	before := p.memory()
	post.set(func() { post.shut = false })
	p.sync()
	var peak memory
	for done := false; !done; time.Sleep(100 * time.Millisecond) {
		now := p.heap()
		peak.heap, peak.buffers = max(peak.heap, now.heap), max(peak.buffers, now.buffers)
		done = p.eval(fmt.Sprintf(`() => host.photos.progress().done === %d`, many)).(bool)
	}
	after := p.memory()
	var sum int64
	for _, photo := range photos {
		sum += photo.Bytes
	}
	t.Logf("%d photos, %.1f MB; after the first %v; before sending %v; most while sending %v; after %v", many, float64(sum)/1e6, first, before, peak, after)
	for _, photo := range photos {
		if len(shop.photo(photo.SHA256)) != int(photo.Bytes) {
			t.Fatalf("the shop has %d bytes of a photo of %d", len(shop.photo(photo.SHA256)), photo.Bytes)
		}
	}
	if after.wasm > before.wasm*11/10 || after.wasm > first.wasm*3/2 {
		t.Errorf("the program's memory grew from %d to %d to %d", first.wasm, before.wasm, after.wasm)
	}
	if grown := after.heap + after.buffers - before.heap - before.buffers; grown > 2_000_000 {
		t.Errorf("the page's memory grew by %d bytes while %d were sent", grown, sum)
	}
}

func (m memory) String() string {
	return fmt.Sprintf("wasm %.1f heap %.1f buffers %.1f MB", float64(m.wasm)/1e6, float64(m.heap)/1e6, float64(m.buffers)/1e6)
}

func (p *phone) heap() memory {
	p.t.Helper()
	session, err := p.ctx.NewCDPSession(p.page)
	if err != nil {
		p.t.Fatal(err)
	}
	defer func() { _ = session.Detach() }()
	got, err := session.Send("Runtime.getHeapUsage", nil)
	if err != nil {
		p.t.Fatal(err)
	}
	number := func(name string) int {
		n, ok := got.(map[string]any)[name].(float64)
		if !ok {
			if i, is := got.(map[string]any)[name].(int); is {
				return i
			}
			p.t.Fatalf("the browser does not tell %s: %v", name, got)
		}
		return int(n)
	}
	wasm := p.eval(`() => wasm.buffer.byteLength`).(int)
	return memory{wasm, number("usedSize"), number("backingStorageSize")}
}

// memory is in bytes: of the program, of the page's objects, of its buffers.
type memory struct{ wasm, heap, buffers int }

// memory is what is left after the garbage is gone.
func (p *phone) memory() memory {
	p.t.Helper()
	session, err := p.ctx.NewCDPSession(p.page)
	if err != nil {
		p.t.Fatal(err)
	}
	defer func() { _ = session.Detach() }()
	for range 2 {
		if _, err := session.Send("HeapProfiler.collectGarbage", nil); err != nil {
			p.t.Fatal(err)
		}
	}
	return p.heap()
}
