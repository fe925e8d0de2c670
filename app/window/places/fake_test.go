package places

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/exchange/sheet"
	"pullbook/catalog/life"
)

// fakeHouse keeps a catalogue in memory and draws its photographs.
type fakeHouse struct {
	t        testing.TB
	dir      string
	mu       sync.Mutex
	snap     catalog.Snapshot
	undo     []func()
	labels   []string
	change   func()
	jobsMu   sync.Mutex
	jobs     []*fakeJob
	onJobs   func()
	taken    []string
	measured []catalog.ID
	confirm  []Taken
	laidOut  string
	wish     BookWish
	printed  []Printing
	mapped   int
	readOnly bool
	notice   string
	trouble  string
}

type fakeJob struct {
	mu     sync.Mutex
	st     JobStatus
	cancel context.CancelFunc
}

func (j *fakeJob) Cancel() { j.cancel() }
func (j *fakeJob) Status() JobStatus {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.st
}

func (h *fakeHouse) Dir() string           { return filepath.Join(h.dir, "estuary.pullbook") }
func (h *fakeHouse) Notice() string        { return h.notice }
func (h *fakeHouse) BackupTrouble() string { return h.trouble }
func (h *fakeHouse) ReadOnly() bool        { return h.readOnly }
func (h *fakeHouse) Snapshot(context.Context) (*catalog.Snapshot, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	c := h.snap
	c.Plates = append([]catalog.Plate(nil), c.Plates...)
	c.States = append([]catalog.State(nil), c.States...)
	c.Impressions = append([]catalog.Impression(nil), c.Impressions...)
	c.Photographs = append([]catalog.Photograph(nil), c.Photographs...)
	c.Scores = append([]catalog.Score(nil), c.Scores...)
	c.Editions = append([]catalog.Edition(nil), c.Editions...)
	return &c, nil
}

func put[T any](l *[]T, v *T, id func(*T) *catalog.ID) {
	if *id(v) == "" {
		*id(v) = catalog.NewID()
	}
	for i := range *l {
		if *id(&(*l)[i]) == *id(v) {
			(*l)[i] = *v
			return
		}
	}
	*l = append(*l, *v)
}

func (h *fakeHouse) Save(_ context.Context, label string, records ...any) error {
	h.mu.Lock()
	old := h.snap
	s := &h.snap
	s.Plates, s.States, s.Impressions = clone(s.Plates), clone(s.States), clone(s.Impressions)
	s.People, s.Groups, s.Exhibitions = clone(s.People), clone(s.Groups), clone(s.Exhibitions)
	s.Editions, s.Papers, s.Inks, s.Holders, s.Literature = clone(s.Editions), clone(s.Papers), clone(s.Inks), clone(s.Holders), clone(s.Literature)
	var err error
	for _, r := range records {
		switch r := r.(type) {
		case *catalog.Plate:
			put(&s.Plates, r, func(p *catalog.Plate) *catalog.ID { return &p.ID })
		case *catalog.State:
			put(&s.States, r, func(p *catalog.State) *catalog.ID { return &p.ID })
		case *catalog.Impression:
			put(&s.Impressions, r, func(p *catalog.Impression) *catalog.ID { return &p.ID })
		case *catalog.Edition:
			put(&s.Editions, r, func(p *catalog.Edition) *catalog.ID { return &p.ID })
		case *catalog.PrintingDay:
			put(&s.Days, r, func(p *catalog.PrintingDay) *catalog.ID { return &p.ID })
		case *catalog.Paper:
			put(&s.Papers, r, func(p *catalog.Paper) *catalog.ID { return &p.ID })
		case *catalog.Ink:
			put(&s.Inks, r, func(p *catalog.Ink) *catalog.ID { return &p.ID })
		case *catalog.Holder:
			put(&s.Holders, r, func(p *catalog.Holder) *catalog.ID { return &p.ID })
		case *catalog.Person:
			put(&s.People, r, func(p *catalog.Person) *catalog.ID { return &p.ID })
		case *catalog.Group:
			put(&s.Groups, r, func(p *catalog.Group) *catalog.ID { return &p.ID })
		case *catalog.Exhibition:
			put(&s.Exhibitions, r, func(p *catalog.Exhibition) *catalog.ID { return &p.ID })
		case *catalog.Imprint:
			s.Imprint = *r
		case *catalog.Literature:
			put(&s.Literature, r, func(p *catalog.Literature) *catalog.ID { return &p.ID })
		default:
			err = fmt.Errorf("the fake cannot keep a %T", r)
		}
	}
	h.undo = append(h.undo, func() { h.snap = old })
	h.labels = append(h.labels, label)
	h.mu.Unlock()
	h.changed()
	return err
}

