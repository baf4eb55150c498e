package network

import (
	"fmt"
	"io"
	"math"
	"math/cmplx"
	"strconv"
	"strings"

	"strapper/unit"
)

// SpicePart is one network, in one position of its switches, inside a SPICE
// deck. Prefix makes its names different from those of other parts: lower case
// letters, or empty.
type SpicePart struct {
	Prefix string
	Net    *Network
	States []bool // as for Factor.Solve
}

// SpiceNode is the name of a node in a SPICE deck: "0" for Ground, else the
// prefix, "n" and the number.
func SpiceNode(prefix string, n Node) string {
	if n == Ground {
		return "0"
	}
	return prefix + "n" + strconv.Itoa(int(n))
}

// Spice writes the network in one position of its switches as a complete deck
// for ngspice; see [WriteSpice].
func (n *Network) Spice(w io.Writer, title string, f unit.Hertz, states []bool) error {
	return WriteSpice(w, title, f, SpicePart{Net: n, States: states})
}

// WriteSpice writes networks as one deck for "ngspice -b", which prints every
// node voltage to 16 digits, as "v(n1) = re,im", or as "v(n1) = re" at 0 Hz. It
// is for checking this package against an independent program.
//
// Branches that do not conduct are left out. A floating part, which such a
// program cannot solve, gets a tie of 1 Ω from its lowest node to earth. A
// single tie carries nothing and changes no voltage inside the part, so what is
// printed for node x there is the voltage of x above [Solution.Part] of x. No
// operating point is asked for before the alternating one, so parts that hang
// on capacitances alone need no leakage.
func WriteSpice(w io.Writer, title string, f unit.Hertz, parts ...SpicePart) error {
	var b strings.Builder
	fmt.Fprintf(&b, "* %s\n", strings.Join(strings.Fields(title), " "))
	for _, p := range parts {
		if err := p.Net.check(f); err != nil {
			return fmt.Errorf("network %q cannot be written as a deck: %w", p.Prefix, err)
		}
		d := spiceWriter{b: &b, part: p, f: f}
		d.elements()
		d.ties()
	}
	b.WriteString(".options noopac\n.control\nset numdgt=15\n")
	if f == 0 {
		b.WriteString("op\n")
	} else {
		fmt.Fprintf(&b, "ac lin 1 %[1]v %[1]v\n", float64(f))
	}
	for _, p := range parts {
		for v := 1; v < p.Net.nodes; v++ {
			fmt.Fprintf(&b, "print v(%s)\n", SpiceNode(p.Prefix, Node(v)))
		}
	}
	b.WriteString("quit\n.endc\n.end\n")
	_, err := io.WriteString(w, b.String())
	return err
}

type spiceWriter struct {
	b    *strings.Builder
	part SpicePart
	f    unit.Hertz
}

func (d *spiceWriter) node(n Node) string { return SpiceNode(d.part.Prefix, n) }

// closed says whether the branch's switch is closed.
func (d *spiceWriter) closed(e *element) bool {
	return e.sw >= 0 && int(e.sw) < len(d.part.States) && d.part.States[e.sw]
}

func (d *spiceWriter) elements() {
	w := angular(d.f)
	for i := range d.part.Net.branches {
		e := &d.part.Net.branches[i]
		z := e.state(d.closed(e))
		if z.admittance(w) == 0 || e.a == e.b {
			continue
		}
		name := d.part.Prefix + strconv.Itoa(i)
		a, b := d.node(e.a), d.node(e.b)
		if e.source {
			inner := d.part.Prefix + "s" + strconv.Itoa(i)
			fmt.Fprintf(d.b, "V%s %s %s %s\n", name, inner, b, d.voltage(e.emf))
			b = inner
		}
		d.impedance(name, a, b, z)
	}
}

func (d *spiceWriter) voltage(e complex128) string {
	if d.f == 0 {
		return fmt.Sprintf("DC %v", real(e))
	}
	return fmt.Sprintf("DC 0 AC %v %v", cmplx.Abs(e), cmplx.Phase(e)*180/math.Pi)
}

// impedance writes one or two elements; at 0 Hz capacitances are left out.
func (d *spiceWriter) impedance(name, a, b string, z Impedance) {
	if z.form == formSeries {
		middle := d.part.Prefix + "m" + name[len(d.part.Prefix):]
		fmt.Fprintf(d.b, "R%s %s %s %v\nC%s %s %s %v\n", name, a, middle, float64(z.r), name, middle, b, float64(z.c))
		return
	}
	if z.hasR() {
		fmt.Fprintf(d.b, "R%s %s %s %v\n", name, a, b, float64(z.r))
	}
	if z.hasC() && d.f != 0 {
		fmt.Fprintf(d.b, "C%s %s %s %v\n", name, a, b, float64(z.c))
	}
}

// ties joins the lowest node of each floating part to earth.
func (d *spiceWriter) ties() {
	n := d.part.Net
	lowest := make([]int, n.nodes)
	for i := range lowest {
		lowest[i] = i
	}
	find := func(v int) int {
		for lowest[v] != v {
			lowest[v] = lowest[lowest[v]]
			v = lowest[v]
		}
		return v
	}
	for i := range n.branches {
		e := &n.branches[i]
		if e.state(d.closed(e)).admittance(angular(d.f)) != 0 {
			p, q := find(int(e.a)), find(int(e.b))
			lowest[max(p, q)] = min(p, q)
		}
	}
	for v := 1; v < n.nodes; v++ {
		if lowest[v] == v {
			node := d.node(Node(v))
			fmt.Fprintf(d.b, "* floating part, reference %s\nRtie%s %s 0 1\n", node, node, node)
		}
	}
}
