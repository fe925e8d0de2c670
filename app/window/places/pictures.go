package places

import (
	"container/list"
	"context"
	"image"
	"image/color"
	_ "image/jpeg" // pictures on disk are JPEG
	_ "image/png"
	"math"
	"os"
	"sync"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"pullbook/app/window/look"
	"pullbook/app/window/sheetview"
	"pullbook/catalog"
)

// pictureKey is a small picture: a photograph within a square of side pixels.
type pictureKey struct {
	photo catalog.ID
	side  int
	plate bool // the plate alone, cut along its mark
}

// pictures keeps small pictures decoded, newest asked for first, and bounds
// what it keeps by bytes.
type pictures struct {
	house House
	post  *poster

	mu      sync.Mutex
	wake    *sync.Cond
	stack   []pictureKey // to be made, the last first
	made    map[pictureKey]*list.Element
	order   *list.List // of *madePicture, newest first
	bytes   int
	wanted  map[pictureKey]map[*pic]bool
	loading map[pictureKey]bool
	arrive  []pictureKey
	closed  bool
}

type madePicture struct {
	key pictureKey
	img *image.RGBA // nil: there is none to be had
}

const (
	picturesKept  = 48 << 20 // bytes
	picturesStack = 240
	pictureHands  = 2
	thumbEnough   = 110 // pixels of plate that a thumbnail can give
	glanceEnough  = 480 // and that a glance can
)

func newPictures(house House, post *poster) *pictures {
	p := &pictures{house: house, post: post, made: map[pictureKey]*list.Element{}, order: list.New(), wanted: map[pictureKey]map[*pic]bool{}, loading: map[pictureKey]bool{}}
	p.wake = sync.NewCond(&p.mu)
	for range pictureHands {
		go p.work()
	}
	return p
}

// get returns a picture if it is made, and otherwise asks for it on behalf of w.
func (p *pictures) get(k pictureKey, w *pic) *image.RGBA {
	p.mu.Lock()
	defer p.mu.Unlock()
	if e := p.made[k]; e != nil {
		p.order.MoveToFront(e)
		return e.Value.(*madePicture).img
	}
	if p.wanted[k] == nil {
		p.wanted[k] = map[*pic]bool{}
	}
	p.wanted[k][w] = true
	p.stack = append(p.stack, k)
	if len(p.stack) > picturesStack {
		p.stack = append(p.stack[:0], p.stack[len(p.stack)-picturesStack:]...)
	}
	p.wake.Signal()
	return nil
}

// forget says that w no longer waits for k.
func (p *pictures) forget(k pictureKey, w *pic) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if m := p.wanted[k]; m != nil {
		delete(m, w)
		if len(m) == 0 {
			delete(p.wanted, k)
		}
	}
}

// waiting reports whether a picture on the screen is still to come.
func (p *pictures) waiting() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return len(p.loading) > 0 || len(p.stack) > 0
}

func (p *pictures) close() {
	p.mu.Lock()
	p.closed = true
	p.stack = nil
	p.mu.Unlock()
	p.wake.Broadcast()
}

func (p *pictures) work() {
	for {
		p.mu.Lock()
		for len(p.stack) == 0 && !p.closed {
			p.wake.Wait()
		}
		if p.closed {
			p.mu.Unlock()
			return
		}
		k := p.stack[len(p.stack)-1]
		p.stack = p.stack[:len(p.stack)-1]
		_, done := p.made[k]
		skip := done || p.loading[k] || len(p.wanted[k]) == 0
		if !skip {
			p.loading[k] = true
		}
		p.mu.Unlock()
		if skip {
			continue
		}
		p.deliver(k, p.load(k))
	}
}

func (p *pictures) load(k pictureKey) *image.RGBA {
	ctx := context.Background()
	source := p.house.Thumb
	switch {
	case k.plate && k.side > glanceEnough:
		source = p.house.Proxy
	case k.plate && k.side > thumbEnough:
		source = p.house.Glance
	}
	path, err := source(ctx, k.photo)
	if err != nil {
		path, err = p.house.Thumb(ctx, k.photo)
	}
	if err != nil {
		return nil
	}
	img, err := readPicture(path)
	if err != nil {
		return nil
	}
	if k.plate {
		if r, err := p.house.Report(ctx, k.photo); err == nil && r.HasMark {
			img = cutPlate(img, r.Corners)
		}
	}
	return shrink(img, k.side)
}

// cutPlate is the plate alone with a little paper, set upright.
func cutPlate(img *image.RGBA, at [4][2]float64) *image.RGBA {
	w, h := float64(img.Rect.Dx()), float64(img.Rect.Dy())
	var c [4]sheetview.Corner
	for i := range at {
		c[i] = sheetview.Corner{at[i][0]*w - 0.5, at[i][1]*h - 0.5}
	}
	wide, high := math.Hypot(c[1][0]-c[0][0], c[1][1]-c[0][1]), math.Hypot(c[3][0]-c[0][0], c[3][1]-c[0][1])
	out, err := sheetview.Rectify(img, c, wide, high, 0.03*wide, 1)
	if err != nil {
		return img
	}
	return out
}

func (p *pictures) deliver(k pictureKey, img *image.RGBA) {
	p.mu.Lock()
	delete(p.loading, k)
	p.made[k] = p.order.PushFront(&madePicture{k, img})
	if img != nil {
		p.bytes += len(img.Pix)
	}
	for p.bytes > picturesKept && p.order.Len() > 1 {
		last := p.order.Back()
		m := last.Value.(*madePicture)
		if m.img != nil {
			p.bytes -= len(m.img.Pix)
		}
		p.order.Remove(last)
		delete(p.made, m.key)
	}
	p.arrive = append(p.arrive, k)
	first := len(p.arrive) == 1
	p.mu.Unlock()
	if first {
		p.post.do(p.arrived)
	}
}

