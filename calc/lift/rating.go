package lift

import (
	"strutcard/calc/lang"
	"strutcard/calc/quantity"
)

// CommonMargin is how many times the load a stand is to be rated for. Common
// practice, no source; published stand tests load the stand further than that.
const CommonMargin quantity.Ratio = 1.5

// RatingUnit is a unit that stands and jacks are marked in.
type RatingUnit string

const (
	Kilograms RatingUnit = "kg"
	Pounds    RatingUnit = "lb"
	ShortTons RatingUnit = "short_ton" // US, 2000 lb
	Tonnes    RatingUnit = "tonne"     // metric, 1000 kg
	Tons      RatingUnit = "ton"       // the marking says ton and no more: any of three
)

// For says what a marked rating is for. It must be said.
type For string

const (
	PerStand  For = "per_stand"
	PerPair   For = "per_pair"
	NotMarked For = "not_marked" // the person looked, and the stand does not say
)

// Rated is a number on a jack or a stand with its unit.
type Rated struct {
	Figure quantity.Turns // the number itself
	Unit   RatingUnit
}

// Marking is what is marked on a stand.
type Marking struct {
	Rated
	For For
}

// Mass is what the marking can mean: a range for a ton that is not said to be
// short (907 kg), metric or long (1016 kg).
func (r Rated) Mass() (Range[quantity.Mass], error) {
	s, err := r.span()
	if err != nil {
		return Range[quantity.Mass]{}, err
	}
	return rangeOf[quantity.Mass](s), nil
}

func (r Rated) span() (span, error) {
	if !quantity.Finite(r.Figure) || r.Figure <= 0 {
		return span{}, quantity.Inputf("Read the rating on the plate or the label.", "The rating is missing or not above zero.")
	}
	n := r.Figure.Count()
	var s span
	switch r.Unit {
	case Kilograms:
		s = exactly(n)
	case Pounds:
		s = exactly(float64(quantity.Pounds(n)))
	case ShortTons:
		s = exactly(float64(quantity.ShortTons(n)))
	case Tonnes:
		s = exactly(1000 * n)
	case Tons:
		s = span{float64(quantity.ShortTons(n)), float64(quantity.Pounds(2240 * n))}
	case "":
		return span{}, quantity.Inputf("Say whether it is in kg, lb, short tons or tonnes, or only says ton.", "The rating has no unit.")
	default:
		return span{}, one(lang.T("the unit of the rating"), r.Unit, Kilograms)
	}
	return s, nil
}

// PerStand is what one stand is rated for. A marking that does not say pair or
// stand means either: half the number up to all of it. It fails while nobody
// has looked.
func (m Marking) PerStand() (Range[quantity.Mass], error) {
	s, err := m.span()
	if err != nil {
		return Range[quantity.Mass]{}, err
	}
	if m.For == "" {
		return Range[quantity.Mass]{}, quantity.Inputf("Look whether the marking is for one stand or for the pair, and say so when it does not tell.", "It is not said whether the rating is for one stand or for a pair.")
	}
	return rangeOf[quantity.Mass](s), nil
}

// span leaves an unsaid For as open as NotMarked.
func (m Marking) span() (span, error) {
	s, err := m.Rated.span()
	if err != nil {
		return span{}, err
	}
	if err := one(lang.T("what the rating is for"), m.For, PerStand, PerPair, NotMarked); err != nil {
		return span{}, err
	}
	if m.For != PerStand {
		s.lo /= 2
	}
	if m.For == PerPair {
		s.hi /= 2
	}
	if !s.within(possibleRating) {
		return span{}, quantity.Inputf("Check the number and its unit on the stand.", "A rating of %s per stand is not that of a car's axle stand.", quantity.Mass(s.lo))
	}
	return s, nil
}

// Fit is how a rating stands to a load with its margin.
type Fit string

const (
	Enough     Fit = "enough"     // the least it can be rated for covers the most the load can be
	NotEnough  Fit = "not_enough" // the most it can be rated for is below the least the load can be
	NotTelling Fit = "cannot_tell"
)

// Words is the verdict as people read it. Only Enough is a go.
func (f Fit) Words() string {
	return map[Fit]string{Enough: lang.T("enough"), NotEnough: lang.T("not enough"), NotTelling: lang.T("cannot tell: do not use it until it is known")}[f]
}

// Required is the rating to ask for: the most the load can be, times the margin.
func Required(load Range[quantity.Mass], margin quantity.Ratio) (quantity.Mass, error) {
	if err := checkMargin(margin); err != nil {
		return 0, err
	}
	if err := checkLoad(load); err != nil {
		return 0, err
	}
	return quantity.Mass(margin) * load.High, nil
}

