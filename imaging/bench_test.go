package imaging

import (
	"context"
	"testing"
)

// BenchmarkMeasure measures one 6 megapixel photograph against a prepared
// reference, decoding left out.
func BenchmarkMeasure(b *testing.B) {
	truth := loadTruth(b, "quay")
	rp := openShared(b, truth.Photos[0].File)
	mark, err := FindPlate(context.Background(), rp, truth.size())
	if err != nil {
		b.Fatal(err)
	}
	ref, err := Prepare(context.Background(), rp, mark, truth.size())
	if err != nil {
		b.Fatal(err)
	}
	p := openShared(b, truth.Photos[2].File)
	for b.Loop() {
		if _, err := ref.Measure(context.Background(), p, MeasureOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkOpen decodes one 6 megapixel photograph to linear light.
func BenchmarkOpen(b *testing.B) {
	loadTruth(b, "quay")
	for b.Loop() {
		openShared(b, "quay-reference.jpg")
	}
}

// BenchmarkFindPlate looks for the plate mark.
func BenchmarkFindPlate(b *testing.B) {
	truth := loadTruth(b, "quay")
	p := openShared(b, truth.Photos[0].File)
	for b.Loop() {
		if _, err := FindPlate(context.Background(), p, truth.size()); err != nil {
			b.Fatal(err)
		}
	}
}
