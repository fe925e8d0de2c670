package studio

import (
	"context"
	"image"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pullbook/app/studio/rehearsal"
	"pullbook/catalog"
	"pullbook/imaging/platesim"
)

// shoot is a session played: a plate with its reference pull by a camera without
// faults, and photographs by one with them.
type shoot struct {
	t      *testing.T
	s      *Studio
	d      *rehearsal.Day
	sim    *platesim.Plate
	plate  *catalog.Plate
	state  *catalog.State
	taken  time.Time
	camera rehearsal.Camera
}

func newShoot(t *testing.T) *shoot {
	h := &shoot{t: t, s: newCatalogue(t), d: &rehearsal.Day{Wide: 1280, Sheets: 40}, camera: rehearsal.Brightening}
	h.taken = time.Date(2031, 5, 4, 9, 0, 0, 0, time.UTC)
	h.sim = platesim.New(300, platesim.Etched, platesim.Estuary, platesim.Options{States: 1, Size: platesim.Size{W: 84, H: 60}})
	h.plate = &catalog.Plate{Number: catalog.Number{N: 1}, Mark: catalog.Size{HeightMM: h.sim.Size.H, WidthMM: h.sim.Size.W}}
	must(t, h.s.Save(context.Background(), "plate", h.plate))
	h.state = &catalog.State{PlateID: h.plate.ID, N: 1}
	must(t, h.s.Save(context.Background(), "state", h.state))
	h.d.Reference(t, books(h.s), h.sim, h.plate, h.state)
	return h
}

// take takes a picture in as taken some minutes after the one before.
func (h *shoot) take(name string, img *image.RGBA) catalog.ID {
	h.t.Helper()
	ctx := context.Background()
	path := filepath.Join(h.t.TempDir(), name+".jpg")
	rehearsal.WriteJPEG(h.t, path, img, platesim.Conditions{Quality: 96})
	got, err := h.s.TakeIn(ctx, []string{path}, nil)
	must(h.t, err)
	must(h.t, got[0].Err)
	h.taken = h.taken.Add(3 * time.Minute)
	must(h.t, h.s.updatePhotograph(ctx, got[0].Photo.ID, "clock", func(p *catalog.Photograph) { p.TakenAt, p.Camera = h.taken, "the copy camera" }))
	return got[0].Photo.ID
}

// sheet photographs a later pull through the camera and files it.
func (h *shoot) sheet() (impression catalog.ID, loss, tone float64) {
	h.t.Helper()
	ctx := context.Background()
	c := platesim.NewConditions(platesim.Even, 9)
	c.Width, c.Height, c.Fill, c.Tone, c.Exposure = h.d.Wide, h.d.Wide*3/4, 0.8, 0.06, 0.85*0.85
	c.Paper, c.Reference = [3]float64{0.85, 0.83, 0.79}, 2
	img, truth := h.sim.Photograph(1, 30, c, 9)
	id := h.take("sheet", h.camera.Through(img))
	i := &catalog.Impression{PlateID: h.plate.ID, StateID: h.state.ID, Pull: 30}
	must(h.t, h.s.Save(ctx, "sheet", i))
	must(h.t, h.s.FilePhotograph(ctx, id, i.ID, byHand, 1))
	return i.ID, truth.InkLoss, truth.Tone
}

func (h *shoot) score(impression catalog.ID) *catalog.Score {
	h.t.Helper()
	got, err := h.s.Measure(context.Background(), []catalog.ID{impression}, nil)
	must(h.t, err)
	if got[0].Score == nil || got[0].Score.InkLoss == nil {
		h.t.Fatalf("not measured: %+v", got[0])
	}
	return got[0].Score
}

