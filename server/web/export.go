package web

import (
	"archive/zip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/exchange"
	"strutcard/sync/fault"
	"strutcard/sync/job"
	"strutcard/templates/paper"
)

// handleJobExport hands out everything that is kept of one job.
func (s *site) handleJobExport(c echo.Context, who shop.Staff) error {
	id := event.JobID(c.Param("job"))
	if _, err := s.jobData(c.Request().Context(), who, id); err != nil {
		return err
	}
	e := entry(who)
	e.What, e.About = shop.JobExported, string(id)
	return s.export(c, "job-"+string(id)+".zip", e, func(z *archive) error { return z.job(who.Shop, id, "") })
}

// handleShopExport hands out everything that is kept of the shop.
func (s *site) handleShopExport(c echo.Context, who shop.Staff) error {
	e := entry(who)
	e.What = shop.ShopExported
	return s.export(c, "shop.zip", e, func(z *archive) error { return z.shop(who) })
}

// export streams a zip file. One that is cut off lacks its table at the end, and its
// connection is broken: nobody takes half of it for the whole.
func (s *site) export(c echo.Context, name string, e shop.Entry, fill func(*archive) error) error {
	ctx := c.Request().Context()
	if err := s.Store.Note(ctx, e); err != nil {
		return err
	}
	h := c.Response().Header()
	h.Set(echo.HeaderContentType, "application/zip")
	h.Set(echo.HeaderContentDisposition, `attachment; filename="`+name+`"`)
	c.Response().WriteHeader(http.StatusOK)
	z := &archive{site: s, ctx: ctx, now: s.Now(), zip: zip.NewWriter(c.Response())}
	if err := errors.Join(z.text("README.txt", []byte(lang.T(readMe))), fill(z), z.zip.Close()); err != nil {
		s.Log.Error("export was cut off", "err", err)
		panic(http.ErrAbortHandler)
	}
	return nil
}

// archive is a zip file that is being written.
type archive struct {
	*site
	ctx context.Context
	now time.Time
	zip *zip.Writer
}

func (z *archive) create(name string, method uint16) (io.Writer, error) {
	return z.zip.CreateHeader(&zip.FileHeader{Name: name, Method: method, Modified: z.now})
}

func (z *archive) text(name string, body []byte) error {
	w, err := z.create(name, zip.Deflate)
	if err == nil {
		_, err = w.Write(body)
	}
	return err
}

// readMe says what the files of an export are.
const readMe = `What is in this file

shop.json      the shop: its people, its phones, and who did what
sheets/        the fitting sheets that the shop published, by their hash
jobs/          a folder for each job

Of each job (of one job alone, without a folder):

record.txt     the record: every entry, a line each, and the fitting sheet.
               A phone can bring it in, and "strutcard verify record.txt" checks it.
card.html      the job card for reading and printing, in any browser, offline
card.json      the same card as data. "strutcard verify card.json" checks every
               line and everything printed; its form is at /schema/job-card/1.json
photos/        the pictures, by the SHA-256 that the record names. One that had
               not arrived at the server is not here.
`

// job writes a job below dir: its record, in the form that a phone can bring in, its
// card and its photos.
func (z *archive) job(id shop.ID, jobID event.JobID, dir string) error {
	events, err := z.Store.Shop(id).Job(z.ctx, jobID)
	if err != nil {
		return err
	}
	var sheets []json.RawMessage
	var body []byte
	if o := job.Fold(jobID, events).Opened; o != nil {
		if body, err = z.Store.SheetBody(z.ctx, id, o.Sheet); err != nil && !fault.Is(err, fault.NotFound) {
			return err
		}
		if err == nil {
			sheets = []json.RawMessage{body}
		}
	}
	if err := z.text(dir+"record.txt", []byte(exchange.File{Events: events, Sheets: sheets}.String())); err != nil {
		return err
	}
	if err := z.card(id, jobID, body, events, dir); err != nil {
		return fmt.Errorf("export card: %w", err)
	}
	done := map[string]bool{}
	for _, e := range events {
		if p, ok := e.Payload().(*event.PhotoTaken); ok && !done[p.SHA256] {
			done[p.SHA256] = true
			if err := z.photo(p.SHA256, dir); err != nil {
				return fmt.Errorf("export photo: %w", err)
			}
		}
	}
	return nil
}

