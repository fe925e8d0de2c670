package studio

import (
	"context"
	"errors"
	"image"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// TestStopDoesNotWaitForAPicture has a picture drawn that does not come to its
// end, and stops: whoever waits for it goes on, and nothing is kept.
func TestStopDoesNotWaitForAPicture(t *testing.T) {
	s, err := Create(filepath.Join(t.TempDir(), "test.pullbook"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	path := filepath.Join(t.TempDir(), "a", "picture.jpg")
	begun, goOn, over := make(chan struct{}), make(chan struct{}), make(chan struct{})
	var got error
	job := s.Jobs().Start("drawing", func(ctx context.Context, _ Progress) error {
		_, got = s.derive(ctx, path, 80, func() (image.Image, error) {
			defer close(over)
			close(begun)
			<-goOn
			return image.NewRGBA(image.Rect(0, 0, 8, 8)), nil
		})
		return got
	})
	<-begun
	job.Cancel()
	select {
	case <-job.Done():
	case <-time.After(time.Minute): // the drawing itself never ends
		t.Error("stopping waits for the picture that is being drawn")
	}
	close(goOn)
	<-over
	<-job.Done()
	if !errors.Is(got, context.Canceled) {
		t.Errorf("a stopped drawing gives %v", got)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("the picture of a stopped drawing is kept")
	}
	// The next one is not kept waiting by the one that was left.
	if _, err := s.derive(context.Background(), path, 80, func() (image.Image, error) {
		return image.NewRGBA(image.Rect(0, 0, 8, 8)), nil
	}); err != nil {
		t.Error(err)
	}
}
