package studio

import (
	"bytes"
	"context"
	"errors"
	"image"
	"os"
	"path/filepath"
	"testing"
	"time"

	"pullbook/app/studio/rehearsal"
	"pullbook/catalog"
	"pullbook/imaging/platesim"
)

// watched watches a new folder and gives it with what is taken from it.
func watched(t *testing.T, s *Studio) (dir string, taken chan TakenIn) {
	t.Helper()
	dir, taken = t.TempDir(), make(chan TakenIn, 10)
	job := s.Jobs().Start("watch", func(ctx context.Context, _ Progress) error {
		return s.Watch(ctx, dir, func() catalog.ID { return "" }, func(k TakenIn) { taken <- k })
	})
	t.Cleanup(func() {
		job.Cancel()
		if err := job.Wait(); !errors.Is(err, context.Canceled) {
			t.Errorf("watching ended with %v", err)
		}
	})
	time.Sleep(300 * time.Millisecond) // until it is watching
	return dir, taken
}

func nothingTaken(t *testing.T, taken chan TakenIn, when string) {
	t.Helper()
	select {
	case k := <-taken:
		t.Fatalf("taken %s: %+v", when, k)
	default:
	}
}

func oneTaken(t *testing.T, taken chan TakenIn, want int) TakenIn {
	t.Helper()
	select {
	case k := <-taken:
		if k.Err != nil || k.Photo.Bytes != int64(want) {
			t.Errorf("taken: %+v", k)
		}
		return k
	case <-time.After(2 * time.Minute):
		t.Fatal("the whole file was not taken")
	}
	return TakenIn{}
}

// A file still being written is never taken, however it is written: in bursts,
// with a pause longer than any wait, into a file of its full size, or under
// another name. It is taken once, when it is whole.
func TestWatch(t *testing.T) {
	s, from := newCatalogue(t), t.TempDir()
	pictures(t, from, 4)
	dir, taken := watched(t, s)
	read := func(name string) []byte {
		b, err := os.ReadFile(filepath.Join(from, name))
		check(t, err)
		return b
	}
	t.Run("bursts", func(t *testing.T) {
		whole := read("p000.jpg")
		f, err := os.Create(filepath.Join(dir, "slow.jpg"))
		check(t, err)
		for from := 0; from < len(whole); from += 400 {
			_, err := f.Write(whole[from:min(from+400, len(whole))])
			check(t, err)
			time.Sleep(150 * time.Millisecond)
			if from+400 < len(whole) {
				nothingTaken(t, taken, "while being written")
			}
		}
		check(t, f.Close())
		check(t, os.WriteFile(filepath.Join(dir, "notes.txt"), []byte("x"), 0o644))
		oneTaken(t, taken, len(whole))
	})
	t.Run("a long pause", func(t *testing.T) {
		whole := read("p001.jpg")
		f, err := os.Create(filepath.Join(dir, "pause.jpg"))
		check(t, err)
		for _, part := range [][]byte{whole[:len(whole)/2], whole[len(whole)/2 : len(whole)-1], whole[len(whole)-1:]} {
			_, err := f.Write(part)
			check(t, err)
			if part[0] != whole[len(whole)-1] || len(part) > 1 {
				time.Sleep(3 * settleFor)
				nothingTaken(t, taken, "in a pause")
			}
		}
		check(t, f.Close())
		oneTaken(t, taken, len(whole))
	})
	t.Run("room made first", func(t *testing.T) {
		whole := read("p002.jpg")
		f, err := os.Create(filepath.Join(dir, "room.jpg"))
		check(t, err)
		check(t, f.Truncate(int64(len(whole))))
		_, err = f.WriteAt(whole[:len(whole)-300], 0)
		check(t, err)
		time.Sleep(3 * settleFor)
		nothingTaken(t, taken, "with its end not written")
		_, err = f.WriteAt(whole[len(whole)-300:], int64(len(whole)-300))
		check(t, err)
		check(t, f.Close())
		oneTaken(t, taken, len(whole))
	})
	t.Run("another name", func(t *testing.T) {
		whole := read("p003.jpg")
		part := filepath.Join(dir, "copy.jpg.part")
		check(t, os.WriteFile(part, whole, 0o644))
		time.Sleep(2 * settleFor)
		nothingTaken(t, taken, "under another name")
		check(t, os.Rename(part, filepath.Join(dir, "copy.jpg")))
		oneTaken(t, taken, len(whole))
	})
	time.Sleep(settleFor)
	nothingTaken(t, taken, "a second time")
	if err := s.Watch(context.Background(), filepath.Join(dir, "none"), nil, nil); err == nil {
		t.Error("a folder that is not there is watched")
	}
}

