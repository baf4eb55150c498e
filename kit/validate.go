package kit

import (
	"errors"
	"fmt"
	"slices"

	"strapper/source"
)

var (
	classes  = []Class{ClassSwitch, ClassDimmer, ClassSensor, ClassRelay, ClassIsolator, ClassLamp, ClassFan, ClassConnector, ClassWay}
	acts     = []Actuator{ByNothing, ByHand, ByPull, ByPush, ByCoil, BySensor, ByTimer}
	roles    = []Role{AnyRole, RoleCommon, RoleStrap, RoleLine, RoleSwitch, RoleNeutral, RoleEarth}
	mounts   = []Mount{MountPlaster, MountPlasterboard, MountSurface, MountCeiling, MountBoard}
	colours  = []Colour{Brown, Blue, Black, Grey, Red, Yellow, GreenYellow, Green, Bare}
	palettes = []Palette{Harmonised, OldColours}
	families = []DeviceType{MCB, RCBO, RCD, Rewirable, Cartridge}
)

// troubles gathers what is wrong with one file, so that all of it is told at
// once.
type troubles []error

func (t *troubles) add(bad bool, format string, args ...any) {
	if bad {
		*t = append(*t, fmt.Errorf(format, args...))
	}
}

func (t *troubles) source(what string, s source.Source) {
	t.add(!s.Authority.Valid() || s.Cite == "", "%s: authority %q with cite %q is not complete", what, s.Authority, s.Cite)
}

func (t *troubles) named(id, title string) {
	t.add(id == "" || title == "", "id and title are needed")
}

func (t *troubles) distinct(what string, names []string) {
	seen := map[string]bool{}
	for _, name := range names {
		t.add(name == "" || seen[name], "%s %q is named twice or not at all", what, name)
		seen[name] = true
	}
}

func known[T comparable](t *troubles, what string, value T, from []T) {
	t.add(!slices.Contains(from, value), "%s %v is not one of %v", what, value, from)
}

func (a *Accessory) validate() error {
	var t troubles
	t.named(a.ID, a.Title)
	t.add(a.Symbol == "", "symbol is needed")
	t.source("source", a.Source)
	known(&t, "class", a.Class, classes)
	known(&t, "actuator", a.Actuator, acts)
	a.validateTerminals(&t)
	a.validateContacts(&t)
	a.validateFigures(&t)
	return errors.Join(t...)
}

func (a *Accessory) validateTerminals(t *troubles) {
	names, earthed := make([]string, 0, len(a.Terminals)), false
	for _, terminal := range a.Terminals {
		names = append(names, terminal.Name)
		known(t, "role", terminal.Role, roles)
		earthed = earthed || terminal.Role == RoleEarth
	}
	t.add(len(names) == 0, "terminals are needed")
	t.distinct("terminal", names)
	t.add(a.ClassI && !earthed, "exposed metal needs an earth terminal")
	for _, l := range a.Loads {
		a.validatePair(t, l.Between)
	}
	if a.Coil != nil {
		a.validatePair(t, a.Coil.Between)
	}
}

func (a *Accessory) validateContacts(t *troubles) {
	t.add(a.Actuator != ByNothing && len(a.Positions) < 2, "an accessory with an actuator needs two positions or more")
	t.add(a.Actuator == ByNothing && len(a.Positions) > 0, "positions %q need an actuator", a.Positions)
	t.add((a.Actuator == ByCoil) != (a.Coil != nil), "actuator coil and field coil go together")
	t.add(a.Actuator != ByNothing && len(a.Contacts) == 0, "an actuator needs contacts to move")
	t.distinct("position", a.Positions)
	for _, c := range a.Contacts {
		a.validatePair(t, c.Join)
		t.add(c.Via != ViaMetal && c.Via != ViaElectronic, "contact %s-%s: via %q is not %q", c.Join[0], c.Join[1], c.Via, ViaElectronic)
		t.add(len(c.In) == 0, "contact %s-%s is closed in no position", c.Join[0], c.Join[1])
		for _, p := range c.In {
			t.add(!slices.Contains(a.Positions, p), "contact %s-%s: position %q is not among %q", c.Join[0], c.Join[1], p, a.Positions)
		}
	}
}

func (a *Accessory) validateFigures(t *troubles) {
	t.add(a.Rating < 0 || a.Capacity < 0 || a.MinLoad < 0 || a.MaxLoad < a.MinLoad,
		"rating, capacity and load limits may not be negative, nor the maximum load under the minimum")
	if a.Rating > 0 || a.Capacity > 0 {
		t.source("rating_source", a.RSource)
	}
	powered := a.MaxLoad > 0
	for _, l := range a.Loads {
		t.add(l.Power <= 0, "load %s-%s: power must be positive", l.Between[0], l.Between[1])
		powered = true
	}
	if a.Coil != nil {
		t.add(a.Coil.Power <= 0, "coil: power must be positive")
		powered = true
	}
	if powered {
		t.source("load_source", a.LSource)
	}
}

