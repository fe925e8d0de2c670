package studio

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

const (
	// settleFor is how long a file must not have changed before it is taken:
	// cameras and card readers write in bursts.
	settleFor = 700 * time.Millisecond
	// lookEvery is how often files that are waited for are looked at.
	lookEvery = 200 * time.Millisecond
	// giveUpAfter is how long a file that does not decode may stay unfinished
	// before it is reported as damaged.
	giveUpAfter = 20 * time.Second
)

// coming is a file in the watched folder that is not taken yet.
type coming struct {
	size  int64
	mod   time.Time
	since time.Time // when it was last seen to change
	first time.Time
}

// Watch takes in every picture that appears in a folder from now on, about a
// second after it is complete, and tells each; a file still being written is
// never taken. It returns when the context ends, or with a sentence when the
// folder cannot be watched.
func (s *Studio) Watch(ctx context.Context, dir string, tellTaken func(TakenIn)) error {
	w, err := fsnotify.NewWatcher()
	if err == nil {
		defer w.Close()
		err = w.Add(dir)
	}
	if err != nil {
		return sentence("The folder %s cannot be watched (%v); take its photographs in by hand.", dir, err)
	}
	waiting := map[string]*coming{}
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case e, open := <-w.Events:
			if !open {
				return nil
			}
			if picture(e.Name) && e.Op&(fsnotify.Create|fsnotify.Write|fsnotify.Chmod) != 0 && waiting[e.Name] == nil {
				now := time.Now()
				waiting[e.Name] = &coming{size: -1, since: now, first: now}
			}
		case err := <-w.Errors:
			return sentence("Watching the folder %s failed (%v); take its photographs in by hand.", dir, err)
		case <-tick.C:
			for path, f := range waiting {
				if _, err := os.Stat(path); err != nil {
					delete(waiting, path) // gone again; it comes anew if it comes
					continue
				}
				if !f.settled(path) {
					continue
				}
				t, err := s.takeIn(ctx, path)
				if err != nil {
					return err
				}
				if t.Err != nil && time.Since(f.first) < giveUpAfter {
					f.since = time.Now() // perhaps only a pause in writing
					continue
				}
				delete(waiting, path)
				tellTaken(t)
			}
		}
	}
}

// picture reports whether a name is that of a picture, and not of a file some
// program writes for the time being.
func picture(path string) bool {
	return !strings.HasPrefix(filepath.Base(path), ".") && slices.Contains(pictureEndings, strings.ToLower(filepath.Ext(path)))
}

// settled looks at the file and reports whether it has not changed for a
// while.
func (f *coming) settled(path string) bool {
	info, err := os.Stat(path)
	if err != nil {
		return false
	}
	if info.Size() != f.size || !info.ModTime().Equal(f.mod) {
		f.size, f.mod, f.since = info.Size(), info.ModTime(), time.Now()
		return false
	}
	return f.size > 0 && time.Since(f.since) >= settleFor
}
