// Package torque works out what to set on a torque wrench, whether the wrench
// can do it and is to be believed, and what a pass or a re-check amounts to. It
// never supplies a torque.
//
// # Method
//
// An adapter moves the turning centre away from the drive of the wrench, so the
// wrench has to be set to another value than the bolt is to get:
//
//	setting = T · L / (L + E·cos θ)
//
// T is the torque at the bolt, L the lever of the wrench from the middle of the
// grip to the drive, E the adapter from drive to bolt, θ the angle between
// adapter and wrench: 0 straight on, 90° square (no change), 180° folded back
// (the setting goes up). The pull is square to the wrench, at the middle of the
// grip, with no pipe on the handle. A socket extension along the axis of the
// bolt changes nothing and is no adapter. Graduate rounds down to a mark.
//
// The deviation of a wrench is relative to the true torque, so a tolerance e
// leaves a window that is not symmetric round the value set:
//
//	deviation = (reading − true) / true      true from set/(1 + e) to set/(1 − e)
//
// A tolerance of the full scale is a larger share of a small value:
//
//	share of the value set = share of full scale · highest / set
//
// Hung weight: drive held fast, handle level, a weighed mass m on a string at a
// level distance l from the middle of the drive. The wrench's own mass M counts
// at the point r where it balances:
//
//	true torque = g·(m·l + M·r)
//
// A range stays a range: least, most and what to aim for, and it says when the
// middle was chosen here. Passes are a list: snug, part, final, on by an angle
// (one flat of a hexagon is 60°), back off, repeat. A castle nut starts at the
// lower limit and goes on to the next slot, never back: 360° / slots apart. A
// click without movement shows at least the value set; movement below the spec
// shows that it was loose.
//
// # Sign
//
// Torque and angle are positive when they tighten. Backing off is a negative
// angle. A wrench that shows too much has a positive deviation: the bolt then
// gets less than is set. None of it is mirrored from left to right; a left-hand
// thread is turned the other way.
//
// # Range
//
// Adapters shorter than the wrench, from 0° to 180°. A wrench is used from the
// lowest value its maker states to the highest; where no lowest value is stated,
// from 20 % of the highest. Angles of a pass up to two turns. Castle nuts with an
// even number of slots and one hole through the bolt.
//
// # Sources
//
// Adapter: maintenance manual of a light aircraft, p. 2-90 (C = A·T/(A+B));
// instructions of an adapter and of a wrench; FAA AC 43.13-1B, par. 7-40 h, asks
// for the correction. The cosine follows from the geometry.
//
// Tolerances by type and class: type II class A was read in a tool maker's
// manual that restates ISO 6789; the other classes of ISO 6789-1:2017, table 3,
// are from memory. 20 % is the first test point of ISO 6789:2003
// (ISO 6789-1:2017 starts at the lowest marked value); that use begins there is
// common practice. A check every 12 months or 5000 pulls: from memory.
//
// Hung weight: the lever; g = 9.80665 m/s², with its spread over the earth
// (9.780 to 9.832, from memory) as uncertainty. Castle nut: a maker's bulletin
// and a manual; a forum's advice to overshoot and back off contradicts both and
// is not followed. Passes, re-check and states of the thread: workshop manuals
// of several makers, beside the check values.
//
// # What is not in it
//
// A hung weight is a home check at one torque and no calibration: it does not
// cover wear of the click, speed of the pull (ISO 6789 asks for 0.5 to 4 seconds
// over the last fifth), or side load on the drive. Oil or paste on a thread never
// lowers a torque here; Warning only says that the states differ. What a torque
// does to the bolt is in package fastener. A re-check says nothing about
// overtightening, and the friction of a bolt that has stood still can hide that
// it is a little slack.
package torque