func clone[T any](l []T) []T { return append([]T(nil), l...) }

func (h *fakeHouse) Delete(_ context.Context, label string, records ...any) error {
	h.mu.Lock()
	old := h.snap
	for _, r := range records {
		if p, is := r.(*catalog.Paper); is {
			h.snap.Papers = slices.DeleteFunc(clone(h.snap.Papers), func(x catalog.Paper) bool { return x.ID == p.ID })
			continue
		}
		i, ok := r.(*catalog.Impression)
		if !ok {
			h.mu.Unlock()
			return fmt.Errorf("the fake cannot delete a %T", r)
		}
		var kept []catalog.Impression
		for _, x := range h.snap.Impressions {
			if x.ID != i.ID {
				kept = append(kept, x)
			}
		}
		h.snap.Impressions = kept
	}
	h.undo = append(h.undo, func() { h.snap = old })
	h.labels = append(h.labels, label)
	h.mu.Unlock()
	h.changed()
	return nil
}

func (h *fakeHouse) Undo(context.Context) (string, error) {
	h.mu.Lock()
	n := len(h.undo)
	if n == 0 {
		h.mu.Unlock()
		return "", errors.New("There is nothing to undo.")
	}
	h.undo[n-1]()
	l := h.labels[n-1]
	h.undo, h.labels = h.undo[:n-1], h.labels[:n-1]
	h.mu.Unlock()
	h.changed()
	return l, nil
}
func (h *fakeHouse) Redo(context.Context) (string, error) {
	return "", errors.New("There is nothing to do again.")
}
func (h *fakeHouse) NextUndo() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	if n := len(h.labels); n > 0 {
		return h.labels[n-1]
	}
	return ""
}
func (h *fakeHouse) NextRedo() string  { return "" }
func (h *fakeHouse) OnChange(f func()) { h.change = f }
func (h *fakeHouse) changed() {
	if h.change != nil {
		h.change()
	}
}
func (h *fakeHouse) Search(context.Context, string) ([]catalog.ID, error) { return nil, nil }

// picture draws a plate on its sheet: hatched hills in a plate mark, worn a
// little more for every photograph.
func (h *fakeHouse) picture(photo catalog.ID, side int) (string, error) {
	path := filepath.Join(h.dir, fmt.Sprintf("%s-%d.jpg", photo, side))
	if _, err := os.Stat(path); err == nil {
		return path, nil
	}
	n := 0
	for _, c := range string(photo) {
		n = n*7 + int(c)
	}
	w, ht := side, side*3/4
	img := image.NewRGBA(image.Rect(0, 0, w, ht))
	for y := range ht {
		for x := range w {
			u, v := float64(x)/float64(w), float64(y)/float64(ht)
			p := color.RGBA{0xf2, 0xec, 0xdf, 0xff}
			if u > 0.12 && u < 0.88 && v > 0.14 && v < 0.86 {
				p = color.RGBA{0xe6, 0xdf, 0xd0, 0xff}
				hill := 0.55 + 0.12*math.Sin(u*7+float64(n%17)) + 0.05*math.Sin(u*17+float64(n%5))
				line := math.Sin(v*240 + 3*math.Sin(u*9))
				if v > hill {
					line = math.Sin((u+v)*300) + 0.5*math.Sin((u-v)*280)
				}
				if u > 0.16 && u < 0.84 && v > 0.2 && v < 0.8 && line > 0.55+0.02*float64(n%10) {
					p = color.RGBA{0x28, 0x25, 0x22, 0xff}
				}
			}
			img.SetRGBA(x, y, p)
		}
	}
	f, err := os.Create(path + ".part")
	if err != nil {
		return "", err
	}
	if err := jpeg.Encode(f, img, nil); err != nil {
		return "", err
	}
	f.Close()
	return path, os.Rename(path+".part", path)
}

