package window

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"pullbook/app/studio"
	"pullbook/app/window/places"
	"pullbook/app/window/words"
	"pullbook/catalog"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/life"
	"pullbook/catalog/store"
)

// house is the studio as the screens ask for it. It shapes; it decides nothing.
type house struct {
	*studio.Studio
	preview preview
	reading sync.Mutex
	snap    *catalog.Snapshot // as read last, never altered
	known   int64             // the last action it knows of
	ended   chan struct{}
	ending  sync.Once
}

func newHouse(s *studio.Studio) *house { return &house{Studio: s, ended: make(chan struct{})} }

// end stops following what others change.
func (h *house) end() { h.ending.Do(func() { close(h.ended) }) }

var _ places.House = (*house)(nil)

// Snapshot is the catalogue as it is now. What was not changed since the last
// time is not read again.
func (h *house) Snapshot(ctx context.Context) (*catalog.Snapshot, error) {
	h.reading.Lock()
	defer h.reading.Unlock()
	snap, n, err := h.Store().Renew(ctx, h.snap, h.known)
	if err == nil {
		h.snap, h.known = snap, n
	}
	return snap, err
}
func (h *house) Undo(ctx context.Context) (string, error) { return h.Store().Undo(ctx) }
func (h *house) Redo(ctx context.Context) (string, error) { return h.Store().Redo(ctx) }
func (h *house) NextUndo() string                         { return h.Store().NextUndo() }
func (h *house) NextRedo() string                         { return h.Store().NextRedo() }

// OnChange calls f after every change. A catalogue that is open for reading
// only is changed by others, so its files are watched.
func (h *house) OnChange(f func()) {
	h.Store().OnChange(f)
	if h.ReadOnly() {
		go follow(h.Dir(), followEvery, h.ended, f)
	}
}

// BackupTrouble says that the day's backup could not be made, "" when all is
// well.
func (h *house) BackupTrouble() string { return h.Store().BackupTrouble() }

// followEvery is how often the files of a catalogue are looked at.
const followEvery = 1500 * time.Millisecond

// follow calls f whenever the database of a catalogue was written to, until
// ended is closed. It opens nothing: it looks at sizes and times.
func follow(dir string, every time.Duration, ended <-chan struct{}, f func()) {
	stamp := func() string {
		s := ""
		for _, end := range []string{"", "-wal"} {
			if i, err := os.Stat(filepath.Join(dir, store.DatabaseFile+end)); err == nil {
				s += fmt.Sprint(i.Size(), i.ModTime().UnixNano(), ";")
			}
		}
		return s
	}
	tick := time.NewTicker(every)
	defer tick.Stop()
	for last := stamp(); ; {
		select {
		case <-ended:
			return
		case <-tick.C:
			if now := stamp(); now != last {
				last = now
				f()
			}
		}
	}
}

// hitsAtMost bounds a search: more rows than a list shows.
const hitsAtMost = 200

func (h *house) Search(ctx context.Context, text string) ([]catalog.ID, error) {
	hits, err := h.Store().Search(ctx, text, hitsAtMost)
	if err != nil {
		return nil, err
	}
	ids := make([]catalog.ID, 0, len(hits))
	for _, x := range hits {
		ids = append(ids, x.PlateID)
	}
	return ids, nil
}

func (h *house) Measure(ctx context.Context, ids []catalog.ID, p places.Progress) error {
	scored, err := h.Studio.Measure(ctx, ids, p)
	if err != nil {
		return err
	}
	for _, x := range scored {
		if x.Err != nil {
			return x.Err
		}
	}
	return nil
}

// OpenTables reads the tables of a spreadsheet file.
func (h *house) OpenTables(_ context.Context, path string) ([]cells.Sheet, error) {
	return cells.Open(path)
}

func (h *house) TakeInExport(ctx context.Context, dir, originals string, p places.Progress) error {
	return h.Studio.TakeInExport(ctx, dir, originals, p)
}

func (h *house) Forecast(ctx context.Context, plate catalog.ID) (*life.Forecast, error) {
	return h.Studio.Forecast(ctx, plate)
}

func (h *house) Outlook(ctx context.Context, plate catalog.ID, wish life.Wish) (*places.Outlook, error) {
	o, err := h.Studio.Outlook(ctx, plate, wish)
	if err != nil {
		return nil, err
	}
	out := &places.Outlook{Forecast: o.Forecast, Plan: o.Plan}
	for _, s := range o.Sheets {
		out.Sheets = append(out.Sheets, s.Sorting)
	}
	return out, nil
}

