package e2e

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/playwright-community/playwright-go"

	"strutcard/server/sqlite"
	"strutcard/sync/fault"
	"strutcard/sync/job"
)

// photo reads a whole picture from the server's disk; nil while it is not there.
func (s *shopServer) photo(hash string) []byte {
	s.t.Helper()
	body, err := os.ReadFile(filepath.Join(s.dir, "photos", hash[:2], hash))
	if err != nil && !os.IsNotExist(err) {
		s.t.Fatal(err)
	}
	return body
}

// rich is a picture of a given weight: large enough for many pieces.
func rich(t *testing.T, seed int) []byte { return shot(t, 2400, 1600, seed) }

// sync asks for a sync now, as the timer does.
func (p *phone) sync() {
	p.t.Helper()
	p.eval(`async () => { await strutcard.act("sync", "{}"); }`)
}

// sent waits until the page says that so many photos of so many are sent.
func (p *phone) sent(done, of int) {
	p.t.Helper()
	p.waitFor(fmt.Sprintf(`() => { const now = host.photos.progress(); return now.done === %d && now.of === %d; }`, done, of), 3*time.Minute)
}

// whole wants every photo of the record on the server, byte for byte as it is on
// the phone.
func (p *phone) allAtTheShop(photos []job.Photo) {
	p.t.Helper()
	for _, photo := range photos {
		body := p.shop.photo(photo.SHA256)
		sum := sha256.Sum256(body)
		if got := hex.EncodeToString(sum[:]); got != photo.SHA256 || !bytes.Equal(body, p.kept("pictures", photo.SHA256)) {
			p.t.Errorf("at the shop are %d bytes with hash %s, want %d with %s", len(body), got, photo.Bytes, photo.SHA256)
		}
	}
}

// countPuts plants a count of what is written over a picture that is kept.
const countPuts = `(() => {
	globalThis.puts = 0;
	const real = IDBObjectStore.prototype.put;
	IDBObjectStore.prototype.put = function (value, ...rest) {
		if (this.name === "pictures" && value.sha !== "trial") globalThis.puts++;
		return real.call(this, value, ...rest);
	};
})()`

func (p *phone) plant(script string) {
	p.t.Helper()
	if err := p.ctx.AddInitScript(playwright.Script{Content: playwright.String(script)}); err != nil {
		p.t.Fatal(err)
	}
}

// TestPhotosReachTheShop: over a connection that is cut in the middle of pieces,
// and with a browser that is killed in the middle of a picture (pitfalls 18, 61).
func TestPhotosReachTheShop(t *testing.T) {
	t.Parallel()
	shop, post := newPostedShop(t)
	p := newPhone(t, shop)
	p.plant(countPuts)
	p.join()
	p.openDemo()
	p.more()
	post.set(func() { post.shut = true })
	for seed := range 3 {
		p.snap("#photo-own", rich(t, 30+seed))
	}
	photos := p.photos(3)
	p.synced()
	p.tap("#strip-sync")
	p.tap("#sync-now")
	p.wait(`() => document.getElementById("photos-sent")?.textContent.startsWith("0 of 3 photos sent, 0.0 of ")`)
	p.wait(`() => document.body.innerText.includes("The shop takes no photos just now.")`)
	shop.deskSays(t, "Photo not here yet: it is still on the installer’s phone.")

	held := make(chan struct{})
	post.set(func() { post.shut, post.cuts = false, 4 })
	p.tap("#sync-now")
	p.waitFor(`() => host.photos.progress().done >= 1`, time.Minute)
	post.set(func() { post.hold = held })
	p.sync()
	select {
	case <-held:
	case <-time.After(time.Minute):
		t.Fatal("no piece came that could be held")
	}
	p.kill()
	p.launch()
	p.plant(countPuts)
	p.open("/") // it syncs at its start
	p.sent(3, 3)
	p.allAtTheShop(photos)
	p.wait(`() => document.getElementById("photos-sent")?.textContent.startsWith("3 of 3 photos sent, ")`)
	if n := p.eval(`() => puts`).(int); n != 0 {
		t.Errorf("pictures were written over %d times", n)
	}
	for _, photo := range photos {
		n, size := post.bytes[photo.SHA256], int(photo.Bytes)
		t.Logf("%d bytes in %d pieces, %d bytes sent", size, post.pieces[photo.SHA256], n)
		if n > size+5*64<<10 { // after each of five cuts a browser may repeat the piece by itself
			t.Errorf("for a photo of %d bytes %d were sent: it does not go on where it was", size, n)
		}
	}
	if post.cuts != 0 {
		t.Errorf("%d cuts were not made: the pictures are too small", post.cuts)
	}
	shop.deskShows(t, photos)
	if err := p.ctx.SetOffline(true); err != nil { // and nothing is asked of the server again
		t.Fatal(err)
	}
	p.sent(3, 3)
}

