package batch

import (
	"path/filepath"
	"strings"
	"testing"

	"pullbook/app/studio"
	"pullbook/app/studio/rehearsal"
	"pullbook/imaging/platesim"
)

// A session is set up by a command; a wedge that cannot be read says so and is
// not used.
func TestSession(t *testing.T) {
	dir, in := filepath.Join(t.TempDir(), "new.pullbook"), t.TempDir()
	s, err := studio.Create(dir, studio.Options{})
	fatal(t, err)
	fatal(t, s.Close())
	d, err := studio.ParseDensities(studio.UsualDensities)
	fatal(t, err)
	blank, wedge := filepath.Join(in, "blank.jpg"), filepath.Join(in, "wedge.jpg")
	rehearsal.WriteJPEG(t, blank, rehearsal.Wedge(1000, 750, nil, rehearsal.Brightening), platesim.Conditions{})
	rehearsal.WriteJPEG(t, wedge, rehearsal.Wedge(1000, 750, d, rehearsal.Brightening), platesim.Conditions{})
	out, stderr, code := run("session", "--catalogue", dir, "--blank", blank, "--wedge", wedge, "--lamps", "two at 45 degrees")
	if code != exitDone || !strings.Contains(out, "11 steps were read") {
		t.Errorf("exit %d: %s%s", code, out, stderr)
	}
	out, stderr, code = run("session", "--catalogue", dir, "--wedge", wedge, "--densities", "0.05 + 8 x 0.2", "--begins", "2031-05-04T09:30")
	if code != exitShort || !strings.Contains(out, "The wedge is not used. No row of 9 steps") {
		t.Errorf("exit %d: %s%s", code, out, stderr)
	}
	for _, args := range [][]string{{}, {"--wedge", wedge, "--densities", "dark"}, {"--blank", blank, "--begins", "noon"}} {
		if _, _, code := run(append([]string{"session", "--catalogue", dir}, args...)...); code != exitUsage {
			t.Errorf("%v: exit %d, want %d", args, code, exitUsage)
		}
	}
	// Neither is filed as a sheet.
	out, _, _ = run("file", in, "--catalogue", dir)
	if !strings.Contains(out, "already  blank.jpg: blank sheet") || !strings.Contains(out, "already  wedge.jpg: grey wedge") || !strings.Contains(out, "0 filed, 2 filed before") {
		t.Errorf("filing the folder:\n%s", out)
	}
}
