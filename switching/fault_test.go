package switching_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"strapper/kit"
	"strapper/switching"
)

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// Single faults of a sound two-place circuit, two-wire and three-wire, as
// strings of lit positions: exhaustive enumeration. A fault the scheme cannot
// have is "-".
var singleFaults = `
none         1001 0110
feed-open    0000 0000
return-open  0000 0000
strap1-open  0001 0100
strap2-open  1000 0010
common-open  -    0000
A-stuck-1    1010 0101
A-stuck-2    0101 1010
B-stuck-1    1100 0011
B-stuck-2    0011 1100
A-welded     1111 1111
B-welded     1111 1111
A-no-1       0001 0010
A-no-2       1000 0100
B-no-1       0001 0100
B-no-2       1000 0010
A-dead       0000 0000
B-dead       0000 0000
strap-strap  1111 1111
feed-strap1  1011 -
strap1-return 1101 -
strap1-common -   0111
strap2-common -   1110`

func TestSingleFaults(t *testing.T) {
	for _, row := range rows(singleFaults) {
		for i, scheme := range [2][3]string{{"feed", "s1", "s2"}, {"com", "s1", "s2"}} {
			if row[i+1] != "-" {
				p := faulty(t, row[0], scheme, i == 1)
				if got := p.Truth(0, 0, 1); got != row[i+1] {
					t.Errorf("%s, %v: %s, want %s", row[0], scheme, got, row[i+1])
				}
			}
		}
	}
}

// faulty builds a two-place circuit with one fault. Each conductor is a net at
// either end with a bridge between, that an open core leaves out.
func faulty(t *testing.T, fault string, on [3]string, conversion bool) *switching.Proof {
	t.Helper()
	h := newHouse(t, "c")
	feedA, lampEnd := "feedA", "SL"
	comB, joins := "SL", map[string]string{"feed": "L:c=feedA", "return": "SL=lamp", "strap1": "s1A=s1B", "strap2": "s2A=s2B"}
	if conversion {
		feedA, comB = "comA", "comB"
		joins["feed"], joins["return"], joins["common"] = "L:c=s1A", "s2A=lamp", "comA=comB"
		lampEnd = "s2A"
	}
	switch fault {
	case "strap-strap":
		joins["fault"] = "s1A=s2A"
	case "feed-strap1":
		joins["fault"] = "feedA=s1A"
	case "strap1-return":
		joins["fault"] = "s1A=" + lampEnd
	case "strap1-common":
		joins["fault"] = "s1A=comA"
	case "strap2-common":
		joins["fault"] = "s2A=comA"
	}
	h.fitKind("a", h.faultySwitch(fault, "A"), "COM="+feedA, "L1=s1A", "L2=s2A")
	h.fitKind("b", h.faultySwitch(fault, "B"), "COM="+comB, "L1=s1B", "L2=s2B")
	for _, name := range sortedKeys(joins) {
		if name+"-open" != fault {
			x, y, _ := strings.Cut(joins[name], "=")
			h.fitKind("bridge-"+name, bridge, "1="+x, "2="+y)
		}
	}
	h.fit("lamp", "luminaire-class2", "L=lamp", "N=N:c")
	return switching.Prove(h.graph(), nil)
}

// bridge joins two terminals for good.
var bridge = &kit.Accessory{
	ID: "bridge", Positions: []string{"only"}, Terminals: []kit.Terminal{{Name: "1"}, {Name: "2"}},
	Contacts: []kit.Contact{{Join: [2]string{"1", "2"}, In: []string{"only"}}},
}

// faultySwitch is a two-way switch with the fault, if it is this switch's.
func (h *house) faultySwitch(fault, which string) *kit.Accessory {
	k := *h.cat.Accessories["two-way"]
	one, two := []string{"up"}, []string{"down"}
	both := []string{"up", "down"}
	contacts := map[string][2][]string{
		"stuck-1": {both, nil}, "stuck-2": {nil, both}, "welded": {both, both},
		"no-1": {nil, two}, "no-2": {one, nil}, "dead": {nil, nil},
	}
	in, ok := contacts[strings.TrimPrefix(fault, which+"-")]
	if !ok {
		return &k
	}
	k.Contacts = nil
	for i, terminal := range [2]string{"L1", "L2"} {
		if in[i] != nil {
			k.Contacts = append(k.Contacts, kit.Contact{Join: [2]string{"COM", terminal}, In: in[i]})
		}
	}
	return &k
}
