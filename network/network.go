// Package network answers: what is the voltage at every node, and the current
// in every branch, of a linear network of resistances, capacitances and
// sources at one frequency (50 Hz, or 0 for direct current), with given
// switches open or closed? It also answers what an ohmmeter reads between two
// nodes of the same network when it is dead. It is made to be asked very many
// times with different switch positions.
//
// It does not answer anything that is not linear, that changes with time, or
// that has inductance, and it knows nothing of houses: a caller turns cores,
// contacts and lamps into branches.
//
// # Method
//
// Nodes are eliminated one by one by the star–mesh transform (Rosen, J. IEE 62
// (1924) 916): node v with branches of admittance y(v,b) and S = Σ y(v,b)
// disappears, and each pair of its neighbours a, b gains a branch
//
//	y(v,a)·y(v,b) / S
//
// The pivot S is always formed as a sum of branch admittances, never as a
// diagonal from which something has been taken away. That is the rule of
// Grassmann, Taksar and Heyman (Oper. Res. 33 (1985) 1107), whose relative
// accuracy entry by entry does not depend on the condition of the matrix
// (O'Cinneide, Numer. Math. 65 (1993) 109). So, in a network of resistances
// only, or of capacitances only, nothing is ever subtracted and 10 mΩ beside
// 1 GΩ costs no digits. With both kinds each S is the driving-point admittance
// of a passive network, which has no negative part, so S is never zero in a
// connected network; its terms may partly cancel, but only as far as the
// network itself does (a twin-T at its null), not because of the method.
//
// A source is not turned into currents injected at two nodes: a stiff source
// far from earth would inject 20 kA at one and take 20 kA out at the other,
// and what should be left over for a 1 GΩ leakage to earth would be rounding.
// Its current stays on the branch instead, J = y·e, with the direction of the
// branch, and goes through the elimination with it:
//
//	J(a→b) gains ( y(v,b)·J(a→v) + y(v,a)·J(v→b) ) / S
//
// The error of a voltage is then a few units of rounding of the source
// voltages, whatever the admittances. For a source with one end at the
// reference this is the ordinary nodal right-hand side and costs the same;
// which branches can carry a J is known beforehand, the others are not
// computed.
//
// The voltages follow backwards, V(v) = Σ (y(v,b)·V(b) + J(v→b)) / S: averages
// of the neighbours' voltages.
//
// The reference node is never eliminated. If S is zero, node v is the last one
// of a part that hangs on nothing: a floating part. Its voltage is set to zero
// by convention, every node of the part is remembered as belonging to it, and
// the voltage between different parts is answered with "not defined" instead
// of a number.
//
// # Work done once, work done per position
//
// [Network.Factor] chooses the order (least degree first, nodes that no switch
// can affect before others, low elimination trees before high ones: Tinney and
// Walker, Proc. IEEE 55 (1967) 1801; Liu, SIAM J. Matrix Anal. Appl. 11 (1990)
// 134) and writes the elimination down as flat lists of places to multiply and
// add. Each row is built from finished earlier rows, so a row stays valid until
// a switch inside its subtree of the elimination tree moves: [Factor.Solve],
// given the solution of the position before, computes again only the rows from
// the moved switches up to the root, without allocating. The part no switch can
// reach is computed once per Factor. Rows that are computed again go through
// the same operations in the same order, so the answer does not depend, to the
// last bit, on the positions visited before.
package network

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"

	"strapper/unit"
)

// Node is a point of the network at one potential. Nodes belong to the Network
// that made them.
type Node int

// Ground is the reference node of every network: its voltage is zero.
const Ground Node = 0

// Branch names one branch of a network, in order of construction from 0.
type Branch int

// Switch names one switchable branch: it is the index of its state in the
// states given to [Factor.Solve].
type Switch int

// Voltage is a complex voltage in volts RMS; at 0 Hz it is real.
type Voltage complex128

// Abs is the magnitude of the voltage, as a meter shows it.
func (v Voltage) Abs() unit.Volt { return unit.Volt(cmplx.Abs(complex128(v))) }

// Current is a complex current in amperes RMS; at 0 Hz it is real.
type Current complex128

// Abs is the magnitude of the current, as a meter shows it.
func (c Current) Abs() unit.Ampere { return unit.Ampere(cmplx.Abs(complex128(c))) }

// The limits of what a network may hold. They keep every intermediate result
// far from the ends of the floating-point range; anything outside them is a
// mistake of units.
const (
	MinResistance  unit.Ohm   = 1e-9
	MaxResistance  unit.Ohm   = 1e15
	MinCapacitance unit.Farad = 1e-18
	MaxCapacitance unit.Farad = 1
	MinFrequency   unit.Hertz = 0.1 // or exactly 0
	MaxFrequency   unit.Hertz = 1e6
	MaxVoltage     unit.Volt  = 1e9
)

// A BuildError says which branch of a network cannot be used, why, and what to
// give instead.
type BuildError struct {
	Branch Branch // the branch, or -1 if the whole network is meant
	Kind   string // "resistor", "capacitor", "switchable branch", "source", …
	Text   string // what is wrong and what to do
}

// Error prints kind, number and text: "resistor (branch 3): resistance is 0 Ω: …".
func (e *BuildError) Error() string {
	if e.Branch < 0 {
		return e.Kind + ": " + e.Text
	}
	return fmt.Sprintf("%s (branch %d): %s", e.Kind, e.Branch, e.Text)
}

