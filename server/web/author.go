package web

import (
	"errors"
	"io"
	"net/http"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// Limits of what an author sends: a form with the long texts of one step, and a
// form with a whole sheet in it, every byte of which may be sent as three.
const (
	maxPiece  = 3*sheet.MaxBytes + 64<<10
	maxImport = sheet.MaxBytes + 64<<10
)

func (s *site) registerAuthorRoutes(r routes) {
	r.get("/static/author.js", fixed(authorScript, scriptType, askEachTime))
	r.get("/shop/sheets", s.desk(s.handleSheets))
	r.get("/shop/sheets/:hash", s.desk(s.handleSheetPage))
	r.get("/shop/sheets/:hash/file", s.desk(s.handleSheetFile))
	r.get("/shop/sheets/:hash/changes", s.desk(s.handleSheetChanges))
	r.post("/shop/sheets/:hash/copy", maxForm, s.desk(s.handleSheetCopy))
	r.post("/shop/sheets/:hash/withdraw", maxForm, s.desk(s.handleSheetWithdraw))
	r.post("/shop/drafts", maxForm, s.desk(s.handleDraftStart))
	r.post("/shop/drafts/import", maxImport, s.desk(s.handleDraftImport))
	r.get("/shop/drafts/:id", s.desk(s.handleDraft))
	r.get("/shop/drafts/:id/edit/*", s.desk(s.handleDraft))
	r.post("/shop/drafts/:id/edit/*", maxPiece, s.desk(s.handleDraftEdit))
	r.post("/shop/drafts/:id/confirm", maxForm, s.desk(s.handleDraftConfirm))
	r.post("/shop/drafts/:id/drop", maxForm, s.desk(s.handleDraftDrop))
	r.get("/shop/drafts/:id/publish", s.desk(s.handlePublishForm))
	r.post("/shop/drafts/:id/publish", maxPiece, s.desk(s.handlePublish))
}

// handleSheets lists the shop's sheets and drafts.
func (s *site) handleSheets(c echo.Context, who shop.Staff) error {
	return s.sheetsPage(c, who, http.StatusOK, templates.SheetList{})
}

func (s *site) sheetsPage(c echo.Context, who shop.Staff, status int, v templates.SheetList) error {
	ctx := c.Request().Context()
	sheets, err := s.Store.Published(ctx, who.Shop)
	if err != nil {
		return err
	}
	drafts, err := s.Store.Drafts(ctx, who.Shop)
	if err != nil {
		return err
	}
	v.Desk = frame(who, lang.T("Sheets"), "sheets")
	for _, sh := range sheets {
		v.Rows = append(v.Rows, sheetListRow(sh))
	}
	for _, d := range drafts {
		v.Drafts = append(v.Drafts, templates.DraftRow{ID: d.ID, Title: named(d.Title, lang.T("untitled")), Version: named(d.Version, "–"), Vehicle: d.Vehicle, Changed: when(d.Changed), By: d.ByName})
	}
	for _, p := range sheet.Patterns() {
		choice := templates.Choice{Value: string(p.ID), Label: lang.T(p.Title)}
		for _, axle := range p.Axles {
			if axle == event.Front {
				v.Front = append(v.Front, choice)
			} else {
				v.Rear = append(v.Rear, choice)
			}
		}
	}
	return page(c, status, templates.SheetListPage(v))
}

func sheetListRow(sh shop.Sheet) templates.SheetListRow {
	row := templates.SheetListRow{Hash: string(sh.Hash), Title: lang.T(sh.Title), Version: sheet.VersionWords(sh.Version), Vehicle: lang.T(sh.Vehicle),
		Published: when(sh.Received), By: named(sh.ByName, lang.T("this program")), Uses: sh.Jobs}
	if sh.Withdrawn != nil {
		row.Withdrawn = when(sh.Withdrawn.At)
	}
	return row
}

func named(name, otherwise string) string {
	if name == "" {
		return otherwise
	}
	return name
}

// handleDraftStart starts a draft from a layout for each axle.
func (s *site) handleDraftStart(c echo.Context, who shop.Staff) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	start := templates.DraftStart{Title: get("title"), Version: get("version"), Vehicle: get("vehicle"), Front: get("front"), Rear: get("rear")}
	sh, err := sheet.Build(sheet.Start{Title: start.Title, Version: start.Version, Vehicle: sheet.Vehicle{Name: start.Vehicle},
		Front: sheet.PatternID(start.Front), Rear: sheet.PatternID(start.Rear)})
	if fault.Is(err, fault.Invalid) {
		f := toFault(err)
		return s.sheetsPage(c, who, statusOf(f.Kind), templates.SheetList{Start: start, Problem: f.Message, Hint: lang.T("No draft was started. Fill in every field, then start it again.")})
	}
	if err != nil {
		return err
	}
	return s.newDraft(c, who, sh, "")
}

