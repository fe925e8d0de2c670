package studio

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pullbook/app/studio/rehearsal"
	"pullbook/catalog"
	"pullbook/imaging/decode"
	"pullbook/imaging/platesim"
)

// TestManyPhotographs takes in, checks and scores 200 photographs of 12
// megapixels in a process of its own, and tells the rate beside that of decoding
// alone, the most memory held, how busy the processors were, and how long a
// cancel takes. What depends on how busy the machine is is told, not judged.
func TestManyPhotographs(t *testing.T) {
	many, wide := 6, 1200
	if rehearsal.Long() {
		many, wide = 200, 4000
		if n, err := strconv.Atoi(os.Getenv("PULLBOOK_MANY")); err == nil && n > 0 {
			many = n // on a machine busy with others
		}
	}
	dir := t.TempDir()
	layMany(t, dir, many, wide)
	cmd := exec.Command(os.Args[0], "-test.v")
	cmd.Env = append(os.Environ(), "STUDIO_TEST_MANY="+dir)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	report := string(out)
	t.Log("\n" + report)
	if err != nil {
		t.Fatal(err)
	}
	var most int
	if _, after, ok := strings.Cut(report, "most memory "); ok {
		_, err = fmt.Sscanf(after, "%d MB", &most)
	}
	if err != nil || most == 0 {
		t.Fatalf("the memory held was not told: %v", err)
	}
	if most > 1500 {
		t.Errorf("%d MB were held at most, owed under 1500", most)
	}
	if !strings.Contains(report, fmt.Sprintf("scored %d of %d", many, many)) {
		t.Errorf("not all %d were scored", many)
	}
}

// layMany makes a catalogue with a reference pull and a folder of photographs,
// each with bytes of its own: a few are drawn, and copied with a comment (ITU-T
// T.81, B.2.4.5) that numbers them.
func layMany(t *testing.T, dir string, many, wide int) {
	t.Helper()
	ctx := context.Background()
	s, err := Create(filepath.Join(dir, "many.pullbook"), Options{})
	must(t, err)
	d := &rehearsal.Day{Wide: wide, Sheets: many, Files: filepath.Join(dir, "in")}
	must(t, os.Mkdir(d.Files, 0o755))
	sim := platesim.New(300, platesim.Etched, platesim.Estuary, platesim.Options{States: 1})
	plate := &catalog.Plate{Number: catalog.Number{N: 1}, Mark: catalog.Size{HeightMM: sim.Size.H, WidthMM: sim.Size.W}}
	must(t, s.Save(ctx, "plate", plate))
	state := &catalog.State{PlateID: plate.ID, N: 1}
	must(t, s.Save(ctx, "state", state))
	d.Reference(t, books(s), sim, plate, state)
	must(t, s.Close())
	const drawn = 4
	for k := range many {
		img, c := d.Photograph(t, sim, 1, 3+5*(k%drawn), uint64(40+k%drawn), nil)
		var b bytes.Buffer
		if k < drawn {
			must(t, platesim.Encode(&b, img, c))
			must(t, os.WriteFile(filepath.Join(dir, fmt.Sprint("drawn", k)), b.Bytes(), 0o644))
		}
		whole, err := os.ReadFile(filepath.Join(dir, fmt.Sprint("drawn", k%drawn)))
		must(t, err)
		words := fmt.Sprintf("sheet %d", k)
		numbered := append([]byte{0xff, 0xd8, 0xff, 0xfe}, binary.BigEndian.AppendUint16(nil, uint16(2+len(words)))...)
		numbered = append(append(numbered, words...), whole[2:]...)
		if k == 0 {
			_, err := jpeg.DecodeConfig(bytes.NewReader(numbered))
			must(t, err)
		}
		must(t, os.WriteFile(filepath.Join(d.Files, fmt.Sprintf("sheet-%03d.jpg", k)), numbered, 0o644))
	}
}

// childMeasuresMany is the process whose memory is looked at.
func childMeasuresMany(dir string) {
	if err := measureMany(dir); err != nil {
		fmt.Println("failed:", err)
		os.Exit(1)
	}
}

