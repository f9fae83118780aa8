package web

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"slices"
	"sync"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/event"
	infield "strutcard/sync/field"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// maxJobs is how many jobs on a sheet are listed and counted: those heard from last.
const maxJobs = 500

func (s *site) registerFieldRoutes(r routes) {
	r.get("/shop/sheets/:hash/field", s.desk(s.handleField))
	r.get("/shop/sheets/:hash/field/steps.csv", s.desk(s.handleFieldTable("steps", infield.Result.WriteSteps)))
	r.get("/shop/sheets/:hash/field/fasteners.csv", s.desk(s.handleFieldTable("fasteners", infield.Result.WriteFasteners)))
	r.get("/shop/sheets/:hash/field/readings.csv", s.desk(s.handleFieldTable("readings", infield.Result.WriteReadings)))
}

// fieldCounter counts one sheet at a time, since that reads many jobs, and keeps the
// last result: whoever looks at the page takes the tables next.
type fieldCounter struct {
	sync.Mutex
	shop   shop.ID
	hash   event.SheetHash
	jobs   []shop.Row // as they were when it was counted
	result infield.Result
}

// handleField shows what jobs on a published sheet show of it.
func (s *site) handleField(c echo.Context, who shop.Staff) error {
	had, sh, err := s.published(c, who, c.Param("hash"))
	if err != nil {
		return err
	}
	got, err := s.fieldOf(c.Request().Context(), who.Shop, had, sh)
	if err != nil {
		return err
	}
	said := sh.Said()
	v := fieldView(said, got, had.Jobs)
	v.Desk, v.Back, v.Title, v.Version, v.Invented = frame(who, lang.F("In the field: %s", said.Title), "sheets"), sheetLink(had), said.Title, said.Version, sh.Invented
	for _, f := range [][2]string{{"steps", lang.T("Steps (CSV)")}, {"fasteners", lang.T("Fasteners (CSV)")}, {"readings", lang.T("Readings (CSV)")}} {
		v.Files = append(v.Files, templates.Link{Href: fmt.Sprintf("/shop/sheets/%s/field/%s.csv", had.Hash, f[0]), Words: f[1]})
	}
	return page(c, http.StatusOK, templates.FieldDeskPage(v))
}

// handleFieldTable gives one table of it to a spreadsheet.
func (s *site) handleFieldTable(name string, write func(infield.Result, io.Writer) error) deskHandler {
	return func(c echo.Context, who shop.Staff) error {
		had, sh, err := s.published(c, who, c.Param("hash"))
		if err != nil {
			return err
		}
		got, err := s.fieldOf(c.Request().Context(), who.Shop, had, sh)
		if err != nil {
			return err
		}
		var b bytes.Buffer
		if err := write(got, &b); err != nil {
			return err
		}
		c.Response().Header().Set(echo.HeaderContentDisposition, fmt.Sprintf(`attachment; filename="sheet-%.12s-%s.csv"`, had.Hash, name))
		return c.Blob(http.StatusOK, "text/csv; charset=utf-8; header=present", b.Bytes())
	}
}

// fieldOf counts the shop's jobs on one of its sheets, those heard from last.
func (s *site) fieldOf(ctx context.Context, id shop.ID, had shop.Sheet, sh *sheet.Sheet) (infield.Result, error) {
	c := &s.field
	c.Lock()
	defer c.Unlock()
	jobs, err := s.Store.JobsOf(ctx, id, had.Hash, maxJobs)
	if err != nil {
		return infield.Result{}, err
	}
	if c.shop == id && c.hash == had.Hash && slices.Equal(c.jobs, jobs) {
		return c.result, nil
	}
	f := infield.New(sh)
	for _, j := range jobs {
		records, err := s.allRecords(ctx, id, j.Job)
		if err != nil {
			return infield.Result{}, err
		}
		f.Add(j.Job, eventsOf(records))
	}
	c.shop, c.hash, c.jobs, c.result = id, had.Hash, jobs, f.Result()
	return c.result, nil
}
