// Package camber computes the lean of a wheel from a level and a ruler.
//
// # Method
//
// A level stands plumb against the outer face of the wheel, touching the rim
// (never the bulge of the tyre) at one end. The gap is what a ruler shows
// between the level and the rim at the other end. The span is the distance
// between the two places on the rim, measured, not taken from the wheel's size
// code: an 18 inch wheel is about 19.5 inches from lip to lip.
//
//	span along the rim:    |camber| = asin(gap / span)
//	span along the level:  |camber| = atan(gap / span)
//
// Source: the geometry of the right triangle. The method is that of a published
// guide, named beside the check values in testdata.
//
// # Sign
//
// The person says where the gap is, never a sign. Gap at the top: the top leans
// in, towards the car: negative. Gap at the bottom: the top leans out: positive.
// This is the trade's sign, mirrored from side to side. ISO 8855 has the same
// sign for its camber angle, and a separate inclination angle about the
// vehicle's forward axis that is not mirrored: for that one, left wheel = minus
// camber, right wheel = plus camber. The ISO statement is from memory; the
// clauses on camber and inclination were not read.
//
// # Range
//
// Gap from 0 to below the span. A result beyond 15° is questioned by Question:
// no road car is set there, a mixed-up unit or a span in the wrong field is.
//
// # What is not in it
//
// The uncertainty covers reading the gap and the span on a ruler. Not covered,
// and for the caller to correct or to state: the cross-slope of the floor
// (opposite for the two sides, up to half a degree on a driveway), the level's
// own error and how well it was held plumb, the run-out of the rim, and the
// load in the car.
package camber
