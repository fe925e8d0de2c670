package batch

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pullbook/app/studio"
	"pullbook/app/studio/rehearsal"
	"pullbook/catalog"
	"pullbook/imaging/platesim"
)

// The child of the test below is this program: it carries out the command its
// environment names, and is killed in the middle.
func TestMain(m *testing.M) {
	if args := os.Getenv("BATCH_TEST_COMMAND"); args != "" {
		os.Exit(Run(strings.Split(args, "\n"), os.Stdout, os.Stderr))
	}
	os.Exit(m.Run())
}

// sheetsToFile makes a catalogue of two plates and a folder of photographs of
// its sheets, slips beside them: one plate with a reference pull, so that its
// sheets are recognised and scored, one without. truth is by file name.
func sheetsToFile(t *testing.T, dir, in string) (truth map[string]catalog.ID) {
	t.Helper()
	ctx := context.Background()
	s, err := studio.Create(dir, studio.Options{})
	fatal(t, err)
	defer s.Close()
	truth = map[string]catalog.ID{}
	for n, scene := range []platesim.Scene{platesim.Estuary, platesim.Hulls} {
		sim := platesim.New(uint64(600+n), platesim.Etched, scene, platesim.Options{States: 1, Size: platesim.Size{W: 74, H: 52}})
		plate := &catalog.Plate{Number: catalog.Number{N: n + 1}, Titles: []catalog.Title{{Text: string(scene)}}, Mark: catalog.Size{HeightMM: 52, WidthMM: 74}}
		fatal(t, s.Save(ctx, "plate", plate))
		state := &catalog.State{PlateID: plate.ID, N: 1}
		fatal(t, s.Save(ctx, "state", state))
		if n == 0 {
			ref := &catalog.Impression{PlateID: plate.ID, StateID: state.ID, Pull: 1}
			fatal(t, s.Save(ctx, "reference", ref))
			path := filepath.Join(t.TempDir(), "reference.jpg")
			photographSheet(t, sim, 1, "", path)
			taken, err := s.TakeIn(ctx, []string{path}, nil)
			fatal(t, err)
			fatal(t, taken[0].Err)
			fatal(t, s.FilePhotograph(ctx, taken[0].Photo.ID, ref.ID, "by hand", 1))
			fatal(t, s.PickReference(ctx, ref.ID, taken[0].Photo.ID))
		}
		for k := range 3 + 4*n {
			i := &catalog.Impression{PlateID: plate.ID, StateID: state.ID, Pull: 2 + k}
			fatal(t, s.Save(ctx, "sheet", i))
			name := fmt.Sprintf("sheet-%d-%d.jpg", n+1, k+1)
			photographSheet(t, sim, 2+k, i.ID, filepath.Join(in, name))
			truth[name] = i.ID
		}
	}
	return truth
}

// photographSheet writes a photograph of a pull, with a slip beside it when it
// has a name.
func photographSheet(t *testing.T, sim *platesim.Plate, pull int, slip catalog.ID, path string) {
	t.Helper()
	c := platesim.NewConditions(platesim.Even, uint64(pull))
	c.Width, c.Height, c.Fill = 860, 640, 0.8
	c.Tone, c.Emboss = 0.05, 0.06 // a plate mark that can be seen in so small a picture
	img, _ := sim.Photograph(1, pull, c, uint64(pull))
	if slip != "" {
		rehearsal.LaySlip(t, img, slip, 90)
	}
	rehearsal.WriteJPEG(t, path, img, c)
}

