// Package house is the fabric of a house: storeys, rooms, walls, openings,
// floors and ceilings, the loft, the void beneath, the boxes on walls and
// ceilings, and what stands in the way of a cable. It answers where things
// are, what a wall or floor is made of at a place, and whether the description
// can be true.
//
// It does not say where a cable may run or what may be drilled; that is
// route's work. It does not know what is wired to what.
//
// All lengths are whole millimetres. On plan x grows to the right and y to the
// back, with the front of the house (the street, or whatever the survey was
// drawn from) at the bottom; heights grow upwards from the finished floor of
// the storey whose level is 0. Predicates on plan (do outlines cross, is a
// corner inside, do rooms overlap) are exact: they are signs of integer
// determinants, with coordinates limited to [Reach] so that none overflows.
//
// A [Draft] is what a person wrote: rooms as outlines, or as width and depth
// placed beside one another, and as much about walls, floors and boxes as he
// knows. [Draft.Assemble] makes a [House] of it: walls arise between the faces
// of rooms, studs and joists are set out at their centres, and whatever was
// not given is assumed and said.
package house
