package server_test

import (
	"bytes"
	"encoding/csv"
	"net/http"
	"strings"
	"testing"

	"strutcard/sync/card"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
	"strutcard/templates/paper"
)

// carded is a job of the demo shop, with what somebody wrote to break a page.
func carded(y *yard) event.JobID {
	return y.joined().open(sheet.Demo()[0], `<script>alert("car")</script>`, &event.NoteAdded{Text: "</script><b>note</b><!--"},
		&event.ReadingTaken{Quantity: event.Camber, Corner: event.FL, Purpose: event.Before, Method: "=level", ValueMD: -1250, U95Mdeg: 60})
}

var cardFiles = []string{"card", "card.html", "card.json", "fasteners.csv", "readings.csv"}

// TestCardFiles: each file is a download, holds what it should, and checks.
func TestCardFiles(t *testing.T) {
	y := open(t, nil)
	desk, id := y.staff(), carded(y)
	got := map[string]answer{}
	for _, name := range cardFiles {
		a := y.get(desk, "/shop/jobs/"+string(id)+"/"+name)
		y.want(a, http.StatusOK, "")
		if kept := strings.HasPrefix(a.header.Get("Content-Disposition"), `attachment; filename="job-`+string(id)); kept != (name != "card") {
			t.Errorf("%s: %q", name, a.header.Get("Content-Disposition"))
		}
		got[name] = a
	}
	c, report, err := card.VerifyJSON([]byte(got["card.json"].body))
	if err != nil || !report.Holds() || c.Devices[0].Name != "Ann's phone" || !c.Sheet.Here {
		t.Errorf("the JSON: %v, %+v, %+v", err, report.Checks, c.Devices)
	}
	data, err := paper.Data([]byte(got["card.html"].body))
	if err != nil || !bytes.Equal(data, c.Encode()) {
		t.Errorf("the file carries other data than the JSON: %v", err)
	}
	for _, name := range []string{"card", "card.html"} {
		text := got[name].body
		if !strings.Contains(text, c.Code) || !strings.Contains(text, card.Deferral[:40]) || !strings.Contains(text, string(sheet.Demo()[0].Hash())) {
			t.Errorf("%s: code, deferral or hash are not on it", name)
		}
		if strings.Contains(text, "<script>") || strings.Contains(text, "<b>note") {
			t.Errorf("%s: what somebody wrote became code", name)
		}
	}
	if n := strings.Count(got["card.html"].body, "</script>"); n != 1 {
		t.Errorf("the data block ends %d times", n)
	}
	rows, err := csv.NewReader(strings.NewReader(got["readings.csv"].body)).ReadAll()
	if err != nil || len(rows) != 2 || !strings.Contains(got["readings.csv"].body, "-1.25") || !strings.Contains(got["readings.csv"].body, "'=level") {
		t.Errorf("readings: %v, %q", err, rows)
	}
	if rows, err := csv.NewReader(strings.NewReader(got["fasteners.csv"].body)).ReadAll(); err != nil || len(rows) != len(sheet.Demo()[0].Fasteners)+1 {
		t.Errorf("fasteners: %v, %d rows", err, len(rows))
	}
	if a := y.get(desk, "/card.css"); a.status != http.StatusOK || a.body != paper.Style {
		t.Errorf("the style: %d", a.status)
	}
}

// TestErrCard: nobody else gets it, and a job that is not here has none.
func TestErrCard(t *testing.T) {
	dir := t.TempDir()
	y := open(t, inFolder(dir))
	id := carded(y)
	desk, other := y.staff(), y.otherShop(dir)
	for _, name := range cardFiles {
		path := "/shop/jobs/" + string(id) + "/" + name
		y.want(y.get(browser(t), path), http.StatusSeeOther, "")
		if a := y.get(other, path); a.status != http.StatusNotFound {
			t.Errorf("%s: another shop gets %d", name, a.status)
		}
		if a := y.get(desk, "/shop/jobs/"+string(newDevice())+"/"+name); a.status != http.StatusNotFound {
			t.Errorf("%s of no job: %d", name, a.status)
		}
	}
}
