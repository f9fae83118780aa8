package web

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"strutcard/server/shop"
	"strutcard/sync/fault"
)

// needs is the one table of what each role may do: the role that a page of the desk
// asks for, by its method and route. HEAD is as GET. A route that is not listed is nobody's.
var needs = map[[2]string]shop.Role{
	{"GET", "/shop"}:                         shop.Anyone,
	{"GET", "/shop/jobs/:job"}:               shop.Anyone,
	{"GET", "/shop/jobs/:job/card"}:          shop.Anyone,
	{"GET", "/shop/jobs/:job/card.html"}:     shop.Anyone,
	{"GET", "/shop/jobs/:job/card.json"}:     shop.Anyone,
	{"GET", "/shop/jobs/:job/fasteners.csv"}: shop.Anyone,
	{"GET", "/shop/jobs/:job/readings.csv"}:  shop.Anyone,
	{"GET", "/shop/photos/:sha256"}:          shop.Anyone,
	{"GET", "/shop/me"}:                      shop.Anyone,
	{"POST", "/shop/me/password"}:            shop.Anyone,
	{"POST", "/shop/me/sessions/:name/end"}:  shop.Anyone,

	{"POST", "/shop/jobs/:job/links"}:           shop.Reviewer,
	{"POST", "/shop/jobs/:job/links/:link/end"}: shop.Reviewer,
	{"POST", "/shop/jobs/:job/comments"}:        shop.Anyone,
	{"POST", "/shop/jobs/:job/findings"}:        shop.Reviewer,
	{"POST", "/shop/jobs/:job/decisions"}:       shop.Reviewer,
	{"POST", "/shop/jobs/:job/release"}:         shop.Reviewer,

	{"GET", "/shop/sheets"}:                           shop.Author,
	{"GET", "/shop/sheets/:hash"}:                     shop.Author,
	{"GET", "/shop/sheets/:hash/file"}:                shop.Author,
	{"GET", "/shop/sheets/:hash/changes"}:             shop.Author,
	{"GET", "/shop/sheets/:hash/field"}:               shop.Author,
	{"GET", "/shop/sheets/:hash/field/steps.csv"}:     shop.Author,
	{"GET", "/shop/sheets/:hash/field/fasteners.csv"}: shop.Author,
	{"GET", "/shop/sheets/:hash/field/readings.csv"}:  shop.Author,
	{"POST", "/shop/sheets/:hash/copy"}:               shop.Author,
	{"POST", "/shop/sheets/:hash/withdraw"}:           shop.Author,
	{"POST", "/shop/drafts"}:                          shop.Author,
	{"POST", "/shop/drafts/import"}:                   shop.Author,
	{"GET", "/shop/drafts/:id"}:                       shop.Author,
	{"GET", "/shop/drafts/:id/edit/*"}:                shop.Author,
	{"POST", "/shop/drafts/:id/edit/*"}:               shop.Author,
	{"POST", "/shop/drafts/:id/confirm"}:              shop.Author,
	{"POST", "/shop/drafts/:id/drop"}:                 shop.Author,
	{"GET", "/shop/drafts/:id/publish"}:               shop.Author,
	{"POST", "/shop/drafts/:id/publish"}:              shop.Author,

	{"GET", "/shop/phones"}:              shop.Administrator,
	{"POST", "/shop/phones"}:             shop.Administrator,
	{"POST", "/shop/phones/:device/end"}: shop.Administrator,
	{"GET", "/shop/staff"}:               shop.Administrator,
	{"POST", "/shop/staff"}:              shop.Administrator,
	{"POST", "/shop/staff/:staff/roles"}: shop.Administrator,
	{"POST", "/shop/staff/:staff/link"}:  shop.Administrator,
	{"POST", "/shop/staff/:staff/end"}:   shop.Administrator,
	{"GET", "/shop/audit"}:               shop.Administrator,
	{"GET", "/shop/data"}:                shop.Administrator,
	{"POST", "/shop/data/keep"}:          shop.Administrator,
	{"POST", "/shop/data/export"}:        shop.Administrator,
	{"GET", "/shop/jobs/:job/data"}:      shop.Administrator,
	{"POST", "/shop/jobs/:job/export"}:   shop.Administrator,
	{"POST", "/shop/jobs/:job/delete"}:   shop.Administrator,
}

// allowed reports whether somebody may use the route that a request came by.
func allowed(c echo.Context, who shop.Staff) error {
	method := c.Request().Method
	if method == http.MethodHead {
		method = http.MethodGet
	}
	need, listed := needs[[2]string{method, c.Path()}]
	if !listed || !who.Roles.May(need) {
		return fault.New(fault.Denied, "Your account may not do this. Nothing was changed.", "Ask an administrator of the shop to do it, or to give you the role for it.")
	}
	return nil
}
