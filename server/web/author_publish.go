package web

import (
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// handlePublishForm shows what publishing a draft would fix for good.
func (s *site) handlePublishForm(c echo.Context, who shop.Staff) error {
	d, err := s.draft(c.Request().Context(), who, c.Param("id"))
	if err != nil {
		return err
	}
	return s.publishPage(c, who, http.StatusOK, d, templates.PublishPage{})
}

func (s *site) publishPage(c echo.Context, who shop.Staff, status int, d *draft, v templates.PublishPage) error {
	v.Desk = frame(who, lang.T("Publish"), "sheets")
	v.ID, v.Revision, v.Title, v.Version, v.Vehicle = d.ID, d.Revision, named(d.Title, lang.T("an untitled sheet")), named(d.Version, lang.T("no version yet")), named(d.Vehicle, lang.T("a vehicle without a name"))
	v.Note, v.Check = d.sheet.Note, checked(d.sheet)
	if d.Base != "" {
		had, was, err := s.published(c, who, string(d.Base))
		if err != nil {
			return err
		}
		v.Base, v.Changes = had.Title+", "+had.Version, changeRows(was, d.sheet)
	}
	return page(c, status, templates.PublishDeskPage(v))
}

// handlePublish makes a draft a published sheet. It never changes again.
func (s *site) handlePublish(c echo.Context, who shop.Staff) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	d, err := s.draft(c.Request().Context(), who, c.Param("id"))
	if err != nil {
		return err
	}
	if err := d.same(get); err != nil {
		return s.conflictPage(c, who, d, toFault(err), nil)
	}
	left := map[string]bool{}
	for _, key := range c.Request().PostForm["leave"] {
		left[key] = true
	}
	d.By = who.ID
	sh, err := d.publishable(left)
	if err == nil {
		err = s.Store.PublishDraft(c.Request().Context(), who.Shop, d.Draft, sh)
	}
	if f := fault.Of(err); f != nil && (f.Kind == fault.Invalid || f.Kind == fault.Conflict) {
		return s.publishPage(c, who, statusOf(f.Kind), d, templates.PublishPage{Left: left, Problem: f.Message, Hint: f.Hint})
	}
	if err != nil {
		return err
	}
	s.Log.Info("sheet published", "hash", sh.Hash, "staff", who.ID)
	return c.Redirect(http.StatusSeeOther, "/shop/sheets/"+string(sh.Hash))
}

// publishable is the sheet to publish, if nothing stands in the way. The bytes
// are read once more, as a phone will.
func (d *draft) publishable(left map[string]bool) (shop.Sheet, error) {
	sh, err := sheet.Decode(d.sheet.Encode())
	if err != nil {
		return shop.Sheet{}, err
	}
	for _, doubt := range checked(sh).Unverified() {
		if !left[doubt.Key()] {
			return shop.Sheet{}, fault.New(fault.Invalid, "Some numbers look wrong, and nobody has confirmed them. Nothing was published.",
				"Confirm each in the draft against its source, or tick that it stays unverified.")
		}
	}
	if d.Base != "" && sh.Note == "" {
		return shop.Sheet{}, fault.New(fault.Invalid, "There is no change note. Nothing was published.",
			"Say in the draft what this version changed, for those who knew the one before.")
	}
	return shop.Sheet{Hash: sh.Hash(), Title: sh.Title, Version: sh.Version, Vehicle: sh.Vehicle.Name, Body: sh.Encode()}, nil
}

// elementOf is the element of a sheet's list, or the part of it, that a path leads into.
func elementOf(path string) string {
	parts := strings.SplitN(path, "/", 3)
	return strings.Join(parts[:min(2, len(parts))], "/")
}

// within reports whether a path leads to a place or to something in it.
func within(path, place string) bool {
	return path == place || strings.HasPrefix(path, place+"/")
}

// changeRows says what differs between two sheets, the most dangerous first.
func changeRows(was, now *sheet.Sheet) []templates.ChangeRow {
	unsure := checked(now).Unverified()
	var out []templates.ChangeRow
	for _, c := range sheet.Diff(was, now) {
		row := templates.ChangeRow{What: c.What, Where: c.Where, Was: c.Was, Now: c.Is, Grave: c.Grave}
		for _, d := range unsure {
			row.Unverified = row.Unverified || c.Is != "" && within(c.At, elementOf(d.Path))
		}
		out = append(out, row)
	}
	return out
}
