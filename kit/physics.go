package kit

import "strapper/unit"

// Resistance looks up the maximum resistance per metre at 20 °C of a copper
// conductor. The table is never interpolated: ok is false off its rows.
func (p *Physics) Resistance(area unit.SquareMillimetre) (r unit.OhmPerMetre, ok bool) {
	for _, row := range p.Conductors {
		if row.Area == area {
			return row.Resistance, true
		}
	}
	return 0, false
}

// PerMetre is a core's resistance per metre at 20 °C: its own where the
// catalogue gives one, else that of the table for its area.
func (p *Physics) PerMetre(c *Core) (r unit.OhmPerMetre, ok bool) {
	if c.PerM > 0 {
		return c.PerM, true
	}
	return p.Resistance(c.Area)
}

// At converts a resistance at 20 °C to another temperature by the simple
// coefficient, R = R20 (1 + α (t − 20)).
func (p *Physics) At(r20 unit.Ohm, t unit.Celsius) unit.Ohm {
	return unit.Ohm(float64(r20) * (1 + p.Coefficient*(float64(t)-20)))
}
