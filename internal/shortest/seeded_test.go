package shortest_test

import "math/rand/v2"

// seededCost is the cost of a cell of the seeded grids, from its number alone:
// a mixing function in arithmetic modulo 2^64, reduced to 1 to 8. Its first
// twelve values are 7 3 3 6 3 7 8 3 5 3 8 6.
func seededCost(i int) uint32 {
	h := uint64(i)*0x9E3779B97F4A7C15 + 0x1234567
	h ^= h >> 29
	h *= 0xBF58476D1CE4E5B9
	h ^= h >> 32
	return 1 + uint32(h%8)
}

// seededGrids are the shortest ways from the first cell to the last, a step
// costing the mean of its two cells. They were worked independently of this
// package: by a heap, by buckets and by gonum v0.17.0, which agree.
var seededGrids = []struct {
	nx, ny, nz int
	shortest   float64
}{
	{4, 4, 1, 25.5},
	{20, 20, 1, 99.5},
	{100, 100, 1, 524},
	{10, 10, 10, 62},
	{20, 20, 20, 118.5},
	{1000, 1000, 1, 5083.5},
	{100, 100, 100, 562.5},
}

// eachStep calls f for the two cells of every step of a grid, both ways.
func eachStep(nx, ny, nz int, f func(a, b int)) {
	for i := range nx * ny * nz {
		x, y, z := i%nx, i/nx%ny, i/(nx*ny)
		for _, s := range [][4]int{{1, 0, 0, 1}, {0, 1, 0, nx}, {0, 0, 1, nx * ny}} {
			if x+s[0] < nx && y+s[1] < ny && z+s[2] < nz {
				f(i, i+s[3])
				f(i+s[3], i)
			}
		}
	}
}

func seededRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0)) }
