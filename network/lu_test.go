package network_test

import "math/cmplx"

// denseLU is the textbook method: Gaussian elimination with partial pivoting on
// the n×n matrix a (by rows, overwritten); b becomes the solution.
func denseLU(a, b []complex128) {
	n := len(b)
	for k := range n {
		p := k
		for i := k + 1; i < n; i++ {
			if cmplx.Abs(a[i*n+k]) > cmplx.Abs(a[p*n+k]) {
				p = i
			}
		}
		if p != k {
			for j := range n {
				a[k*n+j], a[p*n+j] = a[p*n+j], a[k*n+j]
			}
			b[k], b[p] = b[p], b[k]
		}
		inv := 1 / a[k*n+k]
		for i := k + 1; i < n; i++ {
			l := a[i*n+k] * inv
			if l == 0 {
				continue
			}
			for j := k + 1; j < n; j++ {
				a[i*n+j] -= l * a[k*n+j]
			}
			b[i] -= l * b[k]
		}
	}
	for i := n - 1; i >= 0; i-- {
		for j := i + 1; j < n; j++ {
			b[i] -= a[i*n+j] * b[j]
		}
		b[i] /= a[i*n+i]
	}
}