// A session set up once with blank sheet and grey wedge holds for the
// photographs of its time: scores by a camera that makes pictures pleasing come
// near the truth, and those measured before are named to be measured anew. A
// wedge that cannot be read says so and changes nothing.
func TestSetUpSession(t *testing.T) {
	ctx, h := context.Background(), newShoot(t)
	d, err := ParseDensities(UsualDensities)
	must(t, err)
	blank := h.take("blank", rehearsal.Wedge(h.d.Wide, h.d.Wide*3/4, nil, h.camera))
	wedge := h.take("wedge", rehearsal.Wedge(h.d.Wide, h.d.Wide*3/4, d, h.camera))
	sheet, loss, tone := h.sheet()
	without := h.score(sheet)

	wrong := append(slices.Clone(d), 1.7)
	st, err := h.s.SetUpSession(ctx, SetUp{Session: catalog.ShootingSession{Lamps: "two at 45 degrees", WedgePhotoID: wedge}, Densities: wrong})
	must(t, err)
	if st.Used || !strings.Contains(st.Wedge, "The wedge is not used. No row of 12 steps") || st.With != 1 {
		t.Errorf("densities of another wedge: %+v", st)
	}
	aid, err := h.s.store.Photograph(ctx, wedge)
	must(t, err)
	if facts, ok := WedgeOf(aid); !ok || facts.Why.String() != facts.Refused || facts.Refused == "" || len(facts.Densities) != 12 {
		t.Errorf("what is kept of the wedge: %+v", facts)
	}
	if again := h.score(sheet); again.InkLoss.V != without.InkLoss.V {
		t.Errorf("a wedge that cannot be read changed the score from %.4f to %.4f", without.InkLoss.V, again.InkLoss.V)
	}

	session, err := h.s.store.Session(ctx, st.Session)
	must(t, err)
	if session.Camera != "the copy camera" || session.Lamps != "two at 45 degrees" {
		t.Errorf("the session is %+v", session)
	}
	session.BlankPhotoID = blank
	session.Began = time.Time{}
	st, err = h.s.SetUpSession(ctx, SetUp{Session: *session, Densities: d})
	must(t, err)
	t.Log(st.Wedge)
	if !st.Used || st.With != 1 || !slices.Equal(st.Scored, []catalog.ID{sheet}) {
		t.Fatalf("the session stands so: %+v", st)
	}
	with := h.score(sheet)
	t.Logf("ink loss %.4f, without the session %.4f, with it %.4f; plate tone %.4f, %.4f, %.4f", loss, without.InkLoss.V, with.InkLoss.V, tone, without.PlateTone.V, with.PlateTone.V)
	if before, after := math.Abs(without.InkLoss.V-loss), math.Abs(with.InkLoss.V-loss); after > 0.02 || after > 0.4*before {
		t.Errorf("ink loss is wrong by %.4f, with the session by %.4f", before, after)
	}
	if before, after := math.Abs(without.PlateTone.V-tone), math.Abs(with.PlateTone.V-tone); after > 0.006 || after > 0.5*before {
		t.Errorf("plate tone is wrong by %.4f, with the session by %.4f", before, after)
	}

	// Another camera's photographs are not put right by this one's wedge.
	p, err := h.s.photographToMeasure(ctx, sheet)
	must(t, err)
	must(t, h.s.updatePhotograph(ctx, p.ID, "camera", func(p *catalog.Photograph) { p.Camera = "another" }))
	if other := h.score(sheet); math.Abs(other.InkLoss.V-without.InkLoss.V) > 1e-9 {
		t.Errorf("another camera: ink loss %.4f, want %.4f", other.InkLoss.V, without.InkLoss.V)
	}

	// One step of undo takes the last setting-up back, and verify is clean.
	v, err := h.s.Verify(ctx, nil)
	must(t, err)
	if !v.Clean() {
		t.Errorf("verify: %+v", v.Findings)
	}
}

