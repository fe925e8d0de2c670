package studio

import (
	"bytes"
	"context"
	"encoding/binary"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"

	"pullbook/catalog"
	"pullbook/imaging/decode"
)

const (
	// settleFor is how long a file must not have changed before it is taken:
	// cameras and card readers write in bursts. A file that ends as files of its
	// kind do is taken after settleWhole.
	settleFor   = 700 * time.Millisecond
	settleWhole = 250 * time.Millisecond
	// lookEvery is how often files that are waited for are looked at.
	lookEvery = 100 * time.Millisecond
	// giveUpAfter is how long a file that does not decode must not have changed
	// before it is reported as damaged.
	giveUpAfter = 20 * time.Second
)

// coming is a file in the watched folder that is not taken yet.
type coming struct {
	size    int64
	mod     time.Time
	changed time.Time // when it was last seen to change
	tried   time.Time // when it was last tried in vain
}

// Watch takes in every picture that appears in a folder from now on, about a
// second after it is complete, with its quality report, and tells each; a file
// still being written is never taken. hint is the plate in hand, by whose size
// photographs are looked through first. It returns when the context ends, or
// with a sentence when the folder cannot be watched.
func (s *Studio) Watch(ctx context.Context, dir string, hint func() catalog.ID, tellTaken func(TakenIn)) error {
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
				waiting[e.Name] = &coming{size: -1, changed: time.Now()}
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
				t, err := s.takeInAnd(ctx, path, s.checkFor(ctx, path, hint()))
				if err != nil {
					return err
				}
				if t.Err != nil && time.Since(f.changed) < giveUpAfter {
					f.tried = time.Now() // perhaps only a pause in writing
					continue
				}
				delete(waiting, path)
				tellTaken(t)
			}
		}
	}
}

// checkFor makes the quality report of a picture that is being taken in; "" when
// there is none.
func (s *Studio) checkFor(ctx context.Context, path string, hint catalog.ID) func(*decode.Picture) string {
	return func(pic *decode.Picture) string {
		sizes, err := s.sizesToTry(ctx, hint)
		if err != nil {
			return ""
		}
		q, err := checked(ctx, path, pic, sizes)
		if err != nil {
			return "" // it is asked for again when the photograph is looked at
		}
		return qualityJSON(q)
	}
}

// picture reports whether a name is that of a picture, and not of a file some
// program writes for the time being.
func picture(path string) bool {
	return !strings.HasPrefix(filepath.Base(path), ".") && slices.Contains(pictureEndings, strings.ToLower(filepath.Ext(path)))
}

// settled looks at the file and reports whether it has not changed for a
// while, and may be tried.
func (f *coming) settled(path string) bool {
	info, err := os.Stat(path)
	if err != nil {
		return false
	}
	if info.Size() != f.size || !info.ModTime().Equal(f.mod) {
		f.size, f.mod, f.changed, f.tried = info.Size(), info.ModTime(), time.Now(), time.Time{}
		return false
	}
	still := time.Since(f.changed)
	switch {
	case f.size == 0 || time.Since(f.tried) < settleFor:
		return false
	case still >= settleFor:
		return true
	}
	return still >= settleWhole && ends(path, f.size)
}

// ends reports whether a file ends as files of its kind do when they are whole:
// JPEG with its end-of-image marker (ITU-T T.81, B.1.1.3), PNG with its IEND
// chunk (ISO/IEC 15948, 11.2.5), WebP after as many bytes as its header says
// (RFC 9649). Others do not tell.
func ends(path string, size int64) bool {
	f, err := os.Open(path)
	if err != nil || size < 16 {
		return false
	}
	defer f.Close()
	head, tail := make([]byte, 12), make([]byte, 8)
	if _, err := f.ReadAt(head, 0); err != nil {
		return false
	}
	if _, err := f.ReadAt(tail, size-8); err != nil {
		return false
	}
	switch {
	case bytes.HasPrefix(head, []byte{0xff, 0xd8}):
		return tail[6] == 0xff && tail[7] == 0xd9
	case bytes.HasPrefix(head, []byte("\x89PNG")):
		return string(tail[:4]) == "IEND"
	case string(head[:4]) == "RIFF" && string(head[8:]) == "WEBP":
		n := int64(binary.LittleEndian.Uint32(head[4:]))
		return size == 8+n+n%2
	}
	return false
}
