package sheet_test

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strutcard/sync/event"
	"strutcard/sync/sheet"
)

func copyOf(t interface{ Fatal(...any) }, s *sheet.Sheet) *sheet.Sheet {
	out := new(sheet.Sheet)
	if err := json.Unmarshal(s.Encode(), out); err != nil {
		t.Fatal(err)
	}
	return out
}

func fastenerOf(s *sheet.Sheet, id event.FastenerID) *sheet.Fastener {
	return &s.Fasteners[slices.IndexFunc(s.Fasteners, func(f sheet.Fastener) bool { return f.ID == id })]
}

func stepOf(s *sheet.Sheet, id event.StepID) *sheet.Step {
	for i := range s.Stages {
		for j := range s.Stages[i].Steps {
			if s.Stages[i].Steps[j].ID == id {
				return &s.Stages[i].Steps[j]
			}
		}
	}
	return nil
}

func TestDiff(t *testing.T) {
	base := sheet.Demo()[0]
	arm := base.Fastener("arm_inner_RL")
	armName := arm.Place + ", rear left"
	box := "step “" + base.Step("box").Title + "”"
	tests := map[string]struct {
		change func(*sheet.Sheet)
		want   []sheet.Change
	}{
		"nothing": {func(*sheet.Sheet) {}, nil},
		"a torque": {func(s *sheet.Sheet) { fastenerOf(s, arm.ID).Final().TorqueCNM = 10_150 },
			[]sheet.Change{{What: "torque", Where: armName + ": final pass", Was: "94 N·m", Is: "101.5 N·m", Grave: true}}},
		"a tolerance by a hundredth": {func(s *sheet.Sheet) { fastenerOf(s, arm.ID).Final().TolCNM++ },
			[]sheet.Change{{What: "tolerance", Where: armName + ": final pass", Was: "6 N·m", Is: "6.01 N·m", Grave: true}}},
		"a state of the car": {func(s *sheet.Sheet) { fastenerOf(s, arm.ID).Final().Car = sheet.OnWheels },
			[]sheet.Change{{What: "state of the car", Where: armName + ": final pass", Was: "ride height", Is: "on wheels", Grave: true}}},
		"a bush": {func(s *sheet.Sheet) { fastenerOf(s, arm.ID).Bushed = false },
			[]sheet.Change{{What: "clamps a rubber bush", Where: armName, Was: "yes", Is: "no", Grave: true}}},
		"a source": {func(s *sheet.Sheet) { fastenerOf(s, arm.ID).Source = "Manual, p. 3" },
			[]sheet.Change{{What: "source", Where: armName, Was: "demo value, not for a real car", Is: "Manual, p. 3"}}},
		"a target": {func(s *sheet.Sheet) { s.Targets[0].Mdeg = -1501 },
			[]sheet.Change{{What: "value", Where: "camber, front axle", Was: "−1.5°", Is: "−1.501°"}}},
		"a target less": {func(s *sheet.Sheet) { s.Targets = s.Targets[1:] },
			[]sheet.Change{{What: "target removed", Where: "camber, front axle", Was: "quantity: camber; axle: front; value: −1.5°; tolerance: 0.5°; source: demo value, not for a real car"}}},
		"the mass": {func(s *sheet.Sheet) { s.Vehicle.MassG += 500 },
			[]sheet.Change{{What: "mass", Where: "the car", Was: "1240 kg", Is: "1240.5 kg", Grave: true}}},
		"the front share": {func(s *sheet.Sheet) { s.Vehicle.FrontShare = 585 },
			[]sheet.Change{{What: "front share of the mass", Where: "the car", Was: "58 %", Is: "58.5 %", Grave: true}}},
		"the title": {func(s *sheet.Sheet) { s.Title = "Another" },
			[]sheet.Change{{What: "title", Where: "the sheet", Was: base.Title, Is: "Another"}}},
		"a caution": {func(s *sheet.Sheet) { stepOf(s, "box").Cautions = []string{"Mind the spring."} },
			[]sheet.Change{{What: "caution added", Where: box, Is: "Mind the spring.", Grave: true}}},
		"a part": {func(s *sheet.Sheet) { s.Parts = s.Parts[1:] },
			[]sheet.Change{{What: "part removed", Where: base.Parts[0].Name, Was: "name: Front strut unit, left, assembled; count: 1; corner: front left; mark: L on the hose bracket"}}},
		"a stage": {func(s *sheet.Sheet) { s.Stages = append(s.Stages, sheet.Stage{ID: "more", Title: "More"}) },
			[]sheet.Change{{What: "stage added", Where: "stage “More”", Is: "title: More"}}},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s := copyOf(t, base)
			test.change(s)
			if got := worded(sheet.Diff(base, s)); !slices.Equal(got, test.want) {
				t.Errorf("got %+v, want %+v", got, test.want)
			}
		})
	}
}

