package web_test

import (
	"bytes"
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"strutcard/sync/card"
	"strutcard/sync/guide/guidetest"
	"strutcard/sync/sheet"
)

// TestCardSchema: the card of a finished job is what its published schema says,
// and one with a field more, a field less or a wrong code is not.
func TestCardSchema(t *testing.T) {
	res := get(t, "/schema/job-card/1.json", http.Header{})
	body, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode != http.StatusOK || res.Header.Get("Content-Type") != "application/schema+json" {
		t.Fatalf("status %d, %v", res.StatusCode, err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	compiler := jsonschema.NewCompiler()
	if err := compiler.AddResource("card.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := compiler.Compile("card.json")
	if err != nil {
		t.Fatal(err)
	}
	sh := sheet.Demo()[0]
	events := guidetest.Walk(t, sh)
	c, err := card.Of(events[0].Job, sh.Encode(), events, card.Beside{})
	if err != nil {
		t.Fatal(err)
	}
	good := string(c.Encode())
	for name, text := range map[string]string{"": good, "a field more": strings.Replace(good, `"code"`, `"seal": 1, "code"`, 1),
		"a field less": strings.Replace(good, `"vehicle": "test car",`, "", 1), "a code with a letter too many": strings.Replace(good, c.Code, c.Code+"0", 1),
		"a fraction": strings.Replace(good, `"torque_cnm": 11200`, `"torque_cnm": 112.5`, 1)} {
		value, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if err := schema.Validate(value); (err == nil) != (name == "") {
			t.Errorf("%q: %v", name, err)
		}
	}
}
