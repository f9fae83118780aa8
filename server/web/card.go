package web

import (
	"bytes"
	"context"
	_ "embed"
	"fmt"
	"io"
	"net/http"
	"net/url"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/card"
	"strutcard/sync/event"
	"strutcard/sync/fault"
	"strutcard/sync/job"
	"strutcard/templates/paper"
)

// cardSchema is written by cmd/dev from the Go types of a card.
//
//go:embed static/job-card.schema.json
var cardSchema []byte

const (
	cardSchemaPath = "/schema/job-card/1.json"
	cardStylePath  = "/card.css"
)

func (s *site) registerCardRoutes(r routes) {
	r.get("/shop/jobs/:job/card", s.desk(s.handleCard))
	r.get("/shop/jobs/:job/card.html", s.desk(s.handleCardFile))
	r.get("/shop/jobs/:job/card.json", s.desk(s.handleCardJSON))
	r.get("/shop/jobs/:job/fasteners.csv", s.desk(s.handleCardTable("fasteners", card.Card.WriteFasteners)))
	r.get("/shop/jobs/:job/readings.csv", s.desk(s.handleCardTable("readings", card.Card.WriteReadings)))
	r.get(cardStylePath, fixed([]byte(paper.Style), "text/css; charset=utf-8", "public, max-age=3600"))
	r.get(cardSchemaPath, fixed(cardSchema, "application/schema+json", "public, max-age=3600"))
}

// handleCard shows the card as it is printed.
func (s *site) handleCard(c echo.Context, who shop.Staff) error {
	got, err := s.cardOf(c, who)
	if err != nil {
		return err
	}
	at := "/shop/jobs/" + url.PathEscape(string(got.Job))
	links := []paper.Link{{Href: at, Label: lang.T("Back to the job")}}
	for _, l := range [][2]string{{"card.html", lang.T("One file (HTML)")}, {"card.json", lang.T("Data (JSON)")}, {"fasteners.csv", lang.T("Fasteners (CSV)")}, {"readings.csv", lang.T("Readings (CSV)")}} {
		links = append(links, paper.Link{Href: at + "/" + l[0], Label: l[1], File: true})
	}
	return page(c, http.StatusOK, paper.Page(got, cardStylePath, links))
}

func (s *site) handleCardFile(c echo.Context, who shop.Staff) error {
	got, err := s.cardOf(c, who)
	if err != nil {
		return err
	}
	body, err := paper.Whole(got)
	if err != nil {
		return err
	}
	return download(c, got.Job, "card.html", echo.MIMETextHTMLCharsetUTF8, body)
}

func (s *site) handleCardJSON(c echo.Context, who shop.Staff) error {
	got, err := s.cardOf(c, who)
	if err != nil {
		return err
	}
	return download(c, got.Job, "card.json", echo.MIMEApplicationJSON, got.Encode())
}

// handleCardTable gives one table of the card to a spreadsheet.
func (s *site) handleCardTable(name string, write func(card.Card, io.Writer) error) deskHandler {
	return func(c echo.Context, who shop.Staff) error {
		got, err := s.cardOf(c, who)
		if err != nil {
			return err
		}
		var b bytes.Buffer
		if err := write(got, &b); err != nil {
			return err
		}
		return download(c, got.Job, name+".csv", "text/csv; charset=utf-8; header=present", b.Bytes())
	}
}

// download gives a file to keep: a browser never opens it as a page of this server.
func download(c echo.Context, id event.JobID, name, mediaType string, body []byte) error {
	c.Response().Header().Set(echo.HeaderContentDisposition, fmt.Sprintf(`attachment; filename="job-%s-%s"`, id, name))
	return c.Blob(http.StatusOK, mediaType, body)
}

// cardOf makes the card of a job of the shop from what has arrived so far.
func (s *site) cardOf(c echo.Context, who shop.Staff) (card.Card, error) {
	ctx, id := c.Request().Context(), event.JobID(c.Param("job"))
	records, err := s.allRecords(ctx, who.Shop, id)
	if err != nil {
		return card.Card{}, err
	}
	if len(records) == 0 {
		return card.Card{}, s.errNoJob(ctx, who.Shop, id)
	}
	events := make([]event.Event, len(records))
	for i, r := range records {
		events[i] = r.Event
	}
	var body []byte
	if opened := job.Fold(id, events).Opened; opened != nil {
		body, err = s.Store.SheetBody(ctx, who.Shop, opened.Sheet)
	}
	if err != nil && !fault.Is(err, fault.NotFound) {
		return card.Card{}, err
	}
	return s.makeCard(ctx, who.Shop, id, body, events)
}

func (s *site) makeCard(ctx context.Context, id shop.ID, jobID event.JobID, body []byte, events []event.Event) (card.Card, error) {
	names, err := s.phoneNames(ctx, id)
	if err != nil {
		return card.Card{}, err
	}
	return card.Of(jobID, body, events, card.Beside{Made: card.Time(s.Now().UnixMilli()), Names: names})
}
