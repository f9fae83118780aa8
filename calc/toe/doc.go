// Package toe computes how much the two wheels of an axle point inwards or
// outwards, from a tape, from strings or from a printout, and how far to turn
// the track rods to change it.
//
// Total toe is for the axle: the toe of the left wheel plus that of the right.
// Both stand beside each other in every result, since half of the disputes
// about toe are about which of the two a number was. When only the total was
// measured, the figure for one wheel is half of it, and the result says so.
//
// # Method
//
// Across the car, at the front and at the rear of the wheels, at the height of
// the wheel centres:
//
//	total toe = asin((rear − front) / diameter)
//
// The diameter is the distance along one wheel between the place measured at the
// front and the place at the rear, measured, not taken from the size code. It
// is not π·diameter/360 per degree: that common recipe takes the difference for
// that of a radius, and gives twice the angle. The exact sum over two equal wheels,
// 2·asin(difference/2/diameter), differs by less than 0.02 % up to 2°.
//
// Same marks: mark both tyres behind, measure, roll forward half a turn of the
// wheel, measure the same two marks in front. What the rim wobbles stays with
// the mark and cancels. Two places on a standing wheel do not cancel it: a
// run-out R (from the lowest to the highest reading of a dial over one turn)
// adds up to asin(R/diameter) to one wheel, with R/√2 as its standard
// uncertainty, because the rim may stand at any point of a sine. The mean of two
// readings half a turn apart cancels it too; half their difference is the share
// of the run-out.
//
// From a string beside the wheel, each wheel on its own:
//
//	string outside:  toe = asin((front gap − rear gap) / diameter) + lean
//	string inside:   toe = asin((rear gap − front gap) / diameter) + lean
//
// Lean is the toe of the string itself: how far it closes in on the centre line
// of the car towards the front. From the gaps between string and hub centre, and
// the spacing of the two strings at two places that stand apart along the car:
//
//	spread = (front spacing − rear spacing) / (2·apart)
//	turn   = ((left − right) at front hubs − (left − right) at rear hubs) / (2·wheelbase)
//	outside:  lean left = −atan(turn + spread)   lean right = atan(turn − spread)
//	inside:   the turn has the other sign
//
// Equal gaps left and right at each axle and equal spacing are parallel strings,
// whatever the track of either axle. The lean is taken off, so the strings need
// not be perfect. The centre line runs midway between the hubs.
//
// Track rods, with the arm measured square from the steering axis to the line of the
// rod; a sleeve with opposite threads counts its pitch twice:
//
//	change of toe = atan(turns · pitch / arm)
//
// A longer rod that is joined behind the wheel centre pushes the rear of the
// wheel out: toe-in. One joined ahead gives toe-out. Equal and opposite changes of length
// turn both wheels the same way and leave the total: they put a crooked steering
// wheel straight. With rods of the same hand of thread that means turning both the same way
// round, seen from one side of the car. Changing the total is the other way about.
//
// # Sign
//
// A person types a positive number and says In or Out, never a sign. In results
// toe-in is positive, for either wheel, mirrored from side to side, as in ISO
// 8855:2011, 7.1.6. Go by front and rear, never by the letters of a drawing:
// they swap between manuals. A change of toe is positive for more toe-in.
//
// # Range
//
// Differences below the diameter. A total beyond 2°, or one wheel alone, is questioned, a
// specification beyond 15° is refused: minutes that lost their mark look like
// that. The limits are common practice, no source.
//
// # Sources
//
// Total as a sum over both wheels, the sine and the diameters: workshop manuals
// of several makers, named beside the check values in testdata. The same marks method:
// front toe-in inspection in a workshop manual. Strings: published guides, the
// correction for the lean is geometry. Wheel standing at any point of a sine: JCGM
// 100:2008, 4.3, from memory. Rods: geometry; which way to turn and the limit of
// the difference of length: a workshop manual and an owners' forum. Outside
// diameters within 3 % of the implied one count as the same: common practice.
//
// # What is not in it
//
// The uncertainty covers what the instruments can be read to. Not covered: play
// in joints and bearings, a tape that sags, a floor that is not level, tyres
// scrubbing after the jack (roll the car), load and height, a camber that puts
// the measuring places elsewhere, hub faces that do not stand equally far out left and
// right, a rod that is not square to its arm, and the last bit of turning when the
// lock nut is tightened. Measure again after every change.
package toe
