// Package caster computes the lean of the steering axis, seen from the side,
// from the camber of a wheel that is steered out and in.
//
// # Method
//
// Turn the front of the wheel out, away from the car, by about 20°, and read the
// camber. Turn it in by about as much and read again. Both angles are read at
// this wheel, from straight ahead, on turnplates or a protractor on the floor.
//
// The steering turns the wheel about an axis that is fixed in the car, so the
// angle between that axis and the wheel's own axis stays the same. With x
// forward, y outward and z up, the two point along
//
//	axis:   (−tan caster, −tan inclination, 1)
//	wheel:  (−cos camber·sin turn, cos camber·cos turn, −sin camber)
//
// where turn is the heading of the wheel, out positive. The product of the two
// is the same for every turn. Out minus in, with the sizes of the two turns:
//
//	                sin camber(out) − sin camber(in) + tan inclination · L
//	tan caster  =  ————————————————————————————————————————————————————————
//	                cos camber(out)·sin out + cos camber(in)·sin in
//
//	L           =  cos camber(out)·cos out − cos camber(in)·cos in
//
// This is exact, also for two turns that differ. Without the inclination:
//
//	sine:    caster = swing / (sin out + sin in), or swing / (2 sin turn)
//
// where swing is the camber turned out minus the camber turned in. Its
// uncertainty allows for any inclination from 0° to 20°. With a third reading,
// straight ahead, each turned reading against the straight one gives a line for
// tan caster and tan inclination; the two lines together give both.
//
// Shown for comparison only: the linear form, swing / (out + in) with the turns
// in radians, which is low; and swing times 1.5, a rule for 20° each way, some
// 2.6 % high there and 22 % low at 15°.
//
// The uncertainty combines that of the two cambers, of the two turns and of the
// inclination, each times how much the caster changes with it. An angle that was
// not measured counts as known to ± 2° at best.
//
// # Sign
//
// Caster is positive when the top of the steering axis leans rearward, and
// inclination when it leans inward. Both are the same for left and right. They
// are the angles seen square from the side and from the front, not the lean in
// space. In the axes of SAE J670e (x forward, y right, z down) a top that leans
// rearward is a turn about plus y, which agrees; in those of ISO 8855 (x forward,
// y left, z up) it is a turn about minus y. SAE J670 of 2022 allows z up or
// down, so a number from elsewhere needs its axes said. Cross-caster is left
// minus right, a habit of the trade.
//
// The turn is the heading of the wheel, over the ground. The turn of the knuckle
// about its leaning axis is another angle, some tenths of a degree to a degree
// more for a heading of 20°, and is refused.
//
// # Range
//
// Turns from 5° to 45°, cambers within 25°, inclinations from 0° to 30°. Asked
// about: turns that were not measured, are below 10° or above 25°, or differ by
// more than half a degree; casters below 0° or above 15°; tolerances wider than
// the value. These limits are choices of the project.
//
// # Sources
//
// The exact form is derived here and checked against wheels turned in space by a
// library. SAE 850219 (January) states the method; its abstract and first
// section were read. Sign of caster: SAE J670e, 6.2.1, and a how-to text; axes
// of SAE J670e: as stated in ASTM MONO10. The linear form is published by an
// instructor of alignment, the rule of 1.5 on an owners' board. ISO 8855: x
// forward and y left from memory, its clause on caster was not read. Adding
// uncertainties: JCGM 100:2008, 5.1.2, from memory.
//
// # What is not in it
//
// A wheel that moves up or down while it is steered, play in the ball joints,
// tyres that bind on a floor without turnplates, and brakes left off while the
// wheel is turned. Straight ahead is taken as parallel to the car: toe in the
// straight position shifts both turns, and the caster by about a fifth of that.
// A floor or a gauge that is off by the same in both positions cancels out,
// except for its small share in the cosines.
package caster
