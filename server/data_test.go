package server_test

import (
	"archive/zip"
	"context"
	"database/sql"
	"io"
	"maps"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"strutcard/server"
	"strutcard/sync/card"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/sync/store"
	"strutcard/templates/paper"
)

// unzip returns the files of a reply that is a zip file, and its names in order.
func (y *yard) unzip(a answer) (map[string]string, []string) {
	y.t.Helper()
	y.want(a, http.StatusOK, "")
	z, err := zip.NewReader(strings.NewReader(a.body), int64(len(a.body)))
	if err != nil {
		y.t.Fatalf("not a zip file: %v: %.80s", err, a.body)
	}
	files, names := map[string]string{}, []string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			y.t.Fatal(err)
		}
		body, err := io.ReadAll(r)
		if err != nil {
			y.t.Fatal(err)
		}
		files[f.Name] = string(body)
		names = append(names, f.Name)
	}
	slices.Sort(names)
	return files, names
}

// withPhoto opens a job with a whole photo and a note that can be found again.
func (p phone) withPhoto(vehicle, note string, body []byte, hash string) event.JobID {
	p.y.t.Helper()
	id := p.open(sheet.Demo()[0], vehicle, photoTaken(body, hash), &event.NoteAdded{Text: note})
	p.y.wantOffset(p.piece(hash, 0, body), http.StatusNoContent, len(body), "?1")
	return id
}

func TestExportJob(t *testing.T) {
	y := open(t, nil)
	desk, p := y.staff(), y.joined()
	body, hash := snapshot(t, 20)
	id := p.withPhoto("Ann's car", "a rattle", body, hash)
	p.open(sheet.Demo()[0], "another car")
	a := y.form(desk, "/shop/jobs/"+string(id)+"/export")
	files, names := y.unzip(a)
	if want := []string{"README.txt", "card.html", "card.json", "photos/" + hash + ".jpg", "record.txt"}; !slices.Equal(names, want) || files[want[3]] != string(body) {
		t.Fatalf("the file holds %v, want %v with the picture as it was taken", names, want)
	}
	if got := a.header.Get("Content-Disposition"); got != `attachment; filename="job-`+string(id)+`.zip"` {
		t.Errorf("it is handed out as %q", got)
	}
	record := exchange.ReadFile([]byte(files["record.txt"]))
	if len(record.Events) != 3 || len(record.Sheets) != 1 || record.Broken != 0 || strings.Contains(files["record.txt"], "another car") {
		t.Errorf("the record has %d events, %d sheets, %d broken lines, want 3, 1, 0 and no other job", len(record.Events), len(record.Sheets), record.Broken)
	}
	for name := range files {
		if folder, _, in := strings.Cut(name, "/"); in {
			name = folder + "/"
		}
		if name != "README.txt" && !strings.Contains(files["README.txt"], "\n"+name+" ") {
			t.Errorf("README.txt does not say what %s is", name)
		}
	}
	inPage, err := paper.Data([]byte(files["card.html"]))
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{"card.json": []byte(files["card.json"]), "card.html": inPage} {
		if _, got, err := card.VerifyJSON(data); err != nil || got.Job != id || got.Events != 3 || !got.Holds() {
			t.Errorf("%s is checked as %+v (%v), want the job's own card, whole", name, got, err)
		}
	}
	y.has(y.get(desk, "/shop/audit"), "Data of a job exported", string(id))
	y.want(y.form(desk, "/shop/jobs/none/export"), http.StatusNotFound, "")
}

func TestExportShop(t *testing.T) {
	y := open(t, nil)
	desk, p := y.staff(), y.joined()
	body, hash := snapshot(t, 20)
	one := string(p.withPhoto("Ann's car", "a rattle", body, hash))
	two := string(p.open(sheet.Demo()[0], "another car"))
	ann := y.account(desk, "Ann", "author")
	y.want(y.get(ann, "/shop"), http.StatusOK, "")
	files, _ := y.unzip(y.form(desk, "/shop/data/export"))
	for name, part := range map[string]string{
		"jobs/" + one + "/record.txt": "a rattle", "jobs/" + two + "/record.txt": "another car", "jobs/" + one + "/photos/" + hash + ".jpg": string(body),
		"jobs/" + one + "/card.html": "Ann&#39;s car", "jobs/" + two + "/card.json": "another car", "README.txt": "card.html",
		"sheets/" + string(sheet.Demo()[0].Hash()) + ".json": sheet.Demo()[0].Title, "shop.json": `"Ann"`,
	} {
		if !strings.Contains(files[name], part) {
			t.Errorf("%s lacks %.40q: %.200s", name, part, files[name])
		}
	}
	if strings.Contains(files["shop.json"], "argon2") {
		t.Error("the file holds digests of passwords")
	}
	y.has(y.get(desk, "/shop/audit"), "Data of the whole shop exported")
}

