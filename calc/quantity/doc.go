// Package quantity names the physical quantities of the job, reads them from
// what a person typed, and writes them for people and for the record.
//
// # Types
//
// Angle, Length, Torque, Force, Mass and Ratio are float64 underneath, in
// radians, metres, newton metres, newtons, kilograms and one; so are Area,
// Pressure, Stiffness, Temperature, Frequency, Damping, Acceleration and Turns,
// in the SI unit that each names. They do not mix by accident: a Length cannot
// be passed for a Torque. Build them with the constructors (Degrees,
// Millimetres, PoundFeet …), read them with the methods of the same name.
//
// # Units
//
// The factors follow from exact definitions: 1 in = 25.4 mm, 1 lb =
// 0.45359237 kg, g = 9.80665 m/s² (NIST SP 811, appendix B.8). The figures were
// checked against GNU units and mathjs; the document itself was not read.
//
// # The record
//
// The log stores integers in a unit that the field names: thousandths of a
// degree, micrometres, hundredths of a newton metre, grams. Mdeg, UM, CNM and G
// round once, halves away from zero; a float that is a tie in decimals but not
// in binary counts as a tie. A value that is not finite, or of a size that no
// car has, gives Unrepresentable, which every range check refuses.
//
// # Reading what was typed
//
// The Parse functions want a unit in the text; the Of functions take the number
// and a unit chosen beside the field. Both take a comma or a point for the
// decimals and refuse, with an InputError, whatever could be read in two ways:
// a range, two numbers with a space between, a fraction, or a separator that
// may mean thousands. Nothing is guessed and nothing is repaired.
package quantity

// Quantity is any of the named types.
type Quantity interface {
	Angle | Length | Torque | Force | Mass | Ratio |
		Area | Pressure | Stiffness | Temperature | Frequency | Damping | Acceleration | Turns
}
