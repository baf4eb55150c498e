package route

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"strapper/finding"
	"strapper/kit"
)

// passing is a hole of a run's best route.
type passing struct {
	run string
	*Hole
}

// holes lists the holes of the best routes of all runs.
func (p *Plan) holes() []passing {
	var list []passing
	for i := range p.Runs {
		c := &p.Runs[i]
		if len(c.Routes) == 0 {
			continue
		}
		for k := range c.Routes[0].Holes {
			list = append(list, passing{c.Run, &c.Routes[0].Holes[k]})
		}
	}
	return list
}

// share looks at the holes of all runs together: one that several cables pass
// is made large enough for them, and holes and notches of one joist keep their
// distance.
func (f *Finder) share(p *Plan, runs []Run) {
	list := p.holes()
	widest := slices.MaxFunc(runs, func(a, b Run) int {
		return cmp.Or(cmp.Compare(a.Kind.Width, b.Kind.Width), cmp.Compare(a.Kind.Thickness, b.Kind.Thickness))
	}).Kind
	done := map[*Hole]bool{}
	for i, a := range list {
		same := []passing{a}
		for _, b := range list[i+1:] {
			switch {
			case a.Spot == b.Spot && a.Through == b.Through:
				same = append(same, b)
			case a.joist != "" && a.joist == b.joist && !f.apart(a.Hole, b.Hole):
				p.note(finding.Caution, "holes-too-close", a.run, fmt.Sprintf("cables %s and %s have holes in %s that are only %v apart", a.run, b.run, a.Through, abs(a.along-b.along)),
					"take one of them where the other goes, or another route")
			}
		}
		if len(same) > 1 && !done[a.Hole] {
			f.enlarge(p, same, widest)
		}
		for _, b := range same {
			done[b.Hole] = true
		}
	}
}

// apart reports whether two holes, or a hole and a notch, of one joist stand
// far enough apart.
func (f *Finder) apart(a, b *Hole) bool {
	d := abs(a.along - b.along)
	if a.notch != b.notch {
		return d >= f.l.HoleToNotch
	}
	return f.l.HolesApart(d, max(a.Diameter, b.Diameter))
}

// enlarge makes one hole large enough for all cables that pass it, if it may be.
func (f *Finder) enlarge(p *Plan, same []passing, widest *kit.Cable) {
	h := same[0].Hole
	size, ok := f.l.Hole(widest, len(same))
	most := f.l.HoleMost
	if h.deep > 0 {
		most = min(most, share(f.l.HoleShare, h.deep))
	}
	if !ok || size > most || h.notch {
		p.note(finding.Caution, "hole-too-small", same[0].run, fmt.Sprintf("%d cables cannot pass one hole in the %s", len(same), h.Through),
			"make another hole, three diameters and 100 mm away, where the rules for joists allow it")
		return
	}
	var runs []string
	for _, b := range same {
		runs = append(runs, b.run)
	}
	for _, b := range same {
		if c := p.choice(b.run); size > b.Diameter {
			c.Routes[0].Notes = append(c.Routes[0].Notes, fmt.Sprintf("the hole in the %s is shared by cables %s: drill it %v", b.Through, strings.Join(runs, " and "), size))
		}
		b.Diameter, b.Cables = size, len(same)
		b.Plate = b.Plate || b.deep > 0 && b.deep-size < 2*f.l.Cover
	}
}

// choice finds a run of the plan.
func (p *Plan) choice(run string) *Choice {
	return &p.Runs[slices.IndexFunc(p.Runs, func(c Choice) bool { return c.Run == run })]
}

func (p *Plan) note(s finding.Severity, code, run, text, fix string) {
	p.Findings = append(p.Findings, finding.Finding{Code: code, Severity: s, Subject: finding.Subject("cables." + run), Text: text, Fix: fix})
}