func (z *archive) card(id shop.ID, jobID event.JobID, body []byte, events []event.Event, dir string) error {
	made, err := z.makeCard(z.ctx, id, jobID, body, events)
	if err != nil {
		return err
	}
	whole, err := paper.Whole(made)
	if err != nil {
		return err
	}
	if err := z.text(dir+"card.html", whole); err != nil {
		return err
	}
	return z.text(dir+"card.json", made.Encode())
}

// photo leaves out a picture that has not arrived; the record names it all the same.
func (z *archive) photo(hash, dir string) error {
	f, err := z.Pictures.Open(hash)
	if fault.Is(err, fault.NotFound) {
		return nil
	}
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }() // only read
	w, err := z.create(dir+"photos/"+hash+".jpg", zip.Store)
	if err == nil {
		_, err = io.Copy(w, f)
	}
	return err
}

// shopFile is what is kept of a shop's people and phones, without any secret.
type shopFile struct {
	Shop   string       `json:"shop"`
	Staff  []personFile `json:"staff"`
	Phones []phoneFile  `json:"phones"`
	Audit  []shop.Entry `json:"audit"`
}

type personFile struct {
	Name  string     `json:"name"`
	Roles shop.Roles `json:"roles"`
	Since time.Time  `json:"since"`
	Ended time.Time  `json:"ended,omitzero"`
}

type phoneFile struct {
	Device event.DeviceID `json:"device"`
	Name   string         `json:"name"`
	Joined time.Time      `json:"joined"`
	Ended  time.Time      `json:"ended,omitzero"`
}

// shop writes the shop's own data, its sheets and then job after job.
func (z *archive) shop(who shop.Staff) error {
	body, err := z.people(who)
	if err != nil {
		return err
	}
	if err := z.text("shop.json", body); err != nil {
		return err
	}
	sheets, err := z.Store.Published(z.ctx, who.Shop)
	if err != nil {
		return err
	}
	for _, sh := range sheets {
		body, err := z.Store.SheetBody(z.ctx, who.Shop, sh.Hash)
		if err != nil {
			return err
		}
		if err := z.text("sheets/"+string(sh.Hash)+".json", body); err != nil {
			return err
		}
	}
	jobs, err := z.Store.Shop(who.Shop).Jobs(z.ctx)
	if err != nil {
		return err
	}
	for _, id := range jobs {
		if err := z.job(who.Shop, id, "jobs/"+string(id)+"/"); err != nil {
			return err
		}
	}
	return nil
}

func (z *archive) people(who shop.Staff) ([]byte, error) {
	staff, err := z.Store.StaffList(z.ctx, who.Shop)
	if err != nil {
		return nil, err
	}
	phones, err := z.Store.Phones(z.ctx, who.Shop)
	if err != nil {
		return nil, err
	}
	out := shopFile{Shop: who.ShopName}
	for _, one := range staff {
		out.Staff = append(out.Staff, personFile{one.Name, one.Roles, one.Created, one.Ended})
	}
	for _, p := range phones {
		out.Phones = append(out.Phones, phoneFile{p.Device, p.Name, p.Joined, p.Revoked})
	}
	for before := int64(0); ; {
		some, err := z.Store.Audit(z.ctx, who.Shop, before, auditPage)
		if err != nil {
			return nil, err
		}
		if out.Audit = append(out.Audit, some...); len(some) < auditPage {
			return json.MarshalIndent(out, "", "  ")
		}
		before = some[len(some)-1].ID
	}
}
