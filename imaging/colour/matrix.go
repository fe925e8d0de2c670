package colour

// Matrix is a 3 by 3 matrix, rows first.
type Matrix [3][3]float64

// Vector is three numbers: a colour in some space.
type Vector [3]float64

// Apply returns m times v.
func (m Matrix) Apply(v Vector) Vector {
	var out Vector
	for i := range out {
		out[i] = m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2]
	}
	return out
}

// Mul returns m times n: first n, then m.
func (m Matrix) Mul(n Matrix) Matrix {
	var out Matrix
	for i := range out {
		for j := range out[i] {
			for k := range n {
				out[i][j] += m[i][k] * n[k][j]
			}
		}
	}
	return out
}

// Inverse returns the inverse and false when there is none.
func (m Matrix) Inverse() (Matrix, bool) {
	minor := func(r0, c0, r1, c1 int) float64 {
		return m[r0][c0]*m[r1][c1] - m[r0][c1]*m[r1][c0]
	}
	adj := Matrix{
		{minor(1, 1, 2, 2), -minor(0, 1, 2, 2), minor(0, 1, 1, 2)},
		{-minor(1, 0, 2, 2), minor(0, 0, 2, 2), -minor(0, 0, 1, 2)},
		{minor(1, 0, 2, 1), -minor(0, 0, 2, 1), minor(0, 0, 1, 1)},
	}
	det := m[0][0]*adj[0][0] + m[0][1]*adj[1][0] + m[0][2]*adj[2][0]
	if det > -1e-12 && det < 1e-12 {
		return Matrix{}, false
	}
	for i := range adj {
		for j := range adj[i] {
			adj[i][j] /= det
		}
	}
	return adj, true
}
