// Package field counts what jobs on one version of a fitting sheet show of it:
// where people are slow, leave out, open again, tighten too far, wait or stop. It
// takes in jobs one at a time and keeps numbers only: no event, no car, no name.
//
// # What is counted
//
// A job counts when it pins this version of the sheet, as its record stands when it
// is read. What was taken back in a record is not counted. Every figure is of
// record entries: what was done and not entered is not in it.
//
// Jobs. Finished is that somebody said so and no reviewer sent it back. A job that
// is not finished stops at the step that was gone to last of those neither done nor
// skipped; when there is none, at a hold point that waits; or else between steps.
// Whether it is still in work or was left, no record tells.
//
// Time of a step, in ms. One value for each job: from going to the step to the first
// time it was called done, by the clock of the one phone that called it done. Time
// that this phone was at another step between is not in it; a second phone's time is
// not added. Time parked, from parking to that phone's next entry, is not in it.
// Nothing is guessed: the job's time for that step is left out, and counted as left
// out by its first cause, when
//
//	break      work was resumed after a break that nobody announced
//	long rest  more than 4 hours lie between two entries: a night, or a set clock
//	clock      the phone's clock fell back by more than a minute between two entries
//	no start   that phone never entered that it went to the step
//
// A clock set forward by less than 4 hours cannot be told from work. The 4 hours and
// the minute are a choice of ours, common practice, no source.
//
// Skipped. Jobs in which the step stands as skipped.
//
// Opened again. How often a step was opened again after it had been called done, by
// the installer or by a reviewer. Asked twice before it was done again, it counts
// once, for who asked first. A skipped step taken up after all does not count, nor
// does settling again after later work.
//
// Findings. What package review sees at a step, in finished jobs only: in another
// one, what is missing is not yet due.
//
// Wait at a hold point, in ms. One value for each job: from the last time that its
// step was called done to its release. The two entries may come from two devices:
// then the difference of their clocks is in it. A release that seems to come before
// is left out and counted.
//
// Torque against spec, in hundredths of a percent of the spec, positive = tighter.
// One value for each entry of a final pass, also of those loosened later: a group of
// five nuts entered one by one gives five. The value is what was set on the wrench,
// or, with an adapter or where nothing was set, the torque that was entered. The spec
// is the sheet's own number, or, where the sheet leaves it open, what was looked up
// in that job. The program proposes the torque and what to set, so most values are
// exactly 0: it is no measurement of the wrench or of the hand. Angles are not judged.
// Outside is what differs by more than the tolerance of the sheet's spec, or than a
// tenth where none is stated, as for a finding; one cN·m more is rounding.
//
// Readings, in the unit of the record, with the signs of package event. As found is
// the last reading of the car as found; as set the last one taken later that nothing
// made stale. One value of each for a job. A stale one is left out and counted.
//
// # Quartiles
//
// Linear between the sorted values x1 … xn: the p-quantile lies at the place
// 1 + (n − 1)·p, which Hyndman and Fan number 7 (Sample Quantiles in Statistical
// Packages, The American Statistician 50, 1996, pages 361 to 365). It is rounded to the
// unit of the values.
//
// # Small numbers
//
// A choice of ours: values from fewer than 5 jobs get no median and no quartiles.
// They are shown one by one, with how many there are. Five entries of one job are
// one job. Nothing here is a test of significance: two figures that differ may do so
// by chance.
//
// # What is not in it
//
// Who did it, on which phone, and whether it was their first job. The time between
// one step's end and going to the next, such as reading what comes first.
package field
