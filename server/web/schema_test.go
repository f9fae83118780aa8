package web_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"strutcard/server/web"
	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

const schemaPath = "/schema/fitting-sheet/1.json"

func get(t *testing.T, path string, header http.Header) *http.Response {
	t.Helper()
	req := httptest.NewRequest("GET", path, nil)
	req.Header = header
	w := httptest.NewRecorder()
	web.New(web.Config{Now: time.Now, Log: slog.New(slog.DiscardHandler)}).ServeHTTP(w, req)
	return w.Result()
}

func published(t *testing.T) []byte {
	t.Helper()
	res := get(t, schemaPath, http.Header{})
	body, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode != http.StatusOK {
		t.Fatalf("status %d, %v", res.StatusCode, err)
	}
	return body
}

func TestSchemaIsPublished(t *testing.T) {
	res := get(t, schemaPath, http.Header{})
	for name, want := range map[string]string{"Content-Type": "application/schema+json", "Cache-Control": "public, max-age=3600"} {
		if got := res.Header.Get(name); got != want {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
	tag := res.Header.Get("ETag")
	if again := get(t, schemaPath, http.Header{"If-None-Match": {tag}}); tag == "" || again.StatusCode != http.StatusNotModified {
		t.Errorf("asked again with the tag %q: status %d, want 304", tag, again.StatusCode)
	}
	var head struct {
		Schema      string `json:"$schema"`
		Description string `json:"description"`
	}
	if err := json.Unmarshal(published(t), &head); err != nil || !strings.Contains(head.Schema, "2020-12") || !strings.Contains(head.Description, "checked when the sheet is loaded") {
		t.Errorf("got %+v, %v: want draft 2020-12 and what the schema does not check", head, err)
	}
}

func compile(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(published(t)))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("https://shop.example"+schemaPath, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("https://shop.example" + schemaPath)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func validate(t *testing.T, s *jsonschema.Schema, body []byte) error {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(body))
	if err != nil {
		t.Fatalf("not JSON: %v", err)
	}
	return s.Validate(doc)
}

// patterns builds a sheet of every layout on every axle that it is for.
func patterns(t *testing.T) map[string]*sheet.Sheet {
	t.Helper()
	out := map[string]*sheet.Sheet{}
	on := map[event.Axle][]sheet.PatternID{}
	for _, p := range sheet.Patterns() {
		for _, axle := range p.Axles {
			on[axle] = append(on[axle], p.ID)
		}
	}
	for i := range max(len(on[event.Front]), len(on[event.Rear])) {
		front, rear := on[event.Front][min(i, len(on[event.Front])-1)], on[event.Rear][min(i, len(on[event.Rear])-1)]
		s, err := sheet.Build(sheet.Start{Title: "Own", Version: "1", Own: true, Vehicle: sheet.Vehicle{Name: "A car"}, Front: front, Rear: rear})
		if err != nil {
			t.Fatalf("%s, %s: %v", front, rear, err)
		}
		out[fmt.Sprint(front, ", ", rear)] = s
	}
	return out
}

func TestSchemaTakesSoundSheets(t *testing.T) {
	schema, sheets := compile(t), patterns(t)
	for _, s := range sheet.Demo() {
		sheets[s.Title] = s
	}
	if len(sheets) < 4 {
		t.Fatalf("only %d sheets: this would show little", len(sheets))
	}
	for name, s := range sheets {
		if err := validate(t, schema, s.Encode()); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// full is a document in which every field of every type says something, from the
// Go types alone. It is no sound sheet, only one of the right shape.
func full(t *testing.T, v reflect.Value, words map[string]string) {
	t.Helper()
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if !v.Type().Field(i).IsExported() {
				continue
			}
			full(t, v.Field(i), words)
			if word, ok := words[v.Type().Name()+"."+v.Type().Field(i).Name]; ok {
				v.Field(i).SetString(word)
			}
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		full(t, v.Index(0), words)
	case reflect.String:
		v.SetString("word")
		if word, ok := words[v.Type().Name()]; ok {
			v.SetString(word)
		}
	case reflect.Int64, reflect.Int:
		v.SetInt(1)
	case reflect.Bool:
		v.SetBool(true)
	default:
		t.Fatalf("a field of the kind %s", v.Kind())
	}
}

func fullSheet(t *testing.T) []byte {
	t.Helper()
	var s sheet.Sheet
	full(t, reflect.ValueOf(&s).Elem(), map[string]string{"Axle": "rear", "Corner": "RL", "Quantity": "camber", "Move": "raise", "Purpose": "before",
		"Use": "jack", "ToolKind": "gauge", "CarState": "up", "PassKind": "angle", "When": "after", "Vehicle.Driven": "all",
		"Damper.From": "full_hard", "Damper.Knob": "bump", "ClicksAsk.Knob": "rebound", "Fastener.Turn": "nut", "Fastener.Pattern": "star"})
	return s.Encode()
}

// Every field of the Go types is in the schema, and the schema has no other.
func TestSchemaHasEveryField(t *testing.T) {
	if err := validate(t, compile(t), fullSheet(t)); err != nil {
		t.Errorf("a document with every field: %v", err)
	}
	type object struct {
		Properties map[string]any    `json:"properties"`
		Required   []string          `json:"required"`
		Closed     *bool             `json:"additionalProperties"`
		Defs       map[string]object `json:"$defs"`
	}
	var root object
	if err := json.Unmarshal(published(t), &root); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	var compare func(reflect.Type)
	compare = func(typ reflect.Type) {
		for typ.Kind() == reflect.Slice {
			typ = typ.Elem()
		}
		if typ.Kind() != reflect.Struct || seen[typ.Name()] {
			return
		}
		seen[typ.Name()] = true
		got := root
		if typ.Name() != "Sheet" {
			got = root.Defs[typ.Name()]
		}
		fields := 0
		for i := range typ.NumField() {
			f := typ.Field(i)
			if !f.IsExported() {
				continue
			}
			fields++
			name, optional, _ := strings.Cut(f.Tag.Get("json"), ",")
			if _, there := got.Properties[name]; !there {
				t.Errorf("%s.%s is not in the schema", typ.Name(), name)
			}
			if must := slices.Contains(got.Required, name); must == (optional == "omitempty") {
				t.Errorf("%s.%s: required is %t", typ.Name(), name, must)
			}
			compare(f.Type)
		}
		if fields != len(got.Properties) || got.Closed == nil || *got.Closed {
			t.Errorf("%s: %d fields in Go, %d in the schema, closed %v", typ.Name(), fields, len(got.Properties), got.Closed)
		}
	}
	compare(reflect.TypeFor[sheet.Sheet]())
	if len(seen) != len(root.Defs)+1 {
		t.Errorf("%d types in Go, %d in the schema", len(seen), len(root.Defs)+1)
	}
}

func TestErrSchema(t *testing.T) {
	schema, sound := compile(t), string(sheet.Demo()[0].Encode())
	for name, spoil := range map[string][2]string{
		"unknown field":      {`"title":`, `"colour":"red","title":`},
		"missing title":      {`"title":"Ostler Wren, kit BY-24",`, ``},
		"title as a number":  {`"title":"Ostler Wren, kit BY-24"`, `"title":24`},
		"another format":     {`"format":1`, `"format":2`},
		"torque as a float":  {`"torque_cnm":11200`, `"torque_cnm":112.5`},
		"torque in words":    {`"torque_cnm":11200`, `"torque_cnm":"112 Nm"`},
		"a pass unknown":     {`"kind":"final"`, `"kind":"hard"`},
		"a move unknown":     {`"move":"raise"`, `"move":"turn"`},
		"a state unknown":    {`"car":"ride_height"`, `"car":"flying"`},
		"a corner unknown":   {`"corner":"FL"`, `"corner":"fl"`},
		"an axle unknown":    {`"axle":"rear"`, `"axle":"back"`},
		"a quantity unknown": {`"quantity":"camber"`, `"quantity":"noise"`},
		"a point unknown":    {`"use":"stand"`, `"use":"brick"`},
		"wheels unknown":     {`"driven":"front"`, `"driven":"left"`},
		"an id with a space": {`"id":"strut_left"`, `"id":"strut left"`},
		"parts as one":       {`"parts":[`, `"parts":{}, "tools":[`},
	} {
		t.Run(name, func(t *testing.T) {
			spoiled := strings.Replace(sound, spoil[0], spoil[1], 1)
			if spoiled == sound {
				t.Fatal("the test spoils nothing")
			}
			if err := validate(t, schema, []byte(spoiled)); err == nil {
				t.Error("the schema takes it")
			}
		})
	}
}

// Whatever cannot be read into the Go types is refused by the schema. A number
// such as 112.0 is the exception: JSON Schema cannot tell it from 112.
func TestSchemaRefusesWhatIsNotRead(t *testing.T) {
	schema := compile(t)
	refused := 0
	spoilEach(t, fullSheet(t), func(where string, doc []byte) {
		dec := json.NewDecoder(bytes.NewReader(doc))
		dec.DisallowUnknownFields()
		if dec.Decode(new(sheet.Sheet)) == nil {
			return
		}
		refused++
		if err := validate(t, schema, doc); err == nil {
			t.Errorf("%s: it cannot be read, and the schema takes it", where)
		}
	})
	if refused < 1000 {
		t.Errorf("only %d documents were refused: this would show little", refused)
	}
}

// spoilEach replaces every value of a document in turn by one of another type,
// and adds a field to every object.
func spoilEach(t *testing.T, body []byte, try func(where string, doc []byte)) {
	t.Helper()
	var root any
	if err := json.Unmarshal(body, &root); err != nil {
		t.Fatal(err)
	}
	write := func(where string) {
		doc, err := json.Marshal(root)
		if err != nil {
			t.Fatal(err)
		}
		try(where, doc)
	}
	others := []any{true, 1.5, json.Number("1e30"), json.Number("-9223372036854775809"), "word", "", []any{}, []any{1.5}, map[string]any{}, map[string]any{"colour": 1}}
	var visit func(where string, v any, set func(any))
	visit = func(where string, v any, set func(any)) {
		for _, other := range others {
			set(other)
			write(fmt.Sprintf("%s as %v", where, other))
		}
		set(v)
		switch v := v.(type) {
		case map[string]any:
			v["colour"] = "red"
			write(where + " with a field more")
			delete(v, "colour")
			for key, inner := range v {
				visit(where+"/"+key, inner, func(to any) { v[key] = to })
			}
		case []any:
			for i, inner := range v {
				visit(fmt.Sprint(where, "/", i), inner, func(to any) { v[i] = to })
			}
		}
	}
	visit("", root, func(to any) { root = to })
}
