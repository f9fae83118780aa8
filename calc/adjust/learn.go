package adjust

import (
	"strings"

	"strutcard/calc/measure"
	"strutcard/calc/quantity"
)

// FormulaLearn names the calculation of Learn, State and Next in the record.
const FormulaLearn = "adjust-learn/1"

// Place is one corner of one car, in the caller's own words or numbers.
type Place struct{ Car, Corner string }

// Stage is how tight the bolts of the adjuster were at a reading.
type Stage string

const (
	Snug        Stage = "snug"         // only nipped, before the final torque
	FinalTorque Stage = "final_torque" // as the car will be driven
)

// Read is what was read.
type Read string

const (
	Camber Read = "camber"
	Caster Read = "caster"
	Toe    Read = "toe"
	Height Read = "height"
)

// Effect is what moving the adjuster up its scale is expected to do.
type Effect string

const (
	Raises  Effect = "raises"  // the reading grows: more positive
	Lowers  Effect = "lowers"  // the reading shrinks: more negative
	Unknown Effect = "unknown" // nobody knows; the sign is then not checked
)

// Adjuster is one adjuster. A setting M is where it stands, counted from any
// fixed mark: a length on a ruler, or turns, graduations or slot positions. Say
// once which way counts up, and keep to it.
type Adjuster[M measure.Quantity] struct {
	Place  Place
	Of     Read
	Effect Effect
	// Resolution is how finely a setting is read or counted.
	Resolution M
	// Step is the finest move worth advising: an eighth of a turn, half a
	// millimetre, a whole graduation.
	Step M
	// Low and High are the settings where it ends. Both zero: not known.
	Low, High M
}

// Trial is a reading at a setting.
type Trial[M, R measure.Quantity] struct {
	Setting M
	Reading measure.Value[R]
	Place   Place
	Stage   Stage
}

// Learned is what a move of this adjuster does at this corner. The slope of
// Line is the effect per unit of setting.
type Learned[M, R measure.Quantity] struct {
	Line     measure.Line[M, R]
	Adjuster Adjuster[M]
	Last     Trial[M, R] // where the adjuster stands now
	From, To M           // the settings that were tried, or Last alone
	Source   string      // of a stated effect; empty when learned here
	Cautions []Caution
}

// Learn fits the effect of the adjuster from trials at one corner, the last one
// being where it stands now. It fails when they are of different corners or
// stages, when the moves are too small to tell, and when the reading went the
// other way than expected. Scatter that hides the effect only gives a Caution.
func Learn[M, R measure.Quantity](a Adjuster[M], trials []Trial[M, R]) (Learned[M, R], error) {
	if err := a.check(); err != nil {
		return Learned[M, R]{}, err
	}
	if len(trials) == 0 {
		return Learned[M, R]{}, quantity.Inputf("Read once, move the adjuster by one step, and read again.", "There is no reading yet.")
	}
	marks := []mark{{a.Place, trials[0].Stage}}
	last := trials[len(trials)-1]
	out := Learned[M, R]{Adjuster: a, Last: last, From: last.Setting, To: last.Setting}
	var pairs []measure.Pair[M, R]
	for _, t := range trials {
		marks = append(marks, mark{t.Place, t.Stage})
		x := measure.Value[M]{Value: t.Setting, Standard: measure.Resolution(a.Resolution)}
		pairs = append(pairs, measure.Pair[M, R]{X: x, Y: t.Reading})
		out.From, out.To = min(out.From, t.Setting), max(out.To, t.Setting)
	}
	if err := sameMarks(marks); err != nil {
		return Learned[M, R]{}, err
	}
	line, err := measure.Fit(pairs)
	if err != nil {
		return Learned[M, R]{}, err
	}
	if !line.Readable() {
		return Learned[M, R]{}, quantity.Inputf("Move the adjuster further and read again, or read with a finer gauge.", "The readings changed by no more than their uncertainty, so the moves were too small to tell what the adjuster does.")
	}
	if a.Effect == Raises && line.Slope < 0 || a.Effect == Lowers && line.Slope > 0 {
		return Learned[M, R]{}, quantity.Inputf("Check which way counts up, whether two readings were swapped, and the signs.", "The reading went the other way than this adjuster should bring it.")
	}
	out.Line = line
	out.Cautions = fitCautions(line.Pairs, line.Scatter > measure.Coverage, line.Significant())
	return out, nil
}

func fitCautions(pairs int, scattered, significant bool) []Caution {
	var out []Caution
	if pairs == 2 {
		out = append(out, TwoReadings)
	}
	if scattered {
		out = append(out, OffLine)
	}
	if !significant {
		out = append(out, Unsettled)
	}
	return out
}

// Stated is an effect that a source gives for this car: By for a move up of Per.
type Stated[M, R measure.Quantity] struct {
	By     R // a size; the adjuster's Effect says which way
	Per    M
	Digit  R      // the last digit the source gives, such as 1′
	Source string // such as the page of the manual
	Car    string // the car that the source is for
}

