package e2e

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"strutcard/sync/exchange"
)

// requests is where every kind of request that a phone of this protocol version
// makes is kept for ever; the server's own test replays them. With
// STRUTCARD_REQUESTS=write this test writes them anew: only before a release.
var requests = filepath.Join("..", "server", "testdata", fmt.Sprintf("v%d", exchange.Version))

// kinds of requests, each by one that stands for it: the first that matches.
var kinds = []struct {
	name, method string
	path, body   *regexp.Regexp
}{
	{"1_join", "POST", regexp.MustCompile(`^/api/v1/join$`), regexp.MustCompile(``)},
	{"2_sheet_put", "PUT", regexp.MustCompile(`^/api/v1/sheets/`), regexp.MustCompile(``)},
	{"3_sync_first", "POST", regexp.MustCompile(`^/api/v1/sync$`), regexp.MustCompile(`"epoch":"".*job_opened`)},
	{"4_sync_later", "POST", regexp.MustCompile(`^/api/v1/sync$`), regexp.MustCompile(`"epoch":"[^"].*photo_taken`)},
	{"5_sheet_list", "GET", regexp.MustCompile(`^/api/v1/sheets$`), regexp.MustCompile(``)},
	{"6_photo_head", "HEAD", regexp.MustCompile(`^/api/v1/photos/`), regexp.MustCompile(``)},
	{"7_photo_patch", "PATCH", regexp.MustCompile(`^/api/v1/photos/`), regexp.MustCompile(``)},
}

// TestRequestsOnFile: what a phone sends has the shape of what is on file. A new
// shape needs a new version of the protocol, and requests on file for it.
func TestRequestsOnFile(t *testing.T) {
	t.Parallel()
	n := newNetwork(t)
	var mu sync.Mutex
	var seen []*wire
	listening := fine
	listening.do = func(w *wire) {
		mu.Lock()
		seen = append(seen, w)
		mu.Unlock()
		fine.do(w)
	}
	n.proxy.meet(listening, "", "")
	n.makeOwn()
	n.act("work", nil)
	for range 4 {
		n.next()
	}
	n.act("sync_screen", nil)
	if s := n.act("join", n.invitation()); !s.OK {
		t.Fatalf("join: %+v", s)
	}
	n.synced()
	n.act("work", nil)
	n.more()
	n.snap("#photo-own", shot(t, 160, 120, 5))
	n.sync()
	n.sent(1, 1)
	n.proxy.pass()

	mu.Lock()
	defer mu.Unlock()
	for _, kind := range kinds {
		i := slices.IndexFunc(seen, func(w *wire) bool {
			return w.req.Method == kind.method && kind.path.MatchString(w.req.URL.Path) && kind.body.Match(w.body)
		})
		if i < 0 {
			t.Errorf("the phone made no request of the kind %s", kind.name)
			continue
		}
		onFile(t, kind.name, seen[i])
	}
}

func onFile(t *testing.T, name string, w *wire) {
	t.Helper()
	file := filepath.Join(requests, name+".http")
	text := written(w)
	if os.Getenv("STRUTCARD_REQUESTS") == "write" {
		if err := os.MkdirAll(requests, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := shape(t, text), shape(t, want); got != want {
		t.Errorf("%s has the shape\n%s\non file is\n%s", name, got, want)
	}
}

// written is a request without what belongs to one browser, or opens a door.
func written(w *wire) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s %s HTTP/1.1\r\nHost: localhost\r\n", w.req.Method, w.req.URL.Path)
	for _, name := range []string{"Authorization", "Content-Type", "Upload-Offset"} {
		value := w.req.Header.Get(name)
		if name == "Authorization" && value != "" {
			value = "Bearer TOKEN"
		}
		if value != "" {
			fmt.Fprintf(&b, "%s: %s\r\n", name, value)
		}
	}
	body := regexp.MustCompile(`"invitation":"[^"]*"`).ReplaceAll(w.body, []byte(`"invitation":"INVITATION"`))
	fmt.Fprintf(&b, "Content-Length: %d\r\n\r\n", len(body))
	b.Write(body)
	return b.Bytes()
}

// shape is a request's method, the place of its path, its headers by name, and the
// names in its body, but not those of events and sheets: they have versions of
// their own.
func shape(t *testing.T, text []byte) string {
	t.Helper()
	head, body, found := bytes.Cut(text, []byte("\r\n\r\n"))
	if !found {
		t.Fatalf("no request: %s", text)
	}
	first, headers, _ := strings.Cut(string(head), "\r\n")
	first = regexp.MustCompile(`[0-9a-f]{64}`).ReplaceAllString(first, "HASH")
	headers = regexp.MustCompile(`(?m):.*$`).ReplaceAllString(headers, "")
	var fields map[string]json.RawMessage
	if strings.Contains(first, "/sheets/") || json.Unmarshal(body, &fields) != nil {
		return first + "\n" + headers
	}
	return first + "\n" + headers + "\n" + strings.Join(slices.Sorted(maps.Keys(fields)), " ")
}
