package e2e

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"image/jpeg"
	"strings"
	"testing"

	"github.com/playwright-community/playwright-go"

	"strutcard/sync/job"
)

// snap hands a picture to the app as the camera would.
func (p *phone) snap(form string, picture []byte) {
	p.t.Helper()
	p.calm()
	err := p.page.Locator(form + " input[type=file]").SetInputFiles([]playwright.InputFile{{Name: "IMG_1.jpg", MimeType: "image/jpeg", Buffer: picture}})
	if err != nil {
		p.t.Fatalf("hand over a picture: %v\non screen: %s", err, p.text("body"))
	}
	p.calm()
}

// kept reads one record of the photo database, past the app.
func (p *phone) kept(store, sha string) []byte {
	p.t.Helper()
	text, _ := p.eval(`([store, sha]) => new Promise((resolve, reject) => {
		const open = indexedDB.open("strutcard-photos");
		open.onerror = () => reject(open.error);
		open.onsuccess = () => {
			const get = open.result.transaction(store).objectStore(store).get(sha);
			get.onsuccess = () => {
				open.result.close();
				resolve(btoa(Array.from(new Uint8Array(get.result?.bytes ?? []), (b) => String.fromCharCode(b)).join("")));
			};
		};
	})`, []any{store, sha}).(string)
	data, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		p.t.Fatal(err)
	}
	return data
}

func (p *phone) keptPictures() int {
	p.t.Helper()
	return p.eval(`() => new Promise((resolve, reject) => {
		const open = indexedDB.open("strutcard-photos");
		open.onerror = () => reject(open.error);
		open.onsuccess = () => {
			const count = open.result.transaction("pictures").objectStore("pictures").count();
			count.onsuccess = () => { open.result.close(); resolve(count.result); };
		};
	})`).(int)
}

func (p *phone) photos(want int) []job.Photo {
	p.t.Helper()
	got := p.fold().Photos
	if len(got) != want {
		p.t.Fatalf("%d photos in the record, want %d\non screen: %s\nconsole: %v", len(got), want, p.text("body"), p.console)
	}
	return got
}

// shows waits until every picture of the screen is there.
func (p *phone) shows(n int) {
	p.t.Helper()
	p.wait(fmt.Sprintf(`() => { const all = [...document.querySelectorAll(".photo img")]; return all.length === %d && all.every((i) => i.complete && i.naturalWidth > 0); }`, n))
}

func (p *phone) more() {
	p.t.Helper()
	p.eval(`() => { document.querySelector("details.more").open = true; }`)
}

func TestPhoto(t *testing.T) {
	t.Parallel()
	shop := newShop(t)
	p := newPhone(t, shop)
	p.open("/")
	p.offlineReady()
	p.openDemo()
	p.more()
	p.fill("#photo-own #f-caption", "dented tube")
	picture := shot(t, 2400, 1600, 1)
	p.snap("#photo-own", picture)
	got := p.photos(1)[0]
	if got.Caption != "dented tube" {
		t.Errorf("caption = %q", got.Caption)
	}
	p.bareAndSmall(got)
	p.bares(picture)

	p.shows(1)
	p.more()
	p.snap("#photo-own", picture) // the same again, as after a reply that was lost
	p.photos(1)
	if n := p.keptPictures(); n != 1 {
		t.Errorf("%d pictures are kept, want 1", n)
	}

	if err := p.ctx.SetOffline(true); err != nil {
		t.Fatal(err)
	}
	p.open("/")
	p.shows(1)
	p.narrow("step with a photo")
	if wide := p.eval(`() => document.querySelector(".photo img").naturalWidth`).(int); wide > 240 {
		t.Errorf("the screen shows %d pixels across, more than a thumbnail", wide)
	}
	p.tap("#place-card")
	p.eval(`() => { document.querySelector(".photos-by-step").open = true; }`)
	p.shows(1)
	if got := p.text(".photos-by-step"); !strings.Contains(got, "1 photo,") || !strings.Contains(got, "dented tube") {
		t.Errorf("the card says %q", got)
	}
}

