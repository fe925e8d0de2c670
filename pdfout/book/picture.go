package book

import (
	"fmt"
	"math"

	"pullbook/catalog"
	"pullbook/pdfout/display"
	"pullbook/pdfout/jpegfile"
	"pullbook/pdfout/makeup"
)

// leastPPI is the effective resolution under which a printed picture looks
// soft; a warning is given below it.
const leastPPI = 220

// view is a picture file and where the plate lies in it. The map carries
// plate millimetres to the unit square of the stored pixels:
// u = m0 x + m2 y + m4, v = m1 x + m3 y + m5.
type view struct {
	path    string
	info    jpegfile.Info
	plate   catalog.Size // of what is mapped: the plate, or the detail
	m       [6]float64
	located bool // false: the plate mark is not known, the whole picture is shown
}

// seen is a view once found, or why it was not.
type seen struct {
	view *view
	err  error
}

// plateView finds the picture of a photograph and locates the plate in it.
func (b *book) plateView(photo *catalog.Photograph, size catalog.Size) (*view, error) {
	if b.views == nil {
		b.views = map[catalog.ID]seen{}
	}
	s, ok := b.views[photo.ID]
	if !ok {
		s.view, s.err = b.findView(photo, size)
		b.views[photo.ID] = s
	}
	return s.view, s.err
}

// findView asks for the rectified plate, else for the photograph.
func (b *book) findView(photo *catalog.Photograph, size catalog.Size) (*view, error) {
	if b.opt.Plate != nil && !size.IsZero() {
		if path, err := b.opt.Plate(photo.ID); err == nil && path != "" {
			return b.rectified(path, size)
		}
	}
	return b.photoView(photo, size)
}

// photoView asks for the photograph and locates the plate in it by its marked
// corners.
func (b *book) photoView(photo *catalog.Photograph, size catalog.Size) (*view, error) {
	if b.opt.Picture == nil {
		return nil, nil
	}
	path, err := b.opt.Picture(photo.ID)
	if err != nil || path == "" {
		return nil, err
	}
	info, err := b.readPicture(path)
	if err != nil {
		return nil, err
	}
	v := &view{path: path, info: info, plate: size}
	if photo.WidthPX > 0 && photo.HeightPX > 0 && !size.IsZero() && photo.Mark != [4][2]float64{} {
		v.m, v.located = markMap(photo, info.Orientation <= 1, size)
	}
	return v, nil
}

// detailView finds the picture of a part of a plate.
func (b *book) detailView(photo *catalog.Photograph, size catalog.Size, box [4]float64) (*view, [4]float64, error) {
	if b.opt.Detail != nil {
		if path, err := b.opt.Detail(photo.ID, box); err == nil && path != "" {
			part := catalog.Size{HeightMM: box[3] - box[1], WidthMM: box[2] - box[0]}
			v, err := b.rectified(path, part)
			return v, [4]float64{0, 0, part.WidthMM, part.HeightMM}, err
		}
	}
	v, err := b.plateView(photo, size)
	return v, box, err
}

// rectified is a view of a picture whose edges are the plate's.
func (b *book) rectified(path string, size catalog.Size) (*view, error) {
	info, err := b.readPicture(path)
	if err != nil {
		return nil, err
	}
	return &view{path: path, info: info, plate: size, located: true,
		m: [6]float64{1 / size.WidthMM, 0, 0, 1 / size.HeightMM, 0, 0}}, nil
}

// readPicture reads the head of a picture file and refuses what the file may
// not hold.
func (b *book) readPicture(path string) (jpegfile.Info, error) {
	info, err := jpegfile.Read(path)
	if err == nil && b.opt.Archive && info.Components == 4 && info.ICC == nil {
		err = fmt.Errorf("the picture %s is in printing inks without a colour profile, which an archive file must not hold; save it as RGB", path)
	}
	return info, err
}

// markMap fits an affine map to the four marked corners of the plate. What
// perspective there is is not undone; for that the plate is rectified.
// Corners are in the pixels of the original; turned says that the file given
// has been turned upright already.
func markMap(ph *catalog.Photograph, turned bool, size catalog.Size) ([6]float64, bool) {
	t := [6]float64{1, 0, 0, 1, 0, 0}
	if turned {
		t = jpegfile.Info{Orientation: ph.Orientation}.Upright(0, 0, 1, 1)
	}
	var c [4][2]float64
	for i, p := range ph.Mark {
		u, v := (p[0]+.5)/float64(ph.WidthPX), (p[1]+.5)/float64(ph.HeightPX)
		c[i] = [2]float64{t[0]*u + t[2]*v + t[4], t[1]*u + t[3]*v + t[5]}
	}
	var m [6]float64
	for k := range 2 {
		mean := (c[0][k] + c[1][k] + c[2][k] + c[3][k]) / 4
		a := (c[1][k] + c[2][k] - c[0][k] - c[3][k]) / 2 / size.WidthMM
		d := (c[2][k] + c[3][k] - c[0][k] - c[1][k]) / 2 / size.HeightMM
		m[k], m[2+k] = a, d
		m[4+k] = mean - a*size.WidthMM/2 - d*size.HeightMM/2
	}
	return m, math.Abs(m[0]*m[3]-m[1]*m[2]) > 1e-12
}

