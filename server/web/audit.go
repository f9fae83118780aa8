package web

import (
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/templates"
)

const auditPage = 100

func (s *site) registerAuditRoutes(r routes) {
	r.get("/shop/audit", s.desk(s.handleAudit))
}

// handleAudit lists who did what, newest first.
func (s *site) handleAudit(c echo.Context, who shop.Staff) error {
	before, err := strconv.ParseInt(c.QueryParam("before"), 10, 64)
	if err != nil || before < 0 {
		before = 0 // a place that makes no sense shows the first page
	}
	entries, err := s.Store.Audit(c.Request().Context(), who.Shop, before, auditPage+1)
	if err != nil {
		return err
	}
	v := templates.Audit{Desk: frame(who, lang.T("Audit"), "me")}
	if len(entries) > auditPage {
		entries = entries[:auditPage]
		v.Older = "/shop/audit?before=" + strconv.FormatInt(entries[auditPage-1].ID, 10)
	}
	for _, e := range entries {
		v.Rows = append(v.Rows, templates.AuditRow{At: when(e.At), Who: e.Writer(), What: e.Words(), About: e.About, Reason: e.Why()})
	}
	return page(c, http.StatusOK, templates.AuditPage(v))
}