// handleDraftImport starts a draft from a file, which must be a sound sheet.
func (s *site) handleDraftImport(c echo.Context, who shop.Staff) error {
	body, err := uploaded(c)
	if err != nil {
		return s.notImported(c, who, err)
	}
	sh, err := sheet.Decode(body)
	if err != nil {
		return s.notImported(c, who, err)
	}
	unconfirm(sh) // a file can say anything: nobody here has compared its numbers
	base, err := s.newest(c, who, sh.Title)
	if err != nil {
		return err
	}
	return s.newDraft(c, who, sh, base)
}

// unconfirm takes away every word on who compared which number with what.
func unconfirm(sh *sheet.Sheet) {
	for i := range sh.Fasteners {
		for j := range sh.Fasteners[i].Passes {
			sh.Fasteners[i].Passes[j].Confirmed = ""
		}
	}
	for i := range sh.Targets {
		sh.Targets[i].Confirmed = ""
	}
}

func (s *site) notImported(c echo.Context, who shop.Staff, err error) error {
	f := toFault(err)
	var tooLarge *http.MaxBytesError
	if errors.As(err, &tooLarge) {
		f = fault.New(fault.TooLarge, "This file is larger than 1 MiB. It was not loaded.", "Choose a smaller one.")
	}
	if f.Kind != fault.Invalid && f.Kind != fault.TooLarge {
		return err
	}
	return s.sheetsPage(c, who, statusOf(f.Kind), templates.SheetList{Problem: f.Message, Hint: f.Hint})
}

// uploaded reads the file of a form.
func uploaded(c echo.Context) ([]byte, error) {
	none := fault.New(fault.Invalid, "No file came with the form. Nothing was changed.", "Choose a file, then import it.")
	header, err := c.FormFile("file")
	var tooLarge *http.MaxBytesError
	if errors.As(err, &tooLarge) {
		return nil, err
	}
	if err != nil {
		return nil, none
	}
	file, err := header.Open()
	if err != nil {
		return nil, err
	}
	defer func() { _ = file.Close() }()
	body, err := io.ReadAll(file)
	if err == nil && len(body) == 0 {
		return nil, none
	}
	return body, err
}

// newest is the hash of the newest published sheet of a title, or "".
func (s *site) newest(c echo.Context, who shop.Staff, title string) (event.SheetHash, error) {
	sheets, err := s.Store.Published(c.Request().Context(), who.Shop)
	for _, sh := range sheets {
		if sh.Title == title {
			return sh.Hash, err
		}
	}
	return "", err
}

// handleSheetCopy starts a draft from a published sheet. Its version and change
// note are left to the author.
func (s *site) handleSheetCopy(c echo.Context, who shop.Staff) error {
	from, err := s.Store.PublishedSheet(c.Request().Context(), who.Shop, event.SheetHash(c.Param("hash")))
	if err != nil {
		return err
	}
	sh, err := readSheet(from.Body)
	if err != nil {
		return err
	}
	sh.Version, sh.Note = "", ""
	return s.newDraft(c, who, sh, from.Hash)
}

// newDraft keeps a draft and shows it. What the shop writes is never an
// installer's own; what was invented stays so.
func (s *site) newDraft(c echo.Context, who shop.Staff, sh *sheet.Sheet, base event.SheetHash) error {
	sh.Own = false
	d := shop.Draft{ID: newID(), Title: sh.Title, Version: sh.Version, Vehicle: sh.Vehicle.Name, Base: base, Body: sh.Encode(), By: who.ID}
	if err := s.Store.AddDraft(c.Request().Context(), who.Shop, d); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/shop/drafts/"+d.ID)
}
