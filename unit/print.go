package unit

import (
	"math"
	"strconv"
	"strings"
)

// A prefix scales a printed value into a readable range.
type prefix struct {
	factor float64
	name   string
}

var (
	ohmPrefixes    = []prefix{{1e6, "MΩ"}, {1e3, "kΩ"}, {1, "Ω"}}
	amperePrefixes = []prefix{{1e3, "kA"}, {1, "A"}, {1e-3, "mA"}, {1e-6, "µA"}}
	faradPrefixes  = []prefix{{1e-6, "µF"}, {1e-9, "nF"}, {1e-12, "pF"}}
)

// String prints a resistance to three significant figures and never finer than
// a low-resistance tester shows (0.01 Ω): "0.42 Ω", "1.5 MΩ".
func (r Ohm) String() string {
	if a := math.Abs(float64(r)); a < 10 {
		return strconv.FormatFloat(float64(r), 'f', 2, 64) + " Ω"
	}
	return scaled(float64(r), ohmPrefixes)
}

// String prints a current with a suitable prefix: "0.26 A", "73 µA".
func (i Ampere) String() string { return scaled(float64(i), amperePrefixes) }

// String prints a voltage to 0.1 V below 100 V and to 1 V above.
func (v Volt) String() string {
	digits := 1
	if math.Abs(float64(v)) >= 100 {
		digits = 0
	}
	return strconv.FormatFloat(float64(v), 'f', digits, 64) + " V"
}

// String prints a power in watts: "8.5 W".
func (p Watt) String() string { return significant(float64(p), 3) + " W" }

// String prints a capacitance with a suitable prefix: "1 nF".
func (c Farad) String() string { return scaled(float64(c), faradPrefixes) }

// String prints an area as the trade writes it: "1.5 mm²".
func (a SquareMillimetre) String() string {
	text := strconv.FormatFloat(float64(a), 'f', -1, 64)
	if !strings.Contains(text, ".") {
		text += ".0"
	}
	return text + " mm²"
}

// String prints a length in metres, exact to the millimetre, or in millimetres
// below one metre: "7.5 m", "1.155 m", "88 mm".
func (l Millimetre) String() string {
	if l > -Metre && l < Metre {
		return strconv.FormatInt(int64(l), 10) + " mm"
	}
	return trim(strconv.FormatFloat(l.Metres(), 'f', 3, 64)) + " m"
}

// String prints a temperature: "20 °C".
func (t Celsius) String() string { return significant(float64(t), 3) + " °C" }

// String prints a percentage: "10 %".
func (p Percent) String() string { return significant(float64(p), 3) + " %" }

func scaled(v float64, prefixes []prefix) string {
	if v == 0 {
		return "0 " + baseName(prefixes)
	}
	for _, p := range prefixes {
		if math.Abs(v) >= p.factor*0.9995 {
			return significant(v/p.factor, 3) + " " + p.name
		}
	}
	last := prefixes[len(prefixes)-1]
	return significant(v/last.factor, 2) + " " + last.name
}

func baseName(prefixes []prefix) string {
	for _, p := range prefixes {
		if p.factor == 1 {
			return p.name
		}
	}
	return prefixes[len(prefixes)-1].name
}

// significant prints v to n significant figures without an exponent.
func significant(v float64, n int) string {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	decimals := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	if decimals < 0 {
		unit := math.Pow(10, float64(-decimals))
		return strconv.FormatFloat(math.Round(v/unit)*unit, 'f', 0, 64)
	}
	return trim(strconv.FormatFloat(v, 'f', decimals, 64))
}

func trim(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

var secondPrefixes = []prefix{{1, "s"}, {1e-3, "ms"}}

// String prints a time: "45 min" from a minute, "0.4 s" from a tenth of a
// second, "40 ms" below.
func (t Second) String() string {
	switch {
	case t >= 60:
		return significant(float64(t)/60, 3) + " min"
	case t >= 0.1:
		return significant(float64(t), 3) + " s"
	}
	return scaled(float64(t), secondPrefixes)
}
