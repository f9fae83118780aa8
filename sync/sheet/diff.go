package sheet

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"strutcard/calc/lang"
	"strutcard/sync/event"
)

// Change is one difference between two versions of a sheet, in words.
type Change struct {
	What  string // such as "torque" or "step added"
	Where string // what it belongs to
	At    string // the path of that in the newer file, such as "fasteners/3"; steps are counted through all stages
	Was   string // "" for what was not there
	Is    string // "" for what is not there any more
	Grave bool   // can hurt somebody who goes on working by the older version
}

// weight orders changes, the most dangerous first. All but the last are grave.
type weight int

const (
	tightening weight = iota
	carState
	checking
	ordering
	lesser
)

// weights are those of a field, else of its type; any other is lesser. For a
// list it is that of adding or removing an element.
var weights = map[string]weight{
	"Sheet.Format": tightening, "Sheet.Invented": tightening, "Sheet.Fasteners": tightening, "Sheet.Checks": checking, "Sheet.Order": ordering,
	"Fastener": tightening, "Fastener.Place": lesser, "Fastener.Source": lesser, "Fastener.Bushed": carState,
	"Pass": tightening, "Pass.Car": carState, "Pass.After": ordering, "Pass.Why": lesser, "Pass.Source": lesser, "Pass.Confirmed": lesser,
	"Vehicle": carState, "Vehicle.Name": lesser, "Vehicle.Source": lesser, "Point": carState,
	"Tool.Must": checking, "Tool.Kind": checking, "Check": checking, "StepCheck": checking, "Order": ordering,
	"Stage.Steps": ordering, "Step.Needs": ordering, "Step.Loosen": ordering, "Step.Fit": ordering, "Step.Passes": ordering,
	"Step.Axle": carState, "Step.Car": carState, "Step.Move": carState, "Step.Settle": carState, "Step.Drive": carState, "Step.Later": carState,
	"Step.First": checking, "Step.Cautions": checking, "Step.Checks": checking, "Step.Box": checking, "Step.Kit": checking, "Step.Specs": checking,
	"Step.Hold": checking, "Step.Leftovers": checking,
}

// unordered are the lists whose order nobody works by.
var unordered = map[string]bool{"Sheet.Fasteners": true, "Vehicle.Points": true}

func weightOf(field string) weight {
	if w, ok := weights[field]; ok {
		return w
	}
	kind, _, _ := strings.Cut(field, ".")
	if w, ok := weights[kind]; ok {
		return w
	}
	return lesser
}

// rewritten says that nothing changed but the bytes, such as an empty list that
// was left out before.
const rewritten = "written differently"

// Diff lists what is different in new, the most dangerous first, else in the
// order of the sheet. Two sheets of different hashes never give an empty list.
func Diff(old, new *Sheet) []Change {
	d := &differ{old: namesIn(old), new: namesIn(new)}
	d.fields(spot{}, reflect.ValueOf(*old), reflect.ValueOf(*new))
	d.steps(old, new)
	slices.SortStableFunc(d.out, func(a, b weighed) int { return int(a.weight - b.weight) })
	var out []Change
	for _, c := range d.out {
		c.Grave = c.weight < lesser
		out = append(out, c.Change)
	}
	if was, is := old.Hash(), new.Hash(); len(out) == 0 && was != is {
		out = append(out, Change{What: lang.T(rewritten), Where: lang.T("the file"), Was: string(was), Is: string(is)})
	}
	return out
}

// spot is what a change belongs to: in words, and its path in the newer file.
type spot struct{ words, path string }

type weighed struct {
	Change
	weight weight
}

// differ walks two sheets side by side. It goes by the Go types, so that a field
// which is added to them cannot be forgotten here.
type differ struct {
	old, new names
	out      []weighed
}

func (d *differ) add(w weight, what string, where spot, was, is string) {
	if where.words == "" {
		where.words = lang.T("the sheet")
	}
	d.out = append(d.out, weighed{Change{What: what, Where: where.words, At: where.path, Was: was, Is: is}, w})
}

func (d *differ) fields(where spot, old, new reflect.Value) {
	for i := range old.NumField() {
		f := old.Type().Field(i)
		field := old.Type().Name() + "." + f.Name
		if !f.IsExported() || field == "Stage.Steps" { // steps are compared across stages
			continue
		}
		a, b, tag := old.Field(i), new.Field(i), tagOf(f)
		switch {
		case a.Kind() == reflect.Slice:
			d.lists(where, field, tag, a, b)
		case a.Kind() == reflect.Struct:
			d.fields(spot{lang.T("the car"), tag}, a, b)
		case a.Interface() != b.Interface():
			d.add(weightOf(field), label(tag), where, d.old.say(tag, a), d.new.say(tag, b))
		}
	}
}

// lists compares two lists by the names of their elements.
func (d *differ) lists(where spot, field, tag string, old, new reflect.Value) {
	was, is := keysOf(old), keysOf(new)
	wasAt, isAt := places(was), places(is)
	w, one := weightOf(field), singular(tag)
	for i, key := range was {
		if _, still := isAt[key]; !still {
			gone := d.place(where, d.old, tag, old, i)
			d.add(w, lang.F("%s removed", one), spot{gone.words, where.path}, d.old.describe(old.Index(i)), "")
		}
	}
	for j, key := range is {
		if _, before := wasAt[key]; !before {
			d.add(w, lang.F("%s added", one), d.place(where, d.new, tag, new, j), "", d.new.describe(new.Index(j)))
		}
	}
	for j, key := range is {
		if i, before := wasAt[key]; before && new.Index(j).Kind() == reflect.Struct {
			d.fields(d.place(where, d.new, tag, new, j), old.Index(i), new.Index(j))
		}
	}
	w = max(w, ordering)
	if unordered[field] {
		w = lesser
	}
	for _, key := range moved(was, is) {
		if i, j := wasAt[key], isAt[key]; i == 0 || j == 0 || was[i-1] != is[j-1] { // else it went along with what is before it
			d.add(w, lang.F("%s moved", one), d.place(where, d.new, tag, new, j), d.old.after(old, i), d.new.after(new, j))
		}
	}
}

