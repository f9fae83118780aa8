// Package adjust says how far to move an adjuster to get from a reading to a
// target: from the geometry when it is known, or from what earlier moves did at
// this very corner.
//
// # Method
//
// Learned here. Read, move the adjuster by a step, read again. The effect of a
// step is the slope of the straight line through settings and readings, fitted
// by weighted least squares; with two readings
//
//	effect = (reading₂ − reading₁)/(setting₂ − setting₁)
//	uncertainty = √(u₁² + u₂²)/|setting₂ − setting₁|
//
// and with three or more the larger of that and of what the scatter about the
// line shows, widened by Student's factor for few points (see package measure).
// Three readings leave one degree of freedom, so the widening is large; a fourth
// helps a lot. The next move goes to where the line meets the target, in whole
// steps of the adjuster, and never in steps finer than the gauge can show. The
// expected reading comes with its uncertainty.
//
// Stated by a source. One graduation is 15′ on one car and 3′ on another, so the
// effect is only taken with its source, and only for the same car.
//
// Top of a strut, upper or lower arm. One joint of the steering axis moves level,
// the other is the pivot:
//
//	change = atan((offset + move)/height) − atan(offset/height)
//
// in the view from the front for camber (the steering axis' inclination changes
// by as much, the other way), in the view from the side for caster.
//
// Slotted foot of a strut. The knuckle swings in the two-bolt clevis, the other
// bolt is the pivot, and the steering axis stays where it is:
//
//	in the clevis = atan(move/spacing)     at the wheel = that · a/(a + b)
//
// a from the pivot bolt to the top mount, b to the lower ball joint. The second
// is smaller because the strut leans the other way while the knuckle swings: by
// a fifth to a third on common struts. A millimetre does about ten times what it
// does at the top.
//
// Eccentric. The push is throw · sin of the angle from neutral, so equal
// graduations do not do equal amounts, and past a quarter turn it comes back. To
// learn from an eccentric whose neutral is known, take Eccentric.Push from
// neutral as the setting, and Eccentric.To for the way back.
//
// Shims. Two pivots moved in or out move the ball joint of the arm, and that is
// the move of an arm above.
//
// Spring collar. rise at the arch = turns · travel per turn / (spring movement
// per wheel movement), or learned in millimetres of height per turn.
//
// Toe. The tie rod holds its end of the knuckle, so changing camber steers the
// wheel: by the height of that joint over the pivot, divided by its distance
// behind the steering axis, or as learned from camber and toe read together.
//
// # Sign
//
// The person says in or out, forward or rearward, upper or lower, never a sign;
// only a collar's turns are above zero when it goes up. Camber is negative when the top leans in,
// caster positive when the top of the steering axis lies rearward, inclination
// positive when its top lies inward, toe positive for toe-in, of one wheel. All
// of them are mirrored: the same words and signs on the left and on the right.
// ISO 8855 has the same signs for camber and toe; its inclination and steer
// angles about the car's own axes are not mirrored (from memory).
//
// The setting of a learned adjuster counts up whichever way the person chose;
// raises or lowers says what that should do, with more negative as lower.
//
// # Range
//
// A change beyond 15° is refused as mistyped. Learning refuses readings of
// different corners, of before and after the final torque mixed, at one setting
// only, differing by no more than their uncertainty, or going the other way than
// they should. A target beyond the end of the adjuster gives the move to the end
// and says so, and a move ending further outside the tried settings than these
// are apart is called far. These limits are common practice, no source.
//
// # Sources
//
// Right triangles and rigid bodies, checked against rotations by gonum. Least
// squares: JCGM 100:2008 (the GUM) and textbooks, from memory, checked against
// gonum. 3′ for a graduation: workshop manual of a maker, camber and caster of
// one model. That camber moves while the bolts are tightened (aimed −1.5°, ended
// −1.6°) and is to be read after: owners' reports and a how-to on camber bolts.
//
// # What is not in it
//
// Play, friction and rubber, which only a reading shows; the change of height or
// of the other corners that a collar causes; the bending of the line far from
// the tried settings. The geometry leaves the wheel where it stands and the
// springs as they are; it is a first move, the reading after the final torque is
// what counts. A clevis move without a and b is the most it can be.
package adjust
