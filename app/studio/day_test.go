package studio

import (
	"context"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"pullbook/app/studio/rehearsal"
	"pullbook/catalog"
)

// books enters a rehearsed day in a catalogue.
func books(s *Studio) rehearsal.Books {
	ctx := context.Background()
	return rehearsal.Books{Save: s.Save, Reference: func(path string, of *catalog.Impression) error {
		taken, err := s.TakeIn(ctx, []string{path}, nil)
		if err != nil {
			return err
		}
		if taken[0].Err != nil {
			return taken[0].Err
		}
		if err := s.FilePhotograph(ctx, taken[0].Photo.ID, of.ID, byHand, 1); err != nil {
			return err
		}
		return s.PickReference(ctx, of.ID, taken[0].Photo.ID)
	}}
}

// processorTime is what this process has used of all processors.
func processorTime() time.Duration {
	var r syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &r) != nil {
		return 0
	}
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// checkDay compares what was filed with the truth.
func checkDay(t *testing.T, s *Studio, d *rehearsal.Day, r *FileReport) {
	t.Helper()
	wrong, left := 0, 0
	for _, a := range r.Filed {
		p, err := s.store.Photograph(context.Background(), a.Photo.ID)
		must(t, err)
		if p.ImpressionID != d.Truth[p.Name] {
			wrong++
			t.Errorf("%s is filed wrongly, by %s: %s", p.Name, a.How, a.Words)
		}
	}
	for _, a := range r.Left {
		left++
		if d.Truth[a.Photo.Name] != "" && !d.Unsharp[a.Photo.Name] {
			t.Logf("left although sharp and ours: %s: %s", a.Photo.Name, a.Words)
		}
	}
	n := len(d.Truth)
	if left*10 > n {
		t.Errorf("%d of %d photographs are left for the user, more than a tenth", left, n)
	}
	if r.Twice != 1 {
		t.Errorf("%d files given twice, want 1", r.Twice)
	}
	if len(r.Filed)+left+r.Twice+len(r.Refused) != n {
		t.Errorf("%d filed, %d left, %d twice, %d refused do not make %d", len(r.Filed), left, r.Twice, len(r.Refused), n)
	}
}

func TestPrintingDay(t *testing.T) {
	d := &rehearsal.Day{Plates: 2, Sheets: 2, Wide: 1120, Files: t.TempDir()} // 10 files
	if rehearsal.Long() {
		d.Plates, d.Sheets, d.More, d.Blurred, d.Wide = 4, 7, 2, 2, 1400 // 60
	}
	s, err := Create(filepath.Join(t.TempDir(), "day.pullbook"), Options{})
	must(t, err)
	defer s.Close()
	d.Lay(t, books(s))
	t.Logf("%d photographs are drawn", len(d.Truth))
	began, busy := time.Now(), processorTime()
	said := 0.0
	r, err := s.FileAll(context.Background(), []string{d.Files}, FileOptions{}, func(done float64, what string) {
		if done < said {
			t.Errorf("progress fell from %.2f to %.2f: %s", said, done, what)
		}
		said = done
	})
	must(t, err)
	report := r.Words(func(id catalog.ID) string {
		if i, err := s.store.Impression(context.Background(), id); err == nil {
			return i.Name()
		}
		return string(id)
	})
	t.Logf("filed and scored in %.0f s, %.0f s of processor time\n%s", time.Since(began).Seconds(), (processorTime() - busy).Seconds(), report)
	checkDay(t, s, d, r)
	if !strings.Contains(report, "left ") {
		t.Error("the report does not name what was left")
	}
	// Calling it again goes on where it stopped: nothing is filed twice.
	again, err := s.FileAll(context.Background(), []string{d.Files}, FileOptions{}, nil)
	must(t, err)
	if len(again.Filed) != 0 || len(again.Already) != len(r.Filed) {
		t.Errorf("the second time %d were filed and %d known, want 0 and %d", len(again.Filed), len(again.Already), len(r.Filed))
	}
	v, err := s.Verify(context.Background(), nil)
	must(t, err)
	if !v.Clean() {
		t.Errorf("verify after filing: %+v", v.Findings)
	}
}
