package imaging

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

func TestDbgSim(t *testing.T) {
	dir := os.Getenv("SIMDIR")
	if dir == "" {
		t.Skip("only by hand")
	}
	files, _ := filepath.Glob(dir + "/" + os.Getenv("SIMPAT") + "*.json")
	for _, f := range files {
		truth, open := simTruth(t, f)
		rp := open(truth.Photos[0].File)
		mark, err := FindPlate(context.Background(), rp, truth.size())
		if err != nil {
			fmt.Println(f, "reference", err)
			var q Quad
			for i, c := range truth.Photos[0].Corners {
				q[i] = Point{c[0], c[1]}
			}
			mark = MarkFromStored(rp, q)
		}
		cd := 0.0
		for i, c := range truth.Photos[0].Corners {
			cd = max(cd, mark.Corners[i].dist(Point{c[0], c[1]})/truth.Photos[0].PxPerMM)
		}
		fmt.Printf("%s ref corners max %.3f sure %.2f\n", filepath.Base(f), cd, mark.Sure)
		ref, err := Prepare(context.Background(), rp, mark, truth.size())
		if err != nil {
			fmt.Println(f, "prepare", err)
			continue
		}
		for _, ph := range truth.Photos[1:] {
			s, res, err := ref.Register(context.Background(), open(ph.File), MeasureOptions{})
			if err != nil {
				t.Fatal(err)
			}
			if res.Verdict != Measured {
				fmt.Printf("%-14s REFUSED %s\n", ph.File, res.Reason)
				continue
			}
			rel, abs := relativeError(ref.Sheet.m, truth.Photos[0], s.m, ph)
			fmt.Printf("%-14s reg %.3f abs %.3f (u %.3f chi %s rho %.2f) tone %.4f err %+.4f z %+.1f loss %.4f err %+.4f u %.4f z %+.1f", ph.File, rel, abs, res.Registration.ResidualMM, res.Registration.State, res.Registration.Correlation,
				ph.Tone, res.Scores.PlateTone.V-ph.Tone, (res.Scores.PlateTone.V-ph.Tone)/res.Scores.PlateTone.U, *ph.InkLoss, res.Scores.InkLoss.V-*ph.InkLoss, res.Scores.InkLoss.U, (res.Scores.InkLoss.V-*ph.InkLoss)/res.Scores.InkLoss.U)
			if res.Scores.BurrLoss != nil {
				fmt.Printf(" burr %.2f err %+.3f", *ph.BurrLoss, res.Scores.BurrLoss.V-*ph.BurrLoss)
			} else {
				fmt.Printf(" burr nil truth %.2f", *ph.BurrLoss)
			}
			if res.Scores.WearLoss != nil && res.Scores.LinesLost != nil {
				fmt.Printf(" wear %.3f lost %.3f over %+.3f", res.Scores.WearLoss.V, res.Scores.LinesLost.V, res.Scores.OverInking.V)
			}
			fmt.Printf(" blur %.3f ink %.4f/%.4f ref %.4f\n", s.BlurMM, s.Ink, s.InkU, ref.Sheet.Ink)
		}
	}
}

func simTruth(t *testing.T, f string) (truthPlate, func(string) *Photo) {
	b, _ := os.ReadFile(f)
	var truth truthPlate
	if err := json.Unmarshal(b, &truth); err != nil {
		t.Fatal(err)
	}
	return truth, func(n string) *Photo {
		p, err := Open(context.Background(), filepath.Dir(f)+"/"+n)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
}
