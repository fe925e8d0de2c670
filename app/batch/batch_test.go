package batch

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pullbook/imaging"
)

// photos is the folder of shared photographs with their truth, beside the
// repository; the test is skipped where it is missing.
func photos(t *testing.T) string {
	t.Helper()
	dir, err := filepath.Abs("../../../shared/photos")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(dir); err != nil {
		t.Skip("the shared photographs are not beside the repository; nothing to measure")
	}
	return dir
}

// run carries out a command and gives its outputs and exit code.
func run(args ...string) (stdout, stderr string, code int) {
	var out, err bytes.Buffer
	code = Run(args, &out, &err)
	return out.String(), err.String(), code
}

// oneJSON decodes the one document that must be all of standard output.
func oneJSON(t *testing.T, out string, into any) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(out))
	if err := d.Decode(into); err != nil {
		t.Fatalf("standard output is no JSON: %v\n%s", err, out)
	}
	if _, err := d.Token(); err != io.EOF {
		t.Fatalf("there is more than one document on standard output:\n%s", out)
	}
}

func TestUsage(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"engrave"}, "no command"},
		{[]string{"score"}, "plate's size is missing"},
		{[]string{"score", "--plate-mm", "100"}, "not a plate's size"},
		{[]string{"score", "--plate-mm", "100x-3"}, "not a plate's size"},
		{[]string{"score", "--plate-mm", "NaNxNaN"}, "not a plate's size"},
		{[]string{"score", "--region", "sky"}, "--region wants a name"},
		{[]string{"score", "--region", "=1,2,3,4"}, "--region wants a name"},
		{[]string{"score", "--region", "sky=1,2,3"}, "--region wants a name"},
		{[]string{"score", "--region", "sky=1,2,3,x"}, "--region wants a name"},
		{[]string{"score", "--plate-mm", "100x140"}, "reference pull is missing"},
		{[]string{"score", "--plate-mm", "100x140", "--reference", "r.jpg"}, "no photograph"},
		{[]string{"score", "a.jpg", "--plate-mm", "100x140", "--reference", "r.jpg", "--marks", "1,2,3"}, "eight numbers"},
		{[]string{"score", "--plate-mm", "100x140", "--grid", "16", "--reference", "r.jpg", "a.jpg"}, "not a grid"},
		{[]string{"score", "--plate-mm", "100x140", "--grid", "1e9x1e9", "--reference", "r.jpg", "a.jpg"}, "not a grid"},
		{[]string{"score", "--no-such-flag"}, "no-such-flag"},
		{[]string{"changes", "--plate-mm", "100x140", "--before", "a.jpg"}, "two photographs"},
		{[]string{"lay-out", "--catalogue", "x"}, "give --to OUT.pdf"},
		{[]string{"lay-out", "--to", "x.pdf"}, "catalogue is missing"},
		{[]string{"export", "--catalogue", "x", "--as", "gif", "--to", "y"}, "say what to write"},
		{[]string{"export", "--catalogue", "x", "--as", "iiif", "--base", "https://prints.example"}, "give --to DIR"},
		{[]string{"sample"}, "one new folder"},
		{[]string{"verify"}, "catalogue is missing"},
		{[]string{"verify", "x"}, "one argument too many"},
		{[]string{"record", "--to", "x.pdf"}, "impression is missing"},
		{[]string{"labels", "--to", "x.pdf", "--start", "0"}, "counted from 1"},
		{[]string{"pack", "--catalogue", "x"}, "give --to NAME.pullbook.zip"},
		{[]string{"unpack", "x"}, "give the packed file"},
	} {
		out, stderr, code := run(c.args...)
		if code != exitUsage {
			t.Errorf("%v: exit %d, want %d", c.args, code, exitUsage)
		}
		if !strings.Contains(stderr, c.says) {
			t.Errorf("%v: says %q, want %q in it", c.args, stderr, c.says)
		}
		if out != "" {
			t.Errorf("%v: wrote %q to standard output", c.args, out)
		}
	}
}