func measureMany(dir string) error {
	ctx := context.Background()
	s, err := Open(filepath.Join(dir, "many.pullbook"), Options{})
	if err != nil {
		return err
	}
	defer s.Close()
	files, err := Photographs([]string{filepath.Join(dir, "in")})
	if err != nil {
		return err
	}
	few := files[:min(len(files), 20)]
	alone, _, err := timed(func() error {
		return each(ctx, bothCores(), len(few), func(ctx context.Context, i int) error {
			pic, err := decode.Read(ctx, few[i])
			if err == nil {
				_, _, _, err = pic.Luminance(ctx)
			}
			return err
		})
	})
	if err != nil {
		return err
	}
	fmt.Printf("decoding alone: %.1f photographs a minute\n", perMinute(len(few), alone))
	var sheets []catalog.ID
	spent, busy, err := timed(func() error {
		return s.Jobs().Start("take in and score", func(ctx context.Context, p Progress) error {
			taken, err := s.TakeIn(ctx, files, part(p, 0, 0.12))
			if err != nil {
				return err
			}
			if sheets, err = s.fileEach(ctx, taken); err != nil {
				return err
			}
			scored, err := s.Measure(ctx, sheets, part(p, 0.12, 1))
			n := 0
			for _, sc := range scored {
				if sc.Score != nil && sc.Score.InkLoss != nil {
					n++
				}
			}
			fmt.Printf("scored %d of %d\n", n, len(files))
			return err
		}).wait(os.Stderr)
	})
	if err != nil {
		return err
	}
	fmt.Printf("taken in, checked and scored: %.1f photographs a minute; %.2f processors busy\n", perMinute(len(files), spent), busy.Seconds()/spent.Seconds())
	fmt.Printf("most memory %d MB\n", statusMB("VmHWM"))
	for _, stage := range []string{"taking in", "looking", "measuring"} {
		longest, err := s.cancelLatency(stage, dir, sheets)
		if err != nil {
			return err
		}
		fmt.Printf("cancelled while %s: %d ms at most\n", stage, longest.Milliseconds())
	}
	return nil
}

// fileEach enters a sheet for each photograph.
func (s *Studio) fileEach(ctx context.Context, taken []TakenIn) ([]catalog.ID, error) {
	states, err := s.store.Snapshot(ctx)
	if err != nil {
		return nil, err
	}
	st := states.States[0]
	var list []Proposal
	for _, k := range taken {
		if k.Err != nil {
			return nil, k.Err
		}
		list = append(list, Proposal{Photo: k.Photo, PlateID: st.PlateID, StateID: st.ID, How: byHand, Sure: 1})
	}
	return s.Accept(ctx, list)
}

// wait waits for a job and tells now and then where it stands.
func (b *Job) wait(to *os.File) error {
	tick := time.NewTicker(30 * time.Second)
	defer tick.Stop()
	for {
		select {
		case <-b.Done():
			return b.Status().Err
		case <-tick.C:
			st := b.Status()
			fmt.Fprintf(to, "%3.0f %% %s; %v left\n", 100*st.Done, st.What, st.Left)
		}
	}
}

// cancelLatency cancels a job at five moments and gives the longest it took to
// end.
func (s *Studio) cancelLatency(stage, dir string, sheets []catalog.ID) (longest time.Duration, err error) {
	photos, err := s.store.Photographs(context.Background(), sheets[0])
	if err != nil {
		return 0, err
	}
	for k := range 5 {
		job := s.Jobs().Start(stage, func(ctx context.Context, p Progress) error {
			for {
				switch stage {
				case "taking in":
					// The bytes are known; decoding them to their end is the work.
					if _, err := s.TakeIn(ctx, []string{filepath.Join(dir, "in")}, p); err != nil {
						return err
					}
				case "looking":
					if _, err := s.Propose(ctx, []catalog.ID{photos[0].ID, photos[0].ID}, "", p); err != nil {
						return err
					}
				default:
					if _, err := s.Measure(ctx, sheets, p); err != nil {
						return err
					}
				}
			}
		})
		time.Sleep(time.Duration(700+1130*k) * time.Millisecond)
		began := time.Now()
		job.Cancel()
		if err := job.Wait(); !errors.Is(err, context.Canceled) {
			return longest, fmt.Errorf("a cancelled job ended with %v", err)
		}
		longest = max(longest, time.Since(began))
	}
	return longest, nil
}

// timed tells how long f took by the clock and of the processors.
func timed(f func() error) (spent, busy time.Duration, err error) {
	began, used := time.Now(), processorTime()
	err = f()
	return time.Since(began), processorTime() - used, err
}

func perMinute(n int, d time.Duration) float64 { return float64(n) / d.Minutes() }

// statusMB reads a line of /proc/self/status (proc(5)), in megabytes.
func statusMB(name string) int {
	b, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	for line := range strings.Lines(string(b)) {
		var kb int
		if _, err := fmt.Sscanf(line, name+": %d kB", &kb); err == nil {
			return kb / 1024
		}
	}
	return 0
}