func (h *fakeHouse) Thumb(_ context.Context, p catalog.ID) (string, error) { return h.picture(p, 240) }
func (h *fakeHouse) Glance(_ context.Context, p catalog.ID) (string, error) {
	return h.picture(p, 800)
}
func (h *fakeHouse) Proxy(_ context.Context, p catalog.ID) (string, error) { return h.picture(p, 1600) }
func (h *fakeHouse) Original(_ context.Context, p catalog.ID) (string, error) {
	return h.picture(p, 1600)
}
func (h *fakeHouse) TakeIn(_ context.Context, paths []string, hint Hint, p Progress) ([]Taken, error) {
	h.mu.Lock()
	var out []Taken
	for i, path := range paths {
		h.taken = append(h.taken, path)
		ph := catalog.Photograph{ID: catalog.NewID(), Name: filepath.Base(path), View: catalog.ViewWhole}
		h.snap.Photographs = append(h.snap.Photographs, ph)
		st := catalog.ID("")
		for _, s := range h.snap.States {
			if s.PlateID == hint.Plate {
				st = s.ID
			}
		}
		out = append(out, Taken{PhotoID: ph.ID, Name: ph.Name, PlateID: hint.Plate, StateID: st, View: catalog.ViewWhole, Sure: 0.98 - 0.03*float64(i), Why: "recognised"})
		p(float64(i+1)/float64(len(paths)), ph.Name)
	}
	h.mu.Unlock()
	h.changed()
	return out, nil
}
func (h *fakeHouse) Propose(_ context.Context, ids []catalog.ID, hint Hint, _ Progress) ([]Taken, error) {
	var out []Taken
	for _, id := range ids {
		out = append(out, Taken{PhotoID: id, PlateID: hint.Plate, StateID: hint.Plate + "-state2", View: catalog.ViewWhole, Sure: 0.95, Why: "recognised"})
	}
	return out, nil
}

func (h *fakeHouse) Watch(ctx context.Context, dir string, hint func() Hint, came func(Taken)) error {
	t, err := h.TakeIn(ctx, []string{filepath.Join(dir, "watched.jpg")}, hint(), func(float64, string) {})
	if err != nil {
		return err
	}
	came(t[0])
	<-ctx.Done()
	return ctx.Err()
}