// A later session takes over the photographs taken after its beginning, and
// what is no longer a session's blank sheet is a photograph like others.
func TestSessionsFollowOneAnother(t *testing.T) {
	ctx, h := context.Background(), newShoot(t)
	plain := image.NewRGBA(image.Rect(0, 0, 40, 30))
	var ids []catalog.ID
	for i := range 5 {
		plain.Pix[0] = uint8(40 * i)
		ids = append(ids, h.take("p", plain))
	}
	first, err := h.s.SetUpSession(ctx, SetUp{Session: catalog.ShootingSession{BlankPhotoID: ids[0]}})
	must(t, err)
	if first.With != 4 {
		t.Errorf("%d photographs belong to the first session, want 4", first.With)
	}
	second, err := h.s.SetUpSession(ctx, SetUp{Session: catalog.ShootingSession{BlankPhotoID: ids[3]}})
	must(t, err)
	if second.With != 1 {
		t.Errorf("%d photographs belong to the second session, want the one after its blank sheet", second.With)
	}
	session, err := h.s.store.Session(ctx, second.Session)
	must(t, err)
	session.BlankPhotoID = ids[4]
	session.Began = session.Began.Add(2 * time.Minute)
	second, err = h.s.SetUpSession(ctx, SetUp{Session: *session})
	must(t, err)
	p, err := h.s.store.Photograph(ctx, ids[3])
	must(t, err)
	if p.View != catalog.ViewWhole || p.SessionID != first.Session || second.With != 0 {
		t.Errorf("what was the blank sheet shows %s and belongs to %s; %d with the second", p.View, p.SessionID, second.With)
	}
	if _, err := h.s.SetUpSession(ctx, SetUp{Session: catalog.ShootingSession{BlankPhotoID: ids[1], WedgePhotoID: ids[1]}}); err == nil {
		t.Error("one photograph is both blank sheet and wedge")
	}
}

func TestParseDensities(t *testing.T) {
	for text, want := range map[string][]float64{
		"0.05 0.20 0.35":    {0.05, 0.2, 0.35},
		"0,05; 0,20; 0,35":  {0.05, 0.2, 0.35},
		"0.05, 0.2, 0.35":   {0.05, 0.2, 0.35},
		"0.05 + 3 x 0.15":   {0.05, 0.2, 0.35, 0.5},
		" 0,05 + 3 × 0,15 ": {0.05, 0.2, 0.35, 0.5},
		"":                  nil,
		"0.05 + x":          nil,
		"light to dark":     nil,
		"0 + 5000 x 0.1":    nil,
	} {
		got, err := ParseDensities(text)
		if !slices.Equal(got, want) || (err != nil) != (want == nil) {
			t.Errorf("%q gives %v, %v; want %v", text, got, err, want)
		}
		if want != nil {
			if again, err := ParseDensities(DensitiesWords(got)); err != nil || !slices.Equal(again, got) {
				t.Errorf("%q is written as %q", text, DensitiesWords(got))
			}
		}
	}
}

// A sheet photographed anew keeps its older photograph; the command says which
// one its scores come from, and measures by the newest.
func TestPhotographedAnew(t *testing.T) {
	ctx, h := context.Background(), newShoot(t)
	h.camera = func(u float64) float64 { return u }
	sheet, _, _ := h.sheet()
	first := h.score(sheet)
	dir := t.TempDir()
	img, c := h.d.Photograph(t, h.sim, 1, 30, 77, nil)
	rehearsal.LaySlip(t, img, sheet, rehearsal.SlipSide)
	rehearsal.WriteJPEG(t, filepath.Join(dir, "anew.jpg"), img, c)
	r, err := h.s.FileAll(ctx, []string{dir}, FileOptions{}, nil)
	must(t, err)
	words := r.Words(func(id catalog.ID) string { return "the sheet" })
	t.Log("\n" + words)
	if !strings.Contains(words, "anew     the sheet: its scores come from anew.jpg; kept: sheet.jpg") {
		t.Error("the report does not say which photograph the scores come from")
	}
	photos, err := h.s.store.Photographs(ctx, sheet)
	must(t, err)
	last, err := h.s.store.LatestScore(ctx, sheet)
	must(t, err)
	if len(photos) != 2 || last.PhotoID == first.PhotoID {
		t.Errorf("%d photographs are kept; measured on the older: %v", len(photos), last.PhotoID == first.PhotoID)
	}
	scores, err := h.s.store.Scores(ctx, sheet)
	must(t, err)
	if len(scores) != 2 || scores[0].PhotoID != first.PhotoID {
		t.Errorf("the older score is lost: %d", len(scores))
	}
	// Once measured by the newest it is not measured again.
	again, err := h.s.FileAll(ctx, []string{dir}, FileOptions{}, nil)
	must(t, err)
	if len(again.Scored) != 0 {
		t.Errorf("measured again: %+v", again.Scored)
	}
}
