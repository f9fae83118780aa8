package server_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"strutcard/server"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/sync/store/storetest"
)

// heavy is a bare JPEG of more than one piece.
func heavy(t *testing.T) (body []byte, hash string) {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 800, 800))
	random := rand.New(rand.NewPCG(1, 2))
	for i := range img.Pix {
		img.Pix[i] = uint8(random.UintN(256))
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil || b.Len() <= 256<<10 {
		t.Fatalf("%d bytes are no heavy picture (%v)", b.Len(), err)
	}
	sum := sha256.Sum256(b.Bytes())
	return b.Bytes(), hex.EncodeToString(sum[:])
}

// snapshot is a bare JPEG; side makes each another one.
func snapshot(t *testing.T, side int) (body []byte, hash string) {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, side, side)), nil); err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(b.Bytes())
	return b.Bytes(), hex.EncodeToString(sum[:])
}

func photoTaken(body []byte, hash string) *event.PhotoTaken {
	return &event.PhotoTaken{SHA256: hash, Bytes: int64(len(body)), Width: 10, Height: 10, Caption: "dented <tube>"}
}

// piece sends part of a picture the way a phone does.
func (p phone) piece(hash string, offset int, part []byte) answer {
	p.y.t.Helper()
	return p.y.do(browser(p.y.t), "PATCH", "/api/v1/photos/"+hash, http.Header{"Authorization": {"Bearer " + p.token},
		"Content-Type": {"application/partial-upload"}, "Upload-Offset": {fmt.Sprint(offset)}}, bytes.NewReader(part))
}

func (p phone) ask(method, hash string) answer {
	p.y.t.Helper()
	return p.y.do(browser(p.y.t), method, "/api/v1/photos/"+hash, http.Header{"Authorization": {"Bearer " + p.token}}, nil)
}

func (y *yard) wantOffset(a answer, status, offset int, whole string) {
	y.t.Helper()
	if got := a.header.Get("Upload-Offset"); a.status != status || got != fmt.Sprint(offset) || a.header.Get("Upload-Complete") != whole {
		y.t.Fatalf("status %d, offset %q, complete %q, want %d, %d, %s: %s", a.status, got, a.header.Get("Upload-Complete"), status, offset, whole, a.body)
	}
}

func TestPhotoUpload(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	body, hash := snapshot(t, 200)
	p.open(sheet.Demo()[0], "A car", photoTaken(body, hash))
	half := len(body) / 2

	y.wantOffset(p.ask("HEAD", hash), http.StatusNoContent, 0, "?0")
	y.want(p.ask("GET", hash), http.StatusNotFound, fault.NotFound)
	y.wantOffset(p.piece(hash, 0, body[:half]), http.StatusNoContent, half, "?0")
	y.wantOffset(p.ask("HEAD", hash), http.StatusNoContent, half, "?0")

	again := p.piece(hash, 0, body[:half])
	y.wantOffset(again, http.StatusConflict, half, "?0")
	y.want(again, http.StatusConflict, fault.Conflict)
	y.wantOffset(p.piece(hash, half+1, body[half+1:]), http.StatusConflict, half, "?0")
	long := p.piece(hash, half, append(bytes.Clone(body[half:]), 0))
	y.wantOffset(long, http.StatusRequestEntityTooLarge, half, "?0")
	y.want(long, http.StatusRequestEntityTooLarge, fault.TooLarge)

	y.wantOffset(p.piece(hash, half, body[half:]), http.StatusNoContent, len(body), "?1")
	y.wantOffset(p.ask("HEAD", hash), http.StatusNoContent, len(body), "?1")
	y.wantOffset(p.piece(hash, half, body[half:]), http.StatusNoContent, len(body), "?1")

	got := p.ask("GET", hash)
	if got.status != http.StatusOK || got.body != string(body) {
		t.Fatalf("status %d and %d bytes, want the %d that were sent", got.status, len(got.body), len(body))
	}
	y.wantPicture(got, hash)
	part := y.do(browser(t), "GET", "/api/v1/photos/"+hash, http.Header{"Authorization": {"Bearer " + p.token}, "Range": {"bytes=10-19"}}, nil)
	if part.status != http.StatusPartialContent || part.body != string(body[10:20]) {
		t.Errorf("a range: status %d, %d bytes", part.status, len(part.body))
	}
}

