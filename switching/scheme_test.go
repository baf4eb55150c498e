package switching_test

import (
	"strings"
	"testing"

	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

// A scheme is an arrangement with the verdict on it.
type scheme struct {
	name  string
	build func(h *house)
	want  switching.Want
	truth string // over the switches in the order they are fitted; "" not compared
	codes string
	says  string // witness of the finding named first, in full
}

func lampWant(from ...string) switching.Want { return wantToggle("lamp.x", from...)[0] }

// Sources: accepted and refused arrangements as in the trade's common practice.
// Switched and borrowed neutrals: BS 7671 regulations 132.14.1 and 314.4 (from
// memory, to be confirmed). Wrong connections as reported at
// learnbyblogging.com (common and strapper exchanged).
func schemes() []scheme {
	return []scheme{
		{
			name: "two-wire", truth: "1001", want: lampWant("a.x", "b.x"),
			build: func(h *house) { h.twoWire("two-way", "t1", "t2") },
		},
		{
			name: "two-wire, strappers crossed at one end", truth: "0110", want: lampWant("a.x", "b.x"),
			build: func(h *house) { h.twoWire("two-way", "t2", "t1") },
		},
		{
			name: "pull cord", truth: "1001", want: lampWant("a.x", "b.x"),
			build: func(h *house) { h.twoWire("pull-two-way", "t1", "t2") },
		},
		{
			name: "three-wire conversion", truth: "0110", want: lampWant("a.x", "b.x"),
			build: func(h *house) {
				h.fit("a", "two-way", "COM=com", "L1=L:c", "L2=SL")
				h.fit("b", "two-way", "COM=com", "L1=L:c", "L2=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "feed taken to one switch, lamp from the other, commons joined", truth: "0110", want: lampWant("a.x", "b.x"),
			build: func(h *house) { // the same nets, run from elsewhere
				h.lamp("SL", "N:c")
				h.fit("a", "two-way", "L2=SL", "COM=com", "L1=L:c")
				h.fit("b", "two-way", "L1=L:c", "L2=SL", "COM=com")
			},
		},
		{
			name: "line and neutral on the strappers, lamp between the commons", truth: "0110", want: lampWant("a.x", "b.x"),
			codes: "live-when-off reversed-polarity switched-neutral",
			says:  "a up, b up: the line of c reaches lamp.x.L through Lc-a brown, a.x L1–COM, l1-a brown",
			build: func(h *house) {
				h.fit("a", "two-way", "COM=l1", "L1=L:c", "L2=N:c")
				h.fit("b", "two-way", "COM=l2", "L1=L:c", "L2=N:c")
				h.lamp("l1", "l2")
			},
		},
		{
			name: "switch in the neutral", truth: "01", want: lampWant("a.x"),
			codes: "live-when-off switched-neutral",
			says:  "a off: the line of c reaches lamp.x.L through Lc-a brown",
			build: func(h *house) {
				h.fit("a", "one-way", "COM=N:c", "L1=SN")
				h.lamp("L:c", "SN")
			},
		},
		{
			name: "no neutral", truth: "00", want: lampWant(), codes: "live-when-off never-lit no-neutral",
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL")
				h.lamp("SL", "nowhere")
			},
		},
		{
			name: "one-way switches in series", truth: "0001", want: lampWant("a.x", "b.x"), codes: "does-not-switch",
			says: "a off, b off",
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=t")
				h.fit("b", "one-way", "COM=t", "L1=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "one-way switches in parallel", truth: "0111", want: lampWant("a.x", "b.x"), codes: "does-not-switch",
			says: "a off, b on",
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL")
				h.fit("b", "one-way", "COM=L:c", "L1=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "common and strapper exchanged at one switch", truth: "1000", want: lampWant("a.x", "b.x"), codes: "does-not-switch",
			build: func(h *house) {
				h.fit("a", "two-way", "COM=t1", "L1=L:c", "L2=t2")
				h.fit("b", "two-way", "COM=SL", "L1=t1", "L2=t2")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "protective conductor as strapper", truth: "1001", want: lampWant("a.x", "b.x"), codes: "cpc-live",
			says:  "a down, b up: the line of c reaches a.x.L2 through Lc-a brown, a.x COM–L2",
			build: func(h *house) { h.twoWire("two-way", "t1", "Estrap") },
		},
		{
			name: "two-way and off", want: lampWant("a.x", "b.x"),
			build: func(h *house) {
				h.fit("a", "two-way-and-off", "COM=L:c", "L1=t1", "L2=t2")
				h.fit("b", "two-way", "COM=SL", "L1=t1", "L2=t2")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "intermediate as one-way", truth: "10", want: lampWant("a.x"),
			build: func(h *house) {
				h.fit("a", "intermediate", "A1=L:c", "B1=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "intermediate as two-way", truth: "1001", want: lampWant("a.x", "b.x"),
			build: func(h *house) {
				h.fit("a", "intermediate", "A1=L:c", "B1=t1", "B2=t2")
				h.fit("b", "two-way", "COM=SL", "L1=t1", "L2=t2")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "double pole", truth: "01", want: lampWant("a.x"),
			build: func(h *house) {
				h.fit("a", "double-pole", "Lin=L:c", "Nin=N:c", "Lout=SL", "Nout=SN")
				h.lamp("SL", "SN")
			},
		},
		{
			name: "line and neutral exchanged at the lamp", truth: "01", want: lampWant("a.x"), codes: "reversed-polarity",
			says: "a on: the line of c reaches lamp.x.N through Lc-a brown, a.x COM–L1, SL-a brown",
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL")
				h.lamp("N:c", "SL")
			},
		},
		{
			name: "lamps in series", want: lampWant("a.x"), codes: "does-not-switch series-lamps", says: "a off",
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL")
				h.lamp("SL", "between")
				h.fit("lamp2", "luminaire-class2", "L=between", "N=N:c")
			},
		},
		{
			name: "return by the protective conductor", want: lampWant(), codes: "earth-return never-lit",
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL")
				h.lamp("SL", "E")
			},
		},
		{
			name: "neutral joined to earth", truth: "01", want: lampWant("a.x"), codes: "neutral-to-earth",
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL")
				h.fitKind("b", bridge, "1=N:c", "2=E")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "line to neutral through two switches", want: lampWant(), codes: "live-when-off never-lit no-neutral short-circuit",
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=t")
				h.fit("b", "one-way", "COM=t", "L1=N:c")
				h.lamp("t", "nowhere")
			},
		},
		{
			name: "earth through a switch", truth: "0011", want: lampWant("a.x"), codes: "earth-fault",
			says: "a on, b on: the line of c reaches the earth bar through Lc-a brown, a.x COM–L1, SL-a brown, b.x COM–L1, E-a cpc",
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL")
				h.fit("b", "one-way", "COM=SL", "L1=E")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "master switch", want: switching.Want{Lamps: []string{"lamp.x"}, From: []string{"a.x", "b.x"}, Off: []string{"m.x"}, Subject: "want.0"},
			build: func(h *house) {
				h.fit("m", "one-way", "COM=L:c", "L1=ML")
				h.fit("a", "two-way", "COM=ML", "L1=t1", "L2=t2")
				h.fit("b", "two-way", "COM=SL", "L1=t1", "L2=t2")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "master switch that does not hold off", codes: "not-held-off",
			want: switching.Want{Lamps: []string{"lamp.x"}, From: []string{"a.x"}, Off: []string{"m.x"}, Subject: "want.0"},
			says: "a on, m off",
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL")
				h.fit("m", "one-way", "COM=spare", "L1=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "sensor beside a switch", truth: "0111",
			want: switching.Want{Lamps: []string{"lamp.x"}, From: []string{"a.x", "b.x"}, Rule: switching.RuleAny, Subject: "want.0"},
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL")
				h.fit("b", "pir", "L=L:c", "N=N:c", "SL=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "sensor behind a switch asked to act beside it", truth: "0001", codes: "wrong-level",
			want: switching.Want{Lamps: []string{"lamp.x"}, From: []string{"a.x", "b.x"}, Rule: switching.RuleAny, Subject: "want.0"},
			says: "a on, b idle",
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL1")
				h.fit("b", "pir", "L=SL1", "N=N:c", "SL=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "both switches wanted", truth: "0001",
			want: switching.Want{Lamps: []string{"lamp.x"}, From: []string{"a.x", "b.x"}, Rule: switching.RuleAll, Subject: "want.0"},
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=t")
				h.fit("b", "one-way", "COM=t", "L1=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "sensor without neutral", want: lampWant(), codes: "no-neutral unwanted-control",
			build: func(h *house) {
				h.fit("b", "pir", "L=L:c", "SL=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "sensor without line", want: lampWant(), codes: "never-lit not-supplied",
			build: func(h *house) {
				h.fit("b", "pir", "N=N:c", "SL=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "dimmer", truth: "1001", want: lampWant("a.x", "b.x"),
			build: func(h *house) {
				h.fit("a", "dimmer-neutral", "COM=L:c", "L1=t1", "L2=t2", "N=N:c")
				h.fit("b", "two-way", "COM=SL", "L1=t1", "L2=t2")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "fan with timer behind an isolator", truth: "0001",
			want: switching.Want{Lamps: []string{"fan.x"}, From: []string{"a.x"}, Off: []string{"i.x"}, Subject: "want.0"},
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL")
				h.fit("i", "fan-isolator", "Lin=L:c", "SLin=SL", "Nin=N:c", "Lout=fL", "SLout=fS", "Nout=fN")
				h.fit("fan", "timer-fan", "L=fL", "SL=fS", "N=fN")
			},
		},
		{
			name: "fan isolator that leaves the line in", codes: "live-when-off switched-neutral",
			want: switching.Want{Lamps: []string{"fan.x"}, From: []string{"a.x"}, Off: []string{"i.x"}, Subject: "want.0"},
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL")
				h.fit("i", "fan-isolator", "Lin=L:c", "Nin=N:c", "Lout=fL", "Nout=fN")
				h.fit("fan", "timer-fan", "L=fL", "SL=SL", "N=fN")
			},
		},
		{
			name: "two lamps of one control in opposition", codes: "not-together",
			want: switching.Want{Lamps: []string{"lamp.x", "other.x"}, From: []string{"a.x"}, Subject: "want.0"},
			says: "a up",
			build: func(h *house) {
				h.fit("a", "two-way", "COM=L:c", "L1=one", "L2=two")
				h.lamp("one", "N:c")
				h.fit("other", "luminaire-class2", "L=two", "N=N:c")
			},
		},
		{
			name: "a want that names nothing", codes: "want-unknown", want: lampWant("a.x", "nobody.x"),
			build: func(h *house) {
				h.fit("a", "one-way", "COM=L:c", "L1=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "pushes on a latching relay", want: lampWant("a.x", "b.x", "d.x"),
			build: func(h *house) { h.relay("L:c", "N:c") },
		},
		{
			name: "relay fed through its own contact", want: lampWant("a.x", "b.x", "d.x"), codes: "does-not-switch",
			says:  "a released, b released, d released, r reset",
			build: func(h *house) { h.relay("SL", "N:c") },
		},
		{
			name: "pushes in the neutral", want: lampWant("a.x"), codes: "live-when-off switched-neutral",
			says: "a released, r reset: the line of c reaches r.x.A1 through Lc-a brown",
			build: func(h *house) {
				h.fit("a", "push", "COM=N:c", "L1=coil")
				h.fit("r", "latching-relay", "A1=L:c", "A2=coil", "1=L:c", "2=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "push that feeds the lamp itself", truth: "01", want: lampWant("a.x"), codes: "does-not-switch",
			says: "a released",
			build: func(h *house) {
				h.fit("a", "push", "COM=L:c", "L1=SL")
				h.lamp("SL", "N:c")
			},
		},
		{
			name: "a push more than asked for", want: lampWant("a.x", "b.x"), codes: "unwanted-control",
			build: func(h *house) { h.relay("L:c", "N:c") },
		},
		{
			name: "relays in turn", want: lampWant("a.x"), codes: "does-not-switch",
			build: func(h *house) { // the second changes over at every other press
				h.fit("a", "push", "COM=L:c", "L1=k1")
				h.fit("r", "latching-relay", "A1=k1", "A2=N:c", "1=L:c", "2=k2")
				h.fit("s", "latching-relay", "A1=k2", "A2=N:c", "1=L:c", "2=SL")
				h.lamp("SL", "N:c")
			},
		},
	}
}

func (h *house) lamp(line, neutral string) {
	h.fit("lamp", "luminaire-class2", "L="+line, "N="+neutral)
}

// twoWire fits two switches of a kind, the second with the given strappers.
func (h *house) twoWire(kind, one, two string) {
	first, second := one, two
	if one == "t2" {
		first, second = two, one
	}
	h.fit("a", kind, "COM=L:c", "L1="+first, "L2="+second)
	h.fit("b", kind, "COM=SL", "L1="+one, "L2="+two)
	h.lamp("SL", "N:c")
}

// relay has three pushes in parallel, fed from a net, that work one relay.
func (h *house) relay(feed, neutral string) {
	for _, box := range []string{"a", "b", "d"} {
		h.fit(box, "push", "COM="+feed, "L1=coil")
	}
	h.fit("r", "latching-relay", "A1=coil", "A2="+neutral, "1=L:c", "2=SL")
	h.lamp("SL", "N:c")
}

func TestSchemes(t *testing.T) {
	for _, s := range schemes() {
		t.Run(s.name, func(t *testing.T) {
			h := newHouse(t, "c")
			s.build(h)
			g := h.graph()
			for _, p := range []*switching.Proof{switching.Prove(g, []switching.Want{s.want}), switching.ProveByDiagram(g, []switching.Want{s.want})} {
				checkScheme(t, &s, p, g)
			}
		})
	}
}

func checkScheme(t *testing.T, s *scheme, p *switching.Proof, g *wiring.Graph) {
	t.Helper()
	list := without(p.Findings, "missing-cpc")
	if got := distinct(list); got != s.codes {
		t.Errorf("findings %q, want %q", got, s.codes)
		for _, f := range list {
			t.Log(f)
		}
	}
	var all []int
	for i := range g.Switches {
		all = append(all, i)
	}
	if got := p.Truth(g.LoadsOf(s.want.Lamps[0])[0], all...); s.truth != "" && got != s.truth {
		t.Errorf("lit %s, want %s", got, s.truth)
	}
	if first, _, _ := strings.Cut(s.codes, " "); s.says != "" {
		for _, f := range list {
			if f.Code == first && f.Witness != s.says {
				t.Errorf("%s: witness %q, want %q", f.Code, f.Witness, s.says)
			}
			if f.Code == first {
				return
			}
		}
	}
}

// A series lamp's witness names the other lamp.
func TestSeriesWitness(t *testing.T) {
	h := newHouse(t, "c")
	h.fit("a", "one-way", "COM=L:c", "L1=SL")
	h.lamp("SL", "between")
	h.fit("lamp2", "luminaire-class2", "L=between", "N=N:c")
	for _, f := range switching.Prove(h.graph(), nil).Findings {
		if f.Code == "series-lamps" && f.Subject == "boxes.lamp.x" {
			if want := "a on: one after the other between line and neutral with lamp2.x"; f.Witness != want {
				t.Errorf("witness %q, want %q", f.Witness, want)
			}
			return
		}
	}
	t.Error("lamps in series were not found")
}

// distinct lists the codes in alphabetical order, each once.
func distinct(list []finding.Finding) string {
	set := map[string]bool{}
	for _, f := range list {
		set[f.Code] = true
	}
	return strings.Join(sortedKeys(set), " ")
}

// Two circuits: what a lamp may not do between them (BS 7671 regulation 314.4,
// from memory, to be confirmed).
func TestTwoCircuits(t *testing.T) {
	for _, c := range []struct{ lamp, other, codes string }{
		{"L=SL N=N:c", "1=x 2=y", "two-circuits"},
		{"L=SL N=N:d", "1=x 2=y", "borrowed-neutral two-circuits"},
		{"L=SL N=N:c", "1=N:c 2=N:d", "borrowed-neutral neutrals-joined two-circuits"},
		{"L=SL N=N:c", "1=L:c 2=L:d", "borrowed-neutral circuits-joined two-circuits"},
		{"L=SL N=N:c", "1=L:c 2=N:d", "short-circuit two-circuits"},
	} {
		h := newHouse(t, "c", "d")
		h.fit("a", "one-way", "COM=L:c", "L1=SL")
		h.fit("lamp", "luminaire-class2", strings.Fields(c.lamp)...)
		h.fitKind("b", bridge, strings.Fields(c.other)...)
		h.fitKind("meet", twoBridges, "1=L:c", "3=L:d")
		p := switching.Prove(h.graph(), wantToggle("lamp.x", "a.x"))
		if got := distinct(without(p.Findings, "missing-cpc")); got != c.codes {
			t.Errorf("%s, %s: %s, want %s", c.lamp, c.other, got, c.codes)
		}
	}
}

// twoBridges has two pairs of terminals that have nothing to do with each
// other, as two accessories in one box have.
var twoBridges = &kit.Accessory{ID: "two-bridges", Terminals: []kit.Terminal{{Name: "1"}, {Name: "2"}, {Name: "3"}, {Name: "4"}}}
