package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// What the template compiler writes asks after every few bytes whether writing
// failed, and where in its source. The phone draws into memory, where writing
// does not fail: its program is built from a terser spelling of the same code,
// about a quarter of the program smaller to draw with. What the phone draws is
// tested in a browser with the program built this way.

// drawn stands in the slim copy of the library's runtime for what each drawing
// repeats.
const drawn = `package runtime

import (
	"context"
	"io"

	"github.com/a-h/templ"
)

// Drawn is a component that draws into a buffer.
func Drawn(draw func(context.Context, *Buffer) error) templ.Component {
	return templ.ComponentFunc(func(ctx context.Context, w io.Writer) (err error) {
		b, mine := GetBuffer(w)
		if !mine {
			defer func() {
				if released := ReleaseBuffer(b); err == nil {
					err = released
				}
			}()
		}
		return draw(templ.ClearChildren(templ.InitializeContext(ctx)), b)
	})
}

// Put writes html, Text writes a text or the value of an attribute.
func Put(w io.Writer, html string)  { _, _ = io.WriteString(w, html) }
func Text(w io.Writer, text string) { Put(w, templ.EscapeString(text)) }

`

// checked is the question after each write.
const checked = `\n\s*if templ_7745c5c3_Err != nil \{\n\s*return templ_7745c5c3_Err\n\s*\}`

// terser are the respellings, in this order. The last four are of an element
// whose class is made from values: no class of ours brings a style or a script.
var terser = []struct {
	old *regexp.Regexp
	new string
}{
	{regexp.MustCompile("templ\\.Error\\{Err: (templ_7745c5c3_Err), FileName: `[^`]*`, Line: \\d+, Col: \\d+\\}"), "$1"},
	{regexp.MustCompile(`var templ_7745c5c3_Var\d+ string\n\s*templ_7745c5c3_Var\d+, templ_7745c5c3_Err = templ\.JoinStringErrs\((.*)\)` + checked +
		`\n\s*_, templ_7745c5c3_Err = templ_7745c5c3_Buffer\.WriteString\(templ\.EscapeString\(templ_7745c5c3_Var\d+\)\)` + checked),
		"templruntime.Text(templ_7745c5c3_Buffer, $1)"},
	{regexp.MustCompile(`var templ_7745c5c3_Var\d+ string\n\s*templ_7745c5c3_Var\d+, templ_7745c5c3_Err = templruntime\.NewAttributeExpression\((.*)\)\.Resolve\(ctx\)` + checked +
		`\n\s*_, templ_7745c5c3_Err = templ_7745c5c3_Buffer\.WriteString\(templ_7745c5c3_Var\d+\)` + checked),
		"templruntime.Text(templ_7745c5c3_Buffer, $1)"},
	{regexp.MustCompile(`templ_7745c5c3_Err = templruntime\.WriteString\(templ_7745c5c3_Buffer, \d+, ("(?:[^"\\]|\\.)*")\)` + checked), "templruntime.Put(templ_7745c5c3_Buffer, $1)"},
	{regexp.MustCompile(`templ_7745c5c3_ElementWriter := templ_7745c5c3_Buffer\n\s*templ_7745c5c3_Buffer := templ\.GetBuffer\(\)\n\s*var templ_7745c5c3_ElementScripts \[\]templ\.ComponentScript\n`), ""},
	{regexp.MustCompile(`(templruntime\.RenderAttributes\(ctx, templ_7745c5c3_Buffer), templ_7745c5c3_ElementWriter,`), "$1, templ_7745c5c3_Buffer,"},
	{regexp.MustCompile(`templ_7745c5c3_Err = templ\.RenderCSSItems\(ctx, templ_7745c5c3_ElementWriter, templ_7745c5c3_Var\d+\.\.\.\)` + checked), ""},
	{regexp.MustCompile(`templ_7745c5c3_Err = templ\.RenderScriptItems\(ctx, templ_7745c5c3_ElementWriter, templ_7745c5c3_ElementScripts\.\.\.\)` + checked +
		`\n\s*_, templ_7745c5c3_Err = templ_7745c5c3_Buffer\.WriteTo\(templ_7745c5c3_ElementWriter\)` + checked + `\n\s*templ\.ReleaseBuffer\(templ_7745c5c3_Buffer\)`), ""},
}

// opening is what a component without children begins with.
const opening = `templruntime.GeneratedTemplate(func(templ_7745c5c3_Input templruntime.GeneratedComponentInput) (templ_7745c5c3_Err error) {
		templ_7745c5c3_W, ctx := templ_7745c5c3_Input.Writer, templ_7745c5c3_Input.Context
		if templ_7745c5c3_CtxErr := ctx.Err(); templ_7745c5c3_CtxErr != nil {
			return templ_7745c5c3_CtxErr
		}
		templ_7745c5c3_Buffer, templ_7745c5c3_IsBuffer := templruntime.GetBuffer(templ_7745c5c3_W)
		if !templ_7745c5c3_IsBuffer {
			defer func() {
				templ_7745c5c3_BufErr := templruntime.ReleaseBuffer(templ_7745c5c3_Buffer)
				if templ_7745c5c3_Err == nil {
					templ_7745c5c3_Err = templ_7745c5c3_BufErr
				}
			}()
		}
		ctx = templ.InitializeContext(ctx)
		ctx = templ.ClearChildren(ctx)
`

// terse respells one generated file.
func terse(code string) string {
	for _, t := range terser {
		code = t.old.ReplaceAllString(code, t.new)
	}
	short := strings.ReplaceAll(code, opening, "templruntime.Drawn(func(ctx context.Context, templ_7745c5c3_Buffer *templruntime.Buffer) (templ_7745c5c3_Err error) {\n")
	if short != code && !strings.Contains(code, "import \"context\"") {
		short = strings.Replace(short, "import \"github.com/a-h/templ\"\n", "import \"context\"\nimport \"github.com/a-h/templ\"\n", 1)
	}
	return short
}

// terseTemplates writes terse copies of our generated templates into folder and adds
// them to an overlay.
func terseTemplates(folder string, replace map[string]string) error {
	names, err := filepath.Glob("templates/*_templ.go")
	if err != nil {
		return err
	}
	for _, name := range names {
		code, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		from, err := filepath.Abs(name)
		if err != nil {
			return err
		}
		replace[from] = filepath.Join(folder, filepath.Base(name))
		if err := os.WriteFile(replace[from], []byte(terse(string(code))), 0o600); err != nil {
			return err
		}
	}
	return nil
}