// What is added and removed is told whole, what was moved by what it follows.
func TestDiffOfLists(t *testing.T) {
	base := sheet.Demo()[0]
	find := func(t *testing.T, got []sheet.Change, what, where string) sheet.Change {
		t.Helper()
		i := slices.IndexFunc(got, func(c sheet.Change) bool { return c.What == what && strings.Contains(c.Where, where) })
		if i < 0 {
			t.Fatalf("got %+v, want %q of %q", got, what, where)
		}
		return got[i]
	}
	t.Run("Fastener", func(t *testing.T) {
		s := copyOf(t, base)
		gone := s.Fasteners[0]
		s.Fasteners = s.Fasteners[1:]
		c := find(t, sheet.Diff(base, s), "fastener removed", gone.Place)
		if !c.Grave || c.Is != "" || !strings.Contains(c.Was, "thread: M12x1.5") || !strings.Contains(c.Was, "torque: 112 N·m; tolerance: 6 N·m") {
			t.Errorf("got %+v, want the whole fastener with its torque", c)
		}
		if back := find(t, sheet.Diff(s, base), "fastener added", gone.Place); back.Is != c.Was || back.Was != "" {
			t.Errorf("got %+v, want %+v the other way round", back, c)
		}
	})
	t.Run("StepMoved", func(t *testing.T) {
		s := copyOf(t, base)
		steps := s.Stages[0].Steps
		steps[0], steps[1] = steps[1], steps[0]
		got := sheet.Diff(base, s)
		if len(got) != 1 || got[0].What != "step moved" || !got[0].Grave || got[0].Was == "" || got[0].Is == "" {
			t.Errorf("got %+v, want one step moved", got)
		}
	})
	t.Run("StepToTheEnd", func(t *testing.T) {
		s := copyOf(t, base)
		first := s.Stages[0].Steps[0]
		last := &s.Stages[len(s.Stages)-1]
		behind := last.Steps[len(last.Steps)-1].Title
		s.Stages[0].Steps = s.Stages[0].Steps[1:]
		last.Steps = append(last.Steps, first)
		got := sheet.Diff(base, s)
		if c := find(t, got, "step moved", first.Title); len(got) != 2 || c.Was != "first" || c.Is != "after step “"+behind+"”" {
			t.Errorf("got %+v, want one move from first to after %q, and the stage", got, behind)
		}
		if c := find(t, got, "stage", first.Title); !strings.HasPrefix(c.Was, s.Stages[0].Title) || !strings.HasPrefix(c.Is, last.Title) {
			t.Errorf("got %+v, want both stages", c)
		}
	})
	t.Run("StepOverTheEdge", func(t *testing.T) {
		s := copyOf(t, base)
		n := len(s.Stages[0].Steps) - 1
		over := s.Stages[0].Steps[n]
		s.Stages[0].Steps, s.Stages[1].Steps = s.Stages[0].Steps[:n], slices.Insert(s.Stages[1].Steps, 0, over)
		if got := sheet.Diff(base, s); len(got) != 1 || got[0].What != "stage" || !got[0].Grave {
			t.Errorf("got %+v, want one step in another stage", got)
		}
	})
	t.Run("Passes", func(t *testing.T) {
		s := copyOf(t, base)
		f := fastenerOf(s, "wheel_nuts_FL")
		slices.Reverse(f.Passes)
		if c := find(t, sheet.Diff(base, s), "pass moved", f.Place); !c.Grave {
			t.Errorf("got %+v, want it grave", c)
		}
	})
	t.Run("PassOfAStep", func(t *testing.T) {
		s := copyOf(t, base)
		step := stepOf(s, "finals_RL")
		step.Passes = step.Passes[1:]
		gone := base.Fastener(base.Step("finals_RL").Passes[0].Fastener).Place
		if c := find(t, sheet.Diff(base, s), "pass removed", step.Title); !strings.HasPrefix(c.Was, gone) {
			t.Errorf("got %+v, want the fastener by its place", c)
		}
	})
}

// The most dangerous comes first, whatever the order in the sheet.
func TestDiffOrder(t *testing.T) {
	base := sheet.Demo()[0]
	s := copyOf(t, base)
	s.Title += "."
	s.Stages[0].Steps[0], s.Stages[0].Steps[1] = s.Stages[0].Steps[1], s.Stages[0].Steps[0]
	s.Checks[0].Ask += "?"
	s.Fasteners[0].Final().Car = sheet.Up
	fastenerOf(s, "arm_inner_RL").Final().TorqueCNM++
	var got []string
	for _, c := range sheet.Diff(base, s) {
		got = append(got, c.What)
	}
	if want := []string{"torque", "state of the car", "question", "step moved", "title"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// spot is one value of a sheet that can be changed.
type spot struct {
	path   string
	change func()
}

// spots lists every way to change one thing of a sheet: each number, text and
// flag; of each list an element less, one more, one twice, and two swapped.
func spots(path string, v reflect.Value) []spot {
	var out []spot
	add := func(how string, change func()) { out = append(out, spot{path + " " + how, change}) }
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				out = append(out, spots(path+"."+f.Name, v.Field(i))...)
			}
		}
	case reflect.Slice:
		n := v.Len()
		add("one more", func() { v.Set(reflect.Append(v, reflect.Zero(v.Type().Elem()))) })
		if n > 0 {
			add("one less", func() { v.Set(v.Slice(1, n)) })
			add("one twice", func() { v.Set(reflect.Append(v, v.Index(0))) })
		}
		if n > 1 {
			add("swapped", func() { reflect.Swapper(v.Interface())(0, n-1) })
		}
		for i := range n {
			out = append(out, spots(fmt.Sprint(path, i), v.Index(i))...)
		}
	case reflect.String:
		add("longer", func() { v.SetString(v.String() + "x") })
		add("emptied", func() { v.SetString("") })
	case reflect.Int, reflect.Int64:
		add("by one", func() { v.SetInt(v.Int() + 1) })
		add("other sign", func() { v.SetInt(-v.Int()) })
	case reflect.Bool:
		add("flipped", func() { v.SetBool(!v.Bool()) })
	default:
		panic("a field of the kind " + v.Kind().String())
	}
	return out
}

