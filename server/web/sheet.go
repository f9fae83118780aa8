package web

import (
	"io"
	"net/http"

	"github.com/labstack/echo/v4"

	"strutcard/server/shop"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
)

func (s *site) registerSheetRoutes(r routes) {
	r.get("/api/v1/sheets", s.handleSheetList)
	r.get("/api/v1/sheets/:hash", s.handleSheet)
	r.put("/api/v1/sheets/:hash", maxSheet, s.handleSheetPut)
}

// sheetItem is one sheet in the list.
type sheetItem struct {
	Hash    event.SheetHash `json:"hash"`
	Title   string          `json:"title"`
	Version string          `json:"version"`
	Vehicle string          `json:"vehicle"`
	Own     bool            `json:"own"` // made on this phone

	Withdrawn *sheet.Withdrawal `json:"withdrawn,omitempty"`
}

// handleSheetList lists the shop's sheets, those that this phone made, and what
// was withdrawn of all that its jobs use.
func (s *site) handleSheetList(c echo.Context) error {
	phone, err := s.phone(c)
	if err != nil {
		return err
	}
	sheets, err := s.Store.Sheets(c.Request().Context(), phone.Shop, phone.Device)
	if err != nil {
		return err
	}
	items := make([]sheetItem, 0, len(sheets))
	for _, sh := range sheets {
		item := sheetItem{Hash: sh.Hash, Title: sh.Title, Version: sh.Version, Vehicle: sh.Vehicle, Own: sh.Device == phone.Device}
		if w := sh.Withdrawn; w != nil {
			item.Withdrawn = &sheet.Withdrawal{Reason: w.Reason, Before: w.Before, At: w.At.UnixMilli()}
		}
		items = append(items, item)
	}
	return c.JSON(http.StatusOK, items)
}

// handleSheet hands out the bytes that the hash names.
func (s *site) handleSheet(c echo.Context) error {
	phone, err := s.phone(c)
	if err != nil {
		return err
	}
	body, err := s.Store.SheetBody(c.Request().Context(), phone.Shop, event.SheetHash(c.Param("hash")))
	if err != nil {
		return err
	}
	return c.JSONBlob(http.StatusOK, body)
}

// handleSheetPut keeps a sheet that an installer made. Its hash is its name, so
// it can be sent again for ever and never changed.
func (s *site) handleSheetPut(c echo.Context) error {
	phone, err := s.phone(c)
	if err != nil {
		return err
	}
	body, err := io.ReadAll(c.Request().Body)
	if err != nil {
		return err
	}
	sh, err := sheet.Decode(body)
	if err != nil {
		return err
	}
	hash := sh.Hash()
	if string(hash) != c.Param("hash") {
		return fault.New(fault.Invalid, "This fitting sheet is not the one that its name says. It was not stored.",
			"It is still on the phone. Update the app and sync again.")
	}
	if !sh.Own {
		return fault.New(fault.Denied, "A phone can only send sheets that were made on it. It was not stored.", "Ask the shop to publish this sheet.")
	}
	kept := shop.Sheet{Hash: hash, Title: sh.Title, Version: sh.Version, Vehicle: sh.Vehicle.Name, Device: phone.Device, Body: sh.Encode()}
	if err := s.Store.AddSheet(c.Request().Context(), phone.Shop, kept); err != nil {
		return err
	}
	return c.JSON(http.StatusOK, sheetItem{Hash: hash, Title: sh.Title, Version: sh.Version, Vehicle: sh.Vehicle.Name, Own: true})
}
