package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
)

// fixed serves a file that is built into this program. Such a file has no date,
// so its hash is what a browser asks with.
func fixed(body []byte, mediaType, keep string) echo.HandlerFunc {
	sum := sha256.Sum256(body)
	tag := `"` + hex.EncodeToString(sum[:]) + `"`
	return func(c echo.Context) error {
		h := c.Response().Header()
		h.Set(echo.HeaderContentType, mediaType)
		h.Set("Cache-Control", keep)
		h.Set("ETag", tag)
		http.ServeContent(c.Response(), c.Request(), "", time.Time{}, bytes.NewReader(body))
		return nil
	}
}