func (p *pictures) arrived() {
	p.mu.Lock()
	var show []*pic
	for _, k := range p.arrive {
		for w := range p.wanted[k] {
			show = append(show, w)
		}
		delete(p.wanted, k)
	}
	p.arrive = nil
	p.mu.Unlock()
	for _, w := range show {
		w.Refresh()
	}
}

// readPicture decodes a picture file of our own making. Not for the interface
// goroutine.
func readPicture(path string) (*image.RGBA, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	if err != nil {
		return nil, err
	}
	return sheetview.Tight(img), nil
}

// shrink fits a picture into a square by exact averages.
func shrink(img *image.RGBA, side int) *image.RGBA {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	k := float64(side) / float64(max(w, h))
	if k >= 1 {
		return img
	}
	out := image.NewRGBA(image.Rect(0, 0, max(1, int(float64(w)*k+0.5)), max(1, int(float64(h)*k+0.5))))
	s := &sheetview.Sheet{Levels: []*image.RGBA{img}, PxPerMM: 1}
	if k < 0.25 { // else none of its halvings would be drawn from
		s = sheetview.NewSheet(img, 1, 0, 0)
	}
	m := sheetview.Motion{Scale: k, CX: float64(w) / 2, CY: float64(h) / 2}
	s.Settle(out, m, color.NRGBA{0x80, 0x80, 0x80, 0xff})
	return out
}

// pic shows a small picture of a photograph on the neutral surround.
type pic struct {
	widget.BaseWidget
	from  *pictures
	photo catalog.ID
	side  int
	plate bool
	min   fyne.Size
	asked pictureKey
}

// platePic shows the plate alone.
func platePic(from *pictures, side int, min fyne.Size) *pic {
	p := newPic(from, side, min)
	p.plate = true
	return p
}

func newPic(from *pictures, side int, min fyne.Size) *pic {
	p := &pic{from: from, side: side, min: min}
	p.ExtendBaseWidget(p)
	return p
}

func (p *pic) set(photo catalog.ID) {
	if p.photo != photo {
		p.photo = photo
		p.Refresh()
	}
}

// shape changes the size it is drawn for and reports whether that is another.
func (p *pic) shape(side int, min fyne.Size) bool {
	if p.side == side && p.min == min {
		return false
	}
	p.side, p.min = side, min
	p.Refresh()
	return true
}

func (p *pic) CreateRenderer() fyne.WidgetRenderer {
	r := &picRenderer{p: p, ground: canvas.NewRectangle(color.Transparent), img: &canvas.Image{FillMode: canvas.ImageFillContain, ScaleMode: canvas.ImageScaleFastest}}
	r.read()
	return r
}

type picRenderer struct {
	p      *pic
	ground *canvas.Rectangle
	img    *canvas.Image
}

func (r *picRenderer) read() {
	r.ground.FillColor = look.Colour(look.Surround)
	k := pictureKey{r.p.photo, r.p.side, r.p.plate}
	if r.p.asked != k && r.p.asked.photo != "" {
		r.p.from.forget(r.p.asked, r.p)
	}
	r.p.asked = k
	var img *image.RGBA
	if k.photo != "" {
		img = r.p.from.get(k, r.p)
	}
	if r.img.Image = nil; img != nil {
		r.img.Image = img
	}
	r.img.Hidden = true // until it is laid out
}

func (r *picRenderer) Layout(s fyne.Size) {
	r.ground.Resize(s)
	pad := float32(2)
	if s.Height > 100 {
		pad = 5
	}
	r.img.Hidden = r.img.Image == nil || !r.fits(s)
	if r.img.Hidden {
		return
	}
	room := s.SubtractWidthHeight(2*pad, 2*pad)
	own := r.own()
	if own.Width > room.Width || own.Height > room.Height {
		r.img.ScaleMode, r.img.FillMode = canvas.ImageScaleFastest, canvas.ImageFillContain
		r.img.Move(fyne.NewPos(pad, pad))
		r.img.Resize(room)
		return
	}
	// Pixel for pixel: a graphics card that is none smooths three times as long.
	r.img.ScaleMode, r.img.FillMode = canvas.ImageScalePixels, canvas.ImageFillStretch
	r.img.Move(fyne.NewPos(float32(int(s.Width-own.Width)/2), float32(int(s.Height-own.Height)/2)))
	r.img.Resize(own)
}

// own is the size at which one pixel of the picture is one of the screen.
func (r *picRenderer) own() fyne.Size {
	scale := float32(1)
	if c := fyne.CurrentApp().Driver().CanvasForObject(r.p); c != nil && c.Scale() > 0 {
		scale = c.Scale()
	}
	b := r.img.Image.Bounds()
	return fyne.NewSize(float32(b.Dx())/scale, float32(b.Dy())/scale)
}

// fits reports whether there is room to paint in: a row that is not laid out
// yet has none.
func (r *picRenderer) fits(s fyne.Size) bool { return s.Width > 12 && s.Height > 12 }

func (r *picRenderer) MinSize() fyne.Size { return r.p.min }
func (r *picRenderer) Refresh() {
	r.read()
	r.Layout(r.p.Size())
	r.ground.Refresh()
	if !r.img.Hidden {
		r.img.Refresh()
	}
}
func (r *picRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.ground, r.img} }
func (r *picRenderer) Destroy()                     {}