// deskSays opens the job at the desk and wants words there.
func (s *shopServer) deskSays(t *testing.T, words string) {
	t.Helper()
	desk := s.openJob(t)
	if body, err := desk.Locator("body").InnerText(); err != nil || !strings.Contains(body, words) {
		t.Errorf("the desk does not say %q (%v):\n%s", words, err, body)
	}
}

func (s *shopServer) openJob(t *testing.T) playwright.Page {
	t.Helper()
	desk := s.staff()
	if err := desk.Locator(`a:has-text("Ostler Wren (invented)")`).First().Click(); err != nil {
		t.Fatal(err)
	}
	if err := desk.WaitForURL("**/shop/jobs/**"); err != nil {
		t.Fatal(err)
	}
	return desk
}

// deskShows wants each picture drawn on the job's page, by step.
func (s *shopServer) deskShows(t *testing.T, photos []job.Photo) {
	t.Helper()
	desk := s.openJob(t)
	for _, photo := range photos {
		image := desk.Locator(`.photos-by-step img[src="/shop/photos/` + photo.SHA256 + `"]`)
		if err := image.ScrollIntoViewIfNeeded(); err != nil {
			t.Fatal(err)
		}
		var wide any
		for range 200 {
			if wide, _ = image.Evaluate(`(image) => image.complete && image.naturalWidth`, nil); fmt.Sprint(wide) == fmt.Sprint(photo.Width) {
				break
			}
			time.Sleep(25 * time.Millisecond)
		}
		if fmt.Sprint(wide) != fmt.Sprint(photo.Width) {
			t.Errorf("the desk draws %v pixels across, want %d", wide, photo.Width)
		}
	}
	picture(t, desk, "desk-photos")
}

// TestPhotoForTheHelper: another phone of the job shows words first and the
// picture once the shop has it; it never sends it back.
func TestPhotoForTheHelper(t *testing.T) {
	t.Parallel()
	shop, post := newPostedShop(t)
	a := newPhone(t, shop)
	a.join()
	a.openDemo()
	a.more()
	post.set(func() { post.shut = true })
	a.snap("#photo-own", rich(t, 40))
	photo := a.photos(1)[0]
	a.synced()

	b := newPhone(t, shop)
	b.ahead = 0
	shop.invite = shop.anotherInvite(t)
	b.join()
	b.bring(a)
	b.synced()
	b.wait(`() => document.querySelector('.photo img[data-state="gone"]')`)
	if got := b.text(".photo"); !strings.Contains(got, "not on this phone yet") {
		t.Errorf("in place of the photo stands %q", got)
	}
	post.set(func() { post.shut = false })
	b.sync() // the shop has not got it either: it is asked for again later
	b.wait(`() => document.querySelector('.photo img[data-state="gone"]')`)

	a.sync()
	a.sent(1, 1)
	asks := post.asks
	post.set(func() { post.spoil = true })
	b.eval(`() => pace(60_000)`)
	b.sync()
	for i := 0; post.asks < asks+int(photo.Bytes)>>16 && i < 400; i++ {
		time.Sleep(25 * time.Millisecond)
	}
	b.eval(`() => pace(600_000)`)
	post.set(func() { post.spoil = false })
	if n := b.keptPictures(); n != 0 {
		t.Error("the helper's phone keeps what is not the photo")
	}
	b.sync()
	b.waitFor(`() => document.querySelector('.photo img[data-state="shown"]')`, time.Minute)
	b.shows(1)
	if got := b.kept("pictures", photo.SHA256); !bytes.Equal(got, a.kept("pictures", photo.SHA256)) {
		t.Errorf("the helper's phone keeps %d bytes, want the same %d", len(got), photo.Bytes)
	}
	before := post.pieces[photo.SHA256]
	b.open("/")
	b.shows(1) // from its own disk
	b.sync()
	b.wait(`() => host.photos.progress().of === 0`)
	if post.pieces[photo.SHA256] != before {
		t.Error("the helper's phone sent it back")
	}
}

func (s *shopServer) anotherInvite(t *testing.T) string {
	t.Helper()
	desk := s.staff()
	if _, err := desk.Goto(s.url + "/shop/phones"); err != nil {
		t.Fatal(err)
	}
	if err := desk.Locator(`form[action="/shop/phones"] button`).First().Click(); err != nil {
		t.Fatal(err)
	}
	link, err := desk.Locator("input.code").First().InputValue()
	if err != nil {
		t.Fatal(err)
	}
	return link
}

