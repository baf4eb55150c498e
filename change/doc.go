// Package change finds the wiring that gives the control asked for, from the
// wiring as found, with the least disturbance.
//
// An [Ask] says which lamps are to be worked from which boxes, what could be
// added (boxes, cables) and what is off limits. [Search] returns ways of doing
// it in rising order of effort, each with its wiring as left, its proof by
// package switching and its effort broken down, and says whether the first is
// proved to be the smallest; or, when there is none, which limits clash and
// which relaxations would help.
//
// # What is searched
//
// Every core carries one net from end to end: the line of a circuit, a
// neutral, a switched line, a strapper, or nothing. A way is therefore
//
//   - an arrangement of contacts for every group of lamps (see arrange.go): the
//     order of the switches along a chain of changeover and crossover switches,
//     and where line and switched line are taken from it: at the two commons,
//     or from the pair of strappers between two neighbours, with the commons
//     joined;
//   - a kind of switch for every place, and which of its terminals plays which
//     part, worked out from the contacts the catalogue gives;
//   - a net for every core, so that each net is in one piece.
//
// This is put to an exact solver (internal/sat) as clauses; that nets are in
// one piece is added as it is needed, cut by cut, and so is that protective
// conductors, which are joined throughout, reach new boxes and metal switches.
// Effort is a sum of weights
// (effort.go), minimised with a bound, so that a search that is stopped still
// says how far from the best it may be.
//
// # What is not searched
//
// Networks with more contacts than the least, 4(n-1) for n places (Shannon
// 1938; that fewer do not suffice: Cardot 1952); exchanging protective devices;
// moving lamps between circuits unless a group names its circuit. Accessories
// and circuits that no want mentions keep what they have.
package change
