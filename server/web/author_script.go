package web

import (
	_ "embed"
	"net/http"

	"github.com/labstack/echo/v4"
)

//go:embed static/author.js
var authorScript []byte

// handleAuthorScript serves the script that checks a draft while a person types.
func handleAuthorScript(c echo.Context) error {
	c.Response().Header().Set("Cache-Control", "no-cache")
	return c.Blob(http.StatusOK, "text/javascript; charset=utf-8", authorScript)
}
