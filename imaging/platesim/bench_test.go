package platesim

import "testing"

// BenchmarkPhotograph renders one 6-megapixel photograph.
func BenchmarkPhotograph(b *testing.B) {
	p := New(1, Mixed, Estuary, Options{})
	c := NewConditions(Rough, 1)
	for b.Loop() {
		p.Photograph(1, 3, c, 1)
	}
}
