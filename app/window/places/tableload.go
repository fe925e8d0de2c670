package places

import (
	"context"
	"image"
	"time"

	"pullbook/app/window/sheetview"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// framesCounted is how many pictures make one line of the log.
const framesCounted = 50

// countFrames logs how long pictures take one after another; pauses of a
// quarter of a second or more are not counted.
func (t *tablePlace) countFrames() func() {
	n, spent, last := 0, time.Duration(0), time.Time{}
	return func() {
		now := time.Now()
		if d := now.Sub(last); d < 250*time.Millisecond {
			n, spent = n+1, spent+d
		}
		last = now
		if n == framesCounted {
			t.f.log("frames: %d in %d ms", n, spent.Milliseconds())
			n, spent = 0, 0
		}
	}
}

// load brings the two sheets in: first at once by their plate marks from the
// pictures kept for the screen, then registered on one another.
func (t *tablePlace) load() {
	pa, pb := t.b.photoOf(t.a), t.b.photoOf(t.s)
	if pa == nil {
		pa = pb
	}
	if pb == nil || t.f.at != AtTable || t.modes.Chosen == contactMode {
		return
	}
	if t.shown == [2]catalog.ID{pa.ID, pb.ID} {
		return
	}
	keep := t.shown[0] != "" && t.b.photos[t.shown[1]] != nil
	t.shown = [2]catalog.ID{pa.ID, pb.ID}
	t.exact = false
	t.turn++
	turn, f, size, began := t.turn, t.f, t.plate.MeasureSize(), time.Now()
	ctx, stop := context.WithCancel(f.ctx)
	if t.stop != nil {
		t.stop()
	}
	t.stop = stop
	t.boxes() // none until these sheets are drawn
	t.lie(words.T("Laying the sheets down…"))
	f.work(func(context.Context) func() {
		a, errA := t.quick(ctx, pa.ID, size, f.house.Glance)
		b, errB := a, error(nil)
		if pb.ID != pa.ID {
			b, errB = t.quick(ctx, pb.ID, size, f.house.Glance)
		}
		return func() {
			if turn != t.turn {
				return
			}
			for _, err := range []error{errA, errB} {
				if err != nil {
					f.fail(err)
				}
			}
			t.view.ShowPair(a, b, keep)
			t.laid = t.shown
			t.boxes()
			f.log("sheets laid down in %d ms", time.Since(began).Milliseconds())
			t.lie(words.T("Laid down by their plate marks; registering…"))
			t.moved()
			t.register(ctx, turn, pa.ID, pb.ID, size)
		}
	})
}

// lie says how the sheets lie on one another, under them.
func (t *tablePlace) lie(say string) {
	t.lain = say
	if t.modes.Chosen != contactMode && !t.view.Drawing() {
		t.how.SetText(say)
	}
}

// layAside ends the registering of sheets that are no longer looked at; they
// are laid down anew when they are.
func (t *tablePlace) layAside() {
	if t.stop != nil && !t.exact {
		t.stop()
		t.stop, t.shown = nil, [2]catalog.ID{}
	}
}

// quick is a sheet from a picture kept for the screen, upright by its plate mark.
func (t *tablePlace) quick(ctx context.Context, photo catalog.ID, size catalog.Size, kept func(context.Context, catalog.ID) (string, error)) (*sheetview.Sheet, error) {
	path, err := kept(ctx, photo)
	if err != nil {
		return nil, err
	}
	img, err := readPicture(path)
	if err != nil {
		return nil, err
	}
	rep, err := t.f.house.Report(ctx, photo)
	if err != nil || !rep.HasMark || size.IsZero() {
		w := float64(img.Rect.Dx())
		return sheetview.NewSheet(img, w/250, 0, 0), nil // no frame to lay it on: 250 mm wide
	}
	w, h := float64(img.Rect.Dx()), float64(img.Rect.Dy())
	var px [4]sheetview.Corner
	for i, c := range rep.Corners {
		px[i] = sheetview.Corner{c[0]*w - 0.5, c[1]*h - 0.5}
	}
	scale := max(abs(px[1][0]-px[0][0])+abs(px[1][1]-px[0][1]), 10) / size.WidthMM
	flat, err := sheetview.Rectify(img, px, size.WidthMM, size.HeightMM, sheetMargin, scale)
	if err != nil {
		return nil, err
	}
	return sheetview.NewSheet(flat, scale, -sheetMargin, -sheetMargin), nil
}

// sheetMargin is how much of the paper round the plate is shown, mm.
const sheetMargin = 8.0

func abs(v float64) float64 { return max(v, -v) }

// unregistered shows two sheets that cannot be registered as large as the
// pictures kept for the screen are, laid down by their plate marks.
func (t *tablePlace) unregistered(ctx context.Context, turn int, a, b catalog.ID, size catalog.Size) {
	sa, err := t.quick(ctx, a, size, t.f.house.Proxy)
	if err != nil {
		return // they are shown smaller already
	}
	sb := sa
	if b != a {
		if sb, err = t.quick(ctx, b, size, t.f.house.Proxy); err != nil {
			return
		}
	}
	t.f.post.do(func() {
		if turn == t.turn && ctx.Err() == nil {
			t.view.ShowPair(sa, sb, true)
			t.moved()
		}
	})
}

// register asks for the exact sheets as a job.
func (t *tablePlace) register(ctx context.Context, turn int, a, b catalog.ID, size catalog.Size) {
	f := t.f
	f.start(words.T("Registering two sheets"), func(jobCtx context.Context, p Progress) error {
		both, stop := context.WithCancel(jobCtx)
		defer stop()
		defer context.AfterFunc(ctx, stop)()
		pair, err := f.house.Sheets(both, a, b, p)
		if err != nil {
			f.post.do(func() {
				if turn == t.turn && ctx.Err() == nil {
					t.lie(words.Error(err))
				}
			})
			if both.Err() == nil {
				t.unregistered(both, turn, a, b, size)
			}
			return context.Canceled // said where it matters, not in the strip
		}
		sa := sheetOf(pair.A, pair)
		sb := sa
		if b != a {
			sb = sheetOf(pair.B, pair)
		}
		f.post.do(func() {
			if turn != t.turn {
				return
			}
			t.exact = true
			f.log("sheets registered")
			t.view.ShowPair(sa, sb, true)
			t.lie(pair.Words)
			t.moved()
		})
		return nil
	})
}

func sheetOf(img image.Image, p *Pair) *sheetview.Sheet {
	if img == nil {
		return nil
	}
	return sheetview.NewSheet(img, p.PxPerMM, p.OX, p.OY)
}
