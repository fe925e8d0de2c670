package accuracy

import (
	"context"
	"fmt"
	"testing"

	"pullbook/imaging"
)

// BenchmarkPhotograph times what is done with a photograph at 7, 12, 24 and 50
// megapixels: opening it, looking for its plate mark, preparing it as a
// reference, and measuring another against that; whole is opening and
// measuring, as for every photograph that comes in. cpu-s/op is the processor
// time of all cores. Simulating the photographs takes minutes; -accuracy-dir
// keeps them.
//
//	go test ./imaging/accuracy -run '^$' -bench Photograph/7MP
func BenchmarkPhotograph(b *testing.B) {
	for _, mp := range []float64{7, 12, 24, 50} {
		b.Run(fmt.Sprintf("%gMP", mp), func(b *testing.B) { benchPhotograph(b, mp) })
	}
}

func benchPhotograph(b *testing.B, mp float64) {
	pair, size := racePair(b, mp)
	ctx := context.Background()
	must := func(err error) {
		if err != nil {
			b.Helper()
			b.Fatal(err)
		}
	}
	first, err := imaging.Open(ctx, pair[0].Path)
	must(err)
	mark, err := imaging.FindPlate(ctx, first, size)
	must(err)
	ref, err := imaging.Prepare(ctx, first, mark, size)
	must(err)
	photo, err := imaging.Open(ctx, pair[1].Path)
	must(err)
	measure := func(p *imaging.Photo) {
		res, err := ref.Measure(ctx, p, imaging.MeasureOptions{})
		if err != nil || res.Verdict != imaging.Measured {
			b.Fatal(err, res)
		}
	}
	stage := func(name string, f func()) {
		b.Run(name, func(b *testing.B) {
			used := processorTime()
			for b.Loop() {
				f()
			}
			b.ReportMetric((processorTime()-used).Seconds()/float64(b.N), "cpu-s/op")
		})
	}
	stage("open", func() {
		_, err := imaging.Open(ctx, pair[1].Path)
		must(err)
	})
	stage("mark", func() {
		_, err := imaging.FindPlate(ctx, photo, size)
		must(err)
	})
	stage("prepare", func() {
		_, err := imaging.Prepare(ctx, first, mark, size)
		must(err)
	})
	stage("measure", func() { measure(photo) })
	stage("whole", func() {
		p, err := imaging.Open(ctx, pair[1].Path)
		must(err)
		measure(p)
	})
}