// bareAndSmall checks what was kept against what was recorded.
func (p *phone) bareAndSmall(got job.Photo) {
	p.t.Helper()
	kept := p.kept("pictures", got.SHA256)
	sum := sha256.Sum256(kept)
	if hex.EncodeToString(sum[:]) != got.SHA256 || int64(len(kept)) != got.Bytes {
		p.t.Fatalf("kept %d bytes with another hash than the record's %d, %s", len(kept), got.Bytes, got.SHA256)
	}
	for _, data := range [][]byte{kept, p.kept("thumbs", got.SHA256)} {
		for _, secret := range []string{"Exif", "SecretMaker", string([]byte{51, 0, 0, 0, 1, 0, 0, 0, 28})} {
			if bytes.Contains(data, []byte(secret)) {
				p.t.Errorf("what was kept still holds %q", secret)
			}
		}
	}
	img, err := jpeg.Decode(bytes.NewReader(kept))
	if err != nil {
		p.t.Fatalf("what was kept is no JPEG: %v", err)
	}
	size := img.Bounds().Size()
	if int64(size.X) != got.Width || int64(size.Y) != got.Height || size.X*size.Y > 2_000_000 || size.X*size.Y < 1_900_000 || len(kept) > 1_000_000 {
		p.t.Errorf("kept %v in %d bytes; the record says %d by %d", size, len(kept), got.Width, got.Height)
	}
	if size.X >= size.Y {
		p.t.Errorf("the picture lies on its side: %v", size)
	}
	if r, _, b, _ := img.At(size.X/2, size.Y/10).RGBA(); r <= b {
		p.t.Error("the top of the picture is not what the camera meant as its top")
	}
}

// bares checks what drops the metadata by itself, for browsers that write some
// of their own into what they make: the picture stays the same.
func (p *phone) bares(picture []byte) {
	p.t.Helper()
	text, _ := p.eval(`async (text) => {
		const { bare } = await import("/picture.js");
		const bytes = new Uint8Array(bare(Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer));
		let out = "";
		for (const b of bytes) out += String.fromCharCode(b);
		return btoa(out);
	}`, base64.StdEncoding.EncodeToString(picture)).(string)
	got, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		p.t.Fatal(err)
	}
	want := append([]byte{0xff, 0xd8}, picture[4+binary.BigEndian.Uint16(picture[4:]):]...)
	if !bytes.Equal(got, want) {
		p.t.Errorf("of %d bytes %d are left, want all %d but the metadata", len(picture), len(got), len(want))
	}
}

// TestPhotoAsked: a step's own asks, one taken and one left out.
func TestPhotoAsked(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.openDemo()
	for !p.has(".ask.photo") {
		if !p.next() {
			t.Fatalf("the demo asks for no photo: %s", p.text("body"))
		}
	}
	asked, _ := p.page.Locator(".ask.photo input[name=photo]").First().InputValue()
	p.snap(".ask.photo form[data-do=photo]", shot(t, 800, 600, 2))
	got := p.photos(1)[0]
	if string(got.Photo) != asked || string(got.Step) == "" {
		t.Errorf("recorded %q at %q, want %q", got.Photo, got.Step, asked)
	}
	if got.Width != 600 || got.Height != 800 {
		t.Errorf("a small picture became %d by %d, want 600 by 800", got.Width, got.Height)
	}
	if p.has(`.ask.photo input[value="` + asked + `"]`) {
		t.Error("the step still asks for it")
	}
}

// TestPhotoStoreFails: whatever the photo database does, the log goes on.
func TestPhotoStoreFails(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, break_, says string }{
		{"Full", `() => {
			const real = IDBDatabase.prototype.transaction;
			IDBDatabase.prototype.transaction = function (stores, mode, options) {
				if (this.name === "strutcard-photos" && mode === "readwrite") throw new DOMException("made by the test", "QuotaExceededError");
				return real.call(this, stores, mode, options);
			};
		}`, "no room left"},
		{"NeverOpens", `() => {
			const real = indexedDB.open.bind(indexedDB);
			indexedDB.open = (name, ...rest) => (name === "strutcard-photos" ? {} : real(name, ...rest));
		}`, "photo store did not take it"},
		{"Refused", `() => {
			const real = indexedDB.open.bind(indexedDB);
			indexedDB.open = (name, ...rest) => {
				if (name === "strutcard-photos") throw new DOMException("made by the test", "SecurityError");
				return real(name, ...rest);
			};
		}`, "photo store did not take it"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := newPhone(t, newShop(t))
			if err := p.ctx.AddInitScript(playwright.Script{Content: playwright.String("(" + c.break_ + ")()")}); err != nil {
				t.Fatal(err)
			}
			p.open("/")
			p.openDemo()
			before := len(p.log())
			p.more()
			p.snap("#photo-own", shot(t, 800, 600, 3))
			p.wait(`() => document.getElementById("r-sheet").textContent.trim() !== ""`)
			if got := p.text("#r-sheet"); !strings.Contains(got, c.says) || !strings.Contains(got, "record is safe") {
				t.Errorf("the person is told %q", got)
			}
			if got := len(p.log()); got != before {
				t.Errorf("%d events, want %d", got, before)
			}
			p.tap("#dismiss")
			p.next()
			if got := len(p.log()); got <= before {
				t.Errorf("the job stands still: %d events", got)
			}
		})
	}
}