// wantPicture wants the headers of a picture: its type and no other, and that
// only this browser keeps it.
func (y *yard) wantPicture(a answer, hash string) {
	y.t.Helper()
	for name, want := range map[string]string{"Content-Type": "image/jpeg", "X-Content-Type-Options": "nosniff",
		"Cache-Control": "private, max-age=31536000, immutable", "ETag": `"` + hash + `"`} {
		if got := a.header.Get(name); got != want {
			y.t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// TestPhotoCutMidPiece: of a piece that is cut off, what arrived is kept, and the
// picture goes on from there.
func TestPhotoCutMidPiece(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	body, hash := snapshot(t, 400)
	p.open(sheet.Demo()[0], "A car", photoTaken(body, hash))
	const arrives = 777
	conn, err := net.Dial("tcp", y.srv.Addr())
	if err != nil {
		t.Fatal(err)
	}
	_, err = fmt.Fprintf(conn, "PATCH /api/v1/photos/%s HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer %s\r\nContent-Type: application/octet-stream\r\nUpload-Offset: 0\r\nContent-Length: %d\r\n\r\n%s",
		hash, p.token, len(body), body[:arrives])
	if err != nil {
		t.Fatal(err)
	}
	if err := conn.Close(); err != nil {
		t.Fatal(err)
	}
	var got answer
	for range 500 {
		if got = p.ask("HEAD", hash); got.header.Get("Upload-Offset") != "0" {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	y.wantOffset(got, http.StatusNoContent, arrives, "?0")
	y.wantOffset(p.piece(hash, arrives, body[arrives:]), http.StatusNoContent, len(body), "?1")
	if got := p.ask("GET", hash); got.body != string(body) {
		t.Error("after the cut the picture is another")
	}
}

func TestErrPhotoPiece(t *testing.T) {
	y := open(t, nil)
	p := y.joined()
	body, hash := snapshot(t, 100)
	spoilt, located := bytes.Clone(body), append([]byte{0xff, 0xd8, 0xff, 0xe1, 0, 12, 'E', 'x', 'i', 'f', 0, 0, 'G', 'P', 'S', 0}, body[2:]...)
	spoilt[len(spoilt)-5]++
	sum := sha256.Sum256(located)
	locatedHash := hex.EncodeToString(sum[:])
	large, largeHash := heavy(t)
	p.open(sheet.Demo()[0], "A car", photoTaken(body, hash), photoTaken(located, locatedHash), photoTaken(large, largeHash))

	y.want(p.piece(hash, 0, spoilt), http.StatusBadRequest, fault.Invalid)
	y.wantOffset(p.ask("HEAD", hash), http.StatusNoContent, 0, "?0")
	y.want(p.piece(locatedHash, 0, located), http.StatusBadRequest, fault.Invalid)
	y.want(p.ask("GET", locatedHash), http.StatusNotFound, fault.NotFound)
	y.want(p.piece(largeHash, 0, large[:256<<10+1]), http.StatusRequestEntityTooLarge, fault.TooLarge)
	y.wantOffset(p.ask("HEAD", largeHash), http.StatusNoContent, 0, "?0")
	y.wantOffset(p.piece(largeHash, 0, large[:256<<10]), http.StatusNoContent, 256<<10, "?0")

	header := func(kind, offset string) http.Header {
		return http.Header{"Authorization": {"Bearer " + p.token}, "Content-Type": {kind}, "Upload-Offset": {offset}}
	}
	for _, h := range []http.Header{header("image/jpeg", "0"), header("", "0"), header("application/partial-upload", ""), header("application/partial-upload", "-1"),
		header("application/partial-upload", "1e3"), header("application/partial-upload", "99999999999999999999")} {
		y.want(y.do(browser(t), "PATCH", "/api/v1/photos/"+hash, h, bytes.NewReader(body)), http.StatusBadRequest, fault.Invalid)
	}
	y.wantOffset(p.ask("HEAD", hash), http.StatusNoContent, 0, "?0")
	y.wantOffset(p.piece(hash, 0, body), http.StatusNoContent, len(body), "?1")
}

// TestPhotoAccess: a phone sends and gets the pictures of jobs that it may read,
// and no others; the desk those of its shop; a link those of its job.
func TestPhotoAccess(t *testing.T) {
	dir := t.TempDir()
	y := open(t, func(c *server.Config) { c.DataDir = dir })
	desk := y.staff()
	owner := y.joined()
	helper, stranger, revoked := y.join(y.invite(desk), newDevice()), y.join(y.invite(desk), newDevice()), y.join(y.invite(desk), newDevice())
	olga := y.otherShop(dir)
	abroad := phone{y, newDevice(), ""}
	reply, err := decode[struct{ Token string }]([]byte(y.tryJoin(y.invite(olga), abroad.device).body))
	if abroad.token = reply.Token; err != nil || abroad.token == "" {
		t.Fatalf("join the other shop: %v", err)
	}

	body, hash := snapshot(t, 120)
	job := owner.open(sheet.Demo()[0], "A car", photoTaken(body, hash))
	other := stranger.open(sheet.Demo()[0], "Another car", &event.NoteAdded{Text: "n"})
	for _, p := range []phone{helper, revoked} { // both brought an event of the job
		e, err := event.Chain{Job: job, Device: p.device}.Seal(storetest.NewID[event.ID](), y.clock.now(), &event.NoteAdded{Text: "I help."})
		if err != nil {
			t.Fatal(err)
		}
		p.sync(e.Line())
	}
	abroad.open(sheet.Demo()[0], "A car abroad", &event.NoteAdded{Text: "n"})
	y.want(y.form(desk, "/shop/phones/"+string(revoked.device)+"/end"), http.StatusSeeOther, "")

	for name, c := range map[string]struct {
		p      phone
		status int
		kind   fault.Kind
	}{
		"no sign-in":     {phone{y, owner.device, "x"}, http.StatusUnauthorized, fault.SignIn},
		"another job":    {stranger, http.StatusNotFound, fault.NotFound},
		"another shop":   {abroad, http.StatusNotFound, fault.NotFound},
		"access ended":   {revoked, http.StatusUnauthorized, fault.SignIn},
		"an unknown one": {owner, http.StatusNotFound, fault.NotFound},
	} {
		at := hash
		if name == "an unknown one" {
			at = strings.Repeat("0", 64)
		}
		if got := c.p.ask("HEAD", at); got.status != c.status {
			t.Errorf("%s: HEAD is %d, want %d", name, got.status, c.status)
		}
		y.want(c.p.piece(at, 0, body), c.status, c.kind)
		y.want(c.p.ask("GET", at), c.status, c.kind)
	}
	y.wantOffset(owner.ask("HEAD", hash), http.StatusNoContent, 0, "?0") // nobody above changed anything

	y.wantOffset(helper.piece(hash, 0, body[:50]), http.StatusNoContent, 50, "?0")
	y.wantOffset(owner.piece(hash, 50, body[50:]), http.StatusNoContent, len(body), "?1")
	for name, p := range map[string]phone{"owner": owner, "helper": helper} {
		if got := p.ask("GET", hash); got.body != string(body) {
			t.Errorf("%s gets status %d and another picture", name, got.status)
		}
	}
	y.want(stranger.ask("GET", hash), http.StatusNotFound, fault.NotFound)
	y.want(abroad.ask("GET", hash), http.StatusNotFound, fault.NotFound)

	got := y.get(desk, "/shop/photos/"+hash)
	if y.want(got, http.StatusOK, ""); got.body != string(body) {
		t.Error("the desk gets another picture")
	}
	y.wantPicture(got, hash)
	if a := y.do(desk, "GET", "/shop/photos/"+hash, http.Header{"If-None-Match": {`"` + hash + `"`}}, nil); a.status != http.StatusNotModified {
		t.Errorf("asked again: status %d, want %d", a.status, http.StatusNotModified)
	}
	y.want(y.get(olga, "/shop/photos/"+hash), http.StatusNotFound, "")
	y.want(y.get(browser(t), "/shop/photos/"+hash), http.StatusSeeOther, "")
	y.lookPhotos(desk, job, other, hash, body)
}

// lookPhotos opens a link to each job: only one of them shows the picture, and
// not once its link has ended.
func (y *yard) lookPhotos(desk *http.Client, job, other event.JobID, hash string, body []byte) {
	y.t.Helper()
	link := func(id event.JobID) (*http.Client, string) {
		mentor := browser(y.t)
		secret := fragment(y.shown(y.form(desk, "/shop/jobs/"+string(id)+"/links", "days", "1", "role", "look")))
		return mentor, y.form(mentor, "/look", "code", secret, "name", "Ben").header.Get("Location")
	}
	mentor, path := link(job)
	if got := y.get(mentor, path+"/photos/"+hash); got.status != http.StatusOK || got.body != string(body) {
		y.t.Errorf("a link to the job: status %d and %d bytes", got.status, len(got.body))
	}
	y.has(y.get(mentor, path), `src="`+path+"/photos/"+hash+`"`)
	elsewhere, path2 := link(other)
	y.want(y.get(elsewhere, path2+"/photos/"+hash), http.StatusNotFound, "")
	y.want(y.get(elsewhere, path+"/photos/"+hash), http.StatusUnauthorized, "") // its cookie is for its own path
	y.want(y.get(mentor, "/shop/photos/"+hash), http.StatusSeeOther, "")        // to the sign-in
	y.want(y.form(desk, "/shop/jobs/"+string(job)+"/links/"+strings.TrimPrefix(path, "/look/job/")+"/end"), http.StatusSeeOther, "")
	y.want(y.get(mentor, path+"/photos/"+hash), http.StatusForbidden, "")
}

// TestJobPageShowsPhotos: by step, with words in place of what has not arrived;
// what was taken back is not shown.
func TestJobPageShowsPhotos(t *testing.T) {
	y := open(t, nil)
	p, desk := y.joined(), y.staff()
	sh := sheet.Demo()[0]
	step := sh.Stages[0].Steps[0]
	bodyA, hashA := snapshot(t, 130)
	bodyB, hashB := snapshot(t, 140)
	a, b := photoTaken(bodyA, hashA), photoTaken(bodyB, hashB)
	a.Step, b.Step, b.Caption = step.ID, step.ID, "taken by mistake"
	chain := event.Chain{Job: storetest.NewID[event.JobID](), Device: p.device}
	var last event.Event
	add := func(payload event.Payload) {
		e, err := chain.Seal(storetest.NewID[event.ID](), y.clock.now(), payload)
		if err != nil {
			t.Fatal(err)
		}
		chain, last = chain.See(e), e
		p.sync(e.Line())
	}
	add(&event.JobOpened{Sheet: sh.Hash(), Title: sh.Title, Vehicle: "A car"})
	add(a)
	add(b)
	path := "/shop/jobs/" + string(chain.Job)
	y.has(y.get(desk, path), "Photos by step: 2 photos", "Photo not here yet: it is still on the installer’s phone.", "dented &lt;tube&gt;", "taken by mistake", step.Title)
	if got := y.get(desk, path); strings.Contains(got.body, "/shop/photos/") || strings.Contains(got.body, "data-photo") {
		t.Error("the page names a picture that is not here")
	}

	add(&event.Corrected{Event: last.ID, Reason: "wrong corner"})
	for hash, body := range map[string][]byte{hashA: bodyA, hashB: bodyB} {
		y.wantOffset(p.piece(hash, 0, body), http.StatusNoContent, len(body), "?1")
	}
	got := y.get(desk, path)
	y.has(got, "Photos by step: 1 photo,", `<img src="/shop/photos/`+hashA+`"`, `<a href="/shop/photos/`+hashA+`">Open the photo</a>`)
	if strings.Contains(got.body, "not here yet") || strings.Contains(got.body, hashB) {
		t.Error("the page shows what was taken back, or misses what is here")
	}
}

// TestPhotosOutlive a restart of the server, whole or not.
func TestPhotosOutlive(t *testing.T) {
	dir := t.TempDir()
	body, hash := snapshot(t, 150)
	cfg := server.Config{Addr: "127.0.0.1:0", DataDir: dir, Demo: true, Burst: 1000}
	var p phone
	for i, want := range []int{0, 60, len(body)} {
		srv, err := server.New(cfg)
		if err != nil {
			t.Fatal(err)
		}
		if err := srv.Start(); err != nil {
			t.Fatal(err)
		}
		y := &yard{t: t, srv: srv, clock: newClock(), log: &logBuffer{}}
		if i == 0 {
			p = y.joined()
		}
		p.y = y
		switch i {
		case 0:
			p.open(sheet.Demo()[0], "A car", photoTaken(body, hash))
			p.piece(hash, 0, body[:60])
		case 1:
			y.wantOffset(p.ask("HEAD", hash), http.StatusNoContent, want, "?0")
			p.piece(hash, 60, body[60:])
		case 2:
			y.wantOffset(p.ask("HEAD", hash), http.StatusNoContent, want, "?1")
		}
		if err := srv.Close(); err != nil {
			t.Fatal(err)
		}
	}
}
