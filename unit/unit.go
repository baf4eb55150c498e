// Package unit holds the quantities that cross package borders: a named type
// for each, parsing of what a person writes ("1.2 m", "0.35 ohm", "6 A") and
// printing with a sensible number of digits.
//
// Base units are SI, with three trade exceptions that the literature tabulates:
// conductor areas in mm², lengths in whole millimetres, temperatures in °C.
// A bare float64 never stands for a quantity outside the package that made it.
package unit

import "math"

// Ohm is a resistance, or the magnitude of an impedance, in ohms.
type Ohm float64

// OhmPerMetre is a conductor's resistance per metre of one core.
type OhmPerMetre float64

// Ampere is a current in amperes RMS.
type Ampere float64

// Volt is a voltage in volts RMS.
type Volt float64

// Watt is an active power in watts.
type Watt float64

// Farad is a capacitance in farads.
type Farad float64

// FaradPerMetre is a capacitance between two cores per metre of cable.
type FaradPerMetre float64

// Hertz is a frequency; 0 means direct current.
type Hertz float64

// SquareMillimetre is a conductor's cross-sectional area.
type SquareMillimetre float64

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// Second is a duration, used for disconnection times.
type Second float64

// Percent is a relative quantity, 3 for 3 %.
type Percent float64

// Millimetre is a length in whole millimetres. Integer lengths make geometry
// exact; a cable surveyed to the nearest centimetre loses nothing.
type Millimetre int64

// Metre is the unit in which people give cable lengths.
const Metre Millimetre = 1000

// Metres converts to metres for arithmetic with per-metre figures.
func (l Millimetre) Metres() float64 { return float64(l) / 1000 }

// FromMetres rounds a length in metres to whole millimetres.
func FromMetres(m float64) Millimetre { return Millimetre(math.Round(m * 1000)) }

// Over is the resistance of one core of the given length.
func (r OhmPerMetre) Over(l Millimetre) Ohm { return Ohm(float64(r) * l.Metres()) }

// Over is the capacitance between two cores over the given length.
func (c FaradPerMetre) Over(l Millimetre) Farad { return Farad(float64(c) * l.Metres()) }

// Fraction turns 3 (%) into 0.03.
func (p Percent) Fraction() float64 { return float64(p) / 100 }
