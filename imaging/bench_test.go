package imaging

import (
	"context"
	"syscall"
	"testing"
)

// processor is the processor time used so far, seconds.
func processor() float64 {
	var r syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &r) != nil {
		return 0
	}
	return float64(r.Utime.Sec+r.Stime.Sec) + float64(r.Utime.Usec+r.Stime.Usec)/1e6
}

// enlarged is a photograph with k times as many pixels each way.
func enlarged(p *Photo, k int) *Photo {
	if k == 1 {
		return p
	}
	q := *p.frame()
	q.Width, q.Height = p.Width*k, p.Height*k
	q.lum = p.lum.enlarge(k, q.Width, q.Height)
	q.clipped = p.clipped.enlarge(k, p.clipped.w*k, p.clipped.h*k)
	return &q
}

func benchMeasure(b *testing.B, k int) {
	truth := loadTruth(b, "quay")
	rp := enlarged(openShared(b, truth.Photos[0].File), k)
	mark, err := FindPlate(context.Background(), rp, truth.size())
	if err != nil {
		b.Fatal(err)
	}
	ref, err := Prepare(context.Background(), rp, mark, truth.size())
	if err != nil {
		b.Fatal(err)
	}
	base := openShared(b, truth.Photos[2].File)
	start := 0.0
	n := 0
	for b.Loop() {
		b.StopTimer()
		p := enlarged(base, k)
		start -= processor()
		b.StartTimer()
		res, err := ref.Measure(context.Background(), p, MeasureOptions{})
		if err != nil || res.Verdict != Measured {
			b.Fatal(err, res)
		}
		b.StopTimer()
		start += processor()
		n++
		b.StartTimer()
	}
	b.ReportMetric(start/float64(n), "cpu-s/op")
}

// BenchmarkMeasure measures a photograph of 6 and of 24 megapixels
// against a prepared reference, decoding left out.
func BenchmarkMeasure(b *testing.B) {
	b.Run("6MP", func(b *testing.B) { benchMeasure(b, 1) })
	b.Run("24MP", func(b *testing.B) { benchMeasure(b, 2) })
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

// BenchmarkPrepare makes a reference of a photograph and its mark.
func BenchmarkPrepare(b *testing.B) {
	truth := loadTruth(b, "quay")
	p := openShared(b, truth.Photos[0].File)
	mark, err := FindPlate(context.Background(), p, truth.size())
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Prepare(context.Background(), p, mark, truth.size()); err != nil {
			b.Fatal(err)
		}
	}
}
