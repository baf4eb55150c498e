package network

// position of a node, if the network had it when it was factored.
func (s *Solution) at(n Node) (int32, bool) {
	if n < 0 || int(n) >= len(s.f.pos) {
		return 0, false
	}
	return s.f.pos[n], true
}

// Voltage is the voltage of a above b in volts RMS. It is not ok if the two are
// in different floating parts, where no voltage is defined, or if one of them is
// not a node of the network. In a network of resistances with one source that
// has an end at Ground, the voltage of a node above Ground keeps full relative
// accuracy, however small; otherwise the error is a few units of rounding of
// the source voltages.
func (s *Solution) Voltage(a, b Node) (v Voltage, ok bool) {
	p, okA := s.at(a)
	q, okB := s.at(b)
	if !okA || !okB || s.loose > 0 && s.part[p] != s.part[q] {
		return 0, false
	}
	return Voltage(s.v[p] - s.v[q]), true
}

// Floating says whether no branch that conducts, nor any chain of them, joins
// the node to Ground. A node that the network does not have is floating.
func (s *Solution) Floating(n Node) bool {
	_, ok := s.Voltage(n, Ground)
	return !ok
}

// Part is the lowest node of the part of the network which holds n: the same
// for all nodes of a part, Ground for the part that holds Ground. It is -1 for a
// node that the network does not have.
func (s *Solution) Part(n Node) Node {
	p, ok := s.at(n)
	if !ok {
		return -1
	}
	if s.loose == 0 {
		return Ground
	}
	for node, q := range s.f.pos {
		if s.part[q] == s.part[p] {
			return Node(node)
		}
	}
	return -1
}

// Floats is the number of floating parts; 0 if everything hangs on Ground.
func (s *Solution) Floats() int { return s.loose }

// Current is the current through a branch in amperes RMS, from its first node
// to its second; for a source, the current it delivers out of its plus end. It
// is not ok if the network has no such branch.
//
// It is found from the voltage across the branch, so its error is that of the
// voltages divided by the branch's impedance: about 1e-11 A in a 10 mΩ contact
// of a 230 V network.
func (s *Solution) Current(br Branch) (i Current, ok bool) {
	if br < 0 || int(br) >= len(s.f.net.branches) {
		return 0, false
	}
	el := &s.f.net.branches[br]
	closed := el.sw >= 0 && s.closed[el.sw]
	y := el.state(closed).admittance(s.f.net.w)
	across, ok := s.Voltage(el.a, el.b)
	if !ok {
		return 0, true // different floating parts: nothing conducts between them
	}
	if el.source {
		return Current(y * (el.emf - complex128(across))), true
	}
	return Current(y * complex128(across)), true
}
