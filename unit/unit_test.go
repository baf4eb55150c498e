package unit

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParse(t *testing.T) {
	check := func(name string, got float64, err error, want float64) {
		t.Helper()
		if err != nil || math.Abs(got-want) > 1e-12*math.Abs(want) {
			t.Errorf("%s: %v, %v, want %v", name, got, err, want)
		}
	}
	for text, want := range map[string]float64{
		"0.35 ohm": 0.35, "12 mΩ": 0.012, "10Mohm": 1e7, " 1e3 Ω ": 1000, "2.5kΩ": 2500, "-3 ohm": -3, "1e-3 ohms": 1e-3,
	} {
		v, err := ParseOhm(text)
		check(text, float64(v), err, want)
	}
	for text, want := range map[string]float64{"7.5 m": 7500, "250 mm": 250, "40cm": 400, "0.0004 m": 0, "1 m": 1000} {
		v, err := ParseMillimetre(text)
		check(text, float64(v), err, want)
	}
	a, err := ParseAmpere("30 mA")
	check("30 mA", float64(a), err, 0.03)
	v, err := ParseVolt("0.4 kV")
	check("0.4 kV", float64(v), err, 400)
	w, err := ParseWatt("9W")
	check("9W", float64(w), err, 9)
	c, err := ParseCelsius("-5 °C")
	check("-5 °C", float64(c), err, -5)
	p, err := ParsePercent("10 %")
	check("10 %", float64(p), err, 10)
	h, err := ParseHertz("50 Hz")
	check("50 Hz", float64(h), err, 50)
	s, err := ParseSecond("40 ms")
	check("40 ms", float64(s), err, 0.04)
	m, err := ParseSquareMillimetre("1.5 mm²")
	check("1.5 mm²", float64(m), err, 1.5)
	f, err := ParseFarad("2.2nF")
	check("2.2nF", float64(f), err, 2.2e-9)
	fm, err := ParseFaradPerMetre("100 pF/m")
	check("100 pF/m", float64(fm), err, 1e-10)
	om, err := ParseOhmPerMetre("12.1 mohm/m")
	check("12.1 mohm/m", float64(om), err, 0.0121)
}

func TestParseRefuses(t *testing.T) {
	for text, says := range map[string]string{
		"":            "write a number and a unit",
		"ohm":         "write a number and a unit",
		"0.35":        `write "0.35 ohm"`,
		"5 V":         `unit "V" is not one of`,
		"1.2.3 ohm":   "not a number",
		"1e999 ohm":   "not a number",
		"NaN ohm":     "write a number and a unit",
		"0x10 ohm":    `unit "x10 ohm"`,
		"1,5 ohm":     `unit ",5 ohm"`,
		"3 Mega ohm":  `unit "Mega ohm"`,
		"1 ohm 2 ohm": `unit "ohm 2 ohm"`,
	} {
		if _, err := ParseOhm(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", text, err, says)
		}
	}
	if _, err := ParseMillimetre("2000000 m"); err == nil || !strings.Contains(err.Error(), "too long for a house") {
		t.Errorf("a cable of 2,000 km: %v", err)
	}
}

func TestPrint(t *testing.T) {
	for want, got := range map[string]string{
		"0.42 Ω":  Ohm(0.4231).String(),
		"0.00 Ω":  Ohm(0.001).String(),
		"10 Ω":    Ohm(10).String(),
		"881 Ω":   Ohm(881).String(),
		"1.5 MΩ":  Ohm(1.5e6).String(),
		"10 kΩ":   Ohm(9999.9).String(),
		"73 µA":   Ampere(73e-6).String(),
		"6 A":     Ampere(6).String(),
		"261 mA":  Ampere(0.26083).String(),
		"0 A":     Ampere(0).String(),
		"230 V":   Volt(229.97).String(),
		"91.9 V":  Volt(91.88).String(),
		"8.5 W":   Watt(8.5).String(),
		"1380 W":  Watt(1380).String(),
		"1 nF":    Farad(1e-9).String(),
		"1.5 mm²": SquareMillimetre(1.5).String(),
		"1.0 mm²": SquareMillimetre(1).String(),
		// IEC 60228's smallest sizes have two decimals.
		"0.75 mm²": SquareMillimetre(0.75).String(),
		"7.5 m":    Millimetre(7500).String(),
		"250 mm":   Millimetre(250).String(),
		"12.345 m": Millimetre(12345).String(),
		"20 °C":    Celsius(20).String(),
		"5 %":      Percent(5).String(),
	} {
		if got != want {
			t.Errorf("printed %q, want %q", got, want)
		}
	}
}

// IEC 60228:2004 Table 1, class 1, 1.5 mm²: 12.1 mΩ/m; and the published mutual
// capacitance of about 100 pF/m, so that 10 m have 1 nF.
func TestOverLength(t *testing.T) {
	if r := OhmPerMetre(12.1e-3).Over(50 * Metre); math.Abs(float64(r)-0.605) > 1e-12 {
		t.Errorf("50 m of 12.1 mΩ/m: %v", float64(r))
	}
	if c := FaradPerMetre(100e-12).Over(10 * Metre); math.Abs(float64(c)-1e-9) > 1e-21 {
		t.Errorf("10 m of 100 pF/m: %v", float64(c))
	}
	if FromMetres(1.2345) != 1235 || FromMetres(-1.2345) != -1235 || Percent(3).Fraction() != 0.03 {
		t.Error("conversion")
	}
}

// A length that is printed in whole centimetres is read back as itself.
func TestLengthRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := Millimetre(rapid.IntRange(100, 10_000).Draw(t, "centimetres") * 10)
		if got, err := ParseMillimetre(want.String()); err != nil || got != want {
			t.Fatalf("%v read back as %v, %v", want, got, err)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"1.5 ohm", "e", "-", "1e", "+1e+ ohm", "٣ ohm", "1\xff ohm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v, err := ParseOhm(s)
		if err == nil && (math.IsNaN(float64(v)) || math.IsInf(float64(v), 0)) {
			t.Errorf("%q was read as %v", s, v)
		}
		if l, err := ParseMillimetre(s); err == nil && (l > 1e9 || l < -1e9) {
			t.Errorf("%q was read as %d mm", s, l)
		}
	})
}

// Two-wire runs of NEC Chapter 9 conductors, as secondary pages print them:
// 400 ft of 18 AWG at 6.505 Ω per 1,000 ft has 2.602 Ω exactly; 4 A over 100 ft
// of two-wire 16 AWG at 4.99 Ω per 1,000 ft lose 4.0 V (3.992).
func TestResistanceOverALength(t *testing.T) {
	const foot = 0.3048 // m, exactly
	perThousand := func(ohm float64) OhmPerMetre { return OhmPerMetre(ohm / (1000 * foot)) }
	if got := perThousand(6.505).Over(FromMetres(400 * foot)); math.Abs(float64(got)-2.602) > 1e-12 {
		t.Errorf("400 ft of 18 AWG: %v Ω, want 2.602", float64(got))
	}
	if got := 4 * float64(perThousand(4.99).Over(FromMetres(2*100*foot))); math.Abs(got-3.992) > 1e-12 {
		t.Errorf("4 A over 100 ft of two-wire 16 AWG: %v V, want 3.992", got)
	}
}