func TestHelp(t *testing.T) {
	out, _, code := run("help")
	if code != 0 {
		t.Fatalf("help: exit %d", code)
	}
	for _, c := range commands {
		if !strings.Contains(out, c.name) {
			t.Errorf("help does not name %s", c.name)
		}
		page, _, code := run(c.name, "--help")
		if code != 0 || !strings.Contains(page, c.line) {
			t.Errorf("%s --help: exit %d, %q", c.name, code, page)
		}
	}
	out, _, code = run("--version")
	for _, want := range []string{"pullbook " + Version, "method " + imaging.Method, "SQLite 3.", "Go 1."} {
		if code != 0 || !strings.Contains(out, want) {
			t.Errorf("--version: exit %d, %q, want %q in it", code, out, want)
		}
	}
}

func TestIs(t *testing.T) {
	dir := t.TempDir()
	packed, photo := filepath.Join(dir, "x.pullbook.zip"), filepath.Join(dir, "x.jpg")
	for _, f := range []string{packed, photo} {
		if err := os.WriteFile(f, nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		args []string
		want bool
	}{
		{[]string{packed}, false}, {[]string{photo}, true},
		{nil, false}, {[]string{dir}, false}, {[]string{"score"}, true}, {[]string{"--version"}, true},
		{[]string{"help"}, true}, {[]string{filepath.Join(dir, "none")}, true},
	} {
		if got := Is(c.args); got != c.want {
			t.Errorf("Is(%v) = %v", c.args, got)
		}
	}
}

// A broken reference refuses everything, in one document, with exit code 1.
func TestBrokenReference(t *testing.T) {
	dir := t.TempDir()
	bad := filepath.Join(dir, "bad.jpg")
	if err := os.WriteFile(bad, []byte("no photograph at all"), 0o644); err != nil {
		t.Fatal(err)
	}
	out, stderr, code := run("score", bad, "--json", "--plate-mm", "100x140", "--reference", bad)
	if code != exitShort {
		t.Errorf("exit %d, want %d", code, exitShort)
	}
	var doc scoreDocument
	oneJSON(t, out, &doc)
	if len(doc.Impressions) != 1 || doc.Impressions[0].Verdict != "refused" || !strings.Contains(doc.Impressions[0].Reason, "reference") {
		t.Errorf("got %+v", doc.Impressions)
	}
	if doc.Reference.Mark != nil {
		t.Errorf("a broken reference has a plate mark: %v", doc.Reference.Mark)
	}
	if !strings.Contains(stderr, "bad.jpg") {
		t.Errorf("standard error does not name the file: %q", stderr)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out, err bytes.Buffer
	if code := RunContext(ctx, []string{"score", "--plate-mm", "100x140", "--reference", "r.jpg", "a.jpg", "--json"}, &out, &err); code != exitShort {
		t.Errorf("exit %d, want %d", code, exitShort)
	}
	if !strings.Contains(err.String(), "stopped") {
		t.Errorf("says %q", err.String())
	}
}

// What each awkward file must come to (shared MEASURES.md, section 2).
var awkward = map[string]string{
	"another-plate.jpg": "refused", "blank-paper.jpg": "refused", "bomb.png": "refused", "burnt-out.jpg": "refused",
	"cut-short.jpg": "refused", "empty.jpg": "refused", "half-in-view.jpg": "refused", "mirrored.jpg": "refused",
	"out-of-focus.jpg": "refused", "text.jpg": "refused",
	"grey.jpg": "measured", "on-its-side.jpg": "measured", "scan.tif": "measured", "sixteen-bit.png": "measured",
	"turned-by-exif.jpg": "measured", "upside-down.jpg": "measured",
}

func TestAwkward(t *testing.T) {
	dir := photos(t)
	files, err := filepath.Glob(filepath.Join(dir, "awkward", "*"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no awkward files: %v", err)
	}
	args := append([]string{"score", "--json", "--plate-mm", "100x140", "--reference", filepath.Join(dir, "quay-reference.jpg"), "--grid", "4x3"}, files...)
	args = append(args, filepath.Join(dir, "quay-pull-018.jpg"))
	out, _, code := run(args...)
	if code != exitShort {
		t.Errorf("exit %d, want %d: some files must be refused", code, exitShort)
	}
	var doc scoreDocument
	oneJSON(t, out, &doc)
	if len(doc.Impressions) != len(files)+1 {
		t.Fatalf("%d results for %d files", len(doc.Impressions), len(files)+1)
	}
	plain := doc.Impressions[len(files)]
	for _, i := range doc.Impressions[:len(files)] {
		name := filepath.Base(i.Photo)
		want, known := awkward[name]
		if !known {
			t.Errorf("%s is not in the table", name)
			continue
		}
		if i.Verdict != want {
			t.Errorf("%s: %s (%s), want %s", name, i.Verdict, i.Reason, want)
		}
		if i.Verdict == "refused" {
			if i.Reason == "" || i.InkLoss != nil || i.PlateTone != nil || i.Mark != nil || i.Lattice != nil || i.Registration != nil {
				t.Errorf("%s: a refused photograph has values or no reason: %+v", name, i)
			}
			continue
		}
		// The same sheet, otherwise stored: the same value within 2 u.
		if d, u := i.InkLoss.Value-plain.InkLoss.Value, math.Hypot(float64(i.InkLoss.U), float64(plain.InkLoss.U)); math.Abs(float64(d)) > 2*u {
			t.Errorf("%s: ink loss differs by %.4f from the plain photograph, u %.4f", name, d, u)
		}
	}
}

// truth is what is used of the shared truth files.
type truth struct {
	Width  float64 `json:"width_mm"`
	Height float64 `json:"height_mm"`
	Photos []struct {
		File    string        `json:"file"`
		State   int           `json:"state"`
		Tone    float64       `json:"tone"`
		InkLoss float64       `json:"ink_loss"`
		Corners [4][2]float64 `json:"corners"`
		Grid    [][4]float64  `json:"grid"`
		PxPerMM float64       `json:"px_per_mm"`
	} `json:"photos"`
}

func readTruth(t *testing.T, dir, plate string) truth {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, plate+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var q truth
	if err := json.Unmarshal(b, &q); err != nil {
		t.Fatal(err)
	}
	return q
}

// The even plate meets what is owed (shared MEASURES.md, section 2) through
// the command itself: ink loss, plate tone, registration on the lattice. The
// corners of the reference are given by hand, as they are to the yardstick;
// they are those of the truth file.
func TestScoreEven(t *testing.T) {
	dir := photos(t)
	q := readTruth(t, dir, "quay")
	args := []string{"score", "--json", "--marks", "574.95,441.99,2200.83,432.81,2198.49,1584.79,591.6,1596.87"}
	byFile := map[string]int{}
	for k, p := range q.Photos {
		byFile[p.File] = k
		if p.State == 1 && strings.Contains(p.File, "pull") {
			args = append(args, filepath.Join(dir, p.File))
		}
	}
	// Flags after photographs on purpose.
	args = append(args, "--grid", "16x12", "--plate-mm", "100x140", "--reference", filepath.Join(dir, "quay-reference.jpg"))
	out, stderr, code := run(args...)
	if code != exitDone {
		t.Fatalf("exit %d: %s", code, stderr)
	}
	var doc scoreDocument
	oneJSON(t, out, &doc)
	if len(doc.Impressions) < 5 {
		t.Fatalf("only %d impressions", len(doc.Impressions))
	}
	ref := q.Photos[byFile["quay-reference.jpg"]]
	var sum, sumTone, sumReg float64
	for _, i := range doc.Impressions {
		p := q.Photos[byFile[filepath.Base(i.Photo)]]
		e := math.Abs(float64(i.InkLoss.Value) - p.InkLoss)
		sum += e
		sumTone += math.Abs(float64(i.PlateTone.Value) - p.Tone)
		if e > 0.025 {
			t.Errorf("%s: ink loss off by %.4f, owed 0.025 at worst", p.File, e)
		}
		if len(i.Lattice) != 17*13 {
			t.Fatalf("%s: %d lattice nodes, want %d", p.File, len(i.Lattice), 17*13)
		}
		l := lattice{i.Lattice, 16, 12, q.Width, q.Height}
		rms := l.error(lattice{doc.Reference.Lattice, 16, 12, q.Width, q.Height}, ref.Grid, p.Grid) / p.PxPerMM
		direct := l.direct(p.Grid) / p.PxPerMM
		t.Logf("%s: registration %.3f mm rms; in the plate's own millimetres, the reference's cockle with it, %.3f", p.File, rms, direct)
		if rms > 0.08 {
			t.Errorf("%s: registration %.3f mm rms, twice what is owed over all photographs", p.File, rms)
		}
		sumReg += rms * rms
		for k, c := range i.Mark {
			if d := math.Hypot(c[0]-p.Corners[k][0], c[1]-p.Corners[k][1]) / p.PxPerMM; d > 0.5 {
				t.Errorf("%s: corner %d of the plate mark is %.2f mm off", p.File, k, d)
			}
		}
	}
	n := float64(len(doc.Impressions))
	// The figures are owed over all photographs of a kind.
	if rms := math.Sqrt(sumReg / n); rms > 0.04 {
		t.Errorf("registration %.3f mm rms, owed 0.04", rms)
	}
	if sum/n > 0.008 {
		t.Errorf("ink loss off by %.4f on average, owed 0.008", sum/n)
	}
	if sumTone/n > 0.003 {
		t.Errorf("plate tone off by %.4f on average, owed 0.003", sumTone/n)
	}
	t.Logf("%d impressions: ink loss off by %.4f, plate tone by %.4f on average", len(doc.Impressions), sum/n, sumTone/n)
}

// lattice is plate_to_photo of one photograph: cols x rows steps over a plate
// of w x h millimetres.
type lattice struct {
	nodes      [][4]float64
	cols, rows int
	w, h       float64
}

// at is where a place of the plate lies in the photograph, read bilinearly.
func (l lattice) at(x, y float64) (px, py float64) {
	u, v := x/l.w*float64(l.cols), y/l.h*float64(l.rows)
	c, r := max(0, min(int(u), l.cols-1)), max(0, min(int(v), l.rows-1))
	u, v = u-float64(c), v-float64(r)
	i := r*(l.cols+1) + c
	read := func(k int) float64 {
		n := l.nodes
		return (1-v)*((1-u)*n[i][k]+u*n[i+1][k]) + v*((1-u)*n[i+l.cols+1][k]+u*n[i+l.cols+2][k])
	}
	return read(2), read(3)
}

// plateAt is the place of the plate that lies at a place of the photograph,
// by Newton's method from a guess.
func (l lattice) plateAt(px, py, x, y float64) (float64, float64) {
	const step = 0.01 // mm
	for range 8 {
		fx, fy := l.at(x, y)
		ax, ay := l.at(x+step, y)
		bx, by := l.at(x, y+step)
		a, b, c, d := (ax-fx)/step, (bx-fx)/step, (ay-fy)/step, (by-fy)/step
		det := a*d - b*c
		x += (d*(px-fx) - b*(py-fy)) / det
		y += (a*(py-fy) - c*(px-fx)) / det
	}
	return x, y
}

// error is the rms distance in pixels between where a photograph shows the
// places of the truth's grid and where the lattices say, going by way of the
// reference: registration lays a sheet on the reference, and the reference's
// own cockle is no fault of it.
func (l lattice) error(reference lattice, refGrid, grid [][4]float64) float64 {
	var sum float64
	for k, g := range refGrid {
		x, y := reference.plateAt(g[2], g[3], g[0], g[1])
		px, py := l.at(x, y)
		sum += (px-grid[k][2])*(px-grid[k][2]) + (py-grid[k][3])*(py-grid[k][3])
	}
	return math.Sqrt(sum / float64(len(refGrid)))
}

// direct is the rms distance in pixels between the truth's grid and where the
// lattice says, without going by way of the reference.
func (l lattice) direct(grid [][4]float64) float64 {
	var sum float64
	for _, g := range grid {
		px, py := l.at(g[0], g[1])
		sum += (px-g[2])*(px-g[2]) + (py-g[3])*(py-g[3])
	}
	return math.Sqrt(sum / float64(len(grid)))
}

func TestChanges(t *testing.T) {
	dir := photos(t)
	out, stderr, code := run("changes", "--json", "--plate-mm", "100x140", "--before", filepath.Join(dir, "quay-reference.jpg"), "--after", filepath.Join(dir, "quay-state-2-pull-002.jpg"))
	if code != exitDone {
		t.Fatalf("exit %d: %s", code, stderr)
	}
	var doc changesDocument
	oneJSON(t, out, &doc)
	if len(doc.Added) != 3 || len(doc.Removed) != 0 {
		t.Errorf("%d added and %d removed, the truth is 3 and none", len(doc.Added), len(doc.Removed))
	}
	out, _, code = run("changes", "--json", "--plate-mm", "100x140", "--before", filepath.Join(dir, "quay-reference.jpg"), "--after", filepath.Join(dir, "awkward", "blank-paper.jpg"))
	if code != exitShort || !strings.Contains(out, `"added":null`) || !strings.Contains(out, `"reason"`) {
		t.Errorf("blank paper: exit %d, %s", code, out)
	}
	// Crowded parts of a real print are said to be so, never left out.
	real := filepath.Join(dir, "..", "prints")
	out, stderr, code = run("changes", "--json", "--plate-mm", "212.7x131.8", "--before", filepath.Join(real, "plt_25.jpg"), "--after", filepath.Join(real, "plt_26.jpg"))
	if code != exitDone {
		t.Fatalf("a real print: exit %d: %s", code, stderr)
	}
	oneJSON(t, out, &doc)
	if len(doc.CannotSee) == 0 || len(doc.Texture) == 0 || strings.Count(out, `"sure"`) != len(doc.Added)+len(doc.Removed)+len(doc.Texture) {
		t.Errorf("a real print: %d areas that cannot be seen, %d of changed texture", len(doc.CannotSee), len(doc.Texture))
	}
}

func TestCatalogueCommands(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "with ? and # é.pullbook")
	if _, stderr, code := run("sample", dir); code != exitDone {
		t.Fatalf("sample: exit %d: %s", code, stderr)
	}
	if _, _, code := run("sample", dir); code != exitShort {
		t.Errorf("sample into a full folder: exit %d, want %d", code, exitShort)
	}
	if out, stderr, code := run("verify", "--catalogue", dir); code != exitDone || !strings.Contains(out, "Nothing is wrong") {
		t.Errorf("verify: exit %d: %s%s", code, out, stderr)
	}
	pdf := filepath.Join(t.TempDir(), "book.pdf")
	if _, stderr, code := run("lay-out", "--to", pdf, "--catalogue", dir); code != exitDone {
		t.Errorf("lay-out: exit %d: %s", code, stderr)
	}
	if b, err := os.ReadFile(pdf); err != nil || !bytes.HasPrefix(b, []byte("%PDF-")) {
		t.Errorf("no PDF was written: %v", err)
	}
	for as, want := range map[string]string{"csv": "impression.csv", "linked-art": "index.json", "lido": "catalogue.lido.xml"} {
		to := filepath.Join(t.TempDir(), as)
		if _, stderr, code := run("export", "--catalogue", dir, "--as", as, "--to", to); code != exitDone {
			t.Errorf("export as %s: exit %d: %s", as, code, stderr)
		}
		if info, err := os.Stat(filepath.Join(to, want)); err != nil || info.Size() < 1000 {
			t.Errorf("the export as %s has no %s worth the name, %v", as, want, err)
		}
	}
	packed := filepath.Join(t.TempDir(), "packed")
	if _, stderr, code := run("pack", "--catalogue", dir, "--to", packed); code != exitDone {
		t.Errorf("pack: exit %d: %s", code, stderr)
	}
	again := filepath.Join(t.TempDir(), "again.pullbook")
	if _, stderr, code := run("unpack", packed, "--to", again); code != exitDone {
		t.Errorf("unpack: exit %d: %s", code, stderr)
	}
	if out, stderr, code := run("verify", "--catalogue", again); code != exitDone {
		t.Errorf("verify what was unpacked: exit %d: %s%s", code, out, stderr)
	}
	if _, stderr, code := run("verify", "--catalogue", t.TempDir()); code != exitShort || !strings.Contains(stderr, "no catalogue") {
		t.Errorf("verify of an empty folder: exit %d: %s", code, stderr)
	}
}
