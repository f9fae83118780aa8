package web

import (
	"encoding/json"
	"net/http"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/fault"
	"strutcard/templates"
)

// getter reads one field of a form.
type getter func(name string) string

// handleDraftEdit saves, checks or rearranges one place of a draft.
func (s *site) handleDraftEdit(c echo.Context, who shop.Staff) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	d, err := s.draft(c.Request().Context(), who, c.Param("id"))
	if err != nil {
		return err
	}
	p, ok := find(d.tree, c.Param("*"))
	if get("op") != "check" {
		if err := d.same(get); err != nil {
			return s.conflictPage(c, who, d, toFault(err), sent(p, get))
		}
	}
	if !ok {
		return noPlace()
	}
	switch get("op") {
	case "check", "save":
		return s.saveFields(c, who, d, p, get)
	case "raw":
		return s.saveRaw(c, who, d, p, get("raw"))
	case "add", "remove", "up", "down":
		return s.saveOrder(c, who, d, p, get)
	}
	return fault.New(fault.Invalid, "The form does not say what to do. Nothing was changed.", "Go back and press the button again.")
}

// same refuses a form that was made from another revision than the one that
// stands.
func (d *draft) same(get getter) error {
	if n, err := strconv.ParseInt(get("revision"), 10, 64); err == nil && n == d.Revision {
		return nil
	}
	return fault.New(fault.Conflict, lang.F("%s saved this draft at %s, after you opened it. That is kept; what you sent was not saved.", d.ByName, when(d.Changed)),
		"Open the draft as it is now, and make your change again.")
}

// sent is what a form held, to be shown when it could not be saved.
func sent(p place, get getter) []templates.PieceField {
	var out []templates.PieceField
	for _, f := range p.shape.fields {
		if t := f.sent(get); t.text != "" {
			out = append(out, f.view(t, ""))
		}
	}
	if raw := get("raw"); raw != "" {
		out = append(out, templates.PieceField{Label: "JSON", Value: raw})
	}
	return out
}

func (f field) sent(get getter) typed {
	return typed{strings.ReplaceAll(get("f."+f.key), "\r\n", "\n"), get("f." + f.key + ".unit")}
}

func (s *site) conflictPage(c echo.Context, who shop.Staff, d *draft, f *fault.Error, typed []templates.PieceField) error {
	return page(c, statusOf(f.Kind), templates.DraftConflictPage(templates.DraftConflict{Desk: frame(who, lang.T("Not saved"), "sheets"),
		Message: f.Message, Hint: f.Hint, Back: "/shop/drafts/" + d.ID, Typed: typed}))
}

// saveFields takes in the form of one thing. What cannot be read is not saved;
// what was typed stays in the form.
func (s *site) saveFields(c echo.Context, who shop.Staff, d *draft, p place, get getter) error {
	at, ok := look(d.tree, p.in()).(node)
	if !ok || p.list || len(p.shape.fields) == 0 {
		return noPlace()
	}
	problems := map[string]string{}
	for _, f := range p.shape.fields {
		if err := f.take(at, f.sent(get)); err != nil {
			problems[f.key] = problem(err)
		}
	}
	err := d.settle()
	if err == nil && len(problems) == 0 && get("op") == "save" {
		return s.keep(c, who, d, p.String())
	}
	status, v := http.StatusOK, d.view(who, p)
	for i, f := range p.shape.fields {
		v.Fields[i] = f.view(f.sent(get), problems[f.key])
	}
	if f := fault.Of(err); f != nil {
		status, v.Problem, v.Hint = statusOf(f.Kind), f.Message, f.Hint
	} else if len(problems) > 0 {
		status, v.Problem, v.Hint = http.StatusBadRequest, lang.T("Something typed here cannot be read. Nothing was saved."), lang.T("Mend what is marked below, then save again.")
	}
	if get("op") == "check" {
		status, v.Raw = http.StatusOK, "" // what is typed is not what the JSON box would save
	}
	return page(c, status, templates.DraftDeskPage(v))
}

// take puts what was typed into a thing of the draft. A field that was left as
// it was keeps its exact value.
func (f field) take(at node, t typed) error {
	if had := f.show(at[f.key]); had.text == t.text && (had.unit == t.unit || t.text == "") {
		return nil
	}
	v, err := f.read(t)
	switch {
	case err != nil:
		return err
	case v == nil:
		delete(at, f.key)
	default:
		at[f.key] = v
	}
	return nil
}

