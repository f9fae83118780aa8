package web

import (
	"fmt"
	"net/http"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// handleSheetPage shows one published sheet: what uses it, and what can be done
// about it.
func (s *site) handleSheetPage(c echo.Context, who shop.Staff) error {
	return s.sheetPage(c, who, http.StatusOK, templates.SheetPage{})
}

func (s *site) sheetPage(c echo.Context, who shop.Staff, status int, v templates.SheetPage) error {
	ctx := c.Request().Context()
	had, sh, err := s.published(c, who, c.Param("hash"))
	if err != nil {
		return err
	}
	said := sh.Said()
	v.Desk, v.SheetListRow, v.Invented, v.Note = frame(who, said.Title, "sheets"), sheetListRow(had), sh.Invented, said.Note
	v.SheetListRow.Title, v.Doubts = said.Title, checked(said).Doubts
	jobs, err := s.Store.JobsOf(ctx, who.Shop, had.Hash, maxJobs)
	if err != nil {
		return err
	}
	for _, r := range jobs {
		row := queueRow(r)
		v.Jobs = append(v.Jobs, templates.SheetJob{Job: row.Job, Vehicle: row.Vehicle, State: row.State, Heard: row.Heard})
	}
	if v.Others, err = s.versions(c, who, had); err != nil {
		return err
	}
	v.Steps = []templates.Choice{{Label: lang.T("at once, wherever the work is")}}
	for _, step := range said.Steps() {
		v.Steps = append(v.Steps, templates.Choice{Value: string(step.ID), Label: step.Title})
	}
	v.Withdrawn = withdrawnView(had, said)
	return page(c, status, templates.SheetDeskPage(v))
}

// published reads one of the shop's published sheets.
func (s *site) published(c echo.Context, who shop.Staff, hash string) (shop.Sheet, *sheet.Sheet, error) {
	had, err := s.Store.PublishedSheet(c.Request().Context(), who.Shop, event.SheetHash(hash))
	if err != nil {
		return had, nil, err
	}
	sh, err := readSheet(had.Body)
	return had, sh, err
}

// versions are the other published sheets of the same title, the newest first.
func (s *site) versions(c echo.Context, who shop.Staff, of shop.Sheet) ([]templates.Choice, error) {
	sheets, err := s.Store.Published(c.Request().Context(), who.Shop)
	var out []templates.Choice
	for _, sh := range sheets {
		if sh.Title == of.Title && sh.Hash != of.Hash {
			out = append(out, templates.Choice{Value: string(sh.Hash), Label: sheet.VersionWords(sh.Version) + ", " + when(sh.Received)})
		}
	}
	return out, err
}

func withdrawnView(had shop.Sheet, sh *sheet.Sheet) *templates.WithdrawnView {
	w := had.Withdrawn
	if w == nil {
		return nil
	}
	v := &templates.WithdrawnView{Reason: w.Reason, At: when(w.At), By: w.ByName, Before: lang.T("Stop at once, wherever the work is.")}
	if step := sh.Step(w.Before); step != nil {
		v.Before = lang.F("Stop before the step “%s”.", step.Title)
	}
	return v
}

// handleSheetFile hands out the exact bytes that the hash names.
func (s *site) handleSheetFile(c echo.Context, who shop.Staff) error {
	had, err := s.Store.PublishedSheet(c.Request().Context(), who.Shop, event.SheetHash(c.Param("hash")))
	if err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderContentDisposition, fmt.Sprintf(`attachment; filename="sheet-%.12s.json"`, had.Hash))
	return c.Blob(http.StatusOK, echo.MIMEApplicationJSON, had.Body)
}

// handleSheetChanges compares a published sheet with another.
func (s *site) handleSheetChanges(c echo.Context, who shop.Staff) error {
	now, is, err := s.published(c, who, c.Param("hash"))
	if err != nil {
		return err
	}
	old, was, err := s.published(c, who, c.QueryParam("from"))
	if err != nil {
		return err
	}
	return page(c, http.StatusOK, templates.ChangesDeskPage(templates.ChangesPage{Desk: frame(who, lang.T("What differs"), "sheets"),
		Was: sheetLink(old), Now: sheetLink(now), Rows: changeRows(was, is)}))
}

func sheetLink(s shop.Sheet) templates.Link {
	return templates.Link{Href: "/shop/sheets/" + string(s.Hash), Words: lang.T(s.Title) + ", " + sheet.VersionWords(s.Version)}
}

const maxReason = 1000 // bytes

// handleSheetWithdraw takes a sheet back from use, for good. A second time
// changes nothing.
func (s *site) handleSheetWithdraw(c echo.Context, who shop.Staff) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	had, sh, err := s.published(c, who, c.Param("hash"))
	if err != nil {
		return err
	}
	w := shop.Withdrawn{Reason: get("reason"), Before: event.StepID(get("before")), By: who.ID}
	if had.Withdrawn == nil {
		if err := sound(w, sh); err != nil {
			f := toFault(err)
			return s.sheetPage(c, who, statusOf(f.Kind), templates.SheetPage{Reason: w.Reason, Problem: f.Message, Hint: f.Hint})
		}
		if err := s.Store.Withdraw(c.Request().Context(), who.Shop, had.Hash, w); err != nil {
			return err
		}
		s.Log.Info("sheet withdrawn", "hash", had.Hash, "staff", who.ID)
	}
	return c.Redirect(http.StatusSeeOther, "/shop/sheets/"+string(had.Hash))
}

func sound(w shop.Withdrawn, sh *sheet.Sheet) error {
	if w.Reason == "" || len(w.Reason) > maxReason {
		return fault.New(fault.Invalid, "There is no reason yet, or it is longer than 1,000 letters. The sheet was not withdrawn.", "Say what is wrong and what the person at the car should do.")
	}
	if w.Before != "" && sh.Step(w.Before) == nil {
		return fault.New(fault.Invalid, "The step to stop before is not in this sheet. The sheet was not withdrawn.", "Choose it from the list.")
	}
	return nil
}
