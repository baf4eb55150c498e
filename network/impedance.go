package network

import (
	"fmt"

	"strapper/unit"
)

// Impedance is a resistance, a capacitance, or one of each in series or in
// parallel, independent of frequency until a network is factored. The zero
// value is an open circuit.
type Impedance struct {
	form form
	r    unit.Ohm
	c    unit.Farad
}

type form uint8

const (
	formOpen form = iota
	formR
	formC
	formSeries
	formParallel
)

// Open is no connection at all.
func Open() Impedance { return Impedance{} }

// Ohms is a resistance, from [MinResistance] to [MaxResistance].
func Ohms(r unit.Ohm) Impedance { return Impedance{form: formR, r: r} }

// Farads is a capacitance, from [MinCapacitance] to [MaxCapacitance].
func Farads(c unit.Farad) Impedance { return Impedance{form: formC, c: c} }

// Series is a resistance and a capacitance in series: open at 0 Hz.
func Series(r unit.Ohm, c unit.Farad) Impedance { return Impedance{form: formSeries, r: r, c: c} }

// Parallel is a resistance and a capacitance in parallel.
func Parallel(r unit.Ohm, c unit.Farad) Impedance { return Impedance{form: formParallel, r: r, c: c} }

func (z Impedance) hasR() bool {
	return z.form == formR || z.form == formSeries || z.form == formParallel
}

func (z Impedance) hasC() bool {
	return z.form == formC || z.form == formSeries || z.form == formParallel
}

// invalid says what is wrong with the values and what to give; "" if nothing.
func (z Impedance) invalid() string {
	if z.hasR() && !(z.r >= MinResistance && z.r <= MaxResistance) {
		return fmt.Sprintf("resistance is %g Ω: give %g to %g Ω; a joint is one node, no connection is Open()",
			float64(z.r), float64(MinResistance), float64(MaxResistance))
	}
	if z.hasC() && !(z.c >= MinCapacitance && z.c <= MaxCapacitance) {
		return fmt.Sprintf("capacitance is %g F: give %g to %g F", float64(z.c), float64(MinCapacitance), float64(MaxCapacitance))
	}
	return ""
}

// admittance is 1/z in siemens at angular frequency w (radians a second).
func (z Impedance) admittance(w float64) complex128 {
	switch z.form {
	case formR:
		return complex(1/float64(z.r), 0)
	case formC:
		return complex(0, w*float64(z.c))
	case formParallel:
		return complex(1/float64(z.r), w*float64(z.c))
	case formSeries:
		// 1/(r + 1/(jwc)) = (wc·wcr + j·wc) / (1 + (wcr)²)
		b := w * float64(z.c)
		q := b * float64(z.r)
		return complex(b*q/(1+q*q), b/(1+q*q))
	}
	return 0
}
