package web

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// draft is a draft as it is worked on: its JSON, and the sheet that it makes.
type draft struct {
	shop.Draft
	tree  node
	sheet *sheet.Sheet
}

// draft reads one of the shop's drafts.
func (s *site) draft(ctx context.Context, who shop.Staff, id string) (*draft, error) {
	had, err := s.Store.Draft(ctx, who.Shop, id)
	if err != nil {
		return nil, err
	}
	d := &draft{Draft: had}
	if d.sheet, err = readSheet(had.Body); err != nil {
		return nil, err
	}
	d.tree, err = treeOf(had.Body)
	return d, err
}

// settle makes the sheet anew after its JSON was changed. What only its origin
// decides stays as it was, and a confirmation only for the same number.
func (d *draft) settle() error {
	body, err := json.Marshal(d.tree)
	if err != nil {
		return fmt.Errorf("write draft: %w", err)
	}
	fresh, err := readSheet(body)
	if err != nil {
		return err
	}
	fresh.Format, fresh.Own, fresh.Invented = sheet.Format, false, d.sheet.Invented
	keepConfirmed(d.sheet, fresh)
	return d.adopt(fresh)
}

func (d *draft) adopt(s *sheet.Sheet) error {
	body := s.Encode()
	if len(body) > sheet.MaxBytes {
		return fault.New(fault.TooLarge, "The sheet would be larger than 1 MiB. Nothing was changed.", "Make it smaller, then save again.")
	}
	d.sheet, d.Body, d.Title, d.Version, d.Vehicle = s, body, s.Title, s.Version, s.Vehicle.Name
	var err error
	d.tree, err = treeOf(body)
	return err
}

// handleDraft shows one place of a draft.
func (s *site) handleDraft(c echo.Context, who shop.Staff) error {
	d, err := s.draft(c.Request().Context(), who, c.Param("id"))
	if err != nil {
		return err
	}
	p, ok := find(d.tree, c.Param("*"))
	if !ok {
		return noPlace()
	}
	v := d.view(who, p)
	v.Saved = c.QueryParam("saved") != ""
	return page(c, http.StatusOK, templates.DraftDeskPage(v))
}

func noPlace() error {
	return fault.New(fault.NotFound, "This part of the draft is not there any more. Nothing was changed.", "Go back to the draft and look for it there.")
}

// view is a place of the draft as its page shows it.
func (d *draft) view(who shop.Staff, p place) templates.DraftPage {
	v := templates.DraftPage{Desk: frame(who, lang.T("Draft"), "sheets"), ID: d.ID, Name: named(d.Title, lang.T("an untitled sheet")), Revision: d.Revision, Path: p.String(),
		Heading: d.heading(p), Crumbs: d.crumbs(p), Check: checked(d.sheet), Invented: d.sheet.Invented}
	switch {
	case p.list:
		v.Lists = []templates.PieceList{d.list(p, v.Check)}
	case len(p.path) == 0:
		v.Sections = d.sections(v.Check)
	default:
		if p.shape.single {
			v.Text = inSheet(p.shape.hint)
		}
		at, _ := look(d.tree, p.in()).(node)
		for _, f := range p.shape.fields {
			v.Fields = append(v.Fields, f.view(f.show(at[f.key]), ""))
		}
		for _, inner := range p.shape.inside {
			v.Lists = append(v.Lists, d.list(p.into(inner), v.Check))
		}
	}
	if p.shape.names && !p.list {
		v.Names = namesOf(d.sheet)
	}
	if !p.shape.self {
		v.Raw = indented(look(d.tree, p.in()))
	}
	v.Preview = d.preview(p, v.Check)
	return v
}

func (p place) into(s *shape) place {
	return place{path: append(append([]string{}, p.path...), s.key), shape: s, list: !s.single}
}

func (p place) item(i int) place {
	return place{path: append(append([]string{}, p.path...), fmt.Sprint(i)), shape: p.shape}
}

