package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/fault"
	"strutcard/sync/sheet"
)

// node is one JSON object of a draft. A draft is edited as JSON, so that a field
// needs a row in a table and no code; what comes out is read as a sheet again.
type node = map[string]any

// readSheet reads a draft's JSON as a sheet. Its shape must be right; whether it
// is sound is another question.
func readSheet(body []byte) (*sheet.Sheet, error) {
	if len(body) > sheet.MaxBytes {
		return nil, fault.New(fault.TooLarge, "The sheet is larger than 1 MiB. Nothing was changed.", "Make it smaller.")
	}
	s := new(sheet.Sheet)
	dec := json.NewDecoder(bytes.NewReader(body))
	dec.DisallowUnknownFields()
	if err := dec.Decode(s); err != nil {
		return nil, fault.Wrap(err, fault.Invalid, lang.F("This is not a part of a sheet: %s. Nothing was changed.", strings.TrimPrefix(err.Error(), "json: ")), "Mend it and save again.")
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, fault.New(fault.Invalid, "There is something after the end of the JSON. Nothing was changed.", "Take it away and save again.")
	}
	_ = s.Validate() // for its look-ups; whether it is sound is asked elsewhere
	return s, nil
}

// treeOf is a sheet as JSON objects, with its numbers exact.
func treeOf(body []byte) (node, error) {
	tree := node{}
	dec := json.NewDecoder(bytes.NewReader(body))
	dec.UseNumber()
	if err := dec.Decode(&tree); err != nil {
		return nil, fmt.Errorf("read draft: %w", err)
	}
	return tree, nil
}

// place is one spot of a draft that a page shows: a list, or one thing.
type place struct {
	path  []string
	shape *shape
	list  bool
}

func (p place) String() string { return strings.Join(p.path, "/") }

// parent is what a list stands in, or the list that a thing stands in.
func (p place) parent() string {
	if len(p.path) == 0 {
		return ""
	}
	return strings.Join(p.path[:len(p.path)-1], "/")
}

// in is the path in the JSON.
func (p place) in() []string {
	if p.shape.self {
		return nil
	}
	return p.path
}

// find returns the place of a path such as "fasteners/3/passes/0", if the tree
// has it.
func find(tree node, path string) (place, bool) {
	p := place{shape: sheetShape}
	for _, step := range strings.FieldsFunc(path, func(r rune) bool { return r == '/' }) {
		p.path = append(p.path, step)
		if p.list { // an index
			p.list = false
			continue
		}
		i := slices.IndexFunc(p.shape.inside, func(s *shape) bool { return s.key == step })
		if i < 0 {
			return p, false
		}
		p.shape = p.shape.inside[i]
		p.list = !p.shape.single
	}
	_, isNode := look(tree, p.in()).(node)
	return p, p.list && hasParent(tree, p) || !p.list && isNode
}

func hasParent(tree node, p place) bool {
	_, ok := look(tree, p.path[:len(p.path)-1]).(node)
	return ok
}

// look returns what stands at a path, or nil.
func look(tree any, path []string) any {
	for _, step := range path {
		switch at := tree.(type) {
		case node:
			tree = at[step]
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i < 0 || i >= len(at) {
				return nil
			}
			tree = at[i]
		default:
			return nil
		}
	}
	return tree
}

// put replaces what stands at a path. What holds it must be there.
func put(tree node, path []string, v any) {
	last := path[len(path)-1]
	switch holder := look(tree, path[:len(path)-1]).(type) {
	case node:
		holder[last] = v
	case []any:
		if i, err := strconv.Atoi(last); err == nil && i >= 0 && i < len(holder) {
			holder[i] = v
		}
	}
}

// arrange adds, removes or moves one thing of a list and returns where it is now.
func arrange(tree node, p place, op string, at int) int {
	list, _ := look(tree, p.path).([]any)
	there := at >= 0 && at < len(list)
	switch {
	case op == "add":
		at = min(max(at+1, 0), len(list))
		list = slices.Insert(list, at, any(p.shape.fresh(list)))
	case op == "remove" && there:
		list = slices.Delete(list, at, at+1)
	case op == "up" && there && at > 0:
		list[at-1], list[at] = list[at], list[at-1]
	case op == "down" && there && at+1 < len(list):
		list[at+1], list[at] = list[at], list[at+1]
	}
	put(tree, p.path, list)
	return at
}

// fresh is a new thing for a list, with an id that is not taken there.
func (s *shape) fresh(list []any) node {
	n := node{}
	if len(s.fields) == 0 || s.fields[0].key != "id" {
		return n
	}
	taken := map[any]bool{}
	for _, item := range list {
		if other, ok := item.(node); ok {
			taken[other["id"]] = true
		}
	}
	for i := 1; ; i++ {
		if id := fmt.Sprintf("%s_new_%d", strings.ReplaceAll(s.one, " ", "_"), i); !taken[id] {
			n["id"] = id
			return n
		}
	}
}
