// Package camber computes the lean of a wheel from a level and a ruler, from the
// bubble of a level or from a digital gauge, and takes the slope of the floor
// and the run-out of the wheel out of it.
//
// # Method
//
// Level and ruler. A level stands plumb against the outer face of the wheel,
// touching the rim (never the bulge of the tyre) at one end. The gap is what a
// ruler, or a shim that fits, shows between the level and the rim at the other
// end. The span is the distance between the two places on the rim, measured, not
// taken from the wheel's size code: an 18 inch wheel is about 19.5 inches from
// lip to lip.
//
//	span along the rim:    |camber| = asin(gap / span)
//	span along the level:  |camber| = atan(gap / span)
//
// Bubble. Lay the level on something flat and put a shim under one end. The base
// is along the bench, from the shim to the end that stays down. Turned end for
// end on the same shim, the bubble must move the same way by as much, or the
// level is out.
//
//	one division = atan(shim / base) / divisions moved
//	|camber|     = divisions off the middle · one division
//
// Digital gauge. What its zero was must be said: true plumb, or the floor across
// the car under this axle. Such a gauge has no zero of its own, and loses what
// was set when it is switched off. Read one spot twice, turned end for end:
//
//	slope of the spot = (first − turned) / 2
//	gauge's offset    = (first + turned) / 2
//	|camber|          = reading − offset
//
// Floor. Slope = atan(drop / track), the drop measured from a level straightedge
// under one axle. With the right side low, the left wheel reads too negative and
// the right wheel too positive; with the left side low, the other way round.
//
//	right low:  left = reading + slope    right = reading − slope
//	left low:   left = reading − slope    right = reading + slope
//
// The mean of the two wheels is free of the slope, the difference has it twice.
// Without a straightedge: read the same wheel, turn the car round on the same
// marks, read again. The mean of both ways is the camber, half the difference is
// the slope.
//
// Run-out. Read, roll the car on by half a turn of the wheel, read again. The
// mean is the camber, half the difference is the run-out's share.
//
// The uncertainties of a reading, of the floor and of an offset add as the root
// of the sum of squares. Two readings by the same instrument are not taken as
// better than one.
//
// # Sign
//
// The person says where the gap is or where the top leans, and which side of the
// floor is low, never a sign. Gap at the top: the top leans in, towards the car:
// negative. Gap at the bottom: the top leans out: positive. This is the trade's
// sign, mirrored from side to side. Cross-camber is left minus right, a habit of
// the trade. Left and right are as seen from the driver's seat.
//
// ISO 8855 has the same sign for its camber angle, and a separate inclination
// angle about the vehicle's forward axis that is not mirrored: for that one,
// left wheel = minus camber, right wheel = plus camber. Its axes are x forward,
// y left, z up. Those of SAE J670e are x forward, y right, z down, and SAE J670
// of 2022 allows z up or down; a lean about the forward axis has the same sign
// in all of them.
//
// # Range
//
// Gap from 0 to below the span. A camber beyond 15° is questioned: no road car
// is set there, a mixed-up unit or a span in the wrong field is. A specification
// is questioned beyond 6°, or when its tolerance is wider than its value, as from
// a page that lost its degree and minute marks. A floor is questioned beyond 2°,
// a run-out beyond 2 mm across a 431.8 mm rim, the service limit of one maker.
//
// # Sources
//
// The geometry of the right triangle. The method of gap and span is that of a
// published guide, named beside the check values in testdata, the shim under the
// level and the straightedge across the floor those of articles on alignment at
// home, the reversal that of the manual of a digital level. The limits for a
// camber, a specification and a floor are choices of the project, no source.
//
// ISO 8855: the words for camber and the right-handed, upward axes were read in
// other texts; forward and left, and the clauses on camber and inclination, are
// from memory. Axes of SAE J670e: as stated in ASTM MONO10. Adding
// uncertainties: JCGM 100:2008, 5.1.2, from memory.
//
// # What is not in it
//
// How well the level was held plumb and how well it touched the rim, a rim that
// is bent elsewhere than a plain wobble, and the load in the car. The gap alone
// covers neither floor nor run-out: those are corrected afterwards, or stay in.
// A correction for the floor is for wheels that point straight ahead.
package camber