// bring carries another phone's record here by file.
func (p *phone) bring(from *phone) {
	p.t.Helper()
	var lines strings.Builder
	for _, e := range from.log() {
		lines.WriteString(e.Line() + "\n")
	}
	args, err := json.Marshal(map[string]string{"text": lines.String()})
	if err != nil {
		p.t.Fatal(err)
	}
	if got := p.eval(`(args) => strutcard.act("bring_in", args)`, string(args)).(string); !strings.Contains(got, `"ok":true`) {
		p.t.Fatalf("bring in a record: %s", got)
	}
	p.open("/")
	p.tap("#place-work")
}

// TestPhotoRefused: what the server will not have is sent once, not for ever, and
// the person is told (pitfall 62).
func TestPhotoRefused(t *testing.T) {
	t.Parallel()
	shop, post := newPostedShop(t)
	post.refuse = fault.New(fault.TooLarge, "The photo is larger than the record says.", "It stays on the phone.")
	p := newPhone(t, shop)
	p.join()
	p.openDemo()
	p.more()
	p.snap("#photo-own", rich(t, 50))
	hash := p.photos(1)[0].SHA256
	p.synced()
	p.tap("#strip-sync")
	p.wait(`() => document.body.innerText.includes("The photo is larger than the record says. It stays on the phone.")`)
	if got := p.text("#photos-sent"); !strings.HasPrefix(got, "0 of 1 photos sent") {
		t.Errorf("the record screen says %q", got)
	}
	for range 3 {
		p.sync()
	}
	p.open("/")
	p.sync()
	p.wait(`() => document.body.innerText.includes("It stays on the phone.")`) // said again after a restart
	if n := post.pieces[hash]; n != 1 {
		t.Errorf("%d pieces were sent, want 1", n)
	}
	if len(p.kept("pictures", hash)) == 0 {
		t.Error("the photo is gone from the phone")
	}
}

// TestPhotoDamaged: what went bad on the phone is not sent as the photo that the
// record names, and the person is told.
func TestPhotoDamaged(t *testing.T) {
	t.Parallel()
	shop, post := newPostedShop(t)
	p := newPhone(t, shop)
	p.join()
	p.openDemo()
	p.more()
	post.set(func() { post.shut = true })
	p.snap("#photo-own", shot(t, 800, 600, 55))
	hash := p.photos(1)[0].SHA256
	p.synced()
	p.eval(`(sha) => new Promise((resolve, reject) => {
		const open = indexedDB.open("strutcard-photos");
		open.onsuccess = () => {
			const tx = open.result.transaction("pictures", "readwrite");
			const pictures = tx.objectStore("pictures");
			pictures.get(sha).onsuccess = ({ target: { result } }) => {
				new Uint8Array(result.bytes)[1000] ^= 1;
				pictures.put(result);
			};
			tx.oncomplete = () => { open.result.close(); resolve(); };
			tx.onabort = () => reject(tx.error);
		};
	})`, hash)
	post.set(func() { post.shut = false })
	p.tap("#strip-sync")
	p.tap("#sync-now")
	p.waitFor(`() => document.body.innerText.includes("A photo is damaged on this phone and was not sent.")`, time.Minute)
	if n := post.pieces[hash]; n != 0 {
		t.Errorf("%d pieces of it were sent", n)
	}
}

// TestPhotosAfterRestore: a server that comes back from an older copy, without
// its photos, gets them again.
func TestPhotosAfterRestore(t *testing.T) {
	t.Parallel()
	shop, post := newPostedShop(t)
	p := newPhone(t, shop)
	p.join()
	p.openDemo()
	p.more()
	p.snap("#photo-own", rich(t, 60))
	photos := p.photos(1)
	p.synced()
	p.sync()
	p.sent(1, 1)
	asks := post.asks
	p.sync()
	p.sync()
	if post.asks != asks {
		t.Errorf("of a photo that is there the server is asked %d times more", post.asks-asks)
	}

	shop.stop()
	if err := os.RemoveAll(filepath.Join(shop.dir, "photos")); err != nil {
		t.Fatal(err)
	}
	db, err := sqlite.Open(filepath.Join(shop.dir, "strutcard.db"), sqlite.Options{Now: time.Now})
	if err != nil {
		t.Fatal(err)
	}
	if err := db.SetMeta(context.Background(), "epoch", "restored"); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	shop.startBehind(post, false)
	p.sync()
	for i := 0; shop.photo(photos[0].SHA256) == nil && i < 200; i++ {
		time.Sleep(50 * time.Millisecond)
	}
	p.sent(1, 1)
	p.allAtTheShop(photos)
}

