package switching_test

import (
	"testing"

	"strapper/switching"
	"strapper/wiring"
)

// What the kind of an accessory asks of its place: common practice and makers'
// instructions, no source; the neutral of an isolator on TT: BS 7671:2018
// 461.2, from memory, to be confirmed.
func TestDevices(t *testing.T) {
	fan := func(h *house, landings ...string) {
		h.fit("a", "one-way", "COM=L:c", "L1=SL")
		h.fit("b", "fan-isolator", landings...)
		h.fit("lamp", "timer-fan", "L=LF", "SL=SLF", "N=NF")
	}
	pair := func(h *house, a, b string) {
		h.fit("a", a, "COM=L:c", "L1=t1", "L2=t2")
		h.fit("b", b, "COM=SL", "L1=t1", "L2=t2")
		h.fit("lamp", "luminaire-class2", "L=SL", "N=N:c")
	}
	for _, c := range []struct {
		name, code string
		build      func(h *house)
	}{
		{"two dimmers in a pair", "two-dimmers", func(h *house) { pair(h, "dimmer", "dimmer") }},
		{"one dimmer in a pair", "", func(h *house) { pair(h, "two-way", "dimmer") }},
		{"two dimmers, a lamp each", "", func(h *house) {
			h.fit("a", "dimmer", "COM=L:c", "L1=SL")
			h.fit("b", "dimmer", "COM=L:c", "L1=SM")
			h.fit("lamp", "luminaire-class2", "L=SL", "N=N:c")
			h.fit("lamp2", "luminaire-class2", "L=SM", "N=N:c")
		}},
		{"sensor fed at its switched terminal", "not-supplied", func(h *house) {
			h.fit("b", "pir", "SL=L:c", "L=SL", "N=N:c")
			h.fit("lamp", "luminaire-class2", "L=SL", "N=N:c")
		}},
		{"sensor behind a switch", "", func(h *house) {
			h.fit("a", "one-way", "COM=L:c", "L1=LP")
			h.fit("b", "pir", "L=LP", "SL=SL", "N=N:c")
			h.fit("lamp", "luminaire-class2", "L=SL", "N=N:c")
		}},
		{"line through the neutral pole", "poles-exchanged", func(h *house) {
			h.fit("b", "double-pole", "Lin=N:c", "Nin=L:c", "Lout=SN", "Nout=SL")
			h.fit("lamp", "luminaire-class2", "L=SL", "N=SN")
		}},
		{"both poles right", "", func(h *house) {
			h.fit("b", "double-pole", "Lin=L:c", "Nin=N:c", "Lout=SL", "Nout=SN")
			h.fit("lamp", "luminaire-class2", "L=SL", "N=SN")
		}},
		{"isolator of three poles", "", func(h *house) {
			fan(h, "Lin=L:c", "SLin=SL", "Nin=N:c", "Lout=LF", "SLout=SLF", "Nout=NF")
		}},
		{"isolator past which the neutral runs", "neutral-not-isolated", func(h *house) {
			fan(h, "Lin=L:c", "SLin=SL", "Lout=LF", "SLout=SLF")
			h.wire("N:c", "lamp", "x", "N")
		}},
		{"isolator whose neutral terminals are joined", "neutral-not-isolated", func(h *house) {
			fan(h, "Lin=L:c", "SLin=SL", "Nin=N:c", "Lout=LF", "SLout=SLF", "Nout=N:c")
			h.wire("N:c", "lamp", "x", "N")
		}},
		{"isolator past which the permanent line runs", "not-isolated", func(h *house) {
			h.fit("a", "one-way", "COM=L:c", "L1=SL")
			h.fit("b", "fan-isolator", "SLin=SL", "Nin=N:c", "SLout=SLF", "Nout=N:c")
			h.fit("lamp", "timer-fan", "L=L:c", "SL=SLF", "N=N:c")
		}},
	} {
		h := newHouse(t, "c")
		h.in.Supply.Earthing = wiring.TT
		c.build(h)
		p := switching.Prove(h.graph(), nil)
		got := ""
		for _, f := range p.Findings {
			switch f.Code {
			case "two-dimmers", "not-supplied", "poles-exchanged", "not-isolated":
				got = f.Code
			case "neutral-not-isolated":
				if got == "" {
					got = f.Code
				}
			}
		}
		if got != c.code {
			t.Errorf("%s: %q, want %q: %v", c.name, got, c.code, p.Findings)
		}
	}
}
