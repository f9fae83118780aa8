package sheet

import (
	"slices"
	"strings"

	"strutcard/calc/lang"
)

// Said is the sheet in the reader's language. It is for showing only: whatever is
// stored, hashed, sent or compared is the sheet itself, which stays as it was
// written. What a person may have typed is looked up too, and is found only where
// it is word for word a text of the layouts.
func (s *Sheet) Said() *Sheet {
	if s == nil || lang.Tag() == lang.English { // no sheet stays none
		return s
	}
	out := *s
	say(&out.Title, &out.Note)
	out.Version = VersionWords(s.Version)
	out.Vehicle = out.Vehicle.said()
	out.Parts = eachSaid(s.Parts, func(p *Part) { say(&p.Name, &p.Mark) })
	out.Tools = eachSaid(s.Tools, func(t *Tool) { say(&t.Name, &t.Why) })
	out.Checks = eachSaid(s.Checks, func(c *Check) { say(&c.Ask, &c.Why, &c.Stop) })
	out.Fasteners = eachSaid(s.Fasteners, func(f *Fastener) {
		say(&f.Place, &f.Prepare, &f.Reuse, &f.Source)
		f.Passes = eachSaid(f.Passes, func(p *Pass) { say(&p.Why, &p.Source, &p.Confirmed) })
	})
	out.Stages = eachSaid(s.Stages, func(g *Stage) {
		say(&g.Title)
		g.Steps = eachSaid(g.Steps, (*Step).say)
	})
	out.Targets = eachSaid(s.Targets, func(t *Target) { say(&t.Source, &t.Confirmed) })
	out.Dampers = eachSaid(s.Dampers, func(d *Damper) { say(&d.Source) })
	out.Perches = eachSaid(s.Perches, func(p *Perch) { say(&p.From, &p.Source) })
	out.Order = eachSaid(s.Order, func(o *Order) { say(&o.Why) })
	out.reindex()
	return &out
}

// OwnVersion begins the name of each version of an owner's sheet; a number follows.
const OwnVersion = "own "

// VersionWords shows the name of a version: ours said, an author's as it is.
func VersionWords(version string) string {
	if n, ok := strings.CutPrefix(version, OwnVersion); ok {
		return lang.F("own %s", n)
	}
	return version
}

func (v Vehicle) said() Vehicle {
	say(&v.Name, &v.Source)
	v.Points = eachSaid(v.Points, func(p *Point) { say(&p.Place, &p.Caution) })
	return v
}

func (s *Step) say() {
	say(&s.Title, &s.Do, &s.Why)
	s.First = eachSaid(s.First, func(text *string) { say(text) })
	s.Cautions = eachSaid(s.Cautions, func(text *string) { say(text) })
	s.Checks = eachSaid(s.Checks, func(c *StepCheck) { say(&c.Ask, &c.Why, &c.Stop) })
	s.Photos = eachSaid(s.Photos, func(p *PhotoAsk) { say(&p.What) })
}

func say(texts ...*string) {
	for _, text := range texts {
		*text = lang.T(*text)
	}
}

// eachSaid is a copy of a list with the texts of each element said.
func eachSaid[T any](list []T, say func(*T)) []T {
	out := slices.Clone(list)
	for i := range out {
		say(&out[i])
	}
	return out
}