// TestPhotoGone: the browser cleared the pictures, not the record.
func TestPhotoGone(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.openDemo()
	p.more()
	p.snap("#photo-own", shot(t, 800, 600, 4))
	before := len(p.log())
	p.eval(`() => new Promise((resolve, reject) => {
		const gone = indexedDB.deleteDatabase("strutcard-photos");
		gone.onsuccess = resolve;
		gone.onerror = () => reject(gone.error);
		gone.onblocked = () => reject(new Error("the app holds on to it"));
	})`)
	p.open("/")
	p.wait(`() => document.querySelector('.photo img[data-state="gone"]')`)
	if got := p.text(".photo"); !strings.Contains(got, "not on this phone") {
		t.Errorf("in place of the photo stands %q", got)
	}
	if got := len(p.log()); got != before {
		t.Errorf("%d events, want %d", got, before)
	}
	p.more()
	p.snap("#photo-own", shot(t, 800, 600, 4)) // the same picture comes back
	p.shows(1)
}

// TestPhotoMany: the page holds a small picture for each that is on the screen,
// and none for those that are not.
func TestPhotoMany(t *testing.T) {
	t.Parallel()
	const many = 20
	p := newPhone(t, newShop(t))
	script := `(() => {
		const make = URL.createObjectURL.bind(URL), drop = URL.revokeObjectURL.bind(URL);
		globalThis.lent = new Map();
		globalThis.largest = 0;
		URL.createObjectURL = (blob) => { const url = make(blob); lent.set(url, blob.size); largest = Math.max(largest, blob.size); return url; };
		URL.revokeObjectURL = (url) => { lent.delete(url); drop(url); };
	})()`
	if err := p.ctx.AddInitScript(playwright.Script{Content: playwright.String(script)}); err != nil {
		t.Fatal(err)
	}
	p.open("/")
	p.openDemo()
	p.more()
	for i := range many {
		p.snap("#photo-own", shot(t, 1000, 750, 10+i))
	}
	p.photos(many)
	p.wait(`() => lent.size >= 20`)
	if lent := p.eval(`() => lent.size`).(int); lent != many {
		t.Errorf("%d pictures are lent to the screen, want %d", lent, many)
	}
	if largest := p.eval(`() => largest`).(int); largest == 0 || largest > 40_000 {
		t.Errorf("the largest picture lent to the screen has %d bytes, want a thumbnail", largest)
	}
	p.tap("#place-measure")
	p.wait(`() => lent.size === 0`)
	p.tap("#place-work")
	p.wait(`() => lent.size >= 20`)
	p.lastShows()
	if lent := p.eval(`() => lent.size`).(int); lent != many {
		t.Errorf("%d pictures are lent after coming back, want %d", lent, many)
	}
}

// lastShows scrolls to the last picture: those out of sight are not drawn at all.
func (p *phone) lastShows() {
	p.t.Helper()
	p.eval(`() => [...document.querySelectorAll(".photo img")].pop().scrollIntoView()`)
	p.wait(`() => { const last = [...document.querySelectorAll(".photo img")].pop(); return last.complete && last.naturalWidth > 0; }`)
}

// TestPhotoLost: the page dies while the camera is open.
func TestPhotoLost(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	p.openDemo()
	p.more()
	if _, err := p.page.ExpectFileChooser(func() error { return p.page.Locator("#photo-own label.take").Tap() }); err != nil {
		t.Fatalf("no camera opens: %v", err)
	}
	p.open("/")
	p.wait(`() => document.getElementById("r-sheet").textContent.includes("while the camera was open")`)
	p.open("/")
	if got := p.text("#r-sheet"); strings.Contains(got, "camera") {
		t.Errorf("it is said twice: %s", got)
	}
}

// TestPhotoReadBack: a picture that comes back from the disk as other bytes than
// were written does not count (pitfall 17).
func TestPhotoReadBack(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	script := `IDBObjectStore.prototype.add = ((real) => function (value, ...rest) {
		if (this.name !== "pictures" || !globalThis.spoils) return real.call(this, value, ...rest);
		const bytes = new Uint8Array(value.bytes.slice(0));
		bytes[bytes.length >> 1] ^= 1;
		return real.call(this, { ...value, bytes: bytes.buffer }, ...rest);
	})(IDBObjectStore.prototype.add)`
	if err := p.ctx.AddInitScript(playwright.Script{Content: playwright.String(script)}); err != nil {
		t.Fatal(err)
	}
	p.open("/")
	p.openDemo()
	p.more()
	p.eval(`() => { globalThis.spoils = true; }`)
	p.snap("#photo-own", shot(t, 800, 600, 80))
	if got := p.text("#r-sheet"); !strings.Contains(got, "photo store did not take it") {
		t.Errorf("the person is told %q", got)
	}
	p.photos(0)
	if n := p.keptPictures(); n != 0 {
		t.Errorf("%d pictures are kept, want none", n)
	}
	p.eval(`() => { globalThis.spoils = false; }`)
	p.tap("#dismiss")
	p.snap("#photo-own", shot(t, 800, 600, 80))
	p.photos(1)
}