// TestPhotoStoreNeverStopsSync: whatever the photo database does, the record
// reaches the shop (pitfall 19).
func TestPhotoStoreNeverStopsSync(t *testing.T) {
	t.Parallel()
	for name, spoil := range map[string]string{
		"NeverOpens": `indexedDB.open = ((real) => (name, ...rest) => (name === "strutcard-photos" ? {} : real(name, ...rest)))(indexedDB.open.bind(indexedDB));`,
		"Corrupt": `IDBObjectStore.prototype.getAllKeys = ((real) => function (...args) {
			if (this.transaction.db.name === "strutcard-photos") throw new DOMException("made by the test", "UnknownError");
			return real.apply(this, args);
		})(IDBObjectStore.prototype.getAllKeys);`,
	} {
		t.Run(name, func(t *testing.T) {
			shop, _ := newPostedShop(t)
			p := newPhone(t, shop)
			p.plant(spoil)
			p.join()
			p.openDemo()
			p.next()
			p.synced()
			p.next()
			p.synced()
			p.tap("#strip-sync")
			p.wait(`() => document.body.innerText.includes("The photos of this phone cannot be read just now.")`)
			compare(t, p, shop)
		})
	}
}

// fullPhone plants a phone that is full until a picture goes: writes to the
// database that is named fail.
const fullPhone = `(() => {
	globalThis.fullFor = "";
	const real = IDBDatabase.prototype.transaction;
	IDBDatabase.prototype.transaction = function (stores, mode, options) {
		if (mode === "readwrite" && this.name === "strutcard" && globalThis.fullFor === this.name) throw new DOMException("made by the test", "QuotaExceededError");
		return real.call(this, stores, mode, options);
	};
	const add = IDBObjectStore.prototype.add;
	IDBObjectStore.prototype.add = function (...args) {
		const request = add.apply(this, args);
		if (this.name === "pictures" && globalThis.fullFor === "strutcard-photos") {
			Object.defineProperty(this.transaction, "error", { value: new DOMException("made by the test", "QuotaExceededError") });
			this.transaction.abort();
		}
		return request;
	};
	const gone = IDBObjectStore.prototype.delete;
	IDBObjectStore.prototype.delete = function (...args) {
		if (this.name === "pictures" && args[0] !== "trial") globalThis.fullFor = "";
		return gone.apply(this, args);
	};
})()`

// TestPhotosMakeRoom: on a full phone, photos that the shop has give way to the
// record and to new photos; small ones stay, and what was not sent stays.
func TestPhotosMakeRoom(t *testing.T) {
	t.Parallel()
	shop, post := newPostedShop(t)
	p := newPhone(t, shop)
	p.plant(fullPhone)
	p.join()
	p.openDemo()
	p.more()
	post.set(func() { post.shut = true })
	p.snap("#photo-own", shot(t, 800, 600, 70))
	old := p.photos(1)[0].SHA256
	p.synced()

	p.eval(`() => { globalThis.fullFor = "strutcard"; }`)
	before := len(p.log())
	if p.note() {
		t.Error("a full phone says that it kept the record, and nothing gave way")
	}
	if got := len(p.log()); got != before || len(p.kept("pictures", old)) == 0 {
		t.Fatalf("on a full phone %d events more were kept; the photo that nobody else has: %d bytes", got-before, len(p.kept("pictures", old)))
	}
	p.eval(`() => { globalThis.fullFor = ""; }`)
	post.set(func() { post.shut = false })
	p.sync()
	p.sent(1, 1)

	p.eval(`() => { globalThis.fullFor = "strutcard"; }`)
	if !p.note() || len(p.log()) != before+1 {
		t.Errorf("the record was not kept, though a photo could give way: %d events, want %d", len(p.log()), before+1)
	}
	if len(p.kept("pictures", old)) != 0 || len(p.kept("thumbs", old)) == 0 {
		t.Errorf("of the photo that was sent %d bytes are left, and %d of the small one", len(p.kept("pictures", old)), len(p.kept("thumbs", old)))
	}
	p.sent(1, 1)

	if p.has("#dismiss") {
		p.tap("#dismiss")
	}
	p.more()
	p.snap("#photo-own", shot(t, 800, 600, 71))
	p.photos(2)
	p.sync()
	p.sent(2, 2)
	p.more()
	p.eval(`() => { globalThis.fullFor = "strutcard-photos"; }`)
	p.snap("#photo-own", shot(t, 800, 600, 72)) // a new photo makes room too
	p.photos(3)
	if n := p.keptPictures(); n != 1 {
		t.Errorf("%d pictures are kept, want only the new one", n)
	}
}

// note writes one into the record, and tells whether the app says that it is kept.
func (p *phone) note() bool {
	p.t.Helper()
	return p.eval(`async () => JSON.parse(await strutcard.act("note", '{"text":"n"}')).ok`).(bool)
}
