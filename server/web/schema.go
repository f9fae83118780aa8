package web

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
)

// sheetSchema is written by cmd/dev from the Go types of a sheet.
//
//go:embed static/fitting-sheet.schema.json
var sheetSchema []byte

// sheetSchemaPath names the format of the sheets that it describes. Anybody may
// read it: an author's editor has no account.
const sheetSchemaPath = "/schema/fitting-sheet/1.json"

func registerSchemaRoutes(r routes) {
	sum := sha256.Sum256(sheetSchema)
	tag := `"` + hex.EncodeToString(sum[:]) + `"`
	r.get(sheetSchemaPath, func(c echo.Context) error {
		h := c.Response().Header()
		h.Set(echo.HeaderContentType, "application/schema+json")
		h.Set("Cache-Control", "public, max-age=3600") // within one format fields can be added
		h.Set("ETag", tag)
		http.ServeContent(c.Response(), c.Request(), "", time.Time{}, bytes.NewReader(sheetSchema))
		return nil
	})
}