func (a *Accessory) validatePair(t *troubles, pair [2]string) {
	for _, name := range pair {
		t.add(a.Terminal(name) == nil, "terminal %q does not exist", name)
	}
	t.add(pair[0] == pair[1], "terminal %q is joined to itself", pair[0])
}

func (k *Cable) validate() error {
	var t troubles
	t.named(k.ID, k.Title)
	t.source("source", k.Source)
	t.source("rating_source", k.RSource)
	known(&t, "palette", k.Palette, palettes)
	names := make([]string, 0, len(k.Cores))
	for _, core := range k.Cores {
		names = append(names, core.Name)
		known(&t, "colour", core.Colour, colours)
		t.add(core.Area <= 0, "core %q has no area", core.Name)
	}
	t.add(len(names) == 0, "cores are needed")
	t.distinct("core", names)
	t.add(k.Rating <= 0, "rating must be positive")
	t.add(k.Width < 0 || k.Thickness < 0 || k.Thickness > k.Width, "width and thickness may not be negative, nor thickness over width")
	k.validateCoupling(&t)
	return errors.Join(t...)
}

func (k *Cable) validateCoupling(t *troubles) {
	if len(k.Coupling) > 0 {
		t.source("coupling_source", k.CSource)
	}
	pairs := make([]string, 0, len(k.Coupling))
	for _, c := range k.Coupling {
		missing := k.Core(c.Between[0]) == nil || k.Core(c.Between[1]) == nil
		t.add(missing || c.C <= 0, "coupling %v names a core that does not exist, or is not positive", c.Between)
		t.add(c.Between[0] == c.Between[1], "core %q is coupled to itself", c.Between[0])
		slices.Sort(c.Between[:]) // c is a copy: a-b and b-a are one pair
		pairs = append(pairs, c.Between[0]+"-"+c.Between[1])
	}
	t.distinct("coupling", pairs)
}

func (b *Box) validate() error {
	var t troubles
	t.named(b.ID, b.Title)
	t.source("source", b.Source)
	known(&t, "mount", b.Mount, mounts)
	t.add(b.Gangs < 0 || b.Depth < 0 || b.Width < 0 || b.Height < 0, "gangs and sizes may not be negative")
	return errors.Join(t...)
}

func (d *Device) validate() error {
	var t troubles
	t.named(d.ID, d.Title)
	t.source("source", d.Source)
	known(&t, "type", d.Type, families)
	t.add(d.Rating <= 0, "rating must be positive")
	t.add(d.Residual < 0, "the residual current may not be negative")
	breaker := d.Type == MCB || d.Type == RCBO
	t.add(breaker != (d.Curve != ""), "a circuit-breaker or RCBO has a curve, and nothing else has")
	residual := d.Type == RCD || d.Type == RCBO
	t.add(residual != (d.Residual > 0), "an RCD or RCBO has a residual current, and nothing else has")
	return errors.Join(t...)
}

func (l *LampKind) validate() error {
	var t troubles
	t.named(l.ID, l.Title)
	t.source("source", l.Source)
	t.add(l.PowerFactor <= 0 || l.PowerFactor > 1, "power factor must be over 0 and up to 1")
	t.add(l.Idle < 0 || l.Glow < 0, "impedance when not lit and glow current may not be negative")
	return errors.Join(t...)
}

func (p *Physics) validate() error {
	var t troubles
	t.source("conductor_source", p.ConductorSource)
	t.source("temperature_coefficient_source", p.CoeffSource)
	t.source("contact_source", p.ContactSource)
	t.source("electronic_source", p.ElectronicSource)
	t.source("below_maximum_source", p.BelowMaxSource)
	t.add(len(p.Conductors) == 0, "conductors are needed")
	for i, row := range p.Conductors {
		t.add(row.Area <= 0 || row.Resistance <= 0, "conductor %v: area and resistance must be positive", row.Area)
		above := p.Conductors[max(i-1, 0)]
		t.add(i > 0 && (row.Area <= above.Area || row.Resistance >= above.Resistance),
			"conductor %v: areas must rise and resistances fall down the table", row.Area)
	}
	t.add(p.Coefficient <= 0 || p.Contact <= 0 || p.Electronic <= 0, "coefficient, contact and electronic must be positive")
	t.add(p.BelowMax < 0 || p.BelowMax >= 100, "below_maximum_percent must be from 0 to under 100")
	return errors.Join(t...)
}