// taking calls what keeps a chosen file, with a file made by the script.
func (p *phone) taking(script string) any {
	p.t.Helper()
	return p.eval(`async (text) => {
		const { take } = host.photos;
		const data = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer;
		`+script+`
	}`, base64.StdEncoding.EncodeToString(shot(p.t, 800, 600, 81)))
}

// TestPhotosInTurn: of ten pictures chosen at once, one is decoded at a time, and
// kept before the next (pitfall 47).
func TestPhotosInTurn(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	got := p.taking(`
		let open = 0, most = 0, decoded = 0;
		const bitmap = globalThis.createImageBitmap, close = ImageBitmap.prototype.close;
		globalThis.createImageBitmap = async (...args) => { decoded++; most = Math.max(most, ++open); return bitmap(...args); };
		ImageBitmap.prototype.close = function () { open--; return close.call(this); };
		const one = new Uint8Array(data(text));
		const files = [...Array(10).keys()].map((i) => {
			const bytes = one.slice();
			bytes[bytes.length - 40 - i] ^= 1; // each another picture
			return { type: "image/jpeg", arrayBuffer: async () => bytes.buffer };
		});
		const kept = await Promise.all(files.map(take));
		return [most, decoded, new Set(kept.map((k) => k.sha256)).size];`).([]any)
	if fmt.Sprint(got) != "[1 10 10]" {
		t.Errorf("at most, in all, and different = %v, want 1, 10, 10", got)
	}
	if n := p.keptPictures(); n != 10 {
		t.Errorf("%d pictures are kept, want 10", n)
	}
}

// TestPhotoFileReadOnce: the bytes of a chosen file are read at once and once; a
// file that holds nothing is refused (pitfall 103).
func TestPhotoFileReadOnce(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	got := p.taking(`
		let reads = 0, gone = false;
		const file = { type: "image/jpeg", arrayBuffer: async () => (reads++ || gone ? new ArrayBuffer(0) : data(text)) };
		const busy = take({ type: "image/jpeg", arrayBuffer: async () => data(text) });
		const taking = take(file); // it has to wait its turn, and the file is gone by then
		gone = true;
		await busy;
		const kept = await taking;
		const empty = await take({ type: "image/jpeg", arrayBuffer: async () => new ArrayBuffer(0) }).catch((error) => error.name);
		return [reads, Number(kept.bytes) > 1000, empty];`).([]any)
	if fmt.Sprint(got) != "[1 true Empty]" {
		t.Errorf("reads, kept whole, an empty file = %v, want 1, true, Empty", got)
	}
	if n := p.keptPictures(); n != 1 {
		t.Errorf("%d pictures are kept, want 1", n)
	}
}

// TestPhotoBlank: a browser that gives a blank for a large picture is found out;
// another way of decoding may do, and else nothing is kept (pitfall 46).
func TestPhotoBlank(t *testing.T) {
	t.Parallel()
	p := newPhone(t, newShop(t))
	p.open("/")
	got := p.taking(`
		const bitmap = globalThis.createImageBitmap;
		globalThis.createImageBitmap = async () => bitmap(new ImageData(800, 600));
		const file = { type: "image/jpeg", arrayBuffer: async () => data(text) };
		const other = await take(file);
		HTMLImageElement.prototype.decode = async () => { throw new DOMException("made by the test", "EncodingError"); };
		const none = await take({ ...file }).catch((error) => error.name);
		globalThis.createImageBitmap = async () => { throw new DOMException("made by the test", "InvalidStateError"); };
		const unread = await take({ ...file }).catch((error) => error.name);
		return [other.width, none, unread];`).([]any)
	if fmt.Sprint(got) != "[600 Blank Unreadable]" {
		t.Errorf("by the other way, by none, and unreadable = %v, want 600, Blank, Unreadable", got)
	}
	if n := p.keptPictures(); n != 1 {
		t.Errorf("%d pictures are kept, want 1", n)
	}
}
