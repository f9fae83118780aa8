package lift

import "strutcard/calc/lang"

// Key names a notice, a fact or a conflict, for the record and the screen.
type Key string

// Provenance says how well a notice is founded.
type Provenance string

const (
	Read           Provenance = "READ"            // read in the source
	Statics        Provenance = "LIB"             // follows from the equations
	CommonPractice Provenance = "COMMON-PRACTICE" // habit of the trade, no authority
)

// Notice is something to say in a sentence or two, with where it comes from.
type Notice struct {
	Key        Key
	Text       string
	Source     string
	Provenance Provenance
}

const (
	KeyJackOnly   Key = "jack_only"
	KeyAtOnce     Key = "at_once"
	KeyJackRated  Key = "jack_rated"
	KeyPairs      Key = "pairs"
	KeyLevel      Key = "level"
	KeyBrakeAlone Key = "brake_alone"
	KeyInspect    Key = "inspect"
	KeyMakeshift  Key = "makeshift"
	KeyPull       Key = "pull"
	KeySamePoints Key = "same_points"
	KeyArms       Key = "arms"
	KeyShake      Key = "shake"
	KeyTold       Key = "told"

	KeyAsphalt       Key = "asphalt"
	KeySoft          Key = "soft"
	KeySlope         Key = "slope"
	KeySide          Key = "side"
	KeyHeavyPart     Key = "heavy_part"
	KeyBrakeReleased Key = "brake_released"
	KeySplit         Key = "split"
	KeyPapers        Key = "papers"
	KeyCentreHeight  Key = "centre_height"
	KeyAllUp         Key = "all_up"
	KeyStands        Key = "stands"
	KeyJack          Key = "jack"
	KeyTip           Key = "tip"
	KeyOnlyChocks    Key = "only_chocks"
)

// InspectYears is how often stands are inspected at the least.
const InspectYears = 1

// always holds for every lift.
func always() []Notice {
	return []Notice{
		{KeyJackOnly, lang.T("No part of your body goes under a car held only by a jack."), lang.T("scope of EN 1494:2000+A1:2008; regulator's warning text for jacks; WAC 296-307-22509(3)"), Read},
		{KeyAtOnce, lang.T("Set the stands at once when the car is high enough, before anything else is done."), lang.T("WAC 296-307-22509(3)"), Read},
		{KeyJackRated, lang.T("The jack stands on a firm base, and what it is marked for is never exceeded."), lang.T("29 CFR 1926.305(a)(1), (c)"), Read},
		{KeyPairs, lang.T("Stands are used in pairs, on hard and level ground."), lang.T("ACCC Product Safety, vehicle support stands"), Read},
		{KeyLevel, lang.T("No lifting on sloping ground."), lang.T("HSE, Working under vehicles; ACCC tips"), Read},
		{KeyBrakeAlone, lang.T("The parking brake, a gear or P is never relied on alone. Chock the wheels that stay on the ground."), lang.T("workshop manual of a maker, safety precautions for lifting and jacking; HSE, Working under vehicles"), Read},
		{KeyInspect, lang.T("Stands are in good condition and were inspected within a year."), lang.T("HSE INDG434, key precautions"), Read},
		{KeyMakeshift, lang.T("Only the stand's own pins; no bricks, no timber, no blocks in place of a stand."), lang.T("HSE; ACCC"), Read},
		{KeyPull, lang.T("Pulling hard on a wrench rocks a raised car. Break tight bolts loose, and finish them, with the wheels on the ground where that is possible."), lang.T("account of an accident by an owner"), Read},
		{KeySamePoints, lang.T("Lower on the same points that were used to raise. Try a new point with the stands still in place. Raise and lower by small steps, with nobody under the car."), lang.T("accounts of accidents by owners"), Read},
		{KeyArms, lang.T("No stand under a suspension arm unless the vehicle's manual says so. Stop jacking an arm when the body begins to leave its stand."), lang.T("owners' accounts"), CommonPractice},
		{KeyShake, lang.T("Before going near, push the car from the side: every stand must carry and none may rock. Leave the jack touching as a second support."), lang.T("habit of the trade"), CommonPractice},
		{KeyTold, lang.T("Tell somebody where you are and when you will be done."), lang.T("fatal accidents of people alone on a private drive; the advice itself has no source"), CommonPractice},
	}
}

const custom = "common practice, no source"

// Conflict is a matter on which sources disagree.
type Conflict struct {
	Key      Key
	Matter   string
	Sayings  []Saying
	Decision string
}

// Saying is what one side says.
type Saying struct{ Says, Source string }

const (
	ConflictBrake  Key = "brake_while_raising"
	ConflictRating Key = "rating_for"
	ConflictChocks Key = "chocked_wheels"
)

func brakeConflict() Conflict {
	return Conflict{ConflictBrake, lang.T("The parking brake while the jack raises the car"), []Saying{
		{lang.T("On before raising, with the wheels on the ground chocked."), lang.T("ACCC tips; HSE, Working under vehicles")},
		{lang.T("Off while a trolley jack raises, so that the car or the jack can roll and the saddle stays under its point."), lang.T(custom)},
	}, lang.T("The vehicle's manual decides. Chocks stay in either way, and a jack that cannot roll pushes its saddle off the point.")}
}

func ratingConflict() Conflict {
	return Conflict{ConflictRating, lang.T("Whether the rating of a stand is for one or for a pair"), []Saying{
		{lang.T("For one stand."), lang.T("Consumer Goods (Vehicle Support Stands) Safety Standard 2017, Australia")},
		{lang.T("For the pair."), lang.T("several trade pages")},
	}, lang.T("The marking on the stand or its maker decides. Until then half of the number counts.")}
}

func chockConflict() Conflict {
	return Conflict{ConflictChocks, lang.T("Which wheel to chock for a single corner"), []Saying{
		{lang.T("The wheel diagonally opposite, on both faces."), lang.T("owner manual of a maker, changing a wheel")},
		{lang.T("The wheels that stay on the ground."), lang.T("HSE, Working under vehicles")},
	}, lang.T("Both are met by chocking every wheel on the ground, the diagonal one first.")}
}