func (h *fakeHouse) Confirm(_ context.Context, t []Taken, _ Progress) error {
	h.mu.Lock()
	for _, x := range t {
		i := catalog.Impression{ID: catalog.NewID(), PlateID: x.PlateID, StateID: x.StateID}
		h.snap.Impressions = append(clone(h.snap.Impressions), i)
		for k := range h.snap.Photographs {
			if h.snap.Photographs[k].ID == x.PhotoID {
				h.snap.Photographs = clone(h.snap.Photographs)
				h.snap.Photographs[k].ImpressionID = i.ID
			}
		}
	}
	h.confirm = append(h.confirm, t...)
	h.mu.Unlock()
	h.changed()
	return nil
}
func (h *fakeHouse) Mark(context.Context, catalog.ID, [4][2]float64) error { return nil }
func (h *fakeHouse) BlankSheet(_ context.Context, id catalog.ID) (int, error) {
	h.mu.Lock()
	h.snap.Photographs = clone(h.snap.Photographs)
	for i := range h.snap.Photographs {
		if p := &h.snap.Photographs[i]; p.ID == id {
			p.View, p.ImpressionID = catalog.ViewBlank, ""
		}
	}
	h.mu.Unlock()
	h.changed()
	return 3, nil
}
func (h *fakeHouse) Report(_ context.Context, id catalog.ID) (*Report, error) {
	return &Report{HasMark: true, MarkBy: "found", MarkSure: 0.97,
		Corners: [4][2]float64{{0.12, 0.14}, {0.88, 0.14}, {0.88, 0.86}, {0.12, 0.86}},
		Findings: []Finding{
			{What: "resolution", Value: "14.2 px/mm", Stars: 4}, {What: "sharpness", Value: "0.06 mm", Stars: 3},
			{What: "evenness of light", Value: "11 %", Stars: 2, Advice: "Set the second lamp farther off, or turn the sheet half-way round and take it again."},
			{What: "clipped paper", Value: "0.0 %", Stars: 4},
		}}, nil
}
func (h *fakeHouse) Measure(_ context.Context, ids []catalog.ID, _ Progress) error {
	h.measured = append(h.measured, ids...)
	return nil
}
func (h *fakeHouse) ToneMap(_ context.Context, id catalog.ID) (*Map, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.mapped++
	if h.readOnly {
		return nil, errors.New("Not now.")
	}
	m := &Map{StepMM: 5, Rows: 36, Cols: 48, V: make([]float64, 36*48)}
	for i := range m.V {
		m.V[i] = 0.02 + 0.1*float64(i%48)/48
	}
	m.V[0] = math.NaN()
	return m, nil
}
func (h *fakeHouse) PickReference(_ context.Context, imp, photo catalog.ID) error {
	for _, s := range h.snap.States {
		for _, i := range h.snap.Impressions {
			if i.ID == imp && i.StateID == s.ID {
				s.ReferenceID, s.ReferencePhotoID = imp, photo
				return h.Save(context.Background(), "reference", &s)
			}
		}
	}
	return nil
}
func (h *fakeHouse) Sheets(ctx context.Context, a, b catalog.ID, p Progress) (*Pair, error) {
	pa, _ := h.picture(a, 1600)
	pb, _ := h.picture(b, 1600)
	ia, err := readPicture(pa)
	if err != nil {
		return nil, err
	}
	ib, err := readPicture(pb)
	if err != nil {
		return nil, err
	}
	return &Pair{A: ia, B: ib, PxPerMM: 1216.0 / 240, OX: -192.0 / 5.07, OY: -168.0 / 5.07, Residual: 0.03, Words: "Registered to 0.03 mm over the whole plate."}, nil
}
func (h *fakeHouse) Compare(context.Context, catalog.ID, Progress) error { return nil }
func (h *fakeHouse) Decide(ctx context.Context, id catalog.ID, d catalog.Decision) error {
	for _, i := range h.snap.Impressions {
		if i.ID == id {
			i.Decision = d
			return h.Save(ctx, "decide", &i)
		}
	}
	return errors.New("no such sheet")
}
func (h *fakeHouse) OpenTables(_ context.Context, path string) ([]cells.Sheet, error) {
	return cells.Open(path)
}
func (h *fakeHouse) PlanTable(ctx context.Context, t cells.Sheet, m sheet.Matching) (*sheet.Plan, error) {
	known, err := h.Snapshot(ctx)
	if err != nil {
		return nil, err
	}
	return sheet.Prepare(t, m, known)
}
func (h *fakeHouse) TakeInTable(ctx context.Context, p *sheet.Plan) error {
	var l []any
	for i := range p.New.Plates {
		l = append(l, &p.New.Plates[i])
	}
	for i := range p.New.States {
		l = append(l, &p.New.States[i])
	}
	for i := range p.New.Editions {
		l = append(l, &p.New.Editions[i])
	}
	for i := range p.New.Impressions {
		l = append(l, &p.New.Impressions[i])
	}
	return h.Save(ctx, "take in", l...)
}
func (h *fakeHouse) TakeInLiterature(context.Context, string) (int, []string, error) {
	return 2, []string{"An entry without a title."}, nil
}
func (h *fakeHouse) TakeInExport(_ context.Context, dir, _ string, _ Progress) error {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.taken = append(h.taken, dir)
	return nil
}
func (h *fakeHouse) Forecast(_ context.Context, id catalog.ID) (*life.Forecast, error) {
	fc := &life.Forecast{Limit: 0.3, Pulled: 24, Readings: 12, Left10: 9, Left50: 21, Left90: 44, Sentence: "About 21 good pulls are left, between 9 and 44 with 80 % confidence."}
	for i := range 60 {
		x := float64(i + 1)
		y := 0.3 * math.Pow(x/45, 1.2)
		fc.Curve = append(fc.Curve, life.Band{Pull: x, Lo: y * 0.75, Mid: y, Hi: y * 1.3})
	}
	return fc, nil
}
func (h *fakeHouse) Outlook(ctx context.Context, id catalog.ID, wish life.Wish) (*Outlook, error) {
	fc, err := h.Forecast(ctx, id)
	o := &Outlook{Forecast: fc, Plan: life.Plan{Size: 18, Proofs: 2, Pulls: 20, Chances: []life.SizeChance{{Size: 15, Chance: 0.97}, {Size: 20, Chance: 0.86}, {Size: 25, Chance: 0.61}},
		Keep: []life.Keep{{Pull: 30, As: catalog.KindArtist}, {Pull: 40, As: catalog.KindArtist}, {Pull: 45, As: catalog.KindPrinter}}}}
	if wish.Sure > 0.9 {
		o.Plan.Size = 15
	}
	for i, w := range []life.Why{life.LikeReference, life.PastLimit} {
		as := []catalog.Kind{catalog.KindNumbered, catalog.KindTrial}[i]
		o.Sheets = append(o.Sheets, life.Sorting{ID: catalog.ID(fmt.Sprintf("%s-imp%d", id, 13+i)), As: as, Why: w})
	}
	return o, err
}

