package studio

import (
	"bytes"
	"context"
	"image"
	"os"
	"sync"
	"sync/atomic"

	"pullbook/catalog"
	"pullbook/catalog/exchange"
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
	var plate levels
	for _, q := range list {
		if q.Plate && plate == nil {
			rectified, err := x.plate(ctx, p, pic)
			if err != nil {
				return err
			}
			plate = levels{planes(rectified)}
		}
	}
	w := fileWriter{ctx: ctx}
	var order []exchange.Piece
	for _, q := range list {
		from := &photograph
		if q.Plate {
			from = &plate
		}
		n, _ := from.place(q)
		from.level(n) // made before the work is shared
		what := q
		what.Path = ""
		if i := indexOf(order, what); i >= 0 {
			w.jobs[i].paths = append(w.jobs[i].paths, q.Path) // asked for under two names
			continue
		}
		order = append(order, what)
		w.jobs = append(w.jobs, pieceJob{paths: []string{q.Path}, draw: func() image.Image { return from.piece(q) }})
	}
	hands.Share(len(w.jobs), w.work)
	return w.err
}

func indexOf(list []exchange.Piece, q exchange.Piece) int {
	for i, p := range list {
		if p == q {
			return i
		}
	}
	return -1
}

// pieceJob is one picture to be drawn and written under one or more names.
type pieceJob struct {
	paths []string
	draw  func() image.Image
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
		var b bytes.Buffer
		if err := encodeJPEG(w.jobs[i].draw(), pieceQuality)(&b); w.failed(err) {
			return
		}
		for _, path := range w.jobs[i].paths {
			if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
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
