package window_test

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"
)

var frames = flag.Bool("frames", false, "measure the real window: start, first picture, pictures a second, memory")
var pictures = flag.String("pictures", "", "folder for pictures of the real window")

// patience is how long one thing may take on a machine busy with others.
const patience = 4 * time.Minute

// real is the program in a window of its own on a screen in memory.
type real struct {
	t      *testing.T
	bin    string
	dir    string // of everything made
	cat    string // the catalogue
	env    []string
	log    string
	errs   *bytes.Buffer
	cmd    *exec.Cmd
	screen string
	began  time.Time // when the program was started
}

// need skips, in a sentence, where the machine lacks what the test drives.
func need(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("the real window is not driven in a short run")
	}
	for _, tool := range []string{"Xvfb", "xdotool", "import"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed, so the real window cannot be driven", tool)
		}
	}
}

// start builds the program, writes the sample, and opens it in a window with
// two photographs to take in.
func start(t *testing.T, w, h int, args ...string) *real {
	r := prepare(t, w, h)
	r.open(args...)
	return r
}

// released is what the program is built with for others: without it the
// window's library looks with every word drawn which thread draws it.
const released = "migrated_fynedo"

// prepare builds the program, writes the sample and opens a screen.
func prepare(t *testing.T, w, h int, tags ...string) *real {
	need(t)
	r := &real{t: t, dir: t.TempDir(), errs: &bytes.Buffer{}}
	r.bin = filepath.Join(r.dir, "pullbook")
	build := exec.Command("go", "build", "-tags", strings.Join(append(tags, "sqlite_fts5"), ","), "-o", r.bin, "pullbook/app")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("building: %v\n%s", err, out)
	}
	r.cat = filepath.Join(r.dir, "estuary.pullbook")
	if out, err := exec.Command(r.bin, "sample", r.cat).CombinedOutput(); err != nil {
		t.Fatalf("writing the sample: %v\n%s", err, out)
	}
	r.openScreen(w, h)
	r.log = filepath.Join(r.dir, "window.log")
	r.env = append(os.Environ(), "DISPLAY="+r.screen, "LIBGL_ALWAYS_SOFTWARE=1", "FYNE_SCALE=1", "LANG=en_US.UTF-8",
		"HOME="+r.dir, "XDG_CONFIG_HOME="+filepath.Join(r.dir, "config"), "PULLBOOK_LOG="+r.log)
	return r
}

// open opens the catalogue in a window.
func (r *real) open(args ...string) {
	r.t.Helper()
	r.cmd = exec.Command(r.bin, append([]string{r.cat}, args...)...)
	r.cmd.Env, r.cmd.Stderr = r.env, r.errs
	r.began = time.Now()
	if err := r.cmd.Start(); err != nil {
		r.t.Fatal(err)
	}
	cmd := r.cmd
	r.t.Cleanup(func() {
		if cmd.ProcessState == nil {
			cmd.Process.Kill()
			cmd.Wait()
		}
	})
}

// openScreen starts Xvfb, which takes a number that is free and tells it.
func (r *real) openScreen(w, h int) {
	r.t.Helper()
	out, told, err := os.Pipe()
	if err != nil {
		r.t.Fatal(err)
	}
	defer out.Close()
	x := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", w, h))
	x.ExtraFiles = []*os.File{told}
	if err := x.Start(); err != nil {
		r.t.Fatal(err)
	}
	told.Close()
	r.t.Cleanup(func() {
		x.Process.Signal(syscall.SIGTERM) // so that it takes its lock away
		x.Wait()
	})
	number, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		r.t.Fatal("no screen in memory could be opened: ", err)
	}
	r.screen = ":" + strings.TrimSpace(number)
}

// text is the log so far.
func (r *real) text() string {
	b, _ := os.ReadFile(r.log)
	return string(b)
}

// await waits for a line of the log that was not there before from.
func (r *real) await(from int, pattern string) string {
	r.t.Helper()
	re := regexp.MustCompile(pattern)
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if s := r.text(); len(s) > from {
			if m := re.FindString(s[from:]); m != "" {
				return m
			}
		}
	}
	r.shoot("failed")
	r.t.Fatalf("%q did not come; the log:\n%s\nstandard error:\n%s", pattern, r.text(), r.errs)
	return ""
}

// do sends keys or the pointer and gives where the log then stood.
func (r *real) do(args ...string) int {
	r.t.Helper()
	at := len(r.text())
	c := exec.Command("xdotool", args...)
	c.Env = append(r.env, "LC_ALL=C.UTF-8")
	if out, err := c.CombinedOutput(); err != nil {
		r.t.Fatalf("xdotool %v: %v\n%s", args, err, out)
	}
	return at
}

// grab is a fingerprint of a part of the screen.
func (r *real) grab(crop string) [32]byte {
	r.t.Helper()
	c := exec.Command("import", "-window", "root", "-crop", crop, "rgb:-")
	c.Env = r.env
	out, err := c.Output()
	if err != nil || len(out) < 1000 {
		r.t.Fatalf("the screen could not be read: %v", err)
	}
	return sha256.Sum256(out)
}

func (r *real) shoot(name string) {
	if *pictures == "" {
		return
	}
	os.MkdirAll(*pictures, 0o755)
	c := exec.Command("import", "-window", "root", filepath.Join(*pictures, name+".png"))
	c.Env = r.env
	c.Run()
}