func indented(v any) string {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if v == nil {
		return ""
	}
	if err := enc.Encode(v); err != nil {
		return ""
	}
	return strings.TrimSpace(out.String())
}

func (d *draft) heading(p place) string {
	if p.list {
		return inSheet(p.shape.many)
	}
	if len(p.path) == 0 || p.shape.single {
		return sentence(named(map[bool]string{true: d.Title, false: inSheet(p.shape.one)}[len(p.path) == 0], lang.T("Untitled")))
	}
	at, _ := look(d.tree, p.path).(node)
	return sentence(inSheet(p.shape.one)) + ": " + p.shape.called(at)
}

// crumbs lead from the list of sheets to what holds the place.
func (d *draft) crumbs(p place) []templates.Link {
	out := []templates.Link{{Href: "/shop/sheets", Words: lang.T("Sheets")}}
	for n := 0; n < len(p.path); n++ {
		up, ok := find(d.tree, strings.Join(p.path[:n], "/"))
		switch {
		case !ok:
		case n == 0:
			out = append(out, templates.Link{Href: "/shop/drafts/" + d.ID, Words: lang.T("Draft")})
		case up.list && n > 1: // shown on the page of what holds it
		default:
			out = append(out, templates.Link{Href: "/shop/drafts/" + d.ID + "/edit/" + up.String(), Words: d.heading(up)})
		}
	}
	return out
}

func (d *draft) sections(check templates.DraftCheck) []templates.SectionRow {
	var out []templates.SectionRow
	for _, inner := range sheetShape.inside {
		row := templates.SectionRow{Link: templates.Link{Href: "/shop/drafts/" + d.ID + "/edit/" + inner.key, Words: inSheet(inner.many)}, Unverified: unverifiedAt(check, inner.key)}
		switch items, _ := d.tree[inner.key].([]any); {
		case inner.self:
			row.Words, row.Count = inSheet(inner.one), named(d.Version, lang.T("no version yet"))
		case inner.single:
			row.Words, row.Count = inSheet(inner.one), d.Vehicle
		case inner.open:
			row.Count = lang.F("%d in %d stages", len(d.sheet.Steps()), len(items))
		default:
			row.Count = fmt.Sprint(len(items))
		}
		out = append(out, row)
	}
	return out
}

// list shows a list of the draft.
func (d *draft) list(p place, check templates.DraftCheck) templates.PieceList {
	v := templates.PieceList{Path: p.String(), Title: inSheet(p.shape.many), One: inSheet(p.shape.one), Hint: inSheet(p.shape.hint)}
	items, _ := look(d.tree, p.path).([]any)
	for i, item := range items {
		at, _ := item.(node)
		one := p.item(i)
		row := templates.PieceRow{Path: one.String(), Words: p.shape.called(at), At: i, Unverified: unverifiedAt(check, one.String())}
		if p.shape.open {
			inner := d.list(one.into(p.shape.inside[0]), check)
			row.Inner = &inner
		}
		if p.shape == fastenerShape {
			row.Note = d.torqueNote(i)
		}
		v.Rows = append(v.Rows, row)
	}
	return v
}

// torqueNote is the final torque of a fastener, for the list.
func (d *draft) torqueNote(i int) string {
	final := d.sheet.Fasteners[i].Final()
	switch {
	case final == nil:
		return lang.T("no final pass")
	case final.TorqueCNM == 0:
		return lang.T("torque to be looked up")
	}
	return torqueWords(final.TorqueCNM)
}

// view is the field as its form shows it.
func (f field) view(t typed, problem string) templates.PieceField {
	return templates.PieceField{Name: "f." + f.key, Label: inSheet(f.label), Kind: string(f.kind), Hint: inSheet(f.hint), Value: t.text, Unit: t.unit,
		Options: said(f.options, inSheet), Units: unitsOf[f.kind], Problem: problem}
}
