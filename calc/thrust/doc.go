// Package thrust computes which way the rear axle pushes the car, what that
// does to the front wheels and the steering wheel, and how square the axles
// stand.
//
// The thrust line halves the total toe of the rear wheels. The car drives along it,
// the front wheels settle to both sides of it, and front toe is set to it.
//
// # Method
//
// With the toe of each wheel to the centre line of the car, toe-in positive:
//
//	thrust, to the right    = (left rear toe − right rear toe) / 2
//	left front to thrust    = left front toe − thrust to the right
//	right front to thrust   = right front toe + thrust to the right
//	offset of the tracks    = wheelbase · tan(thrust)
//	steering wheel          = ratio · (left front to thrust − right front to thrust) / 2, to the left
//	set-back                = wheelbase on one side − wheelbase on the other
//	angle of the set-back   = atan(set-back / track)
//
// A left wheel toed in points right, so a thrust line that points right uses up
// toe-in of the left front wheel; the total of the front stays. When the car
// drives straight along a thrust line that points right, its nose is turned to the left
// of the way it goes: the front wheels run to the left of the rear wheels by the offset,
// and the steering wheel sits turned to the right.
//
// Why a steering wheel sits crooked: because of the thrust line, because the front
// toe is not shared evenly between left and right while the steering wheel is held
// straight, or both. The two add. How far it sits crooked follows only when the
// steering ratio is known: degrees at the steering wheel for one at the road wheels.
//
// Set-back shows between the two sides. Which of the axles stands askew, it does not
// say.
//
// # Sign
//
// Makers disagree: one takes thrust as positive to the right, another as
// positive to the left. So a Thrust here has no sign: it has a size and a side,
// and In gives it in a convention that is named. Toe-in is positive, mirrored from
// side to side. ISO 8855:2011 (7.1.6 for toe was read, 7.1.1 for steer angles is from memory)
// takes steer angles positive to the left, not mirrored: a left wheel steers minus
// its toe, a right wheel plus its toe, and the mean of the rear axle is the
// thrust positive to the left. The steering-wheel angle is positive for a turn to
// the left (7.1.8, read).
//
// # Range
//
// A thrust angle beyond 2°, measured or specified, is questioned: one manual prints a
// tolerance of 15° where 15 minutes are meant. The limit is common practice.
//
// # Sources
//
// Both conventions, the half difference with toe-in and toe-out mixed, the
// bisector and the offset of the tracks: workshop manuals of several makers,
// named beside the check values in testdata. The rest is geometry.
//
// # What is not in it
//
// The uncertainty is that of the toes and of the tape. Not covered: play and
// rubber that give way when driving, tyres that pull, a road that slopes, and a
// ratio that changes over the travel of the rack. A rear axle that steers when it
// springs has another thrust line at another height.
package thrust