// State takes the effect from a source and one reading of where the adjuster
// stands now. One graduation is something else on another car, so it fails
// without a source, and when the source is for another car than the adjuster's.
func State[M, R measure.Quantity](a Adjuster[M], s Stated[M, R], now Trial[M, R]) (Learned[M, R], error) {
	if err := first(a.check(), sameMarks([]mark{{a.Place, now.Stage}, {now.Place, now.Stage}}), checkReading(now.Reading), checkStated(a, s)); err != nil {
		return Learned[M, R]{}, err
	}
	if !quantity.Finite(now.Setting) {
		return Learned[M, R]{}, noSetting()
	}
	per := measure.Sensitivity(float64(s.By) / float64(s.Per))
	u := measure.Sensitivity(float64(measure.Resolution(s.Digit)) / float64(s.Per))
	if a.Effect == Lowers {
		per = -per
	}
	// The setting is read twice: here for now, and in Next for the new one.
	level := now.Reading
	level.Standard = measure.Combine(now.Reading.Standard, measure.Contribution[R](per, measure.Resolution(a.Resolution)))
	line := measure.Line[M, R]{Slope: per, SlopeStandard: u, Predicted: u, Centre: now.Setting, Level: level, Pairs: 1}
	return Learned[M, R]{Line: line, Adjuster: a, Last: now, From: now.Setting, To: now.Setting, Source: s.Source, Cautions: []Caution{FromPaper}}, nil
}

func checkStated[M, R measure.Quantity](a Adjuster[M], s Stated[M, R]) error {
	switch {
	case strings.TrimSpace(s.Source) == "":
		return quantity.Inputf("Name the page, or move one step and read what it does.", "It is not said where the effect of a step comes from.")
	case s.Car != a.Place.Car:
		return quantity.Inputf("Look it up for this car, or move one step and read what it does.", "The effect of a step is from another car, where a step may be something else.")
	case a.Effect == Unknown:
		return quantity.Inputf("Say whether moving up the scale makes the reading grow or shrink.", "The source gives a size, and it is not said which way it goes.")
	case !quantity.Finite(s.By) || !quantity.Finite(s.Per) || s.By <= 0 || s.Per <= 0:
		return quantity.Inputf("Enter both as sizes, such as 15′ for 1 graduation.", "The stated effect or the move it belongs to is missing or not above zero.")
	case !quantity.Finite(s.Digit) || s.Digit <= 0 || s.Digit > s.By:
		return quantity.Inputf("Enter how finely the source gives it, such as 1′.", "The last digit of the stated effect is missing, or larger than the effect.")
	}
	return nil
}

func noSetting() error {
	return quantity.Inputf("Enter where the adjuster stands.", "The present setting is not a number.")
}

func (a Adjuster[M]) check() error {
	switch {
	case a.Place.Car == "" || a.Place.Corner == "":
		return quantity.Inputf("Choose the car and the corner.", "It is not said which corner of which car this is.")
	case a.Of != Camber && a.Of != Caster && a.Of != Toe && a.Of != Height:
		return quantity.Inputf("Choose camber, caster, toe or height.", "It is not said what was read.")
	case a.Effect != Raises && a.Effect != Lowers && a.Effect != Unknown:
		return quantity.Inputf("Choose raises, lowers or not known.", "It is not said what moving the adjuster up its scale should do.")
	case !quantity.Finite(a.Resolution) || a.Resolution <= 0:
		return quantity.Inputf("Enter it, such as 0.5 mm, or 1 for whole graduations.", "It is missing how finely a setting can be read.")
	case !quantity.Finite(a.Step) || a.Step <= 0:
		return quantity.Inputf("Enter it, such as an eighth of a turn or 0.5 mm.", "The finest move worth making is missing or not above zero.")
	case !quantity.Finite(a.Low) || !quantity.Finite(a.High) || a.Low > a.High || a.Low == a.High && a.Low != 0:
		return quantity.Inputf("Enter the settings at both ends, the lower one first, or neither.", "The ends of the adjuster are missing or the wrong way round.")
	}
	return nil
}

// mark is what all readings of a fit must have in common.
type mark struct {
	place Place
	stage Stage
}

func sameMarks(marks []mark) error {
	for _, m := range marks {
		switch {
		case m.place.Car == "" || m.place.Corner == "":
			return quantity.Inputf("Choose the car and the corner.", "It is not said at which corner of which car a reading was taken.")
		case m.place != marks[0].place:
			return quantity.Inputf("Use only readings of this corner: the effect of a step is not carried over.", "The readings are from more than one corner or car.")
		case m.stage != Snug && m.stage != FinalTorque:
			return quantity.Inputf("Choose before or after the final torque.", "It is not said how tight the bolts were at a reading.")
		case m.stage != marks[0].stage:
			return quantity.Inputf("Use the readings of one stage only.", "Some readings were taken before the final torque and some after, and tightening moves them.")
		}
	}
	return nil
}
