package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A dimension lists the unit names that may be written for one quantity and
// the factor to its base unit. The first name is the one used in messages.
type dimension struct {
	what  string
	names []string
	scale map[string]float64
}

func dim(what string, pairs ...any) dimension {
	d := dimension{what: what, scale: map[string]float64{}}
	for i := 0; i < len(pairs); i += 2 {
		name := pairs[i].(string)
		d.names = append(d.names, name)
		d.scale[name] = pairs[i+1].(float64)
	}
	return d
}

var (
	resistance    = dim("resistance", "ohm", 1.0, "Ω", 1.0, "ohms", 1.0, "mohm", 1e-3, "mΩ", 1e-3, "kohm", 1e3, "kΩ", 1e3, "Mohm", 1e6, "MΩ", 1e6)
	current       = dim("current", "A", 1.0, "kA", 1e3, "mA", 1e-3, "uA", 1e-6, "µA", 1e-6)
	voltage       = dim("voltage", "V", 1.0, "mV", 1e-3, "kV", 1e3)
	power         = dim("power", "W", 1.0, "kW", 1e3, "mW", 1e-3)
	capacitance   = dim("capacitance", "F", 1.0, "uF", 1e-6, "µF", 1e-6, "nF", 1e-9, "pF", 1e-12)
	length        = dim("length", "m", 1000.0, "mm", 1.0, "cm", 10.0)
	area          = dim("conductor area", "mm2", 1.0, "mm²", 1.0)
	temperature   = dim("temperature", "C", 1.0, "°C", 1.0, "degC", 1.0)
	ratio         = dim("percentage", "%", 1.0)
	capacitanceM  = dim("capacitance per metre", "F/m", 1.0, "pF/m", 1e-12, "nF/m", 1e-9)
	resistanceM   = dim("resistance per metre", "ohm/m", 1.0, "mohm/m", 1e-3, "mΩ/m", 1e-3)
	frequencyDim  = dim("frequency", "Hz", 1.0)
	timeDimension = dim("time", "s", 1.0, "ms", 1e-3, "min", 60.0, "h", 3600.0)
)

// ParseOhm reads a resistance such as "0.35 ohm", "12 mΩ" or "10 Mohm".
func ParseOhm(s string) (Ohm, error) { return parse[Ohm](s, resistance) }

// ParseAmpere reads a current such as "6 A" or "30 mA".
func ParseAmpere(s string) (Ampere, error) { return parse[Ampere](s, current) }

// ParseVolt reads a voltage such as "230 V".
func ParseVolt(s string) (Volt, error) { return parse[Volt](s, voltage) }

// ParseWatt reads a power such as "60 W".
func ParseWatt(s string) (Watt, error) { return parse[Watt](s, power) }

// ParseFarad reads a capacitance such as "1 nF".
func ParseFarad(s string) (Farad, error) { return parse[Farad](s, capacitance) }

// ParseFaradPerMetre reads a capacitance per metre such as "100 pF/m".
func ParseFaradPerMetre(s string) (FaradPerMetre, error) {
	return parse[FaradPerMetre](s, capacitanceM)
}

// ParseOhmPerMetre reads a resistance per metre such as "12.1 mohm/m".
func ParseOhmPerMetre(s string) (OhmPerMetre, error) { return parse[OhmPerMetre](s, resistanceM) }

// ParseCelsius reads a temperature such as "20 C" or "20 °C".
func ParseCelsius(s string) (Celsius, error) { return parse[Celsius](s, temperature) }

// ParsePercent reads a percentage such as "10 %".
func ParsePercent(s string) (Percent, error) { return parse[Percent](s, ratio) }

// ParseHertz reads a frequency such as "50 Hz".
func ParseHertz(s string) (Hertz, error) { return parse[Hertz](s, frequencyDim) }

// ParseSecond reads a time such as "0.4 s", "40 ms" or "45 min".
func ParseSecond(s string) (Second, error) { return parse[Second](s, timeDimension) }

// ParseSquareMillimetre reads a conductor area such as "1.5 mm2".
func ParseSquareMillimetre(s string) (SquareMillimetre, error) {
	return parse[SquareMillimetre](s, area)
}

// ParseMillimetre reads a length such as "7.5 m", "250 mm" or "40 cm" and
// rounds it to whole millimetres.
func ParseMillimetre(s string) (Millimetre, error) {
	mm, err := parse[float64](s, length)
	if err == nil && math.Abs(mm) > 1e9 {
		return 0, fmt.Errorf("%q is too long for a house: lengths go up to 1,000 km", s)
	}
	return Millimetre(math.Round(mm)), err
}

// parse splits number and unit, with or without a space between them. The
// number must be finite; a missing or foreign unit is an error that lists what
// may be written.
func parse[T ~float64](s string, d dimension) (T, error) {
	number, name := split(s)
	if number == "" {
		return 0, fmt.Errorf("%q is not a %s: write a number and a unit, such as %q", s, d.what, "1.5 "+d.names[0])
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, fmt.Errorf("%q is not a %s: %q is not a number that can be used", s, d.what, number)
	}
	factor, ok := d.scale[name]
	switch {
	case name == "":
		return 0, fmt.Errorf("%q has no unit: write %q", s, number+" "+d.names[0])
	case !ok:
		return 0, fmt.Errorf("%q is not a %s: unit %q is not one of %s", s, d.what, name, strings.Join(d.names, ", "))
	}
	return T(v * factor), nil
}

func split(s string) (number, name string) {
	s = strings.TrimSpace(s)
	end := 0
	for end < len(s) && isNumberByte(s, end) {
		end++
	}
	return s[:end], strings.TrimSpace(s[end:])
}

// isNumberByte accepts an exponent only where digits or a sign follow, so that
// no unit starting with "e" is eaten.
func isNumberByte(s string, i int) bool {
	c := s[i]
	switch {
	case c >= '0' && c <= '9', c == '.':
		return true
	case c == '+' || c == '-':
		return i == 0 || s[i-1] == 'e' || s[i-1] == 'E'
	case c == 'e' || c == 'E':
		return i > 0 && i+1 < len(s) && strings.ContainsRune("0123456789+-", rune(s[i+1]))
	}
	return false
}
