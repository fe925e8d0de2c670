package places

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
	"pullbook/catalog"
)

// SetUp is a shooting session as it is set up in the window.
type SetUp struct {
	Session   catalog.ShootingSession // without ID: a new one
	Densities []float64               // of the grey wedge's steps
}

// WedgeFacts is what a photograph of a grey wedge told of its camera.
type WedgeFacts struct {
	Densities string  // of its steps, as they are written
	Steps     int     // read; 0 there was no wedge
	Departs   float64 // D by which the camera's tones depart from its profile
	Misses    float64 // D by which the steps come out wrong with that taken out
	Refused   string  // why it is not used, a sentence
}

// Standing is what a session was found to be good for.
type Standing struct {
	WedgeFacts
	With   int          // photographs that belong to it
	Scored []catalog.ID // impressions measured by photographs of it
}

// words say what the wedge told; "" when there was none.
func (w *WedgeFacts) words() string {
	switch {
	case w.Refused != "":
		return words.T("The wedge is not used: %s", w.Refused)
	case w.Steps == 0:
		return ""
	}
	return words.T("%d steps were read. The camera's tones depart from its profile by up to %s D; with that taken out the steps come out within %s D.",
		w.Steps, words.Num(w.Departs, 2), words.Num(w.Misses, 3))
}

// sessionLayout is how the beginning of a session is typed: the hour on the
// wall, as cameras tell it.
const sessionLayout = "2006-01-02 15:04"

func sessionName(x *catalog.ShootingSession) string {
	name := x.Began.UTC().Format(sessionLayout)
	if x.Camera != "" {
		name += ", " + x.Camera
	}
	return name
}

// sessionDesk is the screen on which a session is set up.
type sessionDesk struct {
	c      *cameraPlace
	b      *book
	which  *choice
	known  []catalog.ShootingSession // latest first
	began  *field
	camera *field
	lamps  *field
	blank  *choice
	wedge  *choice
	steps  *field
	note   *field
	told   *look.Paragraph
	box    *fyne.Container
	photos []catalog.ID // to choose the blank sheet and the wedge from
	now    catalog.ShootingSession
	asked  catalog.ID // the wedge whose reading is asked for
}

// session opens the screen for the session of the photograph in view; wedge is
// a photograph to be its grey wedge, "" for what it is.
func (c *cameraPlace) session(wedge catalog.ID) {
	f := c.f
	if f.book == nil {
		return
	}
	d := &sessionDesk{c: c, b: f.book, known: slices.Clone(f.book.Sessions)}
	slices.SortStableFunc(d.known, func(a, b catalog.ShootingSession) int { return b.Began.Compare(a.Began) })
	d.build()
	at := 0
	if p := d.b.photos[c.chosen]; p != nil {
		at = 1 + slices.IndexFunc(d.known, func(x catalog.ShootingSession) bool { return x.ID == p.SessionID })
	}
	d.which.SetSelectedIndex(at)
	if i := slices.Index(d.photos, wedge); wedge != "" && i >= 0 {
		d.wedge.SetSelectedIndex(i)
	}
	f.dialog(words.T("Shooting session"), d.box, fyne.NewSize(560, 520), words.T("Set it up"), d.keep)
}

func (d *sessionDesk) build() {
	names := []string{words.T("a new session")}
	for i := range d.known {
		names = append(names, sessionName(&d.known[i]))
	}
	d.which = newSelect(names, func(string) { d.fill() })
	d.began, d.camera, d.lamps, d.steps, d.note = blank(), blank(), blank(), blank(), blank()
	d.began.SetPlaceHolder(words.T("with the first of its photographs"))
	d.lamps.SetPlaceHolder(words.T("two at 45 degrees"))
	d.told = look.Para("", false)
	d.photos, names = []catalog.ID{""}, []string{words.T("no photograph")}
	var loose []*catalog.Photograph // the last by name first: cameras count up
	for i := range d.b.Photographs {
		if p := &d.b.Photographs[i]; p.ImpressionID == "" || p.ID == d.c.chosen {
			loose = append(loose, p)
		}
	}
	slices.SortStableFunc(loose, func(a, b *catalog.Photograph) int { return strings.Compare(b.Name, a.Name) })
	for _, p := range loose {
		d.photos, names = append(d.photos, p.ID), append(names, p.Name)
	}
	d.blank, d.wedge = newSelect(names, nil), newSelect(names, func(string) { d.ask() })
	form := look.Form(110,
		look.Small(words.T("Session")), d.which, look.Small(words.T("Begins")), d.began, look.Small(words.T("Camera")), d.camera, look.Small(words.T("Lamps")), d.lamps,
		look.Small(words.T("Blank sheet")), d.blank, look.Small(words.T("Grey wedge")), d.wedge, look.Small(words.T("Its densities")), d.steps, look.Small(words.T("Note")), d.note)
	d.box = look.Column(8,
		look.Para(words.T("Set up once: every photograph taken from its beginning on, until the next session begins, is put right by it."), true), form,
		look.Para(words.T("The blank sheet tells how the light falls, the grey wedge what the camera does to tones. Photograph both with camera, lamps and exposure as for the sheets, by hand and not by an automatic programme."), true), d.told)
}

