package studio

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pullbook/catalog"
	"pullbook/imaging"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv("STUDIO_TEST_CHILD"); dir != "" {
		childTakesIn(dir)
		return
	}
	if dir := os.Getenv("STUDIO_TEST_MANY"); dir != "" {
		childMeasuresMany(dir)
		return
	}
	os.Exit(m.Run())
}

// pictures writes n small JPEG files, each different, into dir.
func pictures(t *testing.T, dir string, n int) {
	t.Helper()
	for i := range n {
		img := image.NewRGBA(image.Rect(0, 0, 90, 60))
		for p := range img.Pix {
			img.Pix[p] = uint8(p*7 + i*13)
		}
		img.SetRGBA(i%90, i/90, color.RGBA{255, 0, 0, 255})
		var b bytes.Buffer
		check(t, jpeg.Encode(&b, img, nil))
		check(t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("p%03d.jpg", i)), b.Bytes(), 0o644))
	}
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func newCatalogue(t *testing.T) *Studio {
	t.Helper()
	s, err := Create(filepath.Join(t.TempDir(), "test.pullbook"), Options{})
	check(t, err)
	t.Cleanup(func() { check(t, s.Close()) })
	return s
}

func TestTakeIn(t *testing.T) {
	s, dir, ctx := newCatalogue(t), t.TempDir(), context.Background()
	pictures(t, dir, 5)
	check(t, os.WriteFile(filepath.Join(dir, "broken.jpg"), []byte("\xff\xd8\xff\xe0 cut"), 0o644))
	check(t, os.WriteFile(filepath.Join(dir, "notes.txt"), []byte("no picture"), 0o644))
	b, err := os.ReadFile(filepath.Join(dir, "p001.jpg"))
	check(t, err)
	check(t, os.WriteFile(filepath.Join(dir, "p001 again.jpg"), b, 0o644))
	taken, err := s.TakeIn(ctx, []string{dir}, nil)
	check(t, err)
	already, refused := 0, 0
	for _, k := range taken {
		switch {
		case k.Err != nil:
			refused++
			if !strings.Contains(k.Err.Error(), "broken.jpg") {
				t.Errorf("refused without naming the file: %v", k.Err)
			}
		case k.Already:
			already++
		}
	}
	if len(taken) != 7 || already != 1 || refused != 1 {
		t.Errorf("%d looked at, %d twice, %d refused; want 7, 1 and 1 (the text file is passed over)", len(taken), already, refused)
	}
	unfiled, err := s.Store().Photographs(ctx, "")
	check(t, err)
	if len(unfiled) != 5 {
		t.Errorf("%d photographs recorded, want 5", len(unfiled))
	}
	thumb, err := s.Thumb(ctx, unfiled[0].ID)
	check(t, err)
	check(t, os.RemoveAll(s.Store().Derived()))
	again, err := s.Thumb(ctx, unfiled[0].ID)
	check(t, err)
	if _, err := os.Stat(again); err != nil || again != thumb {
		t.Errorf("a thumbnail is not made again: %v", err)
	}
	if _, err := s.TakeIn(ctx, []string{filepath.Join(dir, "none.jpg")}, nil); err == nil {
		t.Error("a file that is not there was taken in")
	}
}

func TestTakeInStops(t *testing.T) {
	s, dir := newCatalogue(t), t.TempDir()
	pictures(t, dir, 60)
	ctx, cancel := context.WithCancel(context.Background())
	var stopped time.Time
	_, err := s.TakeIn(ctx, []string{dir}, func(done float64, _ string) {
		if done > 0.2 && stopped.IsZero() {
			stopped = time.Now()
			cancel()
		}
	})
	if err == nil {
		t.Fatal("not stopped")
	}
	t.Logf("stopping took %v; half a second is owed on a machine at rest", time.Since(stopped))
	r, err := s.Verify(context.Background(), nil)
	check(t, err)
	if !r.Clean() {
		t.Errorf("after stopping: %+v", r.Findings)
	}
	taken, err := s.TakeIn(context.Background(), []string{dir}, nil)
	check(t, err)
	fresh := 0
	for _, k := range taken {
		if k.Err == nil && !k.Already {
			fresh++
		}
	}
	if fresh == 0 || fresh >= 60 {
		t.Errorf("%d of 60 were new the second time, want some but not all", fresh)
	}
}

// childTakesIn is the program that is killed: it takes a folder in and says
// how many are recorded.
func childTakesIn(dir string) {
	s, err := Open(filepath.Join(dir, "kill.pullbook"), Options{})
	if err != nil {
		fmt.Println("open:", err)
		os.Exit(1)
	}
	_, err = s.TakeIn(context.Background(), []string{filepath.Join(dir, "in")}, func(done float64, _ string) {
		fmt.Printf("%d\n", int(math.Round(done*120)))
	})
	if err == nil {
		err = s.Close()
	}
	if err != nil {
		fmt.Println("take in:", err)
		os.Exit(1)
	}
	fmt.Println("all")
}

