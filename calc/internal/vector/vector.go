// Package vector reads the check values that stand beside the formulas and
// compares the formulas with them. Tests only.
//
// A file holds a JSON array of Vector. Where the number comes from is part of
// the entry: READ, the number or the rule was read in the source; LIB, computed
// by a library or by trigonometry; MEMORY, from memory; COMMON-PRACTICE, a
// habit of the trade or a choice of the project, without authority. An unknown
// key, an input nobody asks for, a formula nobody handles and a formula without
// a value all fail.
package vector

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"strutcard/calc/quantity"
)

// Refused is the Expected of a vector whose inputs must be refused.
const Refused = "refused"

// Vector is one check value. Tol is absolute, in Unit, the same for each number.
type Vector struct {
	ID         string         `json:"id"`
	What       string         `json:"what"`
	Formula    string         `json:"formula"`
	Inputs     map[string]any `json:"inputs"`
	Expected   any            `json:"expected"` // a number, an array of them, or Refused
	Tol        *float64       `json:"tol,omitempty"`
	Unit       string         `json:"unit,omitempty"`
	Source     string         `json:"source"`
	Provenance string         `json:"provenance"`
	Note       string         `json:"note,omitempty"`

	used     map[string]bool
	problems []string
	got      []float64
}

// Num is a number among the inputs.
func (v *Vector) Num(name string) float64 {
	n, ok := v.input(name).(float64)
	if !ok {
		v.problems = append(v.problems, "no number "+name+" among the inputs")
	}
	return n
}

// Text is a text among the inputs.
func (v *Vector) Text(name string) string {
	s, ok := v.input(name).(string)
	if !ok {
		v.problems = append(v.problems, "no text "+name+" among the inputs")
	}
	return s
}

// Has reports whether an input is given.
func (v *Vector) Has(name string) bool { _, ok := v.Inputs[name]; return ok }

func (v *Vector) input(name string) any {
	v.used[name] = true
	return v.Inputs[name]
}

// Formula computes what a vector expects, in the vector's unit.
type Formula func(*Vector) ([]float64, error)

// Run compares every vector in data with its formula, as a subtest each, and
// then with the integers that stand beside the file: the same on every kind of
// processor.
func Run(t *testing.T, data []byte, formulas map[string]Formula) {
	t.Helper()
	vectors, err := Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	handled := map[string]bool{}
	for _, v := range vectors {
		t.Run(v.ID, func(t *testing.T) {
			if err := v.Compare(formulas); err != nil {
				t.Errorf("%s: %v\nsource: %s (%s)", v.What, err, v.Source, v.Provenance)
			}
		})
		handled[v.Formula] = true
	}
	for name := range formulas {
		if !handled[name] {
			t.Errorf("formula %q has no vector", name)
		}
	}
	checkIntegers(t, vectors)
}

// Parse reads and checks a file of vectors.
func Parse(data []byte) ([]*Vector, error) {
	var vectors []*Vector
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&vectors); err != nil {
		return nil, fmt.Errorf("read vectors: %w", err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("read vectors: more than one array")
	}
	if len(vectors) == 0 {
		return nil, errors.New("read vectors: none")
	}
	seen := map[string]bool{}
	for _, v := range vectors {
		if err := v.check(); err != nil {
			return nil, fmt.Errorf("vector %q: %w", v.ID, err)
		}
		if seen[v.ID] {
			return nil, fmt.Errorf("vector %q: twice", v.ID)
		}
		seen[v.ID] = true
	}
	return vectors, nil
}

func (v *Vector) check() error {
	for name, s := range map[string]string{"id": v.ID, "what": v.What, "formula": v.Formula, "source": v.Source} {
		if strings.TrimSpace(s) == "" {
			return errors.New("no " + name)
		}
	}
	switch v.Provenance {
	case "READ", "LIB", "MEMORY", "COMMON-PRACTICE":
	default:
		return fmt.Errorf("unknown provenance %q", v.Provenance)
	}
	if v.Expected == Refused {
		return nil
	}
	if _, err := v.want(); err != nil {
		return err
	}
	if v.Tol == nil || !(*v.Tol >= 0) {
		return errors.New("no tolerance")
	}
	return nil
}

func (v *Vector) want() ([]float64, error) {
	list, ok := v.Expected.([]any)
	if !ok {
		list = []any{v.Expected}
	}
	var want []float64
	for _, e := range list {
		n, ok := e.(float64)
		if !ok {
			return nil, fmt.Errorf("expected is neither a number nor %q: %v", Refused, e)
		}
		want = append(want, n)
	}
	return want, nil
}

// Compare runs the vector's formula and compares.
func (v *Vector) Compare(formulas map[string]Formula) error {
	f, ok := formulas[v.Formula]
	if !ok {
		return fmt.Errorf("no formula %q here", v.Formula)
	}
	v.used, v.problems = map[string]bool{}, nil
	got, err := f(v)
	if err == nil {
		v.got = got
	}
	for name := range v.Inputs {
		if !v.used[name] {
			v.problems = append(v.problems, "input "+name+" is not used")
		}
	}
	if len(v.problems) > 0 {
		return errors.New(strings.Join(v.problems, "; "))
	}
	if v.Expected == Refused {
		return v.compareRefusal(got, err)
	}
	if err != nil {
		return fmt.Errorf("got error %q, want %v", err, v.Expected)
	}
	return v.compareNumbers(got)
}

func (v *Vector) compareRefusal(got []float64, err error) error {
	var input *quantity.InputError
	if !errors.As(err, &input) || input.What == "" || input.Next == "" {
		return fmt.Errorf("got %v and error %v, want an input error with what and next", got, err)
	}
	return nil
}

func (v *Vector) compareNumbers(got []float64) error {
	want, err := v.want()
	if err != nil {
		return err
	}
	if len(got) != len(want) {
		return fmt.Errorf("got %d numbers, want %d", len(got), len(want))
	}
	for i := range want {
		if !(math.Abs(got[i]-want[i]) <= *v.Tol) { // also true for NaN
			return fmt.Errorf("got %.12g, want %.12g ± %g %s", got[i], want[i], *v.Tol, v.Unit)
		}
	}
	return nil
}