// saveRaw replaces a part by JSON that was typed.
func (s *site) saveRaw(c echo.Context, who shop.Staff, d *draft, p place, raw string) error {
	err := d.replace(p, raw)
	if err == nil {
		return s.keep(c, who, d, p.String())
	}
	f := fault.Of(err)
	v := d.view(who, p)
	v.Raw, v.Problem, v.Hint, v.Fields = raw, f.Message, f.Hint, nil
	return page(c, statusOf(f.Kind), templates.DraftDeskPage(v))
}

func (d *draft) replace(p place, raw string) error {
	var fresh any
	dec := json.NewDecoder(strings.NewReader(raw))
	dec.UseNumber()
	if err := dec.Decode(&fresh); err != nil || dec.More() {
		return fault.Wrap(err, fault.Invalid, "This is not JSON. Nothing was saved.", "Look for a missing comma, quote or bracket, then save again.")
	}
	whole, isNode := fresh.(node)
	_, isList := fresh.([]any)
	switch {
	case p.list != isList || !p.list && !isNode:
		return fault.New(fault.Invalid, "This is JSON of another kind than this part of the sheet. Nothing was saved.", "Keep the outer brackets as they were.")
	case len(p.path) == 0:
		d.tree = whole
	default:
		put(d.tree, p.path, fresh)
	}
	err := d.settle()
	if err != nil { // show what is stored, not half of what was sent
		d.tree, _ = treeOf(d.Body)
	}
	return err
}

// saveOrder adds, removes or moves one thing of a list.
func (s *site) saveOrder(c echo.Context, who shop.Staff, d *draft, p place, get getter) error {
	at, err := strconv.Atoi(get("at"))
	if err != nil || !p.list {
		return noPlace()
	}
	at = arrange(d.tree, p, get("op"), at)
	if err := d.settle(); err != nil {
		return err
	}
	switch {
	case get("op") == "add":
		return s.keep(c, who, d, p.item(at).String())
	case p.shape == stepShape:
		return s.keep(c, who, d, stageShape.key)
	case len(p.path) > 1:
		return s.keep(c, who, d, p.parent())
	}
	return s.keep(c, who, d, p.String())
}

// keep stores the draft and shows a place of it.
func (s *site) keep(c echo.Context, who shop.Staff, d *draft, path string) error {
	d.By = who.ID
	err := s.Store.SaveDraft(c.Request().Context(), who.Shop, d.Draft)
	if fault.Is(err, fault.Conflict) {
		return s.conflictPage(c, who, d, toFault(err), nil)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/shop/drafts/"+d.ID+"/edit/"+path+"?saved=1")
}

// handleDraftConfirm notes who compared an implausible number with which source.
func (s *site) handleDraftConfirm(c echo.Context, who shop.Staff) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	d, err := s.draft(c.Request().Context(), who, c.Param("id"))
	if err != nil {
		return err
	}
	if err := d.same(get); err != nil {
		return s.conflictPage(c, who, d, toFault(err), nil)
	}
	source := get("source")
	if source == "" || len(source) > maxSource {
		return fault.New(fault.Invalid, "It does not say against which document and page the number was checked. It stays unverified.", "Go back and write both, in up to 200 letters.")
	}
	at, ok := confirmation(d.sheet, get("path"))
	if !ok {
		return noPlace()
	}
	*at = who.Name + against + source
	if err := d.adopt(d.sheet); err != nil {
		return err
	}
	back, _ := find(d.tree, get("back"))
	return s.keep(c, who, d, back.String())
}

const maxSource = 200 // bytes

// handleDraftDrop throws a draft away.
func (s *site) handleDraftDrop(c echo.Context, who shop.Staff) error {
	get, err := readForm(c)
	if err != nil {
		return err
	}
	d, err := s.draft(c.Request().Context(), who, c.Param("id"))
	if err != nil {
		return err
	}
	err = d.same(get)
	if err == nil {
		err = s.Store.DropDraft(c.Request().Context(), who.Shop, d.Draft)
	}
	if fault.Is(err, fault.Conflict) {
		f := toFault(err)
		return s.conflictPage(c, who, d, fault.New(f.Kind, f.Message, "The draft was not thrown away. Look at what changed first."), nil)
	}
	if err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/shop/sheets")
}
