package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"strutcard/server/shop"
	"strutcard/templates"
)

const (
	queuePage = 100
	maxOffset = 1_000_000
)

func (s *site) registerQueueRoutes(r routes) {
	r.get("/shop", s.desk(s.handleQueue))
}

// handleQueue lists the shop's jobs, gravest first.
func (s *site) handleQueue(c echo.Context, who shop.Staff) error {
	offset, err := strconv.Atoi(c.QueryParam("from"))
	if err != nil || offset < 0 || offset > maxOffset {
		offset = 0 // a page number that makes no sense shows the first page
	}
	text := strings.TrimSpace(c.QueryParam("q"))
	rows, err := s.Store.Queue(c.Request().Context(), who.Shop, shop.Filter{Text: text, Limit: queuePage + 1, Offset: offset})
	if err != nil {
		return err
	}
	v := templates.Queue{Desk: frame(who, "Jobs", "queue"), Filter: text}
	if len(rows) > queuePage {
		rows, v.Older = rows[:queuePage], queueLink(text, offset+queuePage)
	}
	if offset > 0 {
		v.Newer = queueLink(text, max(0, offset-queuePage))
	}
	for _, r := range rows {
		v.Rows = append(v.Rows, queueRow(r))
	}
	if len(rows) == 0 {
		phones, err := s.Store.Phones(c.Request().Context(), who.Shop)
		if err != nil {
			return err
		}
		v.NoPhones = len(phones) == 0
	}
	return page(c, http.StatusOK, templates.QueuePage(v))
}

func queueLink(text string, offset int) string {
	q := url.Values{}
	if text != "" {
		q.Set("q", text)
	}
	if offset > 0 {
		q.Set("from", strconv.Itoa(offset))
	}
	return "/shop?" + q.Encode()
}

func queueRow(r shop.Row) templates.QueueRow {
	v := templates.QueueRow{Job: string(r.Job), Vehicle: r.Vehicle, Sheet: r.Title, Opened: when(r.Opened), Heard: when(r.Heard),
		Up: r.Up, Stops: r.Stops, Asks: r.Asks, Notes: r.Notes, State: "in work", NotFinal: strconv.Itoa(r.NotFinal)}
	if v.Vehicle == "" {
		v.Vehicle = "unnamed car"
	}
	if r.NotFinal < 0 {
		v.NotFinal = "sheet not here"
	}
	switch {
	case r.Up && r.Finished:
		v.State = "car is up, finished"
	case r.Up:
		v.State = "car is up"
	case r.Finished && r.NotFinal > 0:
		v.State = fmt.Sprintf("finished with %d not final", r.NotFinal)
	case r.Finished:
		v.State = "finished"
	}
	return v
}
