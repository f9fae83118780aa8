package main

import (
	"bytes"
	"image/png"
	"math"
	"strings"
	"testing"

	"strutcard/pwa"
)

func some(worker string) map[string][]byte {
	return map[string][]byte{
		"index.html": []byte("<html>"), "app.css": []byte("a{}"), "icon.png": []byte("png"), "sw.js": []byte(worker),
	}
}

const goodWorker = "const built = null; // cmd/dev writes this line\n"

func TestFinish(t *testing.T) {
	t.Run("OK", func(t *testing.T) {
		files := some(goodWorker)
		m, err := finish(files, 5)
		if err != nil {
			t.Fatal(err)
		}
		text := string(files["sw.js"])
		for _, want := range []string{m.Version, `path:"/"`, `path:"/app.css"`, `"/join"`} {
			if !strings.Contains(text, want) {
				t.Errorf("the worker lacks %s: %s", want, text)
			}
		}
		for _, not := range []string{"null", "icon.png", `path:"/sw.js"`} {
			if strings.Contains(text, not) {
				t.Errorf("the worker holds %s: %s", not, text)
			}
		}
		if last := m.Assets[len(m.Assets)-1]; last.Path != "/sw.js" {
			t.Errorf("the manifest ends with %s, want the worker for the server to serve", last.Path)
		}
	})
	t.Run("AnyChangeChangesTheWorker", func(t *testing.T) {
		before, after := some(goodWorker), some(goodWorker)
		after["app.css"] = []byte("b{}")
		for _, files := range []map[string][]byte{before, after} {
			if _, err := finish(files, 5); err != nil {
				t.Fatal(err)
			}
		}
		if bytes.Equal(before["sw.js"], after["sw.js"]) {
			t.Error("a phone would never notice the new version")
		}
	})
	t.Run("ErrNoPlace", func(t *testing.T) {
		if _, err := finish(some("const built = {};"), 5); err == nil {
			t.Error("a worker without its line was built")
		}
	})
	t.Run("ErrKind", func(t *testing.T) {
		files := some(goodWorker)
		files["notes.doc"] = nil
		if _, err := finish(files, 5); err == nil {
			t.Error("a file without a media type was built")
		}
	})
}

func TestReportHoldsTheBudget(t *testing.T) {
	m := pwa.Manifest{Brotli: 11, Assets: []pwa.Entry{{File: "app.wasm", Size: shellBudget + 1, Type: "application/wasm"}}}
	if err := report(m, nil, nil); err == nil {
		t.Error("an app over its budget passes")
	}
	if err := report(m, nil, map[string][]byte{"app.wasm": make([]byte, shellBudget)}); err != nil {
		t.Errorf("an app inside its budget fails: %v", err)
	}
	m.Assets = []pwa.Entry{{File: "de.txt", Size: catalogueBudget + 1, Type: "text/plain; charset=utf-8"}}
	if err := report(m, nil, nil); err == nil {
		t.Error("a catalogue over its budget passes")
	}
}

// A phone may cut a maskable icon to a circle of 40 % of its width: the W3C
// manifest specification calls that the safe zone.
func TestMaskableIconStaysInTheSafeZone(t *testing.T) {
	files := map[string][]byte{}
	if err := addIcons(files); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(files["icon-maskable-512.png"]))
	if err != nil {
		t.Fatal(err)
	}
	ground := img.At(0, 0)
	inked := 0
	for y := range 512 {
		for x := range 512 {
			if img.At(x, y) == ground {
				continue
			}
			inked++
			if d := math.Hypot(float64(x)-255.5, float64(y)-255.5); d > 0.4*512 {
				t.Fatalf("something is drawn at %d,%d, %.0f px from the middle", x, y, d)
			}
		}
	}
	if inked < 10000 {
		t.Errorf("only %d pixels are drawn", inked)
	}
}
