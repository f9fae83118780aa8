package vector_test

import (
	"strings"
	"testing"

	"strutcard/calc/internal/vector"
	"strutcard/calc/quantity"
)

const good = `[{"id":"A","what":"w","formula":"double","inputs":{"x":2},"expected":4,"tol":0.1,"source":"s","provenance":"LIB"}]`

var formulas = map[string]vector.Formula{
	"double": func(v *vector.Vector) ([]float64, error) { return []float64{2 * v.Num("x")}, nil },
	"refuse": func(v *vector.Vector) ([]float64, error) {
		return nil, quantity.Inputf("next", "what %s", v.Text("x"))
	},
}

func first(data string) error {
	vectors, err := vector.Parse([]byte(data))
	if err != nil {
		return err
	}
	return vectors[0].Compare(formulas)
}

func TestCompare(t *testing.T) {
	t.Run("OK", func(t *testing.T) {
		if err := first(good); err != nil {
			t.Errorf("got %v, want none", err)
		}
	})
	t.Run("OKRefused", func(t *testing.T) {
		data := strings.NewReplacer(`"double"`, `"refuse"`, `{"x":2}`, `{"x":"a"}`, `:4,"tol":0.1`, `:"refused"`).Replace(good)
		if err := first(data); err != nil {
			t.Errorf("got %v, want none", err)
		}
	})
	bad := map[string][3]string{ // name: text, its replacement, what the error says
		"UnknownKey":       {`"what"`, `"page":1,"what"`, "unknown field"},
		"UnknownFormula":   {`"double"`, `"triple"`, "no formula"},
		"UnusedInput":      {`{"x":2}`, `{"x":2,"y":1}`, "not used"},
		"MissingInput":     {`{"x":2}`, `{"y":2}`, "no number x"},
		"TextForNumber":    {`{"x":2}`, `{"x":"2"}`, "no number x"},
		"WrongNumber":      {`:4,`, `:4.2,`, "got 4, want 4.2"},
		"WrongCount":       {`:4,`, `:[4,4],`, "got 1 numbers"},
		"ExpectedText":     {`:4,`, `:"four",`, "neither"},
		"NotRefused":       {`:4,`, `:"refused",`, "want an input error"},
		"NoTolerance":      {`"tol":0.1,`, ``, "no tolerance"},
		"NoSource":         {`"source":"s"`, `"source":" "`, "no source"},
		"UnknownWhereFrom": {`"LIB"`, `"GUESS"`, "unknown provenance"},
		"TwoArrays":        {`}]`, `}][]`, "more than one"},
		"Empty":            {good, `[]`, "none"},
	}
	for name, b := range bad {
		t.Run("Err"+name, func(t *testing.T) {
			data := strings.Replace(good, b[0], b[1], 1)
			if data == good {
				t.Fatal("the replacement changed nothing")
			}
			if err := first(data); err == nil || !strings.Contains(err.Error(), b[2]) {
				t.Errorf("got %v, want an error with %q", err, b[2])
			}
		})
	}
	t.Run("ErrTwice", func(t *testing.T) {
		entry := strings.Trim(good, "[]")
		if err := first("[" + entry + "," + entry + "]"); err == nil || !strings.Contains(err.Error(), "twice") {
			t.Errorf("got %v, want an error with twice", err)
		}
	})
}