// Killed at random moments, nothing that was reported is lost, verify finds
// nothing wrong, and the next start goes on.
func TestKilledWhileTakingIn(t *testing.T) {
	dir := t.TempDir()
	check(t, os.Mkdir(filepath.Join(dir, "in"), 0o755))
	pictures(t, filepath.Join(dir, "in"), 120)
	s, err := Create(filepath.Join(dir, "kill.pullbook"), Options{})
	check(t, err)
	check(t, s.Close())
	kills := 6
	if os.Getenv("PULLBOOK_LONG") != "" {
		kills = 50
	}
	r := rand.New(rand.NewPCG(1, 2))
	for k := range kills {
		said := killedChild(t, dir, time.Duration(30+r.IntN(500))*time.Millisecond)
		s, err := Open(filepath.Join(dir, "kill.pullbook"), Options{})
		check(t, err)
		v, err := s.Verify(context.Background(), nil)
		check(t, err)
		if !v.Clean() {
			t.Fatalf("kill %d: %+v", k, v.Findings)
		}
		kept, err := s.Store().Photographs(context.Background(), "")
		check(t, err)
		if len(kept) < said {
			t.Fatalf("kill %d: %d photographs were reported, %d are recorded", k, said, len(kept))
		}
		check(t, s.Close())
		t.Logf("kill %d: %d reported, %d recorded", k, said, len(kept))
	}
}

// killedChild starts the child, kills it after a while and returns the last
// number it reported.
func killedChild(t *testing.T, dir string, after time.Duration) int {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "STUDIO_TEST_CHILD="+dir)
	out, err := cmd.StdoutPipe()
	check(t, err)
	check(t, cmd.Start())
	timer := time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
	defer timer.Stop()
	said := 0
	for sc := bufio.NewScanner(out); sc.Scan(); {
		var n int
		if _, err := fmt.Sscan(sc.Text(), &n); err == nil {
			said = n
		} else if strings.Contains(sc.Text(), ":") {
			t.Errorf("the child says %q", sc.Text())
		}
	}
	_ = cmd.Wait() // killed on purpose
	return said
}

func TestJudge(t *testing.T) {
	for _, c := range []struct {
		v, u, limit float64
		want        string
	}{
		{0.05, 0.01, 0.10, Within}, {0.15, 0.01, 0.10, Outside}, {0.095, 0.01, 0.10, CannotTell},
		{0.105, 0.01, 0.10, CannotTell}, {0.10 - 1.66*0.01, 0.01, 0.10, Within}, {0.10 + 1.66*0.01, 0.01, 0.10, Outside},
	} {
		sc := catalog.Score{InkLoss: &catalog.Value{V: c.v, U: c.u}}
		judge(&sc, c.limit, 0, nil)
		if sc.Verdict != c.want {
			t.Errorf("%.3f ± %.3f against %.2f: %s, want %s", c.v, c.u, c.limit, sc.Verdict, c.want)
		}
		if (sc.Reason == "") != (c.want == Within) {
			t.Errorf("%s with reason %q", sc.Verdict, sc.Reason)
		}
	}
	toned := catalog.Score{InkLoss: &catalog.Value{V: 0, U: 0.01}, PlateTone: &catalog.Value{V: 0.3, U: 0.002}}
	if judge(&toned, 0.1, 0.15, nil); toned.Verdict != Outside || !strings.Contains(toned.Reason, "tone") {
		t.Errorf("too much tone: %s, %q", toned.Verdict, toned.Reason)
	}
	near := catalog.Score{InkLoss: &catalog.Value{V: 0.099, U: 0.01}}
	budget := []imaging.Component{{Score: "ink_loss", Cause: "focus", U: 0.009}, {Score: "ink_loss", Cause: "curve", U: 0.002}}
	if judge(&near, 0.1, 0, budget); near.Verdict != CannotTell || !strings.Contains(near.Reason, "focus") {
		t.Errorf("near the limit: %s, %q", near.Verdict, near.Reason)
	}
	none := catalog.Score{}
	if judge(&none, 0.1, 0, nil); none.Verdict != CannotTell || none.Reason == "" {
		t.Errorf("not measured: %s, %q", none.Verdict, none.Reason)
	}
}

