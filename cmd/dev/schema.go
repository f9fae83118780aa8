package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"

	"github.com/invopop/jsonschema"

	"strutcard/sync/sheet"
)

// schemaFile is the published shape of a fitting sheet, written from its Go types.
const schemaFile = "server/web/static/fitting-sheet.schema.json"

// sheetFolders hold the types of a sheet.
var sheetFolders = []string{"sync/sheet", "sync/event"}

const aboutSchema = "The instructions for one car and one set of parts. This says what the file looks like, and no more: whether names fit together, " +
	"whether every fastener ends at its final torque, whether a torque names its source, is checked when the sheet is loaded. " +
	"Left and right are as the driver sees them. Numbers are whole and are written without a decimal point or an exponent, in the unit that ends the field's name: " +
	"cnm hundredths of a newton metre, um micrometres, mdeg thousandths of a degree, g grams, permille thousandths, km kilometres. " +
	"Leave out what does not apply."

// choices are the closed lists of fields that have no type of their own in Go.
var choices = map[string][]any{
	"Vehicle.driven":     {"front", "rear", "all"},
	"Fastener.pattern":   {"star", "cross"},
	"Fastener.turn":      {"nut", "bolt"},
	"Damper.knob":        {"bump", "rebound"},
	"Damper.from":        {"full_hard", "full_soft"},
	"Damper.stop_counts": {0, 1},
	"ClicksAsk.knob":     {"bump", "rebound"},
}

const (
	plainName = `^[A-Za-z0-9_-]{1,60}$`
	exact     = 1<<53 - 1 // up to here every reader of JSON keeps a whole number
)

// generate brings every generated file that is committed up to date.
func generate() error {
	if err := run(nil, "go", "tool", "templ", "generate"); err != nil {
		return err
	}
	for name, write := range map[string]func() ([]byte, error){schemaFile: sheetSchema, cardSchemaFile: cardSchema} {
		body, err := write()
		if err != nil {
			return err
		}
		if err := os.WriteFile(name, body, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// sheetSchema is the JSON Schema of a fitting sheet, with the comments of the Go
// fields as descriptions. It reads the source below the working folder.
func sheetSchema() ([]byte, error) {
	r, lists, err := reflector(sheetFolders)
	if err != nil {
		return nil, err
	}
	r.Mapper = func(t reflect.Type) *jsonschema.Schema { return simple(t, lists) }
	root := r.Reflect(sheet.Sheet{})
	if err := finishSchema(root); err != nil {
		return nil, err
	}
	return writeSchema(root)
}

func writeSchema(root *jsonschema.Schema) ([]byte, error) {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "\t")
	err := enc.Encode(root)
	return out.Bytes(), err
}

// reflector reads the comments and the closed lists of the packages that hold
// the types.
func reflector(folders []string) (*jsonschema.Reflector, map[string][]any, error) {
	r := &jsonschema.Reflector{Anonymous: true, ExpandedStruct: true}
	lists := map[string][]any{}
	for _, folder := range folders {
		if err := r.AddGoComments("strutcard", folder, jsonschema.WithFullComment()); err != nil {
			return nil, nil, fmt.Errorf("read the comments of %s: %w", folder, err)
		}
		if err := constants(folder, lists); err != nil {
			return nil, nil, fmt.Errorf("read the constants of %s: %w", folder, err)
		}
	}
	return r, lists, nil
}

// simple is the schema of a type that is not a struct: a name, a word of a
// closed list, or a whole number.
func simple(t reflect.Type, lists map[string][]any) *jsonschema.Schema {
	list, closed := lists[t.Name()]
	switch {
	case t.Kind() == reflect.Int64 || t.Kind() == reflect.Int:
		return &jsonschema.Schema{Type: "integer", Minimum: json.Number(strconv.Itoa(-exact)), Maximum: json.Number(strconv.Itoa(exact))}
	case t.Kind() != reflect.String:
		return nil
	case closed:
		return &jsonschema.Schema{Type: "string", Enum: list}
	case strings.HasSuffix(t.Name(), "ID"):
		return &jsonschema.Schema{Type: "string", Pattern: plainName}
	}
	return nil
}

// constants collects the values of every named string type in a folder, in the
// order in which they are declared.
func constants(folder string, into map[string][]any) error {
	names, err := filepath.Glob(folder + "/*.go")
	if err != nil {
		return err
	}
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			spec, ok := n.(*ast.ValueSpec)
			if !ok {
				return true
			}
			kind, named := spec.Type.(*ast.Ident)
			for _, v := range spec.Values {
				if text, ok := v.(*ast.BasicLit); ok && named && text.Kind == token.STRING {
					word, _ := strconv.Unquote(text.Value) // the parser has read it
					into[kind.Name] = append(into[kind.Name], word)
				}
			}
			return true
		})
	}
	return nil
}

// finishSchema adds what the Go types do not say.
func finishSchema(root *jsonschema.Schema) error {
	root.Title, root.Description = "Fitting sheet", aboutSchema
	format, ok := root.Properties.Get("format")
	if !ok {
		return fmt.Errorf("a sheet has no format")
	}
	format.Const, format.Minimum, format.Maximum = sheet.Format, "", ""
	used := 0
	refine := func(name string, object *jsonschema.Schema) {
		for p := object.Properties.Oldest(); p != nil; p = p.Next() {
			if list, ok := choices[name+"."+p.Key]; ok {
				p.Value.Enum, p.Value.Minimum, p.Value.Maximum = list, "", ""
				used++
			}
		}
		for _, key := range object.Required {
			if list, _ := object.Properties.Get(key); list.Type == "array" { // an empty list is null in the canonical form
				list.Type, list.Extras = "", map[string]any{"type": []string{"array", "null"}}
			}
		}
	}
	refine("Sheet", root)
	for name, object := range root.Definitions {
		refine(name, object)
	}
	if used != len(choices) {
		return fmt.Errorf("only %d of %d closed lists belong to a field: see choices", used, len(choices))
	}
	return nil
}
