// Package ride keeps the heights of a car: where it stands, what a turn of a
// collar did to it, how far the suspension can still move, and what a change of
// height does to the headlamps.
//
// # Method
//
// Heights are taken from the middle of the hub straight up to the edge of the
// wheel arch, the car rolled and bounced first, tyres equal in size and
// pressure.
//
//	front mean = (front left + front right) / 2, rear mean alike
//	rake       = rear mean − front mean
//	rake angle = atan(rake / wheelbase)
//
// Arches are not cut at the same height front and rear, so a rake from the
// arches says nothing by itself: it is for comparing the same car with itself.
// Its change is real:
//
//	change of pitch = atan((change of rear mean − change of front mean) / wheelbase)
//	beam at a wall  = distance · tan(change of pitch), besides the lamp's own change of height
//
// What a collar does at the arch is learned, not computed from a ratio:
//
//	per turn = (height after − height before) / turns
//	turns    = (wanted height − height now) / per turn
//
// First comes what the hardware is. On a body of fixed length the collar under
// the spring sets the height: raised by x it presses the unloaded spring x more
// (preload), the car stands higher, the shaft stands x further out, there is x
// less droop and x more bump travel. On a body with a threaded lower bracket the
// bracket sets the height: preload, droop and bump travel at the shaft stay. In
// neither case does the spring get harder.
//
// Shaft showing, along the shaft:
//
//	droop left       = showing with the wheel hanging − showing at ride height
//	to the bump stop = showing at ride height − free length of the stop
//	to solid         = showing at ride height − length of the stop pressed solid
//
// # Sign
//
// Directions are asked in words. Left minus right: positive when the left arch
// is higher. Rake and pitch: positive nose down, said in words too. That is the
// trade's rake (rear higher), and the sense of the pitch angle of ISO 8855, from
// memory. Per turn is positive: the car moved the way the collar was meant to
// move it. Changes at the damper are positive for more. Nothing is mirrored.
//
// # Range
//
// Heights from 50 to 900 mm, wheelbases from 1 to 6 m, up to 100 turns. A trial
// turn has to move the arch by more than its uncertainty before it is used.
//
// # Sources
//
// Left and right limit: 20 mm in the workshop manual of one maker (curb height
// measurement); there is no general one, and none is built in. Preload and
// height: magazine pages, which contradict each other where the hardware
// differs. Bump stop: a magazine's article on coilover engineering. Drops for
// headlamps: two how-to pages, which differ fivefold; see PublishedDrops. The
// rest is geometry.
//
// # What is not in it
//
// The uncertainty covers reading the tape. Not covered: a car that has not
// settled, bent arch edges, a different load, other tyres. Hub to arch does not
// see the floor; heights taken against a level line do, and a floor that falls
// 12 mm from side to side then shows a lean of 12 mm that is not there. Bushed
// bolts tightened at another height hold the car up and falsify all of it.
// Whether the headlamps are right is for the shop or the inspection to decide.
package ride
