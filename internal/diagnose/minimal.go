package diagnose

import (
	"cmp"
	"slices"
)

// Minimal lists the minimal sets of parts, of at most most members, whose
// failing is consistent with what was seen: sets that are consistent while none
// of their proper subsets is. It supposes that a failed part may do anything,
// so that what contains a consistent set is consistent too. Sets stand smallest
// first, then in order. With smallest, it stops after the first size that has
// any: the diagnoses of minimum cardinality.
//
// Parts are numbered from 0 to parts-1; consistent gets a set in rising order,
// which it must not keep.
func Minimal(parts, most int, smallest bool, consistent func(set []int) bool) [][]int {
	var found [][]int
	for size := 0; size <= min(most, parts); size++ {
		sets(parts, size, func(set []int) {
			if !containsOne(set, found) && consistent(set) {
				found = append(found, slices.Clone(set))
			}
		})
		if smallest && len(found) > 0 {
			break
		}
	}
	return found
}

// sets calls do for each set of a size, in rising order of members.
func sets(parts, size int, do func([]int)) {
	set := make([]int, size)
	var choose func(at, from int)
	choose = func(at, from int) {
		if at == size {
			do(set)
			return
		}
		for i := from; i <= parts-(size-at); i++ {
			set[at] = i
			choose(at+1, i+1)
		}
	}
	choose(0, 0)
}

// containsOne reports whether a set contains all of one of the others. All are
// in rising order.
func containsOne(set []int, others [][]int) bool {
	return slices.ContainsFunc(others, func(o []int) bool { return contains(set, o) })
}

func contains(set, other []int) bool {
	i := 0
	for _, x := range set {
		if i < len(other) && other[i] == x {
			i++
		}
	}
	return i == len(other)
}

// HittingSets lists the minimal sets that have a member in common with each of
// the conflicts: the minimal diagnoses, where a conflict is a set of parts that
// cannot all be sound. Smallest first, then in order.
func HittingSets(conflicts [][]int) [][]int {
	found := [][]int{nil}
	for _, conflict := range conflicts {
		var next [][]int
		for _, set := range found {
			if meets(set, conflict) {
				next = append(next, set)
				continue
			}
			for _, part := range conflict {
				grown := append(slices.Clone(set), part)
				slices.Sort(grown)
				next = append(next, grown)
			}
		}
		found = leastSets(next)
	}
	return found
}

func meets(set, other []int) bool {
	return slices.ContainsFunc(set, func(x int) bool { return slices.Contains(other, x) })
}

// leastSets sorts sets and drops those that contain another.
func leastSets(list [][]int) [][]int {
	slices.SortFunc(list, func(a, b []int) int { return cmp.Or(cmp.Compare(len(a), len(b)), slices.Compare(a, b)) })
	var kept [][]int
	for _, set := range list {
		if !containsOne(set, kept) {
			kept = append(kept, set)
		}
	}
	return kept
}
