package method

import (
	"strings"

	"strutcard/calc/fastener"
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
	"strutcard/calc/torque"
)

var threadField = Field{Name: "thread", Label: "Thread", Hint: "Such as M12x1.25 or 1/2-20. M12 alone is the coarse thread.", Kind: Text}

// thread reads it. An empty answer is already noted.
func (in *In) thread() fastener.Thread {
	return read(in, "thread", fastener.Parse)
}

// notKnown is an answer that says so.
const notKnown = "unknown"

// threadQuestion asks whether a torque can be meant. It never shows one to use.
var threadQuestion = Method{
	ID: "thread_question", Group: Torque, Title: "Can this torque be meant?",
	Words: "Type the final torque as the source states it. An early stage is low on purpose and is not to be asked about.",
	Fields: []Field{
		threadField,
		{Name: "class", Label: "Marks on the head of the bolt", Kind: Choice, Optional: true, Options: headOptions()},
		{Name: "torque", Label: "Final torque in the source", Kind: TorqueValue},
	},
	Work: func(in *In) (Result, error) {
		thread, class, t := in.thread(), fastener.Class(in.Choice("class")), in.Torque("torque")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		if class == notKnown {
			class = fastener.Unstated
		}
		if class != fastener.Unstated {
			if _, err := class.Strength(thread); err != nil {
				return Result{}, err
			}
		}
		if t <= 0 {
			return Result{}, quantity.Inputf("Look it up in the manual and enter it with its unit.", "The torque is missing or not above zero.")
		}
		out := Result{Figure: fastener.Brief(thread.Name(), class, t), Line: questionLine(in, thread, class, t),
			Ask:  strings.Join(only(fastener.Question(thread.Name(), class, t), fastener.QuestionThread(thread)), " "),
			Warn: []string{lang.T("This is no approval, and no torque can be taken from it. The torque comes from the maker's manual or the maker of the part."), lang.T("A small bracket or an aluminium part may well have less than is usual.")}}
		if out.Ask == "" {
			out.Words = lang.T("Nothing speaks against it. That alone does not make it right.")
		}
		return out, nil
	},
}

func questionLine(in *In, thread fastener.Thread, class fastener.Class, t quantity.Torque) string {
	said := in.typedAs("torque")
	if in.Units.Torque != quantity.NewtonMetre {
		said += " = " + quantity.FormatTorque(t, quantity.NewtonMetre)
	}
	if class == fastener.Unstated {
		return lang.F("%s on %s, any common class, beside what such a bolt normally takes", said, thread.Name())
	}
	return lang.F("%s on %s of class %s, beside what such a bolt normally takes", said, thread.Name(), string(class))
}

func headOptions() []Option {
	out := []Option{{notKnown, "not known, or no marks"}}
	for _, c := range fastener.Classes() {
		label := string(c)
		switch c {
		case fastener.Grade5:
			label += ", three lines"
		case fastener.Grade8:
			label += ", six lines"
		}
		out = append(out, Option{string(c), label})
	}
	return out
}

// threadEngagement counts turns.
var threadEngagement = Method{
	ID: "thread_engagement", Group: Torque, Title: "Enough thread?",
	Words: "Screw it on by hand, without a wrench, and count the turns from the first grip until it seats.",
	Fields: []Field{
		threadField,
		{Name: "turns", Label: "Turns until it seats", Kind: Count},
		{Name: "counted", Label: "Counted to the nearest", Kind: Choice, Options: []Option{{"1", "whole turn"}, {"0.5", "half turn"}, {"0.25", "quarter turn"}}},
		{Name: "into", Label: "The thread that it goes into is", Kind: Choice, Options: []Option{{string(fastener.Steel), "steel"}, {string(fastener.Aluminium), "aluminium"}}},
	},
	Work: func(in *In) (Result, error) {
		e := fastener.Engagement{Thread: in.thread(), Turns: in.Count("turns"), In: fastener.Material(in.Choice("into"))}
		counted := in.Choice("counted")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		var err error
		if e.Resolution, err = quantity.CountOf(counted); err != nil {
			return Result{}, err
		}
		got, err := fastener.Engage(e)
		if err != nil {
			return Result{}, err
		}
		pitch := quantity.Count(e.Thread.Pitch().Millimetres()).String() + " mm"
		return Result{Figure: in.length(got.Length), Words: got.Words(), Line: lang.F("%s turns × %s = %s", e.Turns, pitch, in.Units.FormatLength(got.Length.Value)),
			Rows: []Row{{lang.T("Asked for by the rule"), in.Units.FormatLength(got.Needed)}, {lang.T("That is, in turns"), got.NeededTurns.String()}},
			Ask:  strings.Join(only(fastener.QuestionEngagement(e), fastener.QuestionThread(e.Thread)), " "),
			Warn: []string{lang.F("One diameter in steel and two in aluminium is a rule of the trade. %s", lang.T(makerDecides)), lang.T("It must turn freely by hand all the way. What binds has another pitch or a damaged thread.")}}, nil
	},
}

// threadSurface compares what is on a thread with what its torque is meant for.
var threadSurface = Method{
	ID: "thread_surface", Group: Torque, Title: "Oil or paste on the thread",
	Words: "Look at bolt and nut before you tighten. Read in the source for which state of the thread its torque is meant.",
	Fields: []Field{
		{Name: "is", Label: "State of the thread", Kind: Choice, Options: surfaceOptions()},
		{Name: "meant", Label: "State that the torque is meant for", Kind: Choice, Options: surfaceOptions()},
	},
	Work: func(in *In) (Result, error) {
		is, meant := in.surface("is"), in.surface("meant")
		if in.Err() != nil {
			return Result{}, in.Err()
		}
		out := Result{Figure: lang.T("As meant"), Line: lang.F("It is %s; meant is %s.", is.Words(), meant.Words())}
		if warning := torque.Warning(is, meant); warning != "" {
			out.Figure, out.Warn = lang.T("Not as meant"), []string{warning}
			if is == torque.NotSaid || meant == torque.NotSaid {
				out.Figure = lang.T("Not known")
			}
		}
		out.Words = lang.T("Never change the torque for what is on the thread: bring the thread into the state that is meant.")
		return out, nil
	},
}

func (in *In) surface(name string) torque.Surface {
	if s := in.Choice(name); s != notKnown {
		return torque.Surface(s)
	}
	return torque.NotSaid
}

func surfaceOptions() (out []Option) {
	for _, s := range torque.Surfaces() {
		out = append(out, Option{string(s), s.Words()})
	}
	return append(out, Option{notKnown, "not said"})
}