// pixelsPerMM is the resolution of the picture on the plate.
func (v *view) pixelsPerMM() float64 {
	w, h := float64(v.info.Width), float64(v.info.Height)
	return math.Sqrt(math.Abs(v.m[0]*v.m[3]-v.m[1]*v.m[2]) * w * h)
}

// margins returns how many millimetres the picture shows on all sides of the
// plate, up to want. A turned picture shows none.
func (v *view) margins(want float64) float64 {
	if math.Abs(v.m[1]) > .05*math.Abs(v.m[0]) || math.Abs(v.m[2]) > .05*math.Abs(v.m[3]) {
		return 0
	}
	inside := func(x, y float64) bool {
		u, w := v.m[0]*x+v.m[2]*y+v.m[4], v.m[1]*x+v.m[3]*y+v.m[5]
		return u >= 0 && u <= 1 && w >= 0 && w <= 1
	}
	for d := want; d > 0; d -= want / 8 {
		if inside(-d, -d) && inside(v.plate.WidthMM+d, v.plate.HeightMM+d) && inside(-d, v.plate.HeightMM+d) && inside(v.plate.WidthMM+d, -d) {
			return d
		}
	}
	return 0
}

// draw places the part box (mm on the plate, may reach beyond it) into a
// rectangle of the page.
func (v *view) draw(p *display.Page, box [4]float64, r display.Rect) {
	k := r.W / (box[2] - box[0]) // points per mm
	// Page to plate mm: x = (X - r.X)/k + box0; then to the unit square; then
	// inverted, since the display list wants unit square to page.
	a, bb, c, d := v.m[0]/k, v.m[1]/k, v.m[2]/k, v.m[3]/k
	e := v.m[0]*box[0] + v.m[2]*box[1] + v.m[4] - a*r.X - c*r.Y
	f := v.m[1]*box[0] + v.m[3]*box[1] + v.m[5] - bb*r.X - d*r.Y
	det := a*d - bb*c
	to := [6]float64{d / det, -bb / det, -c / det, a / det, 0, 0}
	to[4] = -(to[0]*e + to[2]*f)
	to[5] = -(to[1]*e + to[3]*f)
	pic := &display.Picture{Path: v.path, To: to, Info: v.info}
	if !v.covers(box) {
		pic.Clip = r
	}
	p.Add(pic)
}

// covers reports whether the box is exactly the whole picture, so that nothing
// needs to be clipped.
func (v *view) covers(box [4]float64) bool {
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
	return near(v.m[1], 0) && near(v.m[2], 0) && near(v.m[0]*box[0]+v.m[4], 0) && near(v.m[3]*box[1]+v.m[5], 0) &&
		near(v.m[0]*box[2]+v.m[4], 1) && near(v.m[3]*box[3]+v.m[5], 1)
}

// whole places the whole picture, upright, into a rectangle.
func (v *view) whole(p *display.Page, r display.Rect) {
	p.Add(&display.Picture{Path: v.path, To: v.info.Upright(r.X, r.Y, r.W, r.H), Info: v.info})
}

// aspect is height over width of the whole picture, upright.
func (v *view) aspect() float64 {
	if v.info.Turned() {
		return float64(v.info.Width) / float64(v.info.Height)
	}
	return float64(v.info.Height) / float64(v.info.Width)
}

// checkPPI warns of a picture that is too coarse for its size on the page.
// scale is page millimetres per plate millimetre.
func (b *book) checkPPI(v *view, scale float64, what string) {
	if ppi := v.pixelsPerMM() * 25.4 / scale; v.located && ppi < leastPPI {
		b.warn(b.t("%s: the picture has %.0f ppi at its printed size; %d or more look sharp. Photograph it closer.", what, ppi, leastPPI))
	}
}

// scaleWords states the scale of a reproduction.
func (b *book) scaleWords(scale float64) string {
	if math.Abs(scale-1) < .005 {
		return b.t("actual size")
	}
	return b.t("%.0f\u00a0%% of actual size", scale*100)
}

// fitScale returns the scale at which something of so many millimetres fits a
// box of points, never above actual size.
func fitScale(w, h, boxW, boxH float64) float64 {
	return min(1, boxW/(w*makeup.MM), boxH/(h*makeup.MM))
}
