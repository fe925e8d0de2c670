package studio

import (
	"bytes"
	"context"
	"errors"
	"image"
	"os"
	"slices"
	"sync"
	"sync/atomic"

	"pullbook/catalog"
	"pullbook/catalog/exchange"
	"pullbook/catalog/exchange/xmp"
	"pullbook/imaging/decode"
	"pullbook/imaging/hands"
)

// pieces makes the picture files of an export.
type pieces struct{ s *Studio }

// Size implements exchange.Pictures.
func (x pieces) Size(_ context.Context, p *catalog.Photograph) (width, height int, err error) {
	width, height = infoOf(p).Turned()
	return width, height, nil
}

// pieceQuality is the JPEG quality of exported pictures.
const pieceQuality = 88

// Write implements exchange.Pictures: the photograph is decoded once for all
// pieces, and so is the plate rectified; the files are made on all processors.
func (x pieces) Write(ctx context.Context, p *catalog.Photograph, list []exchange.Piece) error {
	if err := rest(ctx); err != nil {
		return err
	}
	pic, err := x.s.read(ctx, p)
	if err != nil {
		return err
	}
	photograph, err := uprightLevels(ctx, pic)
	if err != nil {
		return err
	}
	plate := levels(nil)
	if slices.ContainsFunc(list, func(q exchange.Piece) bool { return q.Plate }) {
		rectified, err := x.plate(ctx, p, pic)
		if err != nil {
			return err
		}
		plate = levels{planes(rectified)}
	}
	own := "" // the photograph's file, where it shows the picture as it is
	if pic.Format == decode.JPEG && pic.Stored() != nil {
		own = x.s.archive.Path(p.SHA256, p.Ext)
	}
	w := fileWriter{ctx: ctx, jobs: jobsOf(list, &photograph, &plate, own)}
	hands.Share(len(w.jobs), w.work)
	return w.err
}

// jobsOf are the pictures to be made, each once, and the levels they are made
// from, so that these are there before the work is shared. own is a file that
// shows the whole photograph at full size, "" for none.
func jobsOf(list []exchange.Piece, photograph, plate *levels, own string) []pieceJob {
	var jobs []pieceJob
	at := map[exchange.Piece]int{}
	for _, q := range list {
		what := q
		what.Path = ""
		if i, twice := at[what]; twice { // asked for under two names
			jobs[i].paths = append(jobs[i].paths, q.Path)
			continue
		}
		at[what] = len(jobs)
		from := photograph
		if q.Plate {
			from = plate
		}
		n, _ := from.place(q)
		from.level(n)
		job := pieceJob{paths: []string{q.Path}, draw: func() image.Image { return from.piece(q) }}
		if !q.Plate && q.W == 0 && image.Pt(q.Width, q.Height) == photograph.level(0).Rect.Size() {
			job.as = own
		}
		jobs = append(jobs, job)
	}
	return jobs
}

// pieceJob is one picture to be drawn and written under one or more names.
type pieceJob struct {
	paths []string
	draw  func() image.Image
	as    string // a file that shows just this, "" for none
}

// file is the picture as a JPEG file: that of the photograph itself, stripped
// of all but the picture, where it shows just what is asked for.
func (j pieceJob) file() ([]byte, error) {
	var b bytes.Buffer
	if j.as != "" {
		if f, err := os.Open(j.as); err == nil {
			err = xmp.Bare(&b, f)
			if err := errors.Join(err, f.Close()); err == nil {
				return b.Bytes(), nil
			}
			b.Reset() // oddly made, though it can be seen: it is drawn
		}
	}
	err := encodeJPEG(j.draw(), pieceQuality)(&b)
	return b.Bytes(), err
}

// fileWriter makes picture files, on several goroutines at once. An export can
// be made again, so its files are not forced to the disk one by one; what lists
// them is written after them.
type fileWriter struct {
	ctx  context.Context
	jobs []pieceJob
	next atomic.Int64
	mu   sync.Mutex
	err  error // the first
}

// work takes jobs until none is left or one went wrong.
func (w *fileWriter) work() {
	for {
		i := int(w.next.Add(1)) - 1
		if i >= len(w.jobs) || w.failed(w.ctx.Err()) {
			return
		}
		data, err := w.jobs[i].file()
		if w.failed(err) {
			return
		}
		for _, path := range w.jobs[i].paths {
			if err := os.WriteFile(path, data, 0o644); err != nil {
				w.failed(sentence("The picture %s cannot be written: %v. See that the disk is not full.", path, err))
				return
			}
		}
	}
}

// failed keeps the first error, and reports whether there is one.
func (w *fileWriter) failed(err error) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.err == nil {
		w.err = err
	}
	return w.err != nil
}

// plate rectifies the plate at the scale of the photograph.
func (x pieces) plate(ctx context.Context, p *catalog.Photograph, pic *decode.Picture) (*image.RGBA, error) {
	size, err := x.s.sizeOfPhotograph(ctx, p)
	if err != nil {
		return nil, err
	}
	l, err := latticeOfMark(p.Mark, size)
	if err != nil {
		return nil, err
	}
	upright, err := pic.Proxy(ctx, 0)
	if err != nil {
		return nil, err
	}
	v := view{img: upright, stand: pic.Stand, scale: 1}
	return v.rectify(l, [4]float64{0, 0, size.WidthMM, size.HeightMM}, l.pxPerMM()), nil
}
