package document

import (
	"cmp"
	"slices"
)

// A run is one conductor of a card: an upright at x0, a stretch along its
// track, and an upright at x1 down to a terminal. Both uprights of a link
// between terminals go down.
type run struct {
	x0, x1 float64
	link   bool
	track  int
}

func (r *run) span() (lo, hi float64) { return min(r.x0, r.x1), max(r.x0, r.x1) }

// clear is the distance along one track that keeps two runs apart.
const clear = 3.0

func (r *run) meets(o *run) bool {
	lo, hi := r.span()
	olo, ohi := o.span()
	return lo < ohi+clear && olo < hi+clear
}

// assignTracks gives every run its track, counted from the top, and returns
// how many there are. Runs to the right are taken from the right, runs to the
// left from the left, each below those before it that it meets, so that runs
// of one direction do not cross. Links have tracks of their own at the bottom.
func assignTracks(runs []*run) int {
	order := slices.Clone(runs)
	slices.SortStableFunc(order, func(a, b *run) int {
		if c := cmp.Compare(a.rank(), b.rank()); c != 0 {
			return c
		}
		if a.rank() == 0 {
			return cmp.Compare(b.x0, a.x0)
		}
		return cmp.Compare(a.x0, b.x0)
	})
	tracks, links := 0, 0
	for i, r := range order {
		if r.link && links == 0 {
			links = tracks + 1
		}
		r.track = max(links-1, 0)
		for _, before := range order[:i] {
			if before.rank() == r.rank() && before.meets(r) {
				r.track = max(r.track, before.track+1)
			}
		}
		for !free(order[:i], r) {
			r.track++
		}
		tracks = max(tracks, r.track+1)
	}
	return tracks
}

// rank puts runs to the right before runs to the left before links.
func (r *run) rank() int {
	switch {
	case r.link:
		return 2
	case r.x1 < r.x0:
		return 1
	}
	return 0
}

func free(before []*run, r *run) bool {
	for _, o := range before {
		if o.track == r.track && o.meets(r) {
			return false
		}
	}
	return true
}
