// Package route finds the way of a new cable through a house that is closed up
// and lived in: through which bays, voids and plates it goes, what has to be
// drilled, lifted or opened, where each hole is and from what it is measured,
// how long the cable is cut, and what to do if something stands in the way.
//
// It answers for hidden cables where they may run: in the zones of a wall that
// somebody who drills into it will expect ([Limits]), through joists only where
// a hole does not weaken them. It does not choose the cable's size, it does not
// know what is wired to what, and it cannot see into a wall: what is not known
// is a likelihood, and carries a plan for the case that it is so.
//
// Method: from the fabric a graph is made whose nodes are places a cable can
// be and whose edges are operations with a length, a time and a mess
// ([Finder]). Walls have columns only where a hidden cable may go up or down:
// at accessories and beside corners. Floors have a node for every lane between
// joists at every place along them where something happens; joists are crossed
// only in the allowed parts of their span. Over the graph package
// internal/shortest finds every way that no other beats in length, mess and
// time. Surface trunking is tried only where no hidden way exists.
//
// The limits are published and have their sources in data/limits.json; the
// times and the points of mess are practice without a source and are in
// data/operations.json for whoever has better ones. All ways are worked by hand
// for small houses in docs/checks/05-route.md.
package route
