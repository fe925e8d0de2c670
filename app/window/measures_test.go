package window_test

import (
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"golang.org/x/image/draw"

	"pullbook/app/studio"
	"pullbook/catalog"
	"pullbook/catalog/store"
)

// TestFrameRate measures what is owed of the window, in the real window on a
// screen in memory, and of the program as it is built for others:
//
//	go test ./app/window -run TestFrameRate -frames -v
//
// start in under 0.6 s, the first picture in under 150 ms, 25 pictures a
// second with two sheets of 24 megapixels side by side and in the difference,
// 24 with two measuring jobs, 40 on the wheel over 5,000 sheets, 600 MB. It
// reports, with the load of the machine, and does not judge: a busy machine
// draws fewer.
func TestFrameRate(t *testing.T) {
	if !*frames {
		t.Skip("measures the window, on a machine at rest, when asked with -frames")
	}
	need(t)
	t.Run("two large sheets", largeSheets)
	t.Run("five thousand sheets", manySheets)
}

// load is the load of the machine in the last minute.
func load() string {
	b, _ := os.ReadFile("/proc/loadavg")
	return strings.Fields(string(b) + " ?")[0]
}

// say reports a figure with the load.
func (r *real) say(format string, a ...any) {
	r.t.Helper()
	r.t.Logf(format+" (load %s)", append(a, load())...)
}

// sayStart reports how long it was from the start of the program to the full
// window.
func (r *real) sayStart() {
	r.t.Helper()
	line := r.await(0, `(\d+) window full`)
	ms, _ := strconv.ParseInt(strings.Fields(line)[0], 10, 64)
	r.say("start to the full window: %d ms, processor time %d ms, owed 600", ms-r.began.UnixMilli(), r.cpu().Milliseconds())
}

// memory is the program's memory in MB, now and at most so far.
func (r *real) memory() (now, most int) {
	b, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", r.cmd.Process.Pid))
	if err != nil {
		r.t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`(VmRSS|VmHWM):\s+(\d+) kB`).FindAllStringSubmatch(string(b), -1) {
		kb, _ := strconv.Atoi(m[2])
		if m[1] == "VmRSS" {
			now = kb / 1024
		} else {
			most = kb / 1024
		}
	}
	return now, most
}

// cpu is the processor time the program has taken so far: unlike the time on
// the clock it says little of what else the machine has to do.
func (r *real) cpu() time.Duration {
	b, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", r.cmd.Process.Pid))
	if err != nil {
		r.t.Fatal(err)
	}
	f := strings.Fields(string(b)[strings.LastIndex(string(b), ")")+1:])
	user, _ := strconv.Atoi(f[11])
	system, _ := strconv.Atoi(f[12])
	return time.Duration(user+system) * 10 * time.Millisecond // of 100 a second
}

// counted adds up the lines of the log that count something, as a rate.
func (r *real) counted(from int, what string) (rate float64, n int) {
	ms := 0
	for _, m := range regexp.MustCompile(what+`: (\d+) in (\d+) ms`).FindAllStringSubmatch(r.text()[from:], -1) {
		a, _ := strconv.Atoi(m[1])
		b, _ := strconv.Atoi(m[2])
		n, ms = n+a, ms+b
	}
	if ms == 0 {
		return 0, 0
	}
	return float64(n) * 1000 / float64(ms), n
}

// drag moves the sheets about for some seconds and reports the rate of the
// pictures drawn.
func (r *real) drag(what string, owed int) {
	r.t.Helper()
	before := r.cpu()
	at := r.do("mousemove", "480", "450", "mousedown", "1")
	for i := range 240 {
		r.do("mousemove", fmt.Sprint(480+(i%40)*3), fmt.Sprint(450+(i%30)*2))
		time.Sleep(8 * time.Millisecond)
	}
	r.do("mouseup", "1")
	spent := r.cpu() - before
	rate, n := r.counted(at, "frames")
	if n == 0 {
		r.t.Logf("%s: too few pictures were drawn to count (load %s)", what, load())
		return
	}
	r.say("%s: %.1f pictures a second, owed %d; processor time about %d ms a picture", what, rate, owed, spent.Milliseconds()/int64(n))
}

// wheel turns the wheel over a place for some seconds and reports how fast the
// toolkit's loop turns meanwhile.
func (r *real) wheel(what string, x, y, owed int) {
	r.t.Helper()
	before := r.cpu()
	at := r.do("mousemove", fmt.Sprint(x), fmt.Sprint(y))
	r.do("click", "--repeat", "260", "--delay", "16", "5")
	spent := r.cpu() - before
	rate, n := r.counted(at, "turns")
	if n == 0 {
		r.t.Logf("%s: too few turns to count (load %s)", what, load())
		return
	}
	r.say("%s: %.1f pictures a second, owed %d; processor time about %d ms a picture", what, rate, owed, spent.Milliseconds()/int64(n))
}