// A photograph in the watched folder comes with its quality report, about a
// second after its file is whole; one out of focus is said to be.
func TestWatchReports(t *testing.T) {
	ctx, s := context.Background(), newCatalogue(t)
	wide := 2000
	if rehearsal.Long() {
		wide = 4000 // twelve megapixels
	}
	d := &rehearsal.Day{Wide: wide}
	sim := platesim.New(300, platesim.Etched, platesim.Estuary, platesim.Options{States: 1})
	plate := &catalog.Plate{Mark: catalog.Size{HeightMM: sim.Size.H, WidthMM: sim.Size.W}}
	must(t, s.Save(ctx, "plate", plate))
	dir, taken := watched(t, s)
	for _, blurred := range []bool{false, true} {
		img, c := d.Photograph(t, sim, 1, 3, 1, func(c *platesim.Conditions) {
			if blurred {
				c.Blur = float64(wide) / 650
			}
		})
		var b bytes.Buffer
		must(t, platesim.Encode(&b, img, c))
		began, busy := time.Now(), processorTime()
		must(t, os.WriteFile(filepath.Join(dir, map[bool]string{false: "sharp.jpg", true: "blurred.jpg"}[blurred]), b.Bytes(), 0o644))
		k := oneTaken(t, taken, b.Len())
		t.Logf("%d x %d pixels: told with its report after %.2f s, owed about 1 on a machine at rest; %.2f s of processor time", c.Width, c.Height, time.Since(began).Seconds(), (processorTime() - busy).Seconds())
		q, ok := Quality(&k.Photo)
		if !ok || q.PxPerMM == 0 {
			t.Fatalf("blurred %v: no report: %q", blurred, k.Photo.Quality)
		}
		for _, f := range q.Findings {
			if f.What == "focus" && (f.Stars < 2) != blurred {
				t.Errorf("blurred %v: focus has %d stars, %.3f mm", blurred, f.Stars, f.Value)
			}
		}
	}
}

// A photograph taken in otherwise is judged when it is asked for, once.
func TestCheck(t *testing.T) {
	ctx, s := context.Background(), newCatalogue(t)
	d := &rehearsal.Day{Wide: 1120}
	sim := platesim.New(300, platesim.Etched, platesim.Estuary, platesim.Options{States: 1})
	other := &catalog.Plate{Mark: catalog.Size{HeightMM: 50, WidthMM: 400}}
	plate := &catalog.Plate{Mark: catalog.Size{HeightMM: sim.Size.H, WidthMM: sim.Size.W}}
	must(t, s.Save(ctx, "plates", other, plate))
	img, c := d.Photograph(t, sim, 1, 3, 1, nil)
	path := filepath.Join(t.TempDir(), "sheet.jpg")
	rehearsal.WriteJPEG(t, path, img, c)
	bare := filepath.Join(t.TempDir(), "bare.jpg")
	rehearsal.WriteJPEG(t, bare, image.NewRGBA(image.Rect(0, 0, 800, 600)), platesim.Conditions{})
	got, err := s.TakeIn(ctx, []string{path, bare}, nil)
	must(t, err)
	q, reason, err := s.Check(ctx, got[0].Photo.ID, other.ID)
	if err != nil || reason != "" || len(q.Findings) < 5 {
		t.Fatalf("%+v %q %v", q, reason, err)
	}
	p, err := s.store.Photograph(ctx, got[0].Photo.ID)
	must(t, err)
	if kept, ok := Quality(p); !ok || kept.PxPerMM != q.PxPerMM {
		t.Errorf("the report was not kept: %q", p.Quality)
	}
	if _, reason, err := s.Check(ctx, got[1].Photo.ID, ""); err != nil || reason == "" {
		t.Errorf("a picture of no plate: %q %v", reason, err)
	}
}