func (y *yard) deleteJob(desk *http.Client, id event.JobID, car, reason string) answer {
	y.t.Helper()
	return y.form(desk, "/shop/jobs/"+string(id)+"/delete", "car", car, "reason", reason)
}

// holds reports whether any file of a data folder holds a text.
func holds(t *testing.T, dir, text string) (found bool) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := os.ReadFile(path)
		found = found || strings.Contains(string(body), text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestDeleteJob(t *testing.T) {
	dir := t.TempDir()
	h := openHandlerAt(t, dir, "")
	y := h.yard
	desk, p, mentor := y.staff(), y.joined(), browser(t)
	witness := y.join(y.invite(desk), newDevice())
	body, hash := snapshot(t, 20)
	shared, both := snapshot(t, 30)
	id := p.withPhoto("Ann's car", "a rattle that nobody forgets", body, hash)
	p.sync(p.more(id, slices.Collect(maps.Values(p.all())), &event.NoteAdded{Text: "Xylofon9"})) // a word that the index of words would have to itself
	second := p.open(sheet.Demo()[0], "another car", photoTaken(shared, both))
	y.wantOffset(p.piece(both, 0, shared), http.StatusNoContent, len(shared), "?1")
	lines := []string{}
	for _, r := range p.sync().Events {
		lines = append(lines, r.Event.Line())
	}
	p.sync(p.more(id, lines, photoTaken(shared, both))) // both jobs name this picture, and the newest record is of the first
	secret := fragment(h.shown(h.form(desk, "/shop/jobs/"+string(id)+"/links", "days", "1", "role", "release")))
	look := h.form(mentor, "/look", "code", secret, "name", "Mia").header.Get("Location")
	y.want(y.get(mentor, look), http.StatusOK, "")
	before := witness.sync()

	y.has(y.get(desk, "/shop/jobs/"+string(id)+"/data"), "Ann&#39;s car", "It has 5 entries.")
	y.want(y.deleteJob(desk, id, "Ann", "asked for"), http.StatusBadRequest, "")
	y.want(y.deleteJob(desk, id, "Ann's car", " "), http.StatusBadRequest, "")
	y.want(y.get(mentor, look), http.StatusOK, "") // nothing was deleted
	y.has(y.get(desk, "/shop?q=xylofon9"), string(id))
	y.want(y.deleteJob(desk, id, "Ann's car", "asked for"), http.StatusSeeOther, "")
	y.has(y.get(desk, "/shop?q=xylofon9"), "No job is like this.")

	for _, path := range []string{"", "/card", "/data"} {
		a := y.get(desk, "/shop/jobs/"+string(id)+path)
		y.want(a, http.StatusNotFound, "")
		y.has(a, "The shop deleted this job "+y.clock.now().Local().Format("2 Jan 2006, 15:04")+".", "stands in the audit")
	}
	never := y.get(desk, "/shop/jobs/01900000-0000-7000-8000-0000000000ff")
	y.want(never, http.StatusNotFound, "")
	y.has(never, "There is no such job here.", "ask the installer to sync")
	y.want(y.deleteJob(desk, id, "Ann's car", "again"), http.StatusNotFound, "")
	if a := y.get(mentor, look); a.status == http.StatusOK {
		t.Errorf("a mentor still sees the job: %s", a.body)
	}
	y.want(y.get(desk, "/shop/photos/"+hash), http.StatusNotFound, "")
	y.want(y.get(desk, "/shop/photos/"+both), http.StatusOK, "")
	y.want(y.get(desk, "/shop/jobs/"+string(second)), http.StatusOK, "")
	y.has(y.get(desk, "/shop/audit"), "Job deleted", string(id), "asked for", "demo")
	if rows := h.content(dir); strings.Contains(rows, "Ann's car") || strings.Count(rows, string(id)) != 2 { // the audit and the mark that keeps it out
		t.Errorf("the database still has %d rows of the job", strings.Count(rows, string(id)))
	}
	if _, err := os.Stat(filepath.Join(dir, "photos", hash[:2], hash)); err == nil {
		t.Error("the picture's file is still there")
	}
	t.Run("SentAgain", func(t *testing.T) {
		y := y.in(t)
		p := phone{y, p.device, p.token}
		for i, v := range p.sync(lines...).Verdicts {
			deleted := strings.Contains(lines[i], string(id))
			if deleted && (v.Outcome != store.Refused || v.Reason.Kind != fault.Denied || !strings.Contains(v.Reason.Message, "deleted this job's data on 2026-06-01")) || !deleted && v.Outcome != store.Duplicate {
				t.Errorf("line %d: %s %v, of the deleted job: %v", i, v.Outcome, v.Reason, deleted)
			}
		}
		y.want(y.get(desk, "/shop/jobs/"+string(id)), http.StatusNotFound, "")
		y.want(p.piece(hash, 0, body), http.StatusNotFound, fault.NotFound)
	})
	t.Run("NoPhoneSendsAllAgain", func(t *testing.T) {
		req := witness.request()
		req.Epoch, req.Cursor, req.Head, req.Mark, req.Late = before.Epoch, before.Cursor, before.Head, before.Mark, before.Late
		a := y.in(t).call("POST", "/api/v1/sync", witness.token, req)
		if reply, err := decode[exchange.Reply]([]byte(a.body)); err != nil || reply.Reset {
			t.Errorf("a phone takes the server for one that was set back: %v %s", err, a.body)
		}
	})
	if err := y.srv.Close(); err != nil {
		t.Fatal(err)
	}
	if holds(t, dir, "a rattle that nobody forgets") || holds(t, dir, "ylofon9") {
		t.Error("the text of the job can still be read in the data folder")
	}
	if !holds(t, dir, "another car") {
		t.Error("the test looks at the wrong files")
	}
}

// more seals another event of a job after the lines that are known.
func (p phone) more(id event.JobID, lines []string, payload event.Payload) string {
	p.y.t.Helper()
	var had []event.Event
	for _, l := range lines {
		if e, err := event.Decode([]byte(l)); err == nil && e.Job == id {
			had = append(had, e)
		}
	}
	e, err := event.ChainOf(id, p.device, had).Seal(event.ID(newDevice()), p.y.clock.now(), payload)
	if err != nil {
		p.y.t.Fatal(err)
	}
	return e.Line()
}

func TestRetention(t *testing.T) {
	dir := t.TempDir()
	y := open(t, func(cfg *server.Config) { cfg.DataDir = dir })
	p := y.joined()
	done := p.open(sheet.Demo()[0], "finished car", &event.JobFinished{})
	open := p.open(sheet.Demo()[0], "car in work")
	tidy := func(want int) {
		t.Helper()
		if got, err := server.Tidy(context.Background(), dir, y.clock.now); err != nil || got != want {
			t.Fatalf("%d jobs were deleted (%v), want %d", got, err, want)
		}
	}
	y.clock.pass(days(5000))
	desk := y.staff()
	tidy(0) // kept for ever until somebody says otherwise
	late := y.join(y.invite(desk), newDevice()).open(sheet.Demo()[0], "finished just now", &event.JobFinished{})
	for _, bad := range []string{"", "-1", "a", "1.5", "99999999999"} {
		y.want(y.form(desk, "/shop/data/keep", "days", bad), http.StatusBadRequest, "")
	}
	y.want(y.form(desk, "/shop/data/keep", "days", "30"), http.StatusSeeOther, "")
	y.has(y.get(desk, "/shop/data"), `value="30"`)
	tidy(1)
	y.want(y.get(desk, "/shop/jobs/"+string(done)), http.StatusNotFound, "")
	y.want(y.get(desk, "/shop/jobs/"+string(open)), http.StatusOK, "")
	y.want(y.get(desk, "/shop/jobs/"+string(late)), http.StatusOK, "")
	y.has(y.get(desk, "/shop/audit"), "Finished jobs are kept for 30 days", "Job deleted", string(done), "the server, by itself")
	y.clock.pass(days(29))
	tidy(0)
	y.clock.pass(days(1))
	tidy(1)
	desk = y.staff()
	y.want(y.form(desk, "/shop/data/keep", "days", "0"), http.StatusSeeOther, "")
	y.has(y.get(desk, "/shop/audit"), "kept for ever")
}

// tamper changes the database behind the server's back.
func (y *yard) tamper(dir, query string) error {
	y.t.Helper()
	db, err := sql.Open("sqlite", "file:"+filepath.Join(dir, "strutcard.db")+"?_pragma=busy_timeout(5000)")
	if err != nil {
		y.t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	_, err = db.ExecContext(context.Background(), query)
	return err
}

// TestAuditIsOnlyAddedTo asks the database itself, past all of our own code.
func TestAuditIsOnlyAddedTo(t *testing.T) {
	dir := t.TempDir()
	y := open(t, func(cfg *server.Config) { cfg.DataDir = dir })
	desk := y.staff()
	y.inviteStaff(desk, "author")
	for _, query := range []string{`DELETE FROM audit`, `UPDATE audit SET who = 'nobody'`} {
		if err := y.tamper(dir, query); err == nil || !strings.Contains(err.Error(), "only added to") {
			t.Errorf("%s: %v, want it refused", query, err)
		}
	}
	for range 120 {
		y.want(y.form(desk, "/shop/data/keep", "days", "1"), http.StatusSeeOther, "")
	}
	first := y.get(desk, "/shop/audit")
	y.has(first, "Older")
	if strings.Contains(first.body, "Invited somebody") {
		t.Error("the first page holds more than a hundred lines")
	}
	older := first.body[strings.Index(first.body, "/shop/audit?before="):]
	y.has(y.get(desk, older[:strings.Index(older, `"`)]), "Invited somebody as author")
}
