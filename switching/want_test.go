package switching_test

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"strapper/finding"
	"strapper/kit"
	"strapper/switching"
	"strapper/wiring"
)

// bruteWant says which faults of control a want has, by going through the
// states one at a time and working each switch in each.
type bruteWant struct {
	*brute
	w     switching.Want
	codes map[string]bool
}

func (b *bruteWant) index(ids []string) (list []int) {
	for _, id := range ids {
		list = append(list, b.g.SwitchIndex(id))
	}
	return list
}

// off is the position of a switch of three positions that joins nothing.
func off(k *kit.Accessory) uint8 {
	if len(k.Positions) == 3 {
		return uint8(slices.Index(k.Positions, "off"))
	}
	return 99
}

func (b *bruteWant) held(s wiring.State) bool {
	for _, i := range b.index(b.w.Off) {
		if s[i] == 0 {
			return true
		}
	}
	for _, i := range b.index(b.w.From) {
		if s[i] == off(b.g.Switches[i].Kind) {
			return true
		}
	}
	return false
}

func (b *bruteWant) litIn(s wiring.State, load int) bool {
	b.set(s)
	return b.lit(&b.g.Loads[load])
}

func (b *bruteWant) energised(s wiring.State) []bool {
	b.set(s)
	var list []bool
	for _, c := range b.g.Coils {
		list = append(list, b.line(c.A) && b.neutral(c.B) || b.line(c.B) && b.neutral(c.A))
	}
	return list
}

// operate moves a switch; a push springs back from what it holds. Relays whose coils become
// energised change over; ok is false if they never come to rest.
func (b *bruteWant) operate(s wiring.State, sw int, to uint8) (held, after wiring.State, ok bool) {
	was, from := b.energised(s), s[sw]
	s = slices.Clone(s)
	s[sw] = to
	s, was, ok = b.rest(s, was)
	held = slices.Clone(s)
	if ok && b.g.Switches[sw].Kind.Actuator == kit.ByPush {
		s[sw] = from
		s, _, ok = b.rest(s, was)
	}
	return held, s, ok
}

func (b *bruteWant) rest(s wiring.State, was []bool) (wiring.State, []bool, bool) {
	for range 20 {
		now := b.energised(s)
		changed := false
		for i, c := range b.g.Coils {
			if now[i] && !was[i] {
				s[c.Switch] ^= 1
				changed = true
			}
		}
		was = now
		if !changed {
			return s, was, true
		}
	}
	return s, was, false
}

func (b *bruteWant) look(s wiring.State) {
	var loads []int
	for _, id := range b.w.Lamps {
		loads = append(loads, b.g.LoadsOf(id)...)
	}
	for _, load := range loads {
		lit := b.litIn(s, load)
		if b.held(s) {
			b.codes["not-held-off"] = b.codes["not-held-off"] || lit
			continue
		}
		for i := range b.g.Switches {
			if b.g.Switches[i].Kind.Actuator == kit.ByPush && s[i] != 0 {
				return
			}
		}
		b.level(s, load, loads[0])
		b.work(s, load)
	}
}

func (b *bruteWant) level(s wiring.State, load, first int) {
	lit := b.litIn(s, load)
	moved := func(i int) bool { return s[i] != 0 }
	from := b.index(b.w.From)
	switch b.w.Rule {
	case switching.RuleAny:
		b.codes["wrong-level"] = b.codes["wrong-level"] || lit != slices.ContainsFunc(from, moved)
	case switching.RuleAll:
		all := !slices.ContainsFunc(from, func(i int) bool { return !moved(i) })
		b.codes["wrong-level"] = b.codes["wrong-level"] || lit != all
	default:
		b.codes["not-together"] = b.codes["not-together"] || lit != b.litIn(s, first)
	}
}

func (b *bruteWant) work(s wiring.State, load int) {
	lit := b.litIn(s, load)
	for sw := range s {
		k := b.g.Switches[sw].Kind
		own := slices.Contains(b.index(b.w.From), sw)
		if k.Actuator == kit.ByCoil || slices.Contains(b.index(b.w.Off), sw) || own && b.w.Rule != switching.RuleToggle {
			continue
		}
		for to := range uint8(len(k.Positions)) {
			if to == s[sw] || to == off(k) || s[sw] == off(k) {
				continue
			}
			held, after, ok := b.operate(s, sw, to)
			if !ok {
				b.codes["relays-unsettled"] = true
				continue
			}
			same := b.litIn(after, load) == lit
			b.codes["does-not-switch"] = b.codes["does-not-switch"] || own && same
			same = same && b.litIn(held, load) == lit
			b.codes["unwanted-control"] = b.codes["unwanted-control"] || !own && !same
		}
	}
}

var controlCodes = strings.Fields("not-held-off not-together wrong-level does-not-switch unwanted-control relays-unsettled")

// What is wrong with the control of random houses, with and without relays,
// against working every switch in every state.
func TestWantsAgainstBruteForce(t *testing.T) {
	found := map[string]int{}
	for seed := range int64(1500) {
		h, wants := randomHouse(t, seed, 6)
		if seed%2 == 0 {
			addRelay(h, seed)
		}
		w := &wants[0]
		if r := rand.New(rand.NewSource(seed)); len(w.From) > 1 && r.Intn(2) == 0 {
			w.Off, w.From = w.From[:1], w.From[1:]
		}
		g := h.graph()
		if len(w.Lamps) == 0 {
			continue
		}
		b := &bruteWant{newBrute(g), *w, map[string]bool{}}
		for i := range g.States() {
			b.look(g.StateAt(i))
		}
		p := switching.Prove(g, wants)
		for _, code := range controlCodes {
			got := slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Code == code })
			if got != b.codes[code] {
				t.Fatalf("seed %d: %s found %v, want %v", seed, code, got, b.codes[code])
			}
			found[fmt.Sprint(code, " ", got)]++
		}
	}
	for _, code := range controlCodes[:5] {
		if found[code+" true"] < 10 || found[code+" false"] < 10 {
			t.Errorf("%s: seen in %d houses and not in %d: the test looks at too little", code, found[code+" true"], found[code+" false"])
		}
	}
	t.Log(found)
}
