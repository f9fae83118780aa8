// Package tilt uses a phone as an inclinometer: it measures camber with a long
// edge of the phone on the rim, and slopes with the phone lying on the ground.
//
// # Method
//
// At rest the phone's sensor shows gravity alone, in three components: x to the
// right long edge, y to the top end, z out of the screen. The rise of a side is
// the angle by which the direction out of that side points above the
// horizontal, which is also the angle of that side's face to the plumb line.
// With the means t along the side, v along what is up and c across:
//
//	rise = atan2(t, √(v² + c²))
//
// Browsers do not agree on the sign of gravity. The W3C specification has
// z = +9.8 m/s² with the screen up; some phones give −9.8. The sign is named
// with each recording. DetectConvention finds it: lay the phone on its back.
//
// Nothing is dropped from a recording. One that shook, jumped, crept, fell, has
// a gap, or does not show gravity is refused, with what to do.
//
// Every phone has an offset: its sensor is not true, nor square to its edges.
// Two placements on the same place, the second after half a turn about the plumb
// line, tell the offset from the lean of the surface:
//
//	offset  = (first + second) / 2
//	surface = (first − second) / 2
//
// For camber, do it upright on a door frame or a wall: the right long edge on
// it, then the left one. For slopes, on its back: the top end to a mark, then
// away from it. A calibration is for one phone, with or without its case, in one
// posture, for a day.
//
// Camber: the phone upright beside the wheel, a long edge on the rim at the top
// and at the bottom (never on the bulge of the tyre) or on a straight edge across
// the rim, the screen looking along the car.
//
//	camber = rise of the edge that is on the wheel
//
// Which wheel, which edge and where the screen looks leave one end of the phone
// that can be up; gravity must agree. The person also says which way the top of
// the wheel leans, and a result that contradicts this is refused.
//
// # Sign
//
// The person says sides and directions in words, never a sign. A rise is
// positive when the direction points up. A slope is positive when the ground
// climbs towards the side named. Camber is the trade's: the top leaning out is
// positive, in is negative, mirrored from side to side. ISO 8855 has the same
// sign for camber, and a separate inclination angle about the vehicle's forward
// axis that is not mirrored: left wheel = minus camber, right wheel = plus
// camber (from memory).
//
// # Range
//
// A rise up to 45°. At least 50 samples over one second, no gap beyond 250 ms.
// At rest means: no component spreads by more than 0.15 m/s², no sample is off
// by more than 0.6 m/s², no creep beyond 0.15 m/s², and the mean is within
// 0.6 m/s² of gravity. These limits are common practice, no source.
//
// Accuracy at 95 %, for small angles:
//
//	not calibrated:                       about ±3.5°
//	calibrated, in steps of 0.1 m/s²:     about ±0.7°
//	calibrated, in steps of 0.01 m/s²:    about ±0.5°
//
// So a phone that is not calibrated cannot say whether a narrow target is met,
// and the result is too close to tell. The parts, as standard uncertainties:
//
//	scatter  the samples and their step; neighbouring samples are alike, so
//	         blocks of them are compared, and the step is never averaged away:
//	         step/√12 is 0.17° for a step of 0.1 m/s²
//	offset   3°/√3 when not calibrated; else that of the calibration, and 0.2°
//	         for what it drifts in a day, as the phone warms up
//	turn     the phone aimed askew by 3°, times the lean across (the one shown,
//	         and one that its offset may hide)
//	seat     0.1° for how the edge lies on the surface
//	gain     3 % of the angle
//
// All of these sizes but the scatter are common practice, no source.
//
// # Sources
//
// W3C DeviceOrientation Event Specification, editor's draft: the axes, the sign,
// the example values (read); that values are given no finer than 0.1 m/s² (read
// in the working group's changes to it). One of the browsers' own tests expects
// the opposite sign (read). The opposite sign on some phones: public reports
// (read). ±50 mg of offset, which is ±2.9°: the manual of a sensor box (read).
// Half of the sum and of the difference: user manual of a digital level. Block
// means for samples that hang together: Flyvbjerg and Petersen, 1989 (from
// memory). The rest is the geometry of rotations, checked against gonum.
//
// # What is not in it
//
// The floor: camber is measured to the plumb line, and a cross-slope adds to one
// side and takes from the other. Measure on level ground or correct for it. Nor
// the run-out of the rim, the load in the car, and edges of the phone that are
// not parallel, as with buttons, a bulging case or a camera.
//
// Gravity cannot show whether the phone was turned between two placements on a
// level surface; QuestionFlip asks. Nor can it show an edge aimed past the axis
// of the wheel by more than the few degrees counted above.
//
// The recordings in testdata are synthetic. The specification was read, but no
// phone was measured. Tablets and computers, whose axes follow a screen that is
// wide in its usual position, were not considered.
//
// Safety never rests on a phone alone: whether ground is level enough to lift a
// car is also a matter of a level, of chocks, and of looking.
package tilt
