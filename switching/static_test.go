package switching_test

import (
	"slices"
	"strings"
	"testing"

	"strapper/finding"
	"strapper/switching"
	"strapper/wiring"
)

func has(p *switching.Proof, code, subject string) bool {
	return slices.ContainsFunc(p.Findings, func(f finding.Finding) bool {
		return f.Code == code && string(f.Subject) == subject
	})
}

// A metal plate is earthed through a core, not at all, or through a switch. No
// switching device may stand in a protective conductor (IEC 60364-5-54,
// 543.3.3, from memory, to be confirmed).
func TestMissingCPC(t *testing.T) {
	for _, c := range []struct {
		earth string
		want  bool
	}{{"E", false}, {"Enowhere", true}, {"Eswitched", true}} {
		h := newHouse(t, "c")
		h.fit("a", "one-way-metal", "COM=L:c", "L1=SL", "E="+c.earth)
		h.fit("b", "one-way", "COM=E", "L1=Eswitched")
		h.fit("lamp", "luminaire", "L=SL", "N=N:c", "E=E")
		p := switching.Prove(h.graph(), nil)
		if got := has(p, "missing-cpc", "boxes.a.x"); got != c.want {
			t.Errorf("plate on %s: missing-cpc %v, want %v", c.earth, got, c.want)
		}
		if has(p, "missing-cpc", "boxes.lamp.x") || has(p, "missing-cpc", "boxes.lamp") {
			t.Errorf("plate on %s: the lamp is earthed", c.earth)
		}
	}
}

// A cpc that ends loose, a loose core that is live, and a parked one: common
// practice, no source.
func TestLooseEnds(t *testing.T) {
	for _, c := range []struct {
		kind, core, net string
		parked          bool
		code            string
	}{
		{"single-earth-1.0", "cpc", "E", false, "cpc-not-joined"},
		{"single-brown-1.0", "brown", "SL", false, "live-end"},
		{"single-brown-1.0", "brown", "SL", true, "live-spare"},
		{"single-brown-1.0", "brown", "N:c", false, ""},
	} {
		h := newHouse(t, "c")
		h.fit("a", "one-way", "COM=L:c", "L1=SL")
		h.fit("b", "two-way")
		h.fit("lamp", "luminaire-class2", "L=SL", "N=N:c")
		from := h.nodes[c.net][len(h.nodes[c.net])-1].Box
		h.in.Cables = append(h.in.Cables, &wiring.Cable{ID: "spare", Kind: h.cat.Cables[c.kind], From: from, To: "b", Length: 1000})
		h.wire(c.net, from, "spare", c.core)
		if c.parked {
			h.in.Joints = append(h.in.Joints, wiring.Joint{Box: "b", Ends: []wiring.End{{Box: "b", Item: "spare", Name: c.core}}})
		}
		p := switching.Prove(h.graph(), wantToggle("lamp.x", "a.x"))
		if got := distinct(without(p.Findings, "missing-cpc")); got != c.code {
			t.Errorf("%s on %s, parked %v: %q, want %q", c.core, c.net, c.parked, got, c.code)
		}
		if c.code != "" && !has(p, c.code, "joints.b.spare."+c.core) {
			t.Errorf("%s: %s has another subject: %v", c.net, c.code, p.Findings)
		}
	}
}

// What each terminal does, in the trade's words, in the two schemes for two
// places; the electronics of a dimmer make no lamp of its strapper.
func TestDuties(t *testing.T) {
	for _, c := range []struct {
		name  string
		a, b  []string
		kindB string
		want  map[string]string // terminal of b or lamp: duty
	}{
		{
			"two-wire",
			[]string{"COM=L:c", "L1=t1", "L2=t2"},
			[]string{"COM=SL", "L1=t1", "L2=t2"},
			"two-way",
			map[string]string{"a.COM": "line", "a.L1": "strapper", "b.L2": "strapper", "b.COM": "switched line", "lamp.N": "neutral"},
		},
		{
			"three-wire",
			[]string{"COM=com", "L1=L:c", "L2=SL"},
			[]string{"COM=com", "L1=L:c", "L2=SL"},
			"two-way",
			map[string]string{"a.COM": "strapper", "b.L1": "line", "b.L2": "switched line"},
		},
		{
			"three-wire, dimmer",
			[]string{"COM=com", "L1=L:c", "L2=SL"},
			[]string{"COM=com", "L1=L:c", "L2=SL", "N=N:c"},
			"dimmer-neutral",
			map[string]string{"a.COM": "strapper", "b.N": "neutral"},
		},
	} {
		h := newHouse(t, "c")
		h.fit("a", "two-way", c.a...)
		h.fit("b", c.kindB, c.b...)
		h.fit("lamp", "luminaire-class2", "L=SL", "N=N:c")
		g := h.graph()
		p := switching.Prove(g, nil)
		for at, want := range c.want {
			box, terminal, _ := strings.Cut(at, ".")
			n, ok := g.Node(wiring.End{Box: box, Item: "x", Name: terminal})
			if got := p.Duty[n].String(); !ok || got != want {
				t.Errorf("%s: %s is %q, want %q", c.name, at, got, want)
			}
		}
	}
}

// Without a circuit nothing can be proved.
func TestNoCircuit(t *testing.T) {
	h := newHouse(t)
	h.fit("a", "one-way")
	p := switching.Prove(h.graph(), nil)
	if p.Exact || distinct(p.Findings) != "not-proved" {
		t.Errorf("exact %v, findings %v", p.Exact, p.Findings)
	}
}