// fill sets the fields from the session chosen.
func (d *sessionDesk) fill() {
	d.now = catalog.ShootingSession{}
	if i := d.which.SelectedIndex() - 1; i >= 0 {
		d.now = d.known[i]
		d.began.SetText(d.now.Began.UTC().Format(sessionLayout))
	} else {
		d.began.SetText("")
		if len(d.known) > 0 { // the copy stand stays as it was
			d.now.Lamps = d.known[0].Lamps
		}
	}
	d.camera.SetText(d.now.Camera)
	d.lamps.SetText(d.now.Lamps)
	d.note.SetText(d.now.Note)
	d.steps.SetText(d.c.f.house.UsualDensities())
	d.told.SetText("")
	d.blank.SetSelectedIndex(max(0, slices.Index(d.photos, d.now.BlankPhotoID)))
	d.wedge.SetSelectedIndex(max(0, slices.Index(d.photos, d.now.WedgePhotoID)))
}

// ask asks what the wedge chosen told when it was read before.
func (d *sessionDesk) ask() {
	d.told.SetText("")
	i := d.wedge.SelectedIndex()
	if i <= 0 {
		return
	}
	id := d.photos[i]
	d.asked = id
	f := d.c.f
	f.work(func(ctx context.Context) func() {
		w, err := f.house.Wedge(ctx, id)
		return func() {
			if err == nil && d.asked == id && w.Densities != "" {
				d.steps.SetText(w.Densities)
				d.told.SetText(w.words())
				if d.box != nil { // the desk may not be laid out yet
					d.box.Refresh()
				}
			}
		}
	})
}

// keep sets the session up as a job and tells what came of it.
func (d *sessionDesk) keep() error {
	f, x := d.c.f, d.now
	if f.house.ReadOnly() {
		return errors.New(words.T("This catalogue is open for reading only, so nothing can be changed here."))
	}
	x.Began = time.Time{}
	if s := strings.TrimSpace(d.began.Text); s != "" {
		t, err := time.Parse(sessionLayout, s)
		if err != nil {
			return sentence("Write a day and a time, such as 2026-03-14 15:30, or nothing.")
		}
		if x.Began = t; t.Equal(d.now.Began.UTC().Truncate(time.Minute)) {
			x.Began = d.now.Began
		}
	}
	x.Camera, x.Lamps, x.Note = strings.TrimSpace(d.camera.Text), strings.TrimSpace(d.lamps.Text), strings.TrimSpace(d.note.Text)
	x.BlankPhotoID, x.WedgePhotoID = d.photos[max(0, d.blank.SelectedIndex())], d.photos[max(0, d.wedge.SelectedIndex())]
	u := SetUp{Session: x}
	if x.WedgePhotoID != "" {
		var err error
		if u.Densities, err = f.house.ReadDensities(d.steps.Text); err != nil {
			return errors.New(words.Error(err))
		}
	}
	f.setUp(u)
	return nil
}

// setUp sets a session up as a job, and tells what came of it.
func (f *Frame) setUp(u SetUp) {
	f.start(words.T("Setting the session up"), func(ctx context.Context, p Progress) error {
		s, err := f.house.SetUpSession(ctx, u)
		if err == nil {
			f.post.do(func() { f.sessionStands(s) })
		}
		return err
	})
}

// sessionStands tells what a session is good for; where sheets were measured by
// its photographs before, they can be measured anew.
func (f *Frame) sessionStands(s *Standing) *ask {
	f.tell(words.N("%d photographs belong to the session", s.With))
	c := f.places[AtCamera].(*cameraPlace)
	if c.chosen != "" && f.at == AtCamera {
		c.load(c.chosen)
	}
	told := s.WedgeFacts.words()
	if told == "" && len(s.Scored) == 0 {
		return nil
	}
	col := look.Column(8)
	if told != "" {
		col.Add(look.Para(told, false))
	}
	if len(s.Scored) == 0 {
		return f.ask(words.T("Shooting session"), col, fyne.NewSize(440, 190), "", nil)
	}
	col.Add(look.Para(words.N("%d sheets were measured by its photographs before. Measure them anew?", len(s.Scored)), false))
	return f.ask(words.T("Shooting session"), col, fyne.NewSize(440, 240), words.T("Measure anew"), func() error {
		f.start(words.T("Measuring"), func(ctx context.Context, p Progress) error { return f.house.Measure(ctx, s.Scored, p) })
		return nil
	})
}

// sessionWords say in a line what the session of a photograph puts right.
func sessionWords(b *book, p *catalog.Photograph) string {
	if p == nil || p.SessionID == "" {
		return words.T("It belongs to no shooting session.")
	}
	for i := range b.Sessions {
		x := &b.Sessions[i]
		if x.ID != p.SessionID {
			continue
		}
		at := x.Began.UTC().Format(sessionLayout)
		wedge := b.photos[x.WedgePhotoID]
		switch {
		case x.BlankPhotoID != "" && wedge != nil:
			return words.T("Session of %s, with blank sheet and grey wedge.", at)
		case x.BlankPhotoID != "":
			return words.T("Session of %s, with a blank sheet.", at)
		case wedge != nil:
			return words.T("Session of %s, with a grey wedge.", at)
		}
		return words.T("Session of %s, without blank sheet and grey wedge.", at)
	}
	return ""
}
