package client

import (
	"fmt"

	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/sync/event"
	"strutcard/sync/guide"
	"strutcard/sync/sheet"
	"strutcard/templates"
)

// torqueList is every fastener of the sheet with its torque and what to set for it.
func (c *Client) torqueList(g guide.Guide) (templates.TorqueList, templates.Bar) {
	v := templates.TorqueList{Title: c.sheet.Title, Invented: c.sheet.Invented, Sections: c.sections(g)}
	for _, corner := range event.Corners {
		rows := templates.TorqueCorner{Corner: capital(lang.T(corner.Words()))}
		for i := range c.sheet.Fasteners {
			if f := &c.sheet.Fasteners[i]; f.Corner == corner {
				rows.Rows = append(rows.Rows, c.torqueRow(g, f))
			}
		}
		if len(rows.Rows) > 0 {
			v.Corners = append(v.Corners, rows)
		}
	}
	return v, c.torquesBar()
}

func (c *Client) torquesBar() templates.Bar {
	bar := c.placeBar("work")
	back := templates.Button{Do: "work", Label: lang.T("Back to the step"), Primary: true}
	here, _ := c.step()
	if c.view.Step != "" {
		back.Do, back.Args = "go", map[string]string{"step": string(c.view.Step)}
	}
	if tools := c.kitStep(); tools != nil && here != tools {
		bar.Buttons = append(bar.Buttons, templates.Button{Do: "go", Args: map[string]string{"step": string(tools.ID)}, Label: lang.T("Go to the tools: correct the ranges")})
	}
	bar.Buttons = append(bar.Buttons, back)
	return bar
}

func (c *Client) torqueRow(g guide.Guide, f *sheet.Fastener) templates.TorqueRow {
	row := templates.TorqueRow{Place: f.Place, Source: lang.T("none is named")}
	if f.Count > 1 {
		row.Place = fmt.Sprintf("%s, %d", f.Place, f.Count)
	}
	if f.Prepare != "" {
		row.Place += " (" + f.Prepare + ")"
	}
	for i := range f.Passes {
		p := &f.Passes[i]
		spec, known := g.Spec(f, p)
		switch {
		case !known:
			row.Mark = lang.T("Not known: look it up")
		case spec.Unverified() && p.Kind != sheet.Snug:
			row.Mark = lang.F("Unverified. %s", spec.Questioned)
		}
		if p == f.Final() && spec.Source != "" {
			row.Source = spec.Source
		}
		row.Passes = append(row.Passes, c.torquePass(g, f, p, spec, known))
	}
	return row
}

func (c *Client) torquePass(g guide.Guide, f *sheet.Fastener, p *sheet.Pass, spec guide.Spec, known bool) templates.TorquePass {
	out := templates.TorquePass{Words: passVerb(p) + ": "}
	switch {
	case p.Kind == sheet.BackOff:
		out.Words = passVerb(p)
		return out
	case !known:
		out.Words += lang.T("not known")
		return out
	case p.Kind == sheet.Angle:
		out.Words += angleWords(spec.AngleMdeg)
		return out
	case spec.TorqueCNM == 0:
		out.Words += lang.T("by hand")
		return out
	}
	out.Words += c.units.FormatTorque(quantity.TorqueFromCNM(spec.TorqueCNM))
	if spec.TolCNM > 0 {
		out.Words += " ± " + c.units.FormatTorque(quantity.TorqueFromCNM(spec.TolCNM))
	}
	out.Set = lang.T("with no wrench here")
	if s, ok := c.chosen(g, f, p); ok {
		out.Set = c.wayWords(g, s)
	}
	return out
}

func angleWords(mdeg int64) string { return lang.Number(fmt.Sprintf("%g°", float64(mdeg)/1000)) }