// The corners of the lattice are those of the mark, and lines stay straight:
// a plate seen in perspective keeps the crossing of its diagonals.
func TestLattice(t *testing.T) {
	mark := [4][2]float64{{100, 80}, {900, 120}, {860, 640}, {140, 600}}
	size := catalog.Size{HeightMM: 100, WidthMM: 160}
	l, err := latticeOfMark(mark, size)
	check(t, err)
	for i, c := range [4][2]float64{{0, 0}, {160, 0}, {160, 100}, {0, 100}} {
		x, y := l.place(c[0], c[1])
		if math.Hypot(x-mark[i][0], y-mark[i][1]) > 1e-9 {
			t.Errorf("corner %d at %.2f, %.2f", i, x, y)
		}
	}
	// The crossing of the diagonals of the quad.
	x, y := l.place(80, 50)
	cx, cy := crossing(mark)
	if math.Hypot(x-cx, y-cy) > 0.1 {
		t.Errorf("the middle of the plate is at %.2f, %.2f; its diagonals cross at %.2f, %.2f", x, y, cx, cy)
	}
	if _, err := latticeOfMark([4][2]float64{}, size); err == nil {
		t.Error("a mark without area made a lattice")
	}
}

func crossing(q [4][2]float64) (x, y float64) {
	ax, ay, bx, by := q[0][0], q[0][1], q[2][0]-q[0][0], q[2][1]-q[0][1]
	cx, cy, dx, dy := q[1][0], q[1][1], q[3][0]-q[1][0], q[3][1]-q[1][1]
	k := ((cx-ax)*dy - (cy-ay)*dx) / (bx*dy - by*dx)
	return ax + k*bx, ay + k*by
}

func TestKeepRulings(t *testing.T) {
	old := []catalog.Change{
		{Kind: "added", BoxMM: [4]float64{10, 10, 20, 20}, Ruling: "rejected"},
		{Kind: "added", BoxMM: [4]float64{50, 50, 60, 60}},
	}
	found := []catalog.Change{
		{Kind: "added", BoxMM: [4]float64{11, 11, 21, 21}}, // the rejected one again
		{Kind: "removed", BoxMM: [4]float64{11, 11, 21, 21}},
	}
	got := keepRulings(old, found)
	if len(got) != 2 || got[0].Ruling != "rejected" || got[1].Kind != "removed" {
		t.Errorf("got %+v", got)
	}
}

func TestSample(t *testing.T) {
	ctx := context.Background()
	s, err := WriteSample(ctx, filepath.Join(t.TempDir(), "sample.pullbook"), Options{}, nil)
	check(t, err)
	dir := s.Dir()
	check(t, s.Close())
	began := time.Now()
	s, err = Open(dir, Options{})
	check(t, err)
	defer s.Close()
	snap, err := s.Store().Snapshot(ctx)
	check(t, err)
	t.Logf("the sample opens in %v; two seconds are owed on a machine at rest", time.Since(began))
	if len(snap.Plates) < 6 || len(snap.States) < 12 || len(snap.Impressions) < 40 || len(snap.Editions) < 3 || len(snap.Scores) < 40 {
		t.Errorf("%d plates, %d states, %d impressions, %d editions, %d scores", len(snap.Plates), len(snap.States), len(snap.Impressions), len(snap.Editions), len(snap.Scores))
	}
	var bytes int64
	for _, p := range snap.Photographs {
		bytes += p.Bytes
	}
	if bytes > 8e6 {
		t.Errorf("the sample's photographs are %.1f MB, owed under 8", float64(bytes)/1e6)
	}
	for _, p := range snap.Plates {
		if _, err := s.Forecast(ctx, p.ID); err != nil {
			t.Errorf("%s: %v", p.Name(), err)
		}
	}
	r, err := s.Verify(ctx, nil)
	check(t, err)
	if !r.Clean() {
		t.Errorf("the sample is not clean: %+v", r.Findings)
	}
}

// A photograph belongs to the session under way when it was taken.
func TestSessionAt(t *testing.T) {
	s, ctx := newCatalogue(t), context.Background()
	day := time.Date(2031, 5, 4, 9, 0, 0, 0, time.UTC)
	morning, noon := &catalog.ShootingSession{Began: day}, &catalog.ShootingSession{Began: day.Add(3 * time.Hour)}
	check(t, s.Save(ctx, "sessions", morning, noon))
	for _, c := range []struct {
		taken time.Time
		want  catalog.ID
	}{
		{time.Time{}, ""}, {day.Add(-time.Minute), ""}, {day.Add(time.Hour), morning.ID}, {day.Add(4 * time.Hour), noon.ID},
		{day.Add(48 * time.Hour), ""},
	} {
		got, err := s.sessionAt(ctx, c.taken)
		check(t, err)
		if got != c.want {
			t.Errorf("taken %v: session %q, want %q", c.taken, got, c.want)
		}
	}
}