func (h *fakeHouse) Preview(_ context.Context, _ catalog.ID, _, width int) (image.Image, int, error) {
	img := image.NewRGBA(image.Rect(0, 0, width, width*4/3))
	for i := range img.Pix {
		img.Pix[i] = 0xfb
	}
	return img, 2, nil
}
func (h *fakeHouse) LayOut(_ context.Context, to string, o BookWish, p Progress) ([]string, error) {
	h.laidOut, h.wish = to, o
	return []string{"One photograph is coarse."}, nil
}
func (h *fakeHouse) LabelSheets() []LabelSheet {
	return []LabelSheet{{Name: "a", Page: "A4", Count: 24, Width: 70, Height: 37}, {Name: "b", Page: "A4", Count: 10, Width: 90, Height: 54, Cut: true}}
}
func (h *fakeHouse) Print(_ context.Context, x Printing, p Progress) (made, warnings []string, err error) {
	h.printed = append(h.printed, x)
	return []string{x.To}, nil, nil
}
func (h *fakeHouse) Export(context.Context, string, string, Progress) error { return nil }
func (h *fakeHouse) Verify(context.Context, Progress) (string, error) {
	return "Nothing is wrong.", nil
}
func (h *fakeHouse) Start(name string, run func(context.Context, Progress) error) Job {
	ctx, cancel := context.WithCancel(context.Background())
	j := &fakeJob{cancel: cancel, st: JobStatus{Name: name}}
	h.jobsMu.Lock()
	h.jobs = append(h.jobs, j)
	h.jobsMu.Unlock()
	go func() {
		err := run(ctx, func(d float64, what string) {
			j.mu.Lock()
			j.st.Done, j.st.What = d, what
			j.mu.Unlock()
		})
		j.mu.Lock()
		j.st.Finished, j.st.Err, j.st.Cancelled = true, err, errors.Is(err, context.Canceled)
		j.mu.Unlock()
		if h.onJobs != nil {
			h.onJobs()
		}
	}()
	return j
}
func (h *fakeHouse) Jobs() []Job {
	h.jobsMu.Lock()
	defer h.jobsMu.Unlock()
	var out []Job
	for _, j := range h.jobs {
		out = append(out, j)
	}
	return out
}
func (h *fakeHouse) OnJobs(f func()) { h.onJobs = f }
func (h *fakeHouse) Input()          {}