func largeSheets(t *testing.T) {
	r := prepare(t, 1280, 800, released)
	enlarge(t, r.cat)
	var at int
	// The first time there is nothing in the caches of files, nor has the
	// graphics library kept what it made of the toolkit's drawing.
	for _, when := range []string{"for the first time: ", ""} {
		r.env = append(r.env, "PULLBOOK_TURNS=1")
		os.Remove(r.log)
		r.open()
		r.sayStart()
		before := r.cpu()
		at = r.do("key", "ctrl+2")
		shown := r.await(at, `photograph shown in \d+ ms`)
		r.say("%s%s, processor time of the whole place %d ms, owed 150", when, shown, (r.cpu() - before).Milliseconds())
		if when != "" {
			r.await(r.do("key", "ctrl+1"), `at place 0`) // where it begins the next time
			r.cmd.Process.Kill()
			r.cmd.Wait()
		}
	}
	for _, next := range []struct {
		what string
		do   []string
	}{{"one far down in the tray, which nothing has prepared", []string{"mousemove", "330", "640", "click", "1"}}, {"the next one", []string{"key", "Next"}}} {
		time.Sleep(2 * time.Second)
		at = r.do(next.do...)
		r.say("%s: %s, owed 150", next.what, r.await(at, `photograph shown in \d+ ms`))
	}
	r.shoot("measures-camera")
	at = r.do("key", "ctrl+3")
	r.say("%s: both, from the pictures kept for the screen", r.await(at, `sheets laid down in \d+ ms`))
	r.await(at, `sheets registered`)
	time.Sleep(time.Second)
	now, most := r.memory()
	r.say("memory with two sheets of 24 megapixels on the table: %d MB, at most %d while registering, owed 600", now, most)
	r.drag("side by side", 25)
	r.do("key", "ctrl+7")
	r.drag("divided by an edge", 25)
	r.do("key", "ctrl+9")
	r.drag("difference", 25)

	// Two measuring jobs: of the next plate, and of this one.
	r.do("key", "ctrl+1")
	r.do("key", "ctrl+Down")
	r.do("key", "ctrl+shift+m")
	r.do("key", "ctrl+Up")
	r.do("key", "ctrl+shift+m")
	time.Sleep(300 * time.Millisecond)
	r.do("key", "ctrl+3")
	r.do("key", "ctrl+6")
	time.Sleep(500 * time.Millisecond)
	r.drag("side by side with two measuring jobs", 24)
	now, most = r.memory()
	r.say("memory while measuring: %d MB, at most %d so far", now, most)
	r.shoot("measures-large")
	r.cmd.Process.Kill()
}

func manySheets(t *testing.T) {
	r := prepare(t, 1280, 800, released)
	fill(t, r.cat, 5000)
	r.env = append(r.env, "PULLBOOK_TURNS=1")
	r.open()
	r.sayStart()
	at := r.do("key", "ctrl+4")
	r.await(at, `at place 3`)
	// the fourth section of the desk
	r.do("mousemove", "528", "109", "click", "1")
	time.Sleep(2 * time.Second)
	r.shoot("measures-desk")
	r.wheel("5,000 sheets at the desk, on the wheel", 560, 500, 40)
	at = r.do("key", "ctrl+3")
	r.await(at, `at place 2`)
	r.do("key", "ctrl+5")
	time.Sleep(2 * time.Second)
	r.wheel("5,000 sheets laid out at the table, on the wheel", 560, 350, 40)
	r.shoot("measures-all-sheets")
	now, most := r.memory()
	r.say("memory with 5,000 sheets: %d MB, at most %d", now, most)
	r.cmd.Process.Kill()
}

