// Package lift works out whether stands and a jack are strong enough for a car,
// where chocks go, what still holds the car, and what is not known yet.
//
// # Method
//
// The axle loads come from a scale, or from the mass and the front share f:
//
//	front = m·f        rear = m·(1 − f)
//
// Two stands under one end, the other end on its wheels (L wheelbase, a from
// the axle line to the stands, positive between the axles):
//
//	pair = (near·L·cosθ + m·(h·sinθ − (h − r)·tan t)) / (L − a)
//	t = asin(H / L)
//
// near is the load of that axle on level ground, h the height of the centre of
// gravity, r that of the wheel centres, H the raise, θ the slope, downhill
// towards the raised end positive. On level ground and barely raised that is
// near·L/(L − a): stands between the axles carry more than the axle did.
//
// Four stands, b from the other axle to its pair:
//
//	pair = ((near·(L − b) − far·b)·cosθ + m·h·sinθ) / (L − b − a)
//
// The heavier stand carries the pair's load times the share of the heavier
// side. On four stands, or with one corner on the jack, a stiff car may rest on
// two stands across the diagonal: one stand then carries up to the whole pair,
// or up to the whole side times 1.15, whichever is less. The rating asked for is the
// most a stand can carry, times the margin (1.5 is common practice).
//
// A jack under the middle of an axle carries what a pair in its place would;
// under a corner up to the same as one stand on the diagonal; under the middle
// of a side that side's share times 1.15, as it sits further in than the wheels.
//
// Moved load, height of the centre of gravity, tipping of a stand with half
// width b and height c, slope with fall and level run, downhill force:
//
//	raised axle = near − m·(h − r)·tan t / L
//	h = r + (near − raised axle)/m · L / tan t
//	push that tips = load · b/c        angle = atan(b/c)
//	angle = atan(fall/run)             force = m·g·sin(angle)
//
// A plan takes each uncertain fact anywhere within its limits (twice its
// standard uncertainty), all at their worst at once. Single formulas give the
// standard uncertainty instead. A rating is enough when the least it can mean
// covers the most the load can be; not enough when the most it can mean is
// below the least the load can be; otherwise nothing can be told, and that is
// no go. A fact that is missing is asked for, and until it is known the widest
// limits stand in for it: forgetting never helps.
//
// A brake, a gear or P holds only through wheels on the ground. Through an open
// differential one driven wheel in the air lets the others roll. A fact of the
// driveline that is not known counts as each of its possibilities, and the
// verdict is given only when all agree. Whatever it is, the wheels on the ground
// are chocked, on both faces, the downhill ones first.
//
// # Sign
//
// People say front or rear, between the axles or beyond, and which way is
// downhill; no sign is asked for. All results are sizes. Left and right are the
// driver's and change nothing but which chock goes where. No axes of ISO 8855
// are used.
//
// # Range
//
// Road cars on two axles: mass 300 to 5000 kg with its uncertainty, front share
// 25 to 80 %, wheelbase 1.5 to 5 m, centre of gravity 0.25 to 1.2 m above the
// ground, wheel centre 0.2 to 0.5 m, raise up to 0.8 m, slope up to 25 %, the
// heavier side up to 60 %. What lies beyond is refused as a slip. These limits
// are from memory and common practice, wide on purpose.
//
// Common practice, no source: the margin of 1.5; 60 % on the heavier side while
// the split is not known, taken only when the person accepts it; 10 % more or
// less for a mass from papers; the question from 1 % of slope and the stop at
// 3 %; the other end keeping 10 % of the weight; 1.15 for a place further in
// than the wheels; 0.8 m between the stands of a pair for a slope across.
//
// # Sources
//
// Loads, tipping, slope: statics. Load moved by raising, and its inverse: a
// lecture note on vehicle dynamics, eq. (2) and (3), read. Uncertainty:
// JCGM 100:2008, 5.1.3, note 2, from memory. Rules for jacks, stands and
// chocks: HSE, Working under vehicles and INDG434; ACCC, vehicle support
// stands; 29 CFR 1926.305; WAC 296-307-22509; AS 2615:2016, 6.4; ASME
// PALD-2009, 5-2.2(a); owner and workshop manuals of makers, as named beside
// each check value; read. That a stand's marking is for a pair is what several
// trade pages say, and an Australian standard says per stand: so it is asked.
// Whether the parking brake is on or off while a trolley jack raises is
// disputed: the plan gives both sides, and the vehicle's manual decides.
//
// # What is not in it
//
// Whether a jacking point, a weld or a floor is sound; stands on soft ground;
// the push of somebody pulling on a wrench; the moment when a heavy part comes
// off; how much force a brake or a chock can take; how the springs share a load
// between left and right while the other end is on its wheels; the small
// increase of an uneven split when the stands are closer together than the
// wheels. The margin is there for what cannot be known, not for what was not
// measured. Which steps follow in which order, and lowering, is the guide's.
package lift
