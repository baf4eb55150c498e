package kit

import (
	"fmt"
	"strconv"

	"strapper/source"
	"strapper/unit"
)

// Figures lists every number in the catalogue with its source: the physics
// first, then cables, devices, lamps, accessories and boxes, each by id.
func (c *Catalogue) Figures() []source.Figure {
	list := figures{}
	c.Physics.figures(&list)
	eachKind(&list, c.Cables, (*Cable).figures)
	eachKind(&list, c.Devices, (*Device).figures)
	eachKind(&list, c.Lamps, (*LampKind).figures)
	eachKind(&list, c.Accessories, (*Accessory).figures)
	eachKind(&list, c.Boxes, (*Box).figures)
	return list
}

type figures []source.Figure

func eachKind[T any](list *figures, kinds map[string]*T, tell func(*T, *figures)) {
	for _, id := range Names(kinds) {
		tell(kinds[id], list)
	}
}

// add lists a figure unless it is absent, which the files write as nothing.
func (f *figures) add(present bool, s source.Source, value, name string, args ...any) {
	if present {
		*f = append(*f, source.Figure{Name: fmt.Sprintf(name, args...), Value: value, Source: s})
	}
}

func (p *Physics) figures(f *figures) {
	for _, row := range p.Conductors {
		f.add(true, p.ConductorSource, plain(float64(row.Resistance)*1e3)+" mΩ/m",
			"greatest resistance of a %s copper conductor at 20 °C", areaText(row.Area))
	}
	f.add(true, p.CoeffSource, plain(p.Coefficient)+" per °C", "rise of copper's resistance with temperature, referred to 20 °C")
	f.add(true, p.ContactSource, milliohms(p.Contact), "one closed contact or clamped joint")
	f.add(true, p.ElectronicSource, p.Electronic.String(), "a conducting semiconductor switch")
	f.add(true, p.BelowMaxSource, p.BelowMax.String(), "real cable below the greatest tabulated resistance, up to")
}

func (k *Cable) figures(f *figures) {
	for _, core := range k.Cores {
		f.add(true, k.Source, areaText(core.Area), "cable %s: core %s", k.ID, core.Name)
	}
	f.add(true, k.RSource, k.Rating.String(), "cable %s: lowest rating", k.ID)
	f.add(k.Width > 0, k.Source, fmt.Sprintf("%d × %d mm", k.Width, k.Thickness), "cable %s: greatest size over the sheath", k.ID)
	for _, pair := range k.Coupling {
		f.add(true, k.CSource, plain(float64(pair.C)*1e12)+" pF/m", "cable %s: capacitance %s to %s", k.ID, pair.Between[0], pair.Between[1])
	}
}

func (d *Device) figures(f *figures) {
	f.add(true, d.Source, d.Rating.String(), "device %s: rating", d.ID)
	f.add(d.Residual > 0, d.Source, d.Residual.String(), "device %s: rated residual current", d.ID)
}

func (l *LampKind) figures(f *figures) {
	f.add(true, l.Source, plain(l.PowerFactor), "lamp %s: power factor", l.ID)
	f.add(l.Idle > 0, l.Source, l.Idle.String(), "lamp %s: impedance when not lit", l.ID)
	f.add(l.Glow > 0, l.Source, l.Glow.String(), "lamp %s: current at which it shows when off", l.ID)
}

func (a *Accessory) figures(f *figures) {
	f.add(a.Rating > 0, a.RSource, a.Rating.String(), "accessory %s: rating", a.ID)
	f.add(a.Capacity > 0, a.RSource, strconv.Itoa(a.Capacity), "accessory %s: conductors of 1.5 mm² in a terminal", a.ID)
	f.add(a.MinLoad > 0, a.LSource, a.MinLoad.String(), "accessory %s: least load", a.ID)
	f.add(a.MaxLoad > 0, a.LSource, a.MaxLoad.String(), "accessory %s: greatest LED load", a.ID)
	for _, l := range a.Loads {
		f.add(true, a.LSource, l.Power.String(), "accessory %s: load %s to %s, kind %s", a.ID, l.Between[0], l.Between[1], l.Lamp)
	}
	if a.Coil != nil {
		f.add(true, a.LSource, a.Coil.Power.String(), "accessory %s: coil", a.ID)
	}
}

func (b *Box) figures(f *figures) {
	f.add(b.Depth > 0, b.Source, b.Depth.String(), "box %s: depth", b.ID)
	f.add(b.Width > 0, b.Source, fmt.Sprintf("%d × %d mm", b.Width, b.Height), "box %s: outline", b.ID)
}

// plain prints a number as it was written, free of binary rounding.
func plain(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

func areaText(a unit.SquareMillimetre) string {
	text := plain(float64(a))
	if len(text) == 1 {
		text += ".0"
	}
	return text + " mm²"
}

func milliohms(r unit.Ohm) string { return plain(float64(r)*1e3) + " mΩ" }