func fatal(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// kept is what of a catalogue must never grow less.
type kept struct {
	photos map[string]catalog.ID // by file name, the impression it is filed to
	scores int
}

// keptIn reads a catalogue and has verify look through it.
func keptIn(t *testing.T, dir string) kept {
	t.Helper()
	s, err := studio.Open(dir, studio.Options{})
	fatal(t, err)
	defer s.Close()
	v, err := s.Verify(context.Background(), nil)
	fatal(t, err)
	if !v.Clean() {
		t.Fatalf("verify: %+v", v.Findings)
	}
	snap, err := s.Store().Snapshot(context.Background())
	fatal(t, err)
	k := kept{photos: map[string]catalog.ID{}, scores: len(snap.Scores)}
	for _, p := range snap.Photographs {
		k.photos[p.Name] = p.ImpressionID
	}
	return k
}

// filed counts the photographs filed.
func (k kept) filed() (n int) {
	for _, id := range k.photos {
		if id != "" {
			n++
		}
	}
	return n
}

// said is the last count each stage of the killed command reported.
type said struct{ taken, filed, scored int }

// killed starts `file` in a process of its own and kills it after a while;
// done reports that it had ended before.
func killed(t *testing.T, dir, in string, after time.Duration) (s said, done bool) {
	t.Helper()
	var answer bytes.Buffer
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "BATCH_TEST_COMMAND="+strings.Join([]string{"file", "--catalogue", dir, in}, "\n"))
	cmd.Stdout = &answer
	out, err := cmd.StderrPipe()
	fatal(t, err)
	fatal(t, cmd.Start())
	timer := time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
	defer timer.Stop()
	for sc := bufio.NewScanner(out); sc.Scan(); {
		var percent, n int
		line := sc.Text()
		for form, to := range map[string]*int{"taken in %d of": &s.taken, "measured %d of": &s.scored} {
			if _, err := fmt.Sscanf(line, "%d %%  "+form, &percent, &n); err == nil {
				*to = n
			}
		}
		if _, after, ok := strings.Cut(line, "photographs, filed "); ok {
			if _, err := fmt.Sscanf(after, "%d", &n); err == nil {
				s.filed = n
			}
		}
		if strings.HasPrefix(line, "pullbook") {
			t.Errorf("the killed command says %q", line)
		}
	}
	if err = cmd.Wait(); err != nil && cmd.ProcessState.Exited() {
		t.Errorf("the command ended by itself with %v:\n%s", err, answer.String())
	}
	return s, err == nil
}

// TestKilledWhileFiling kills the command at random moments, over and over on
// one catalogue until a run comes to its end, then on a fresh one. Nothing that
// was reported, and nothing that was there before, is lost; verify finds
// nothing wrong; and what is filed in the end is right.
func TestKilledWhileFiling(t *testing.T) {
	in, base := t.TempDir(), filepath.Join(t.TempDir(), "base.pullbook")
	truth := sheetsToFile(t, base, in)
	kills := 4
	if os.Getenv("PULLBOOK_LONG") != "" {
		kills = 50
	}
	r := rand.New(rand.NewPCG(8, 15))
	dir, ends := fresh(t, base), 0
	began := time.Now()
	if _, done := killed(t, dir, in, time.Hour); !done {
		t.Fatal("a run that nobody kills does not come to its end")
	}
	longest := time.Since(began)
	checkFiled(t, keptIn(t, dir), truth)
	dir = fresh(t, base)
	before := keptIn(t, dir)
	for k := 0; k < kills; {
		began := time.Now()
		s, done := killed(t, dir, in, time.Duration(r.Int64N(int64(longest))))
		now := keptIn(t, dir)
		if done {
			ends++
			checkFiled(t, now, truth)
			dir = fresh(t, base)
			before = keptIn(t, dir)
			continue
		}
		k++
		if len(now.photos)-1 < s.taken || now.filed() < before.filed()+s.filed || now.scores < before.scores+s.scored {
			t.Fatalf("kill %d: reported %+v, kept %d taken in, %d filed, %d scored", k, s, len(now.photos)-1, now.filed()-1, now.scores)
		}
		for name, id := range before.photos {
			if id != "" && now.photos[name] != id {
				t.Fatalf("kill %d: %s was filed to %s, now to %q", k, name, id, now.photos[name])
			}
		}
		t.Logf("kill %d after %.1f s: reported %+v; kept %d taken in, %d filed, %d scored", k, time.Since(began).Seconds(), s, len(now.photos)-1, now.filed()-1, now.scores)
		before = now
	}
	if _, stderr, code := run("file", "--catalogue", dir, in); code != exitDone {
		t.Errorf("the last run: exit %d: %s", code, stderr)
	}
	checkFiled(t, keptIn(t, dir), truth)
	t.Logf("%d kills, %d runs came to their end before", kills, ends)
}

func fresh(t *testing.T, base string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "kill.pullbook")
	fatal(t, os.CopyFS(dir, os.DirFS(base)))
	return dir
}

// checkFiled compares what is filed with the truth.
func checkFiled(t *testing.T, k kept, truth map[string]catalog.ID) {
	t.Helper()
	for name, id := range truth {
		if k.photos[name] != id {
			t.Errorf("%s is filed to %q, the truth is %s", name, k.photos[name], id)
		}
	}
	if k.scores < 3 {
		t.Errorf("%d scores, want those of three sheets", k.scores)
	}
}