// Report shapes the quality report kept with a photograph.
func (h *house) Report(ctx context.Context, photo catalog.ID) (*places.Report, error) {
	p, err := h.Store().Photograph(ctx, photo)
	if err != nil {
		return nil, err
	}
	r := &places.Report{MarkBy: p.MarkBy, MarkSure: p.MarkSure}
	if r.Corners, r.HasMark, err = h.MarkOf(ctx, photo); err != nil {
		return nil, err
	}
	if q, ok := studio.Quality(p); ok {
		for _, f := range q.Findings {
			r.Findings = append(r.Findings, places.Finding{What: f.What, Value: figure(f.Value, f.Unit), Stars: f.Stars, Advice: f.Advice})
		}
	}
	if p.View == catalog.ViewWedge {
		w, err := h.Wedge(ctx, photo)
		if err != nil {
			return nil, err
		}
		r.Wedge = &w
	}
	if p.ImpressionID != "" {
		if sc, err := h.Store().LatestScore(ctx, p.ImpressionID); err == nil && sc != nil && sc.PhotoID == photo && sc.Verdict == studio.RefusedPic {
			r.Refused = words.Say(sc.Why())
		}
	}
	return r, nil
}

// SetUpSession sets a shooting session up.
func (h *house) SetUpSession(ctx context.Context, u places.SetUp) (*places.Standing, error) {
	st, err := h.Studio.SetUpSession(ctx, studio.SetUp{Session: u.Session, Densities: u.Densities})
	if err != nil {
		return nil, err
	}
	out := &places.Standing{With: st.With, Scored: st.Scored}
	session, err := h.Store().Session(ctx, st.Session)
	if err == nil && session.WedgePhotoID != "" {
		out.WedgeFacts, err = h.Wedge(ctx, session.WedgePhotoID)
	}
	return out, err
}

// Wedge is what a photograph of a grey wedge told before.
func (h *house) Wedge(ctx context.Context, photo catalog.ID) (places.WedgeFacts, error) {
	p, err := h.Store().Photograph(ctx, photo)
	if err != nil {
		return places.WedgeFacts{}, err
	}
	r, ok := studio.WedgeOf(p)
	if !ok {
		return places.WedgeFacts{}, nil
	}
	out := places.WedgeFacts{Densities: studio.DensitiesWords(r.Densities), Steps: r.Steps, Departs: r.Departs, Misses: r.Misses}
	if r.Refused != "" {
		out.Refused = words.Say(r.Why)
	}
	return out, nil
}

// ReadDensities reads the densities of a wedge as they are typed.
func (h *house) ReadDensities(text string) ([]float64, error) { return studio.ParseDensities(text) }

// UsualDensities are those of a usual wedge.
func (h *house) UsualDensities() string { return studio.UsualDensities }

// Check judges a photograph that was not measured yet.
func (h *house) Check(ctx context.Context, photo, plate catalog.ID) (string, error) {
	_, reason, err := h.Studio.Check(ctx, photo, plate)
	return reason, err
}

// figure is a value with its unit, with as many decimals as it can bear.
func figure(v float64, unit string) string {
	decimals := 0
	switch {
	case v < 0.1 && v > -0.1:
		decimals = 3
	case v < 1 && v > -1:
		decimals = 2
	case v < 20:
		decimals = 1
	}
	if short, ok := shortUnits[unit]; ok {
		unit = short
	}
	return words.Num(v, decimals) + " " + unit
}

// shortUnits stand for units that are too long for the panel.
var shortUnits = map[string]string{
	"pixels to the inch":                      "px/in",
	"8-bit counts":                            "/ 255",
	"% of the margin at the top of the scale": "%",
}

// Start begins a job of the studio.
func (h *house) Start(name string, run func(context.Context, places.Progress) error) places.Job {
	return job{h.Studio.Jobs().Start(name, func(ctx context.Context, p studio.Progress) error { return run(ctx, p) })}
}

func (h *house) Jobs() []places.Job {
	var l []places.Job
	for _, j := range h.Studio.Jobs().Running() {
		l = append(l, job{j})
	}
	return l
}

func (h *house) OnJobs(f func()) { h.Studio.Jobs().OnChange(f) }
func (h *house) Input()          { h.Studio.Jobs().Input() }

// job shapes the status of a job of the studio.
type job struct{ *studio.Job }

func (j job) Status() places.JobStatus {
	s := j.Job.Status()
	return places.JobStatus{Name: s.Name, What: s.What, Done: s.Done, Waiting: s.Waiting, Finished: s.Finished,
		Cancelled: s.Cancelled(), Err: s.Err, Left: s.Left}
}

// Notice says what the user should know of how the catalogue was opened.
func (h *house) Notice() string { return h.Store().NoticeIn(words.Tongue()) }