// element is one branch as it was built.
type element struct {
	a, b         Node
	closed, open Impedance // equal unless the branch is switchable
	sw           Switch    // -1 if not switchable
	source       bool
	emf          complex128 // potential of a above b behind the series resistance
}

// state is the impedance the branch has with its switch closed or not.
func (e *element) state(closed bool) Impedance {
	if closed {
		return e.closed
	}
	return e.open
}

// Network is a network under construction. Mistakes are remembered and
// returned, all of them, by [Network.Factor]; the methods that build never
// fail on the spot. The zero value is not usable, call [New].
type Network struct {
	nodes    int // including Ground
	branches []element
	switches []Branch // the branch of each Switch
	errs     []error
}

// New makes a network that has only the node [Ground].
func New() *Network { return &Network{nodes: 1} }

// Node adds a node.
func (n *Network) Node() Node {
	n.nodes++
	return Node(n.nodes - 1)
}

// Nodes is the number of nodes, Ground included; they are 0 … Nodes-1.
func (n *Network) Nodes() int { return n.nodes }

// Switches is the number of switchable branches: the length of the states.
func (n *Network) Switches() int { return len(n.switches) }

// Resistor adds a resistance between a and b, from [MinResistance] to
// [MaxResistance]. A joint of no resistance is one node, not a branch. Both
// ends may be the same node; such a branch carries nothing.
func (n *Network) Resistor(a, b Node, r unit.Ohm) Branch {
	return n.add("resistor", element{a: a, b: b, closed: Ohms(r), open: Ohms(r), sw: -1})
}

// Capacitor adds a capacitance between a and b, from [MinCapacitance] to
// [MaxCapacitance]. At 0 Hz it is an open circuit.
func (n *Network) Capacitor(a, b Node, c unit.Farad) Branch {
	return n.add("capacitor", element{a: a, b: b, closed: Farads(c), open: Farads(c), sw: -1})
}

// Impedance adds a branch of any impedance between a and b.
func (n *Network) Impedance(a, b Node, z Impedance) Branch {
	return n.add("impedance", element{a: a, b: b, closed: z, open: z, sw: -1})
}

// Switchable adds a branch that has one of two impedances, chosen in each
// [Factor.Solve] by the state of its Switch: a contact closed or open, a lamp
// on or idle. Either may be [Open].
func (n *Network) Switchable(a, b Node, closed, open Impedance) (Switch, Branch) {
	sw := Switch(len(n.switches))
	br := n.add("switchable branch", element{a: a, b: b, closed: closed, open: open, sw: sw})
	n.switches = append(n.switches, br)
	return sw, br
}

// Source adds a source of the given voltage (of plus above minus, volts RMS,
// at most [MaxVoltage]) behind a series resistance from [MinResistance] to
// [MaxResistance]. There is no ideal source: a supply has an impedance, and the
// loop impedance is what the trade measures.
func (n *Network) Source(plus, minus Node, v Voltage, series unit.Ohm) Branch {
	e := complex128(v)
	if cmplx.IsNaN(e) || cmplx.Abs(e) > float64(MaxVoltage) {
		n.fail(Branch(len(n.branches)), "source", "voltage is %g V: give a finite voltage up to %g V", e, float64(MaxVoltage))
	}
	z := Ohms(series)
	return n.add("source", element{a: plus, b: minus, closed: z, open: z, sw: -1, source: true, emf: e})
}

func (n *Network) add(kind string, e element) Branch {
	id := Branch(len(n.branches))
	for _, end := range [2]Node{e.a, e.b} {
		if end < 0 || int(end) >= n.nodes {
			n.fail(id, kind, "there is no node %d in this network: use Ground or what Node returned (0 to %d)", end, n.nodes-1)
		}
	}
	if why := e.closed.invalid(); why != "" {
		n.fail(id, kind, "%s", why)
	} else if why := e.open.invalid(); why != "" {
		n.fail(id, kind, "when open, %s", why)
	}
	n.branches = append(n.branches, e)
	return id
}

func (n *Network) fail(id Branch, kind, format string, args ...any) {
	n.errs = append(n.errs, &BuildError{Branch: id, Kind: kind, Text: fmt.Sprintf(format, args...)})
}

// check gives everything that is wrong with the network at frequency f.
func (n *Network) check(f unit.Hertz) error {
	errs := append([]error(nil), n.errs...)
	if v := float64(f); v != 0 && !(v >= float64(MinFrequency) && v <= float64(MaxFrequency)) {
		errs = append(errs, &BuildError{Branch: -1, Kind: "frequency", Text: fmt.Sprintf(
			"%g Hz cannot be used: give 0, or %g to %g Hz", v, float64(MinFrequency), float64(MaxFrequency))})
	}
	for i := range n.branches {
		if f == 0 && imag(n.branches[i].emf) != 0 {
			errs = append(errs, &BuildError{Branch: Branch(i), Kind: "source", Text: fmt.Sprintf(
				"voltage is %g V at 0 Hz: a direct voltage has no phase, give a real number", n.branches[i].emf)})
		}
	}
	return errors.Join(errs...)
}

// angular is 2πf in radians a second.
func angular(f unit.Hertz) float64 { return 2 * math.Pi * float64(f) }
