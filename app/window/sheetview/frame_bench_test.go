//go:build linux

package sheetview

import (
	"image"
	"syscall"
	"testing"
	"time"
)

// cpu is the processor time this process has used: what a frame costs however
// busy the machine is with others.
func cpu() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// The goals are those of a full window on two cores without a graphics card:
// 25 frames a second, 40 ms for a frame, of which painting the window takes
// 20 to 25. What is drawn here must leave that.

// bigPair is two sheets of 24 megapixels.
func bigPair() (*Sheet, *Sheet) {
	a := noise(1500, 1000)
	big := image.NewRGBA(image.Rect(0, 0, 6000, 4000))
	for y := range 4000 {
		for x := 0; x < 6000; x += 1500 {
			copy(big.Pix[y*big.Stride+4*x:], a.Pix[(y%1000)*a.Stride:(y%1000)*a.Stride+a.Stride])
		}
	}
	return NewSheet(big, 25, 0, 0), NewSheet(big, 25, 0.2, 0.1)
}

func benchFrames(b *testing.B, mode Mode, w, h int, share float64) {
	x, y := bigPair()
	st := Stage{A: x, B: y, Mode: mode, Share: 0.5, Ground: grey}
	m := Motion{Scale: 6, CX: 120, CY: 80}
	b.ResetTimer()
	began, used := time.Now(), cpu()
	for i := range b.N {
		m.CX = 100 + float64(i%40)
		st.Draw(m, int(float64(w)*share), int(float64(h)*share), false)
	}
	b.ReportMetric(float64(b.N)/time.Since(began).Seconds(), "frames/s")
	b.ReportMetric(float64(cpu()-used)/1e6/float64(b.N), "cpu-ms/frame")
}

func BenchmarkPanBeside(b *testing.B)          { benchFrames(b, Beside, 1200, 900, 1) }
func BenchmarkPanEdge(b *testing.B)            { benchFrames(b, Edge, 1200, 900, 1) }
func BenchmarkPanDifference(b *testing.B)      { benchFrames(b, Difference, 1200, 900, 1) }
func BenchmarkPanDifferenceDraft(b *testing.B) { benchFrames(b, Difference, 1200, 900, 0.5) }

func BenchmarkEdgeDrag(b *testing.B) {
	x, y := bigPair()
	st := Stage{A: x, B: y, Mode: Edge, Ground: grey}
	m := Motion{Scale: 6, CX: 120, CY: 80}
	b.ResetTimer()
	for i := range b.N {
		st.Share = float64(i%100) / 100
		st.Draw(m, 1200, 900, false)
	}
}

func BenchmarkSettleBeside(b *testing.B) {
	x, y := bigPair()
	st := Stage{A: x, B: y, Mode: Beside, Ground: grey}
	b.ResetTimer()
	for b.Loop() {
		st.Forget()
		st.Draw(Motion{Scale: 6, CX: 120, CY: 80}, 1200, 900, true)
	}
}

func BenchmarkPyramid24MP(b *testing.B) {
	img := image.NewRGBA(image.Rect(0, 0, 6000, 4000))
	b.ResetTimer()
	for b.Loop() {
		NewSheet(img, 25, 0, 0)
	}
}
