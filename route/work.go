package route

import "slices"

// Done is how often a kind of work is certainly done on a route, and along what
// length. What two cables share is counted with each of them.
type Done struct {
	Work   Work `json:"work"`
	Times  int  `json:"times"`
	Length MM   `json:"length_mm,omitempty"`
}

// work sums up what is done along a way, in the order in which it is met. Two
// halves of a work are one; one that goes on adds to its length only.
func (g *graph) work(arcs []int32) []Done {
	list, halves := []Done{}, []int{}
	for _, arc := range arcs {
		for _, t := range g.edges[arc/2].tasks {
			i := slices.IndexFunc(list, func(d Done) bool { return d.Work == t.work })
			if i < 0 {
				i = len(list)
				list, halves = append(list, Done{Work: t.work}), append(halves, 0)
			}
			list[i].Length += t.length
			switch {
			case t.half:
				halves[i]++
			case !t.on:
				halves[i] += 2
			}
		}
	}
	for i := range list {
		list[i].Times = (halves[i] + 1) / 2
	}
	return list
}