// filled sets every field of every type, with two elements in each list.
func filled(v reflect.Value, n *int) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				filled(v.Field(i), n)
			}
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		filled(v.Index(0), n)
		filled(v.Index(1), n)
	case reflect.String:
		*n++
		v.SetString(fmt.Sprint("word", *n))
	case reflect.Int, reflect.Int64:
		*n++
		v.SetInt(int64(*n))
	case reflect.Bool:
		v.SetBool(true)
	}
}

// shown checks that a change of the hash is a change in words, both ways.
func shown(t interface{ Errorf(string, ...any) }, path string, was, is *sheet.Sheet) {
	if was.Hash() == is.Hash() {
		return
	}
	for _, pair := range [][2]*sheet.Sheet{{was, is}, {is, was}} {
		got := sheet.Diff(pair[0], pair[1])
		if len(got) == 0 || !reflect.DeepEqual(got, sheet.Diff(pair[0], pair[1])) {
			t.Errorf("%s: got %d changes, want some, and the same again", path, len(got))
		}
		for _, c := range got {
			if c.What == "" || c.Where == "" || c.Was == c.Is || c.What == "written differently" {
				t.Errorf("%s: got %+v, want what changed in words", path, c)
			}
		}
	}
}

// TestDiffOfEveryField changes everything that the types hold, one at a time.
func TestDiffOfEveryField(t *testing.T) {
	n, full := 0, new(sheet.Sheet)
	filled(reflect.ValueOf(full).Elem(), &n)
	count := len(spots("", reflect.ValueOf(copyOf(t, full)).Elem()))
	if count < 1000 {
		t.Fatalf("only %d changes: this would show little", count)
	}
	for i := range count {
		s := copyOf(t, full)
		one := spots("", reflect.ValueOf(s).Elem())[i]
		one.change()
		shown(t, one.path, full, s)
	}
}

// TestDiffOfDemo makes some changes at once.
func TestDiffOfDemo(t *testing.T) {
	base := sheet.Demo()[0]
	rapid.Check(t, func(t *rapid.T) {
		s := copyOf(t, base)
		var paths []string
		for range rapid.IntRange(1, 4).Draw(t, "changes") {
			one := rapid.SampledFrom(spots("", reflect.ValueOf(s).Elem())).Draw(t, "spot")
			one.change()
			paths = append(paths, one.path)
		}
		shown(t, strings.Join(paths, ", "), base, s)
	})
}

// A list that is empty where it was left out is another file with the same
// words: that is said too.
func TestDiffOfBytesAlone(t *testing.T) {
	base, s := sheet.Demo()[0], copyOf(t, sheet.Demo()[0])
	base.Targets, s.Targets = nil, []sheet.Target{}
	got := sheet.Diff(base, s)
	if len(got) != 1 || got[0].What != "written differently" || got[0].Grave || got[0].Was == got[0].Is {
		t.Errorf("got %+v, want one change of the file alone", got)
	}
}

// worded are changes without the paths.
func worded(changes []sheet.Change) []sheet.Change {
	for i := range changes {
		changes[i].At = ""
	}
	return changes
}

// TestDiffAt: a change names its place in the newer file in no language.
func TestDiffAt(t *testing.T) {
	base := sheet.Demo()[0]
	for want, change := range map[string]func(*sheet.Sheet){
		"fasteners/3":          func(s *sheet.Sheet) { s.Fasteners[3].Thread = "M11x1.25" },
		"fasteners/3/passes/0": func(s *sheet.Sheet) { s.Fasteners[3].Passes[0].TorqueCNM += 100 },
		"targets/0":            func(s *sheet.Sheet) { s.Targets[0].Source = "Manual, p. 3" },
		"vehicle":              func(s *sheet.Sheet) { s.Vehicle.MassG += 1000 },
		"":                     func(s *sheet.Sheet) { s.Title = "Another" },
	} {
		s := copyOf(t, base)
		change(s)
		if got := sheet.Diff(base, s); len(got) != 1 || got[0].At != want {
			t.Errorf("the change at %q is %+v", want, got)
		}
	}
}