// places is where each name stands.
func places(keys []string) map[string]int {
	at := map[string]int{}
	for i, key := range keys {
		at[key] = i
	}
	return at
}

// place is where an element stands: in words of its own, or those of its owner.
func (d *differ) place(where spot, n names, tag string, list reflect.Value, i int) spot {
	own := spot{n.name(list.Index(i)), joined("/", where.path, tag, strconv.Itoa(i))}
	switch {
	case list.Index(i).Kind() != reflect.Struct && where.words != "":
		return where
	case where.words != "":
		own.words = where.words + ": " + own.words
	}
	return own
}

// steps compares all steps as one list, and the stage in which each stands.
func (d *differ) steps(old, new *Sheet) {
	was, wasIn := flat(old)
	is, isIn := flat(new)
	a, b := reflect.ValueOf(was), reflect.ValueOf(is)
	d.lists(spot{}, "Stage.Steps", "steps", a, b)
	before := places(keysOf(a))
	for j, key := range keysOf(b) {
		if i, there := before[key]; there && wasIn[i].key != isIn[j].key {
			d.add(ordering, lang.T("stage"), d.place(spot{}, d.new, "steps", b, j), wasIn[i].title, isIn[j].title)
		}
	}
}

type stageName struct{ key, title string }

// flat is every step with the stage that it stands in.
func flat(s *Sheet) (steps []Step, in []stageName) {
	keys := keysOf(reflect.ValueOf(s.Stages))
	for i, stage := range s.Stages {
		for _, step := range stage.Steps {
			steps, in = append(steps, step), append(in, stageName{keys[i], lang.T(stage.Title) + " (" + keys[i] + ")"})
		}
	}
	return steps, in
}

// keysOf names each element of a list once; of two alike the second is told
// apart by a number.
func keysOf(list reflect.Value) []string {
	seen := map[string]int{}
	out := make([]string, list.Len())
	for i := range out {
		key := keyOf(list.Index(i))
		if seen[key]++; seen[key] > 1 {
			out[i] = fmt.Sprint(key, " ", seen[key])
			continue
		}
		out[i] = key
	}
	return out
}

// keyOf is what an element is known by. What has no name is known by all of it.
func keyOf(v reflect.Value) string {
	if v.Kind() == reflect.Struct {
		if id := v.FieldByName("ID"); id.IsValid() {
			return id.String()
		}
	}
	switch x := v.Interface().(type) {
	case Target:
		return string(x.Quantity) + " " + string(x.Axle)
	case Damper:
		return string(x.Axle) + " " + x.Knob
	case Perch:
		return string(x.Axle)
	case Order:
		return string(x.First) + " " + string(x.Then)
	case Point:
		return string(x.Use) + " " + string(x.Axle) + " " + x.Place
	}
	whole, err := json.Marshal(v.Interface())
	if err != nil {
		panic("sheet: a struct of strings and integers failed to marshal: " + err.Error())
	}
	return string(whole)
}

// moved lists the names that stand in both lists but not in one order: as few as
// explain it, those outside the longest common run.
func moved(was, is []string) []string {
	at := places(was)
	is = slices.DeleteFunc(slices.Clone(is), func(key string) bool { _, there := at[key]; return !there })
	longest, next := make([]int, len(is)+1), make([]int, len(is)) // the run from i on, and where it goes on
	first := len(is)
	for i := len(is) - 1; i >= 0; i-- {
		longest[i], next[i] = 1, len(is)
		for j := i + 1; j < len(is); j++ {
			if at[is[i]] < at[is[j]] && longest[j]+1 > longest[i] {
				longest[i], next[i] = longest[j]+1, j
			}
		}
		if longest[i] >= longest[first] {
			first = i
		}
	}
	var out []string
	for i, key := range is {
		if i == first {
			first = next[i]
			continue
		}
		out = append(out, key)
	}
	return out
}

// names say ids of a sheet in its own words.
type names struct {
	steps     map[event.StepID]string
	fasteners map[event.FastenerID]string
	passes    map[PassRef]string
	tools     map[event.ToolID]string
}

func namesIn(s *Sheet) names {
	n := names{map[event.StepID]string{}, map[event.FastenerID]string{}, map[PassRef]string{}, map[event.ToolID]string{}}
	for _, stage := range s.Stages {
		for _, step := range stage.Steps {
			n.steps[step.ID] = lang.T(step.Title)
		}
	}
	for _, f := range s.Fasteners {
		n.fasteners[f.ID] = n.name(reflect.ValueOf(f))
		for _, p := range f.Passes {
			n.passes[PassRef{f.ID, p.ID}] = n.name(reflect.ValueOf(p))
		}
	}
	for _, t := range s.Tools {
		n.tools[t.ID] = lang.T(t.Name)
	}
	return n
}
