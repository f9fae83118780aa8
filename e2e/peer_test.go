package e2e

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
	"time"

	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/store"
	"strutcard/sync/store/storetest"
)

const (
	peerEvents = 2000
	peerRounds = 5
)

// TestMeasurePeer replicates the same records to this server and, as a yardstick,
// by PouchDB to a server of its own: both over loopback, in turn, in one run. This
// server has every batch on disk before it answers; PouchDB's store does not wait.
func TestMeasurePeer(t *testing.T) {
	if !*measure {
		t.Skip("not measured: run go run ./cmd/dev bench")
	}
	var ours, theirs []float64
	for i := range peerRounds {
		local := store.NewMemory(time.Now)
		device := storetest.NewID[event.DeviceID]()
		events := storetest.Notes(t, storetest.NewID[event.JobID](), device, peerEvents)
		if _, err := local.Write(context.Background(), events); err != nil {
			t.Fatal(err)
		}
		mine, peers := push(t, local, device), peer(t, events)
		ours, theirs = append(ours, mine), append(theirs, peers)
		t.Logf("round %d: ours %.0f ms, PouchDB %.0f ms", i+1, mine, peers)
	}
	sort.Float64s(ours)
	sort.Float64s(theirs)
	t.Logf("%d events in batches of %d, median of %d: ours %.0f ms, PouchDB %.0f ms, ratio %.1f", peerEvents, exchange.MaxEvents, peerRounds,
		median(ours), median(theirs), median(theirs)/median(ours))
}

// push sends everything over HTTP, as the phone does, and returns milliseconds.
func push(t *testing.T, local *store.Memory, device event.DeviceID) float64 {
	t.Helper()
	shop := newShop(t)
	var joined struct {
		Token string `json:"token"`
	}
	_, invite, _ := strings.Cut(shop.invite, "#")
	ask(t, shop.url+"/api/v1/join", "", map[string]string{"invitation": invite, "device": string(device), "name": "bench"}, &joined)
	send := func(_ context.Context, req exchange.Request) (exchange.Reply, error) {
		var reply exchange.Reply
		ask(t, shop.url+"/api/v1/sync", joined.Token, req, &reply)
		return reply, nil
	}
	start := time.Now()
	for more := true; more; {
		p, _, err := exchange.Round(context.Background(), local, "bench", 0, send)
		if err != nil {
			t.Fatal(err)
		}
		more = p.More
	}
	took := float64(time.Since(start).Microseconds()) / 1000
	if n, err := local.Waiting(context.Background()); n != 0 || err != nil {
		t.Fatalf("%d events wait still (%v)", n, err)
	}
	return took
}

func ask(t *testing.T, url, token string, in, out any) {
	t.Helper()
	body, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	req, err := http.NewRequest(http.MethodPost, url, bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	req.Header = http.Header{"Content-Type": {"application/json"}, "Authorization": {"Bearer " + token}}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = res.Body.Close() }()
	if res.StatusCode != http.StatusOK {
		t.Fatalf("%s answered %s", url, res.Status)
	}
	if err := json.NewDecoder(res.Body).Decode(out); err != nil {
		t.Fatal(err)
	}
}

// peer replicates the same lines by PouchDB and returns milliseconds.
func peer(t *testing.T, events []event.Event) float64 {
	t.Helper()
	if _, err := os.Stat("peer/node_modules"); err != nil {
		t.Fatalf("the yardstick is not installed: run npm ci in e2e/peer (%v)", err)
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "lines")
	if err := os.WriteFile(file, []byte(exchange.File{Events: events}.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("node", "peer/peer.js", file, dir).Output()
	if err != nil {
		t.Fatalf("PouchDB: %v", err)
	}
	ms, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	if err != nil {
		t.Fatal(fmt.Errorf("PouchDB said %q: %w", out, err))
	}
	return ms
}