// end closes the window as a session's end does and looks whether it left well.
func (r *real) end() {
	r.t.Helper()
	r.cmd.Process.Signal(syscall.SIGTERM)
	done := make(chan error, 1)
	go func() { done <- r.cmd.Wait() }()
	select {
	case err := <-done:
		if err != nil {
			r.t.Errorf("the program ended with %v\n%s", err, r.errs)
		}
	case <-time.After(patience):
		r.t.Error("the program did not end")
	}
	filepath.WalkDir(filepath.Join(r.dir, "config"), func(path string, _ os.DirEntry, err error) error {
		if err == nil && filepath.Base(path) == "preferences.json" {
			r.t.Errorf("the toolkit has written %s, and may read it half written", path)
		}
		return nil
	})
	for _, line := range strings.Split(r.errs.String(), "\n") {
		if strings.Contains(line, "Fyne error") && !strings.Contains(line, "locale") || strings.Contains(line, "call thread") || strings.Contains(line, "panic") {
			r.t.Errorf("standard error says: %s", line)
		}
	}
	if out, err := exec.Command(r.bin, "verify", "--catalogue", r.cat).CombinedOutput(); err != nil {
		r.t.Errorf("verify after the window: %v\n%s", err, out)
	}
}

// twoPhotographs are photographs of sheets the sample does not have: two of its
// own with a comment at their end, so that their bytes are new.
func twoPhotographs(t *testing.T) []string {
	t.Helper()
	all, err := filepath.Glob("../../assets/sample/photographs/low-water-0*.jpg")
	if err != nil || len(all) < 4 {
		t.Fatalf("the sample's photographs are not there: %d", len(all))
	}
	var out []string
	for i, path := range all[len(all)-3 : len(all)-1] {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		to := filepath.Join(t.TempDir(), fmt.Sprintf("sheet-%d.jpg", i+1))
		if err := os.WriteFile(to, append(b, byte(i+1)), 0o644); err != nil {
			t.Fatal(err)
		}
		out = append(out, to)
	}
	return out
}

// TestTheDayInTheRealWindow goes the main way through the four places with keys
// and the pointer: two photographs taken in and filed, measured, laid side by
// side, zoomed; a pull written and taken back; an entry looked at; the book laid
// out.
func TestTheDayInTheRealWindow(t *testing.T) {
	need(t)
	r := start(t, 1280, 800, twoPhotographs(t)...)
	shown := r.await(0, `catalogue shown: .*`)
	if !strings.Contains(shown, "50 photographs") {
		t.Logf("the sample: %s", shown)
	}
	r.await(0, `told: 2 photographs taken in`)
	r.await(0, `photograph shown`)
	r.shoot("1-taken-in")
	for range 2 {
		at := r.do("key", "Return")
		r.await(at, `told: 1 photograph filed`)
	}
	r.await(0, `52 photographs, 5[12] scores`)

	at := r.do("key", "ctrl+3")
	r.await(at, `sheets laid down`)
	r.await(at, `sheets registered`)
	time.Sleep(500 * time.Millisecond)
	r.shoot("2-side-by-side")
	before := r.grab("600x400+330+250")
	r.do("mousemove", "480", "400", "click", "4", "click", "4", "click", "4")
	time.Sleep(800 * time.Millisecond)
	if r.grab("600x400+330+250") == before {
		t.Error("the wheel zoomed nothing")
	}
	r.shoot("3-zoomed")
	at = r.do("key", "ctrl+0", "key", "ctrl+d") // the whole sheet, and a part of it drawn
	r.do("mousemove", "400", "400", "mousedown", "1", "mousemove", "430", "420", "mousemove", "560", "480", "mouseup", "1")
	r.await(at, `outline drawn`)
	r.do("type", "--delay", "40", "sky")
	at = r.do("key", "Return")
	r.await(at, `catalogue shown`)
	time.Sleep(500 * time.Millisecond)
	r.shoot("3-a-part-drawn")
	at = r.do("key", "ctrl+m")
	r.await(at, `told: 1 sheet measured`)

	at = r.do("mousemove", "150", "180", "click", "1")
	r.await(at, `plate .+`)
	at = r.do("key", "ctrl+1")
	r.await(at, `at place 0`)
	at = r.do("key", "ctrl+Return")
	r.await(at, `told: Written: .*`)
	r.await(at, `catalogue shown`)
	r.shoot("4-pulled")
	at = r.do("key", "ctrl+z")
	r.await(at, `told: Undone: .*`)

	at = r.do("key", "ctrl+4")
	r.await(at, `page set`)
	time.Sleep(time.Second)
	r.shoot("5-desk")
	at = r.do("key", "ctrl+p")
	time.Sleep(400 * time.Millisecond)
	r.do("key", "Return")
	line := r.await(at, `told: The catalogue lies in .*\.pdf`)
	path := strings.TrimPrefix(line, "told: The catalogue lies in ")
	b, err := os.ReadFile(path)
	if err != nil || !bytes.HasPrefix(b, []byte("%PDF-")) {
		t.Errorf("the book at %s: %v, %d bytes", path, err, len(b))
	}
	if tool, err := exec.LookPath("pdftotext"); err == nil {
		text, err := exec.Command(tool, path, "-").Output()
		if err != nil || !strings.Contains(string(text), "Low Water, Evening") {
			t.Errorf("the book's text lacks a plate's title (%v)", err)
		}
	}
	r.end()
	partScored(t, r.cat)
}

// partScored sees that the part drawn is kept with its plate and was scored.
func partScored(t *testing.T, dir string) {
	t.Helper()
	s := openCatalogue(t, dir)
	defer s.Close()
	snap, err := s.Store().Snapshot(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range snap.Plates {
		if len(p.Regions) == 0 {
			continue
		}
		for _, sc := range snap.Scores {
			if len(sc.Regions) == 1 && sc.Regions[0].Name == "sky" && sc.Regions[0].Outline == p.Regions[0].Outline {
				return
			}
		}
		t.Errorf("the part %+v was not scored", p.Regions)
		return
	}
	t.Error("no plate has the part that was drawn")
}