// openCatalogue opens the catalogue the program will be shown.
func openCatalogue(t *testing.T, dir string) *studio.Studio {
	t.Helper()
	s, err := studio.Open(dir, studio.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// enlarge gives the first plate two sheets with photographs of 24 megapixels,
// enlarged from its own, and nothing else to lay on the table.
func enlarge(t *testing.T, dir string) {
	t.Helper()
	ctx, s := context.Background(), openCatalogue(t, dir)
	defer s.Close()
	snap, err := s.Store().Snapshot(ctx)
	if err != nil {
		t.Fatal(err)
	}
	plate := snap.Plates[0].ID
	var state *catalog.State
	for i := range snap.States {
		if snap.States[i].PlateID == plate && snap.States[i].ReferencePhotoID != "" {
			state = &snap.States[i]
		}
	}
	done := 0
	for _, i := range snap.Impressions {
		if i.StateID != state.ID {
			continue
		}
		for k := range snap.Photographs {
			p := &snap.Photographs[k]
			if p.ImpressionID != i.ID || p.View != catalog.ViewWhole && p.View != "" {
				continue
			}
			reference := p.ID == state.ReferencePhotoID
			if !reference && done > 0 {
				continue
			}
			if !reference {
				done++
			}
			large := takeLarge(t, s, p)
			p.ImpressionID = ""
			if err := s.Save(ctx, "enlarged", p, large); err != nil {
				t.Fatal(err)
			}
			if reference {
				state.ReferencePhotoID = large.ID
				if err := s.Save(ctx, "reference", state); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

// takeLarge takes in a photograph as large as 6000 x 4000 pixels, of the same
// sheet with the same plate mark.
func takeLarge(t *testing.T, s *studio.Studio, p *catalog.Photograph) *catalog.Photograph {
	t.Helper()
	ctx := context.Background()
	path, err := s.Original(ctx, p.ID)
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	img, err := jpeg.Decode(f)
	f.Close()
	if err != nil {
		t.Fatal(err)
	}
	b := img.Bounds()
	factor := 6000 / float64(max(b.Dx(), b.Dy()))
	dst := image.NewRGBA(image.Rect(0, 0, int(float64(b.Dx())*factor), int(float64(b.Dy())*factor)))
	draw.BiLinear.Scale(dst, dst.Rect, img, b, draw.Src, nil)
	to := filepath.Join(t.TempDir(), p.Name)
	out, err := os.Create(to)
	if err != nil {
		t.Fatal(err)
	}
	if err := jpeg.Encode(out, dst, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	taken, err := s.TakeIn(ctx, []string{to}, nil)
	if err != nil || len(taken) != 1 || taken[0].Err != nil {
		t.Fatal(err, taken)
	}
	large := taken[0].Photo
	large.ImpressionID, large.View, large.MarkBy, large.MarkSure = p.ImpressionID, catalog.ViewWhole, p.MarkBy, p.MarkSure
	for i, c := range p.Mark {
		large.Mark[i] = [2]float64{(c[0]+0.5)*factor - 0.5, (c[1]+0.5)*factor - 0.5}
	}
	t.Logf("%s: %d x %d pixels", p.Name, dst.Rect.Dx(), dst.Rect.Dy())
	return &large
}

// fill gives the first plate n sheets more, each with a photograph, of which
// the catalogue has the small picture only, and a score.
func fill(t *testing.T, dir string, n int) {
	t.Helper()
	ctx, s := context.Background(), openCatalogue(t, dir)
	defer s.Close()
	snap, err := s.Store().Snapshot(ctx)
	if err != nil {
		t.Fatal(err)
	}
	plate := snap.Plates[0].ID
	states, err := s.Store().States(ctx, plate)
	if err != nil {
		t.Fatal(err)
	}
	one := snap.Photographs[0]
	thumb, err := s.Thumb(ctx, one.ID)
	if err != nil {
		t.Fatal(err)
	}
	small, err := os.ReadFile(thumb)
	if err != nil {
		t.Fatal(err)
	}
	var records []any
	for i := range n {
		p := one
		p.ID, p.SHA256, p.Name = catalog.NewID(), fmt.Sprintf("%064x", i+1), fmt.Sprintf("sheet-%d.jpg", i+1)
		sheet := &catalog.Impression{ID: catalog.NewID(), PlateID: plate, StateID: states[len(states)-1].ID, Pull: 100 + i, Kind: catalog.KindTrial}
		p.ImpressionID = sheet.ID
		loss := float64(i) / float64(2*n)
		records = append(records, sheet, &p, &catalog.Score{ImpressionID: sheet.ID, PhotoID: p.ID, StateID: sheet.StateID, ReferencePhotoID: one.ID, At: time.Now(),
			Verdict: studio.Within, InkLoss: &catalog.Value{V: loss, U: 0.01}, Limit: 0.3})
		to := strings.Replace(thumb, filepath.Join(one.SHA256[:2], one.SHA256), filepath.Join(p.SHA256[:2], p.SHA256), 1)
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(to, small, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Save(ctx, "five thousand sheets", records...); err != nil {
		t.Fatal(err)
	}
	count, err := s.Store().CountImpressions(ctx, store.ImpressionFilter{PlateID: plate})
	if err != nil || count < n {
		t.Fatal(count, err)
	}
}
