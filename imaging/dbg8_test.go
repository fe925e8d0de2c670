package imaging

import (
	"fmt"
	"os"
	"testing"

	"pullbook/imaging/platesim"
)

func TestDbgCond(t *testing.T) {
	if os.Getenv("DBG") == "" {
		t.Skip("only by hand")
	}
	y := func(c [3]float64) float64 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }
	for i := range platesim.Scenes() {
		for _, kind := range []platesim.Light{platesim.Even, platesim.Rough} {
			seed := uint64(100 + 10*i + int(kind))
			for k, pull := range []int{3, 8, 25, 60} {
				c := platesim.NewConditions(kind, seed*100+uint64(k))
				fmt.Printf("%d-%d-%d ri %.4f paper %.2f tone %.3f streak %.2f blur %.2f laid %v emboss %.3f noise %.1f expo %.2f tex %.2f q %d\n", i, kind, pull, y(c.Ink)/y(c.Paper), y(c.Paper), c.Tone, c.Streak, c.Blur, c.Laid, c.Emboss, c.Noise, c.Exposure, c.Texture, c.Quality)
			}
		}
	}
}
