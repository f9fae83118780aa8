package server_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"strutcard/server"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
)

// inFolder opens a server over a folder.
func inFolder(dir string) func(*server.Config) {
	return func(cfg *server.Config) { cfg.DataDir = dir }
}

// all returns every line that a phone may read.
func (p phone) all() map[event.ID]string {
	p.y.t.Helper()
	got := map[event.ID]string{}
	req := p.request()
	for {
		a := p.y.call("POST", "/api/v1/sync", p.token, req)
		p.y.want(a, 200, "")
		reply, err := decode[exchange.Reply]([]byte(a.body))
		if err != nil {
			p.y.t.Fatal(err)
		}
		for _, r := range reply.Events {
			got[r.Event.ID] = r.Event.Line()
		}
		if !reply.More {
			return got
		}
		if req, err = decode[exchange.Request]([]byte(a.body)); err != nil { // it names the phone's place as the next request does
			p.y.t.Fatal(err)
		}
		req.V, req.Nonce, req.Events = exchange.Version, "n", p.request().Events
	}
}

// The drill of the worst day: a backup was taken while phones were writing, they
// wrote on, and the server was lost.
func TestRestoreDrill(t *testing.T) {
	dir, kept := t.TempDir(), filepath.Join(t.TempDir(), "monday")
	y := open(t, inFolder(dir))
	p := y.joined()
	car := p.open(sheet.Demo()[0], "The drill's car")
	before := notes(t, p.device, 300)
	p.sync(before...)

	ctx, stop := context.WithCancel(context.Background())
	wrote := make(chan struct{}, 1)
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			for ctx.Err() == nil {
				p.sync(notes(t, p.device, 20)...)
				select {
				case wrote <- struct{}{}:
				default:
				}
			}
		})
	}
	go func() { wg.Wait(); close(wrote) }() // nobody waits for writers that failed
	<-wrote
	report, err := server.Backup(context.Background(), dir, kept)
	if err != nil {
		t.Fatal(err)
	}
	<-wrote
	stop()
	wg.Wait()
	after := notes(t, p.device, 100)
	p.sync(after...)
	lost := p.all()

	fresh := filepath.Join(t.TempDir(), "fresh")
	if again, err := server.Restore(context.Background(), kept, fresh); err != nil || again.Events != report.Events {
		t.Fatalf("restored %d events, %v, want the %d of the backup", again.Events, err, report.Events)
	}
	restored := open(t, inFolder(fresh))
	q := phone{restored, p.device, p.token}
	was, is := p.sync(), q.sync()
	if is.Epoch == was.Epoch || is.Epoch == "" {
		t.Errorf("the restored server has the epoch of the lost one: phones would not send again")
	}
	got := q.all()
	if int64(len(got)) != report.Events || len(got) < 301 || len(got) > len(lost)-100 {
		t.Errorf("%d events are there, want the %d of the backup: at least 301, at most %d", len(got), report.Events, len(lost)-100)
	}
	for id, line := range got {
		if lost[id] != line {
			t.Fatalf("event %s came back as another", id)
		}
	}
	if row := restored.get(restored.staff(), "/shop?q=drill").body; !strings.Contains(row, "The drill&#39;s car") || !strings.Contains(row, string(car)) {
		t.Error("the queue does not have the job")
	}
	if o := outcomes(q.sync(append(after, before[0])...)); o[0] != store.Stored || o[99] != store.Stored || o[100] != store.Duplicate {
		t.Errorf("sent again: %v, want what was lost stored, and what was not a duplicate", o)
	}
}

func TestRebuild(t *testing.T) {
	dir := t.TempDir()
	y := open(t, inFolder(dir))
	y.joined().open(sheet.Demo()[0], "The queued car")
	if err := server.Rebuild(context.Background(), dir); err != nil { // beside the server that runs
		t.Fatal(err)
	}
	if page := y.get(y.staff(), "/shop").body; !strings.Contains(page, "The queued car") {
		t.Error("the job left the queue")
	}
}

func TestBackupOfPhotos(t *testing.T) {
	dir, kept := t.TempDir(), filepath.Join(t.TempDir(), "monday")
	open(t, inFolder(dir))
	body, hash := snapshot(t, 30)
	other, rotten := snapshot(t, 40)
	put := func(path string, text []byte) {
		t.Helper()
		path = filepath.Join(dir, "photos", filepath.FromSlash(path))
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o700), os.WriteFile(path, text, 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	put(hash[:2]+"/"+hash, body)
	put(rotten[:2]+"/"+rotten, other[1:])
	put("partial/demo/"+hash, body[1:])
	report, err := server.Backup(context.Background(), dir, kept)
	if err != nil || report.Photos != 2 {
		t.Fatalf("backup: %+v, %v, want 2 photos", report, err)
	}
	mine, here := stat(t, filepath.Join(dir, "photos", hash[:2], hash)), stat(t, filepath.Join(kept, "photos", hash[:2], hash))
	if !os.SameFile(mine, here) {
		t.Error("the photo takes its room twice")
	}
	if _, err := os.Stat(filepath.Join(kept, "photos", "partial")); err == nil {
		t.Error("what was still arriving is in the backup")
	}
	fresh := filepath.Join(t.TempDir(), "fresh")
	again, err := server.Restore(context.Background(), kept, fresh)
	if err != nil || again.Photos != 1 || len(again.Damaged) != 1 || again.Damaged[0] != rotten {
		t.Fatalf("restore: %+v, %v, want one photo, and the other named", again, err)
	}
	copied := filepath.Join(fresh, "photos", hash[:2], hash)
	if text, err := os.ReadFile(copied); err != nil || string(text) != string(body) || os.SameFile(mine, stat(t, copied)) {
		t.Errorf("the photo is not a copy of its own: %v", err)
	}
	if _, err := os.Stat(filepath.Join(fresh, "photos", rotten[:2], rotten)); err == nil {
		t.Error("the damaged photo is there: no phone would send it again")
	}
}

func stat(t *testing.T, path string) os.FileInfo {
	t.Helper()
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	return info
}

// Whatever goes wrong, the target is as it was and nothing lies beside it.
func TestErrRestore(t *testing.T) {
	dir, parent := t.TempDir(), t.TempDir()
	first, err := server.New(server.Config{DataDir: dir, Demo: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := first.Close(); err != nil { // now the main file alone looks like all there is
		t.Fatal(err)
	}
	y := open(t, inFolder(dir))
	y.joined().open(sheet.Demo()[0], "car")
	kept := filepath.Join(parent, "kept")
	if _, err := server.Backup(context.Background(), dir, kept); err != nil {
		t.Fatal(err)
	}
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := server.Restore(cancelled, kept, filepath.Join(parent, "x")); !errors.Is(err, context.Canceled) {
		t.Errorf("restore that was cut off: %v", err)
	}
	if _, err := server.Restore(context.Background(), dir, filepath.Join(parent, "x")); !fault.Is(err, fault.Invalid) {
		t.Errorf("restore from the folder of a running server: %v, want kind %s", err, fault.Invalid)
	}
	if _, err := server.Restore(context.Background(), kept, dir); !fault.Is(err, fault.Conflict) {
		t.Errorf("restore over a server: %v, want kind %s", err, fault.Conflict)
	}
	entries, err := os.ReadDir(parent)
	if err != nil || len(entries) != 1 {
		t.Errorf("left behind: %v, %v, want the backup alone", entries, err)
	}
}
