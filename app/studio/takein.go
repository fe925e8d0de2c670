package studio

import (
	"context"
	"errors"
	"image"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"pullbook/catalog"
	"pullbook/catalog/store"
	"pullbook/imaging/decode"
)

// TakenIn is what became of one file.
type TakenIn struct {
	Path  string
	Photo catalog.Photograph // with its ID; zero when Err is set
	// Already: the very same bytes were in the catalogue before.
	Already bool
	Err     error // why it was not taken in; a sentence
}

// pictureEndings are the endings of files in a folder that are looked at. HEIC
// is among them to be refused with advice, not passed over.
var pictureEndings = []string{".jpg", ".jpeg", ".jpe", ".png", ".tif", ".tiff", ".webp", ".heic", ".heif"}

// Photographs lists the picture files named by paths: a file as it is, a
// folder by the pictures in it and in the folders below, in order of name.
func Photographs(paths []string) ([]string, error) {
	var files []string
	for _, path := range paths {
		info, err := os.Stat(path)
		if err != nil {
			return nil, sentence("There is no file or folder %s; check its name.", path)
		}
		if !info.IsDir() {
			files = append(files, path)
			continue
		}
		err = filepath.WalkDir(path, func(p string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return sentence("The folder %s cannot be read (%v); see that you may read it.", p, err)
			case p != path && strings.HasPrefix(d.Name(), "."):
				if d.IsDir() {
					return filepath.SkipDir
				}
			case d.Type().IsRegular() && slices.Contains(pictureEndings, strings.ToLower(filepath.Ext(p))):
				files = append(files, p)
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return files, nil
}

// TakeIn copies photographs into the archive and records them with what their
// files say of themselves; folders stand for the pictures in them. The same
// bytes are one photograph however often they are given. Each photograph is
// one transaction, so that a stop loses none that was reported. The error is
// the context's or the catalogue's; what is wrong with one file is in its Err.
func (s *Studio) TakeIn(ctx context.Context, paths []string, p Progress) ([]TakenIn, error) {
	files, err := Photographs(paths)
	if err != nil {
		return nil, err
	}
	taken := make([]TakenIn, len(files))
	var mu sync.Mutex
	done := 0
	err = each(ctx, bothCores(), len(files), func(ctx context.Context, i int) error {
		t, err := s.takeIn(ctx, files[i])
		if err != nil {
			return err
		}
		mu.Lock()
		defer mu.Unlock()
		taken[i] = t
		done++
		tell(p, float64(done)/float64(len(files)), "taken in %d of %d photographs", done, len(files))
		return nil
	})
	return taken, err
}

// takeIn takes one file in. Its pictures for the screen are drawn at once,
// which also proves that the file can be decoded to its end.
func (s *Studio) takeIn(ctx context.Context, path string) (TakenIn, error) {
	return s.takeInAnd(ctx, path, nil)
}

// takeInAnd is takeIn that has check, unless nil, make the quality report of
// the picture meanwhile.
func (s *Studio) takeInAnd(ctx context.Context, path string, check func(*decode.Picture) string) (TakenIn, error) {
	t := TakenIn{Path: path}
	pic, err := readPicture(ctx, path)
	if err != nil {
		if ctx.Err() != nil {
			return t, ctx.Err()
		}
		t.Err = err
		return t, nil
	}
	report := make(chan string, 1)
	if check == nil {
		report <- ""
	} else {
		go func() { report <- check(pic) }()
	}
	kept, err := s.archive.Add(ctx, path)
	if err != nil {
		if ctx.Err() != nil {
			return t, ctx.Err()
		}
		return t, err
	}
	// Two equal files of one folder may come here at the same moment.
	release, err := s.making.enter(ctx, kept.SHA256)
	if err != nil {
		return t, err
	}
	defer release()
	switch had, err := s.store.PhotographBySHA256(ctx, kept.SHA256); {
	case err == nil:
		t.Photo, t.Already = *had, true
		return t, nil
	case !notFound(err):
		return t, err
	}
	t.Photo = catalog.Photograph{
		View: catalog.ViewWhole, SHA256: kept.SHA256, Ext: kept.Ext, Bytes: kept.Bytes, Name: filepath.Base(path),
		WidthPX: pic.Width, HeightPX: pic.Height, Orientation: pic.Orientation,
		TakenAt: pic.Taken.UTC(), Camera: pic.Camera, Lens: pic.Lens, Profile: pic.Profile.Name, AddedAt: s.now().UTC(),
	}
	if pic.Taken.IsZero() {
		t.Photo.TakenAt = pic.Taken
	}
	if t.Photo.SessionID, err = s.sessionAt(ctx, t.Photo.TakenAt); err != nil {
		return t, err
	}
	if err := s.drawForScreen(ctx, pic, kept.SHA256); err != nil {
		return t, err
	}
	t.Photo.Quality = <-report
	return t, s.store.Do(ctx, "Take in "+t.Photo.Name, func(tx *store.Tx) error { return tx.PutPhotograph(&t.Photo) })
}

// drawForScreen makes thumbnail, glance and proxy of a photograph just decoded.
func (s *Studio) drawForScreen(ctx context.Context, pic *decode.Picture, sha string) error {
	for _, k := range []struct {
		kind          string
		side, quality int
	}{{"proxy", ProxySide, 88}, {"glance", GlanceSide, glanceQuality}, {"thumb", ThumbSide, 82}} {
		path := s.derivedPath(k.kind, sha, "")
		_, err := s.derive(ctx, path, k.quality, func() (image.Image, error) { return pic.Proxy(ctx, k.side) })
		if err != nil {
			return err
		}
	}
	return nil
}

func notFound(err error) bool {
	var missing *store.NotFoundError
	return errors.As(err, &missing)
}

// FilePhotograph says which impression a photograph shows; how is "slip",
// "recognised", "time order" or "by hand", sure 0..1.
func (s *Studio) FilePhotograph(ctx context.Context, photo, impression catalog.ID, how string, sure float64) error {
	return s.store.Do(ctx, "File a photograph", func(tx *store.Tx) error {
		p, err := tx.Photograph(ctx, photo)
		if err != nil {
			return err
		}
		if p.ImpressionID != impression {
			// A mark found for another plate's size means nothing for this one.
			if p.ImpressionID != "" && p.MarkBy != "by hand" {
				p.Mark, p.MarkBy, p.MarkSure = [4][2]float64{}, "", 0
			}
			p.ImpressionID = impression
		}
		p.FiledBy, p.FiledSure = how, sure
		return tx.PutPhotograph(p)
	})
}
