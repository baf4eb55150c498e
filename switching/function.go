package switching

import "strapper/wiring"

// A function says of every state whether something is the case in it. There
// are two kinds: a truth table, and a decision diagram. Functions of different
// kinds are never mixed.
type function interface {
	and(function) function
	or(function) function
	xor(function) function
	andNot(function) function
	// moved is the function as it would be with switch sw in position to,
	// for states in which it stands in position from; elsewhere undefined.
	moved(sw, from, to int) function
	at(wiring.State) bool
	any() bool
	count() uint64 // states in which it is true; saturates
	// fewest is a state in which it is true with the fewest switches out of
	// their first position; ok is false if there is none.
	fewest() (s wiring.State, ok bool)
}

// A view is what is known of some of the states, or of all of them: which
// contacts are closed, and which sources each net is joined to.
type view interface {
	every() function
	closed(literal int32) function
	reached(source int, net int32) function
}

// A method proves: by truth table or by decision diagram.
type method interface {
	none() function
	every() function
	literal(sw int, in uint8) function // switch sw stands in a position of the mask
	// run fills in the proof's lamps, coils and nets, and marks the hazards
	// that show.
	run(p *Proof, hazards []hazard)
	views(func(view)) // all states, a part at a time
	gaveUp() bool
}

func none(v view) function { return v.every().andNot(v.every()) }
