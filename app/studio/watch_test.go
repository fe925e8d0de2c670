package studio

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// A file written in bursts is taken once, when it is whole.
func TestWatch(t *testing.T) {
	s, from, dir := newCatalogue(t), t.TempDir(), t.TempDir()
	pictures(t, from, 2)
	whole, err := os.ReadFile(filepath.Join(from, "p000.jpg"))
	check(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	taken := make(chan TakenIn, 10)
	job := s.Jobs().Start("watch", func(ctx context.Context, _ Progress) error {
		return s.Watch(ctx, dir, func(k TakenIn) { taken <- k })
	})
	time.Sleep(300 * time.Millisecond) // until it is watching
	f, err := os.Create(filepath.Join(dir, "slow.jpg"))
	check(t, err)
	for from := 0; from < len(whole); from += 400 {
		_, err := f.Write(whole[from:min(from+400, len(whole))])
		check(t, err)
		time.Sleep(150 * time.Millisecond)
		select {
		case k := <-taken:
			if from+400 < len(whole) {
				t.Fatalf("taken while being written: %+v", k)
			}
		default:
		}
	}
	check(t, f.Close())
	check(t, os.WriteFile(filepath.Join(dir, "notes.txt"), []byte("x"), 0o644))
	select {
	case k := <-taken:
		if k.Err != nil || k.Photo.Bytes != int64(len(whole)) {
			t.Errorf("taken: %+v", k)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("the whole file was not taken")
	case <-ctx.Done():
	}
	job.Cancel()
	if err := job.Wait(); !errors.Is(err, context.Canceled) {
		t.Errorf("watching ended with %v", err)
	}
	if err := s.Watch(context.Background(), filepath.Join(dir, "none"), nil); err == nil {
		t.Error("a folder that is not there is watched")
	}
}