// Compare holds a rating against a load with its margin.
func Compare(rated, load Range[quantity.Mass], margin quantity.Ratio) (Fit, error) {
	if err := checkMargin(margin); err != nil {
		return NotTelling, err
	}
	if err := checkLoad(load); err != nil {
		return NotTelling, err
	}
	if err := checkLoad(rated); err != nil {
		return NotTelling, err
	}
	switch m := quantity.Mass(margin); {
	case rated.Low >= m*load.High:
		return Enough, nil
	case rated.High < m*load.Low:
		return NotEnough, nil
	}
	return NotTelling, nil
}

func checkMargin(margin quantity.Ratio) error {
	if !quantity.Finite(margin) || margin < 1 || margin > 10 {
		return quantity.Inputf("Use 1.5 as common practice, or more.", "The margin is missing, below 1 or beyond 10.")
	}
	return nil
}

func checkLoad(r Range[quantity.Mass]) error {
	if !quantity.Finite(r.Low) || !quantity.Finite(r.High) || r.Low < 0 || r.High < r.Low || r.High == 0 {
		return quantity.Inputf("Work out the load and read the rating first.", "A load or a rating is missing, below zero or upside down.")
	}
	return nil
}

// Scope of the Australian mandatory standard for vehicle support stands: what
// one stand may be nominated for (2017 standard, AS 2538:2016; read).
const (
	ScopeLow  quantity.Mass = 750
	ScopeHigh quantity.Mass = 1500
)

// QuestionStand is a sentence to put to the person about a stand's rating, or
// "" when there is nothing to ask. Ranges and standards differ by country.
func QuestionStand(perStand Range[quantity.Mass]) string {
	switch {
	case checkLoad(perStand) != nil:
		return lang.T("The rating of the stand is not known. Read it on the stand itself, not on the box.")
	case perStand.High < ScopeLow:
		return lang.F("A stand rated for %s is lighter than any that the Australian standard covers. Is the marking for one stand, and the unit right?", perStand.High.String())
	case perStand.High > 4*ScopeHigh:
		return lang.F("A stand rated for %s is made for lorries. Is the unit right, and does its lowest height fit under the car?", perStand.High.String())
	case perStand.Low < perStand.High:
		return lang.F("The marking leaves open what one stand is rated for: %s to %s. The lower one counts until its maker says otherwise.", perStand.Low.String(), perStand.High.String())
	}
	return ""
}

// MadeStandTest is the load that a shop-made support is tested with before use:
// 125 % of what it is to carry (US compliance guide for container stands,
// read). It says nothing about a bought one, and makes no home-made one safe.
func MadeStandTest(carries quantity.Mass) (quantity.Mass, error) {
	if !quantity.Finite(carries) || carries <= 0 {
		return 0, quantity.Inputf("Enter the load that the support is to carry.", "The load is missing or not above zero.")
	}
	return 1.25 * carries, nil
}

// CarJackRating is the least that a jack that comes with a car is rated for:
// half the car's gross mass (ASME PALD-2009, 5-2.2(a), read).
func CarJackRating(gross quantity.Mass) (quantity.Mass, error) {
	if !quantity.Finite(gross) || !exactly(float64(gross)).within(possibleMass) {
		return 0, quantity.Inputf("Read the gross mass on the car's plate.", "The gross mass is missing or not that of a road car.")
	}
	return gross / 2, nil
}

// A trolley jack may sink by this much under its load (AS 2615:2016, 6.4, read)
// without a fault: 5 mm and 5 % of its lift within half an hour.
const (
	JackSinks        quantity.Length = 0.005
	JackSinksShare   quantity.Ratio  = 0.05
	JackSinksMinutes quantity.Turns  = 30
)

// QuestionJack asks about a jack that sank under its load, or gives "".
func QuestionJack(lifted, sank quantity.Length, minutes quantity.Turns) string {
	switch {
	case !quantity.Finite(sank) || !quantity.Finite(lifted) || !quantity.Finite(minutes) || sank < 0 || lifted <= 0 || minutes < 0:
		return lang.T("The height of the jack is not known. Measure it again, from beside the car.")
	case sank > JackSinks || float64(sank) > float64(JackSinksShare)*float64(lifted):
		return lang.F("The jack sank by %s, which is more than a sound one may lose in half an hour. Put the car on its stands or down, and do not use this jack.", sank.String())
	case minutes > JackSinksMinutes:
		return lang.T("The car has been on the jack for more than half an hour. A jack lifts and does not hold: use stands.")
	}
	return ""
}
