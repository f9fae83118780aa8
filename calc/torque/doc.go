// Package torque works out what to set on a torque wrench, whether the wrench
// can do it, and which torques look like a slip. It never supplies a torque.
//
// # Setting
//
// An adapter moves the turning centre away from the drive of the wrench, so
// the wrench has to be set to another value than the bolt is to get:
//
//	setting = T · L / (L + E·cos θ)
//
// T is the torque at the bolt, L the lever of the wrench from the middle of the
// grip to the drive, E the adapter from drive to bolt, θ the angle between
// adapter and wrench: 0 straight on, 90° square (no change), 180° folded back
// (the setting goes up). The pull is square to the wrench, at the middle of the
// grip, with no pipe on the handle. A socket extension along the axis of the
// bolt changes nothing and is no adapter.
//
// Sources: maintenance manual of the Piper PA-28-161, p. 2-90 (C = A·T/(A+B));
// instruction of the Motion Pro 08-0134 adapter; manual of the Performance Tool
// M199 wrench, p. 7; FAA AC 43.13-1B, par. 7-40 h, asks for the correction. The
// cosine follows from the geometry.
//
// # Range
//
// A wrench is used from the lowest value its maker states to the highest. Where
// no lowest value is stated, from 20 % of the highest: the first test point of
// ISO 6789:2003 (ISO 6789-1:2017 starts at the lowest marked value). That 20 %
// is where use begins is common practice.
//
// # Question
//
// A torque is questioned when no common bolt of that thread would be tightened
// to it: T = K·d·F with F = 75 % of the proof load, from class 8.8 with a
// slippery thread (K = 0.12) to class 12.9 with a dry one (K = 0.20). Proof
// stresses: ISO 898-1:2013, table 3; stress area from the same standard; K from
// charts and textbooks, a rough figure. The range is not shown to anyone, lest
// it be used as a torque: the torque comes from the manual or the part's maker.
package torque
