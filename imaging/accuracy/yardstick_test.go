package accuracy

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pullbook/imaging"
	"pullbook/imaging/platesim"
)

var megapixels = flag.String("yardstick", "", "sizes in megapixels to race at, such as 7,12,24,50; default: no race")

// race is what a whole process used: reading the reference and one photograph,
// measuring the one against the other.
type race struct {
	Processor float64 `json:"processor"` // seconds of all cores
	MemoryMB  float64 `json:"memory_mb"`
	// Alone is the processor time of the photograph by itself, the reference
	// prepared; Second its wall time (ours only).
	Alone   float64 `json:"alone"`
	Second  float64 `json:"second"`
	Results []struct {
		Processor float64 `json:"processor"`
	} `json:"results"` // the yardstick's
}

// TestYardstick races the measuring against testdata/yardstick.py (SIFT, RANSAC
// and ECC by OpenCV, SciPy), both as whole processes and both given the
// reference's corners by hand. It is skipped where python3-opencv is missing.
//
//	go test ./imaging/accuracy -run TestYardstick -v -yardstick 7,12,24,50
func TestYardstick(t *testing.T) {
	if *megapixels == "" {
		t.Skip("no race asked for; give -yardstick 7,12")
	}
	python := pythonWithOpenCV(t)
	t.Log("| megapixels | photograph alone, processor s, ours / yardstick | ratio | whole process with reference | ratio | ours alone, wall s | peak MB, ours / yardstick |")
	t.Log("|---|---|---|---|---|---|---|")
	for _, word := range strings.Split(*megapixels, ",") {
		mp, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatal(err)
		}
		pair, size := racePair(t, mp)
		ours := runOurs(t, pair, size)
		theirs := runYardstick(t, python, pair, size)
		t.Logf("| %g | %.2f / %.2f | %.2f | %.2f / %.2f | %.2f | %.2f | %.0f / %.0f |", mp, ours.Alone, theirs.Alone, ours.Alone/theirs.Alone,
			ours.Processor, theirs.Processor, ours.Processor/theirs.Processor, ours.Second, ours.MemoryMB, theirs.MemoryMB)
		if mp <= 12 && ours.Alone > 0.5*theirs.Alone {
			t.Errorf("%g megapixels: %.2f of the yardstick's processor time, owed 0.5", mp, ours.Alone/theirs.Alone)
		}
		if mp == 24 && ours.MemoryMB > 1000 {
			t.Errorf("24 megapixels: %.0f MB, owed 1000", ours.MemoryMB)
		}
	}
}

// pythonWithOpenCV is Debian's Python, if it has the modules.
func pythonWithOpenCV(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import cv2, scipy").Run() == nil {
			return name
		}
	}
	t.Skip("python3-opencv and python3-scipy are not installed: no yardstick to race against")
	return ""
}

// racePair is a reference and a worn pull photographed with so many megapixels.
func racePair(t testing.TB, mp float64) ([2]Photo, imaging.Size) {
	t.Helper()
	dir := *keep
	if dir == "" {
		dir = t.TempDir()
	}
	plate := platesim.New(77, platesim.Mixed, platesim.Boatyard, platesim.Options{States: 1, Size: platesim.Size{W: 200, H: 150}})
	var out [2]Photo
	for i, pull := range []int{3, 25} {
		c := platesim.NewConditions(platesim.Even, uint64(700+i))
		c.Tone = 0.03
		h := int(1000 * math.Sqrt(mp*0.75))
		c.Width, c.Height = h*4/3, h
		// A finer camera sees the same lens: blur grows with the pixels.
		c.Blur *= math.Sqrt(mp / 6)
		p, err := shoot(filepath.Join(dir, fmt.Sprintf("race-%g-%d.jpg", mp, i)), plate, 1, pull, c, uint64(i))
		if err != nil {
			t.Fatal(err)
		}
		out[i] = p
	}
	return out, imaging.Size{Height: plate.Size.H, Width: plate.Size.W}
}

func marks(p Photo) string {
	var s []string
	for _, c := range p.Corners {
		s = append(s, fmt.Sprintf("%.2f,%.2f", c[0], c[1]))
	}
	return strings.Join(s, ",")
}

func runYardstick(t *testing.T, python string, pair [2]Photo, size imaging.Size) race {
	t.Helper()
	cmd := exec.Command(python, filepath.Join("testdata", "yardstick.py"), fmt.Sprintf("%gx%g", size.Height, size.Width),
		pair[0].Path, marks(pair[0]), pair[1].Path)
	var r race
	answer(t, cmd, &r)
	if len(r.Results) != 1 {
		t.Fatalf("the yardstick told of %d photographs", len(r.Results))
	}
	r.Alone = r.Results[0].Processor
	return r
}

// runOurs starts this test program again to do the same in a process of its
// own (TestRaceChild).
func runOurs(t *testing.T, pair [2]Photo, size imaging.Size) race {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run", "^TestRaceChild$")
	cmd.Env = append(os.Environ(), fmt.Sprintf("RACE=%s|%s|%s|%g|%g", pair[0].Path, marks(pair[0]), pair[1].Path, size.Height, size.Width))
	var r race
	answer(t, cmd, &r)
	return r
}

// answer runs a command and reads the one line of JSON it prints.
func answer(t *testing.T, cmd *exec.Cmd, into *race) {
	t.Helper()
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %v\n%s\n%s", cmd.Args, err, out, errs.String())
	}
	line, _, _ := strings.Cut(string(out), "\n")
	if err := json.Unmarshal([]byte(line), into); err != nil {
		t.Fatalf("%v printed %q: %v", cmd.Args, line, err)
	}
}

// TestRaceChild is the child process of TestYardstick.
func TestRaceChild(t *testing.T) {
	task := strings.Split(os.Getenv("RACE"), "|")
	if len(task) != 5 {
		t.Skip("only run by TestYardstick")
	}
	h, _ := strconv.ParseFloat(task[3], 64)
	w, _ := strconv.ParseFloat(task[4], 64)
	var quad imaging.Quad
	for i, v := range strings.Split(task[1], ",") {
		n, err := strconv.ParseFloat(v, 64)
		if err != nil {
			t.Fatal(err)
		}
		if i%2 == 0 {
			quad[i/2].X = n
		} else {
			quad[i/2].Y = n
		}
	}
	ctx := context.Background()
	photo, err := imaging.Open(ctx, task[0])
	if err != nil {
		t.Fatal(err)
	}
	ref, err := imaging.Prepare(ctx, photo, imaging.MarkFromStored(photo, quad), imaging.Size{Height: h, Width: w})
	if err != nil {
		t.Fatal(err)
	}
	start, used := time.Now(), processorTime()
	photo, err = imaging.Open(ctx, task[2])
	if err != nil {
		t.Fatal(err)
	}
	res, err := ref.Measure(ctx, photo, imaging.MeasureOptions{})
	if err != nil || res.Verdict != imaging.Measured {
		t.Fatalf("%v %+v", err, res)
	}
	r := race{Processor: processorTime().Seconds(), Alone: (processorTime() - used).Seconds(), Second: time.Since(start).Seconds()}
	if r.MemoryMB, err = peakMB(); err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	fmt.Println(string(b))
}

// peakMB is the most memory this process has held. What getrusage tells would
// begin with the peak of the process that started it.
func peakMB() (float64, error) {
	b, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0, err
	}
	_, rest, _ := strings.Cut(string(b), "VmHWM:")
	var kB float64
	if _, err := fmt.Sscan(rest, &kB); err != nil {
		return 0, fmt.Errorf("no peak of memory in /proc/self/status: %w", err)
	}
	return kB / 1024, nil
}
